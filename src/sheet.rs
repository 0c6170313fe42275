//! Spreadsheets as CSV with headings, in any order, parted by commas, semicolons
//! or tabs: its rows under the headings that somebody knows, every value with
//! its place in the text, so that a mistake can be marked where it stands. What
//! the values mean is left to whoever asked for them.

use std::ops::Range;

/// A column a sheet may have, and whether it must.
pub type Known = (&'static str, bool);

/// A value's place in the text, without the quotation marks round it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// The stretch, in bytes.
    pub span: Range<usize>,
    /// Whether quotation marks in it are doubled, as in a quoted value.
    pub doubled: bool,
}

impl Cell {
    /// A plain stretch.
    pub fn new(span: Range<usize>) -> Cell {
        Cell {
            span,
            doubled: false,
        }
    }

    /// What is meant, and its stretch without the spaces round it.
    pub fn trimmed(&self, text: &str) -> (String, Range<usize>) {
        let all = &text[self.span.clone()];
        let start = self.span.start + (all.len() - all.trim_start().len());
        let inner = all.trim();
        let at = start..start + inner.len();
        match self.doubled {
            true => (inner.replace("\"\"", "\""), at),
            false => (inner.to_string(), at),
        }
    }
}

/// A row's cells under the known headings; an empty cell is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The whole row.
    pub whole: Range<usize>,
    /// Its cells, in the order of the known headings.
    pub cells: Vec<Option<Cell>>,
}

/// A mistake in a sheet's shape: where, what, and the way out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where it is.
    pub span: Range<usize>,
    /// What is wrong.
    pub message: String,
    /// How to mend it.
    pub help: String,
}

impl Fault {
    /// A mistake at a stretch of the text.
    pub fn new(span: Range<usize>, message: impl Into<String>, help: impl Into<String>) -> Fault {
        Fault {
            span,
            message: message.into(),
            help: help.into(),
        }
    }
}

/// The rows of a sheet, and what is wrong with its shape.
///
/// With a fault in the headings there are no rows; a row with one is left out.
pub fn rows(text: &str, known: &[Known]) -> (Vec<Row>, Vec<Fault>) {
    let start = if text.starts_with('\u{feff}') { 3 } else { 0 };
    let records = match records(text, start) {
        Ok(records) => records,
        Err(open) => {
            let fault = Fault::new(
                open..open + 1,
                "a quotation mark opens here and is never closed",
                "close it, or double it inside a quoted value",
            );
            return (Vec::new(), vec![fault]);
        }
    };
    let filled = |cell: &Range<usize>| !text[cell.clone()].trim().is_empty();
    let mut records = records
        .into_iter()
        .filter(|cells| cells.len() > 1 || cells.iter().any(filled));
    let Some(heads) = records.next() else {
        let fault = Fault::new(
            0..text.len(),
            "this sheet is empty",
            format!("its first line has the headings {}", names(known)),
        );
        return (Vec::new(), vec![fault]);
    };
    let columns = match columns(text, &heads, known) {
        Ok(columns) => columns,
        Err(faults) => return (Vec::new(), faults),
    };
    let (mut rows, mut faults) = (Vec::new(), Vec::new());
    for cells in records {
        let beyond = &cells[heads.len().min(cells.len())..];
        if let Some(extra) = beyond.iter().find(|cell| filled(cell)) {
            faults.push(Fault::new(
                extra.clone(),
                format!(
                    "this row has {} values under {} headings",
                    cells.len(),
                    heads.len()
                ),
                "put a value with a comma in it in quotation marks, or write it without",
            ));
            continue;
        }
        if !cells.iter().any(filled) {
            continue;
        }
        let cell = |column: &Option<usize>| -> Option<Cell> {
            let cell = inner(text, cells.get((*column)?)?.clone());
            filled(&cell.span).then_some(cell)
        };
        rows.push(Row {
            whole: cells[0].start..cells[cells.len() - 1].end,
            cells: columns.iter().map(cell).collect(),
        });
    }
    (rows, faults)
}

fn names(known: &[Known]) -> String {
    let names: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
    names.join(",")
}

