//! A bare cut list as a person asks for it: boards and pieces from options and
//! spreadsheets, checked and turned into a cutting problem. It knows how they
//! are written; how they are cut is left to [`crate::stock`], and how mistakes
//! are drawn to [`crate::job`].

mod options;
mod reader;
mod sheet;

use crate::job::{Findings, Source};
use crate::length::{Length, Unit};
use crate::stock::CutProblem;

/// A cut list as it was typed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Asked {
    /// Boards, each as `LENGTH[@PRICE][xAVAILABLE][:BUNDLE]`.
    pub stock: Vec<String>,
    /// Pieces, each as `[LABEL=]COUNTxLENGTH`.
    pub pieces: Vec<String>,
    /// Spreadsheets of boards: name, and CSV text with headings.
    pub stock_sheets: Vec<Source>,
    /// Spreadsheets of pieces: name, and CSV text with headings.
    pub piece_sheets: Vec<Source>,
    /// Width of a crosscut; 1/8 in or 3 mm when it is not given.
    pub kerf: Option<String>,
    /// Taken off each end of a board; nothing when it is not given.
    pub end_trim: Option<String>,
    /// The unit of bare numbers and of what is printed. When it is not given,
    /// bare numbers are inches, and results are metric if every length was.
    pub unit: Option<Unit>,
}

/// A checked cut list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutList {
    /// Boards and pieces, in the order they were given.
    pub problem: CutProblem,
    /// The label of each of the problem's pieces, where one was given.
    pub labels: Vec<Option<String>>,
    /// The unit results are printed in.
    pub unit: Unit,
    /// Nothing when boards have prices. Without any, a board is priced by its
    /// length in steps of this, one cent a step, so that length is minimised.
    pub by_length: Option<Length>,
}

/// Reads and checks a cut list.
///
/// ```
/// use lastcourse::cutlist::{Asked, read};
///
/// let asked = Asked {
///     stock: vec!["16ft@41.50".into(), "12ft@30x4".into()],
///     pieces: vec!["rail=6x5ft 4in".into()],
///     ..Asked::default()
/// };
/// let list = read(&asked)?;
/// assert_eq!(list.problem.stock[1].available, Some(4));
/// assert_eq!(list.labels[0].as_deref(), Some("rail"));
/// # Ok::<(), lastcourse::job::Findings>(())
/// ```
///
/// # Errors
/// Everything that is wrong, each mistake with its place in what was typed.
pub fn read(asked: &Asked) -> Result<CutList, Findings> {
    let mut reader = reader::Reader::new(asked.unit);
    for text in &asked.stock {
        let source = reader.source("--stock", text);
        options::stock(&mut reader, source);
    }
    for sheet in &asked.stock_sheets {
        let source = reader.source(&sheet.name, &sheet.text);
        sheet::stock(&mut reader, source);
    }
    for text in &asked.pieces {
        let source = reader.source("--piece", text);
        options::piece(&mut reader, source);
    }
    for sheet in &asked.piece_sheets {
        let source = reader.source(&sheet.name, &sheet.text);
        sheet::pieces(&mut reader, source);
    }
    let [kerf, end_trim] = [("--kerf", &asked.kerf), ("--end-trim", &asked.end_trim)]
        .map(|(name, text)| options::saw(&mut reader, name, text.as_deref()));
    reader.finish(kerf, end_trim)
}

#[cfg(test)]
mod tests;