/// Where each known heading stands, or what is wrong with the headings.
fn columns(
    text: &str,
    heads: &[Range<usize>],
    known: &[Known],
) -> Result<Vec<Option<usize>>, Vec<Fault>> {
    let mut columns: Vec<Option<usize>> = vec![None; known.len()];
    let mut faults = Vec::new();
    for (place, head) in heads.iter().enumerate() {
        let (head, at) = inner(text, head.clone()).trimmed(text);
        let name = head.to_lowercase();
        if name.is_empty() {
            continue;
        }
        match known.iter().position(|(known, _)| *known == name) {
            Some(k) if columns[k].is_none() => columns[k] = Some(place),
            Some(_) => faults.push(Fault::new(
                at,
                format!("the heading \"{name}\" is there twice"),
                "leave one of them",
            )),
            None => {
                let nearest = known
                    .iter()
                    .map(|(known, _)| *known)
                    .max_by(|a, b| strsim::jaro(a, &name).total_cmp(&strsim::jaro(b, &name)))
                    .filter(|nearest| strsim::jaro(nearest, &name) > 0.75);
                let help = match nearest {
                    Some(nearest) => format!("perhaps {nearest} is meant"),
                    None => format!("the first line has the headings {}", names(known)),
                };
                faults.push(Fault::new(
                    at,
                    format!("there is no heading \"{head}\""),
                    help,
                ));
            }
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let missing = known.iter().zip(&columns);
    let missing = missing.filter(|((_, must), column)| *must && column.is_none());
    let faults: Vec<Fault> = missing
        .take(1)
        .map(|((name, _), _)| {
            Fault::new(
                heads[0].start..heads[heads.len() - 1].end,
                format!("the heading \"{name}\" is missing"),
                format!("the first line has the headings {}", names(known)),
            )
        })
        .collect();
    match faults.is_empty() {
        true => Ok(columns),
        false => Err(faults),
    }
}

/// A value without the quotation marks round it.
fn inner(text: &str, cell: Range<usize>) -> Cell {
    let all = &text[cell.clone()];
    let start = cell.start + (all.len() - all.trim_start().len());
    let all = all.trim();
    match all.len() >= 2 && all.starts_with('"') && all.ends_with('"') {
        true => Cell {
            span: start + 1..start + all.len() - 1,
            doubled: true,
        },
        false => Cell::new(cell),
    }
}

/// The rows of a CSV text as places of their values, quotation marks included;
/// or the place of one that is never closed.
fn records(text: &str, start: usize) -> Result<Vec<Vec<Range<usize>>>, usize> {
    let first_line = text[start..].lines().next().unwrap_or("");
    let part = [',', ';', '\t']
        .into_iter()
        .max_by_key(|&part| (first_line.matches(part).count(), part == ','))
        .unwrap_or(',');
    let mut records = Vec::new();
    let mut record = Vec::new();
    let mut from = start;
    let mut open: Option<usize> = None;
    for (at, letter) in text[start..].char_indices() {
        let at = start + at;
        match letter {
            // An inch mark behind a number quotes nothing.
            '"' if open.is_some() => open = None,
            '"' if text[from..at].trim().is_empty() => open = Some(at),
            '"' if at > start && text[..at].ends_with('"') && quoted(text, from) => {
                open = Some(at);
            }
            '\n' if open.is_none() => {
                record.push(from..line_end(text, from, at));
                records.push(std::mem::take(&mut record));
                from = at + 1;
            }
            letter if letter == part && open.is_none() => {
                record.push(from..at);
                from = at + letter.len_utf8();
            }
            _ => {}
        }
    }
    if let Some(open) = open {
        return Err(open);
    }
    if from < text.len() || !record.is_empty() {
        record.push(from..line_end(text, from, text.len()));
        records.push(record);
    }
    Ok(records)
}

/// Whether the value that starts here is a quoted one.
fn quoted(text: &str, from: usize) -> bool {
    text[from..].trim_start().starts_with('"')
}

/// The end of a line's last value, its carriage return left off.
fn line_end(text: &str, from: usize, at: usize) -> usize {
    if text[from..at].ends_with('\r') {
        at - 1
    } else {
        at
    }
}
