//! What is read so far, and what was wrong with it. It knows single values and
//! the checks that concern all of them together; in which form they are
//! written is left to the options and the sheets.

use std::ops::Range;

use super::CutList;
use crate::job::{Findings, Place, Problem, Severity, Source};
use crate::length::{Length, Unit};
use crate::money::Money;
use crate::sheet::Cell;
use crate::stock::{CutProblem, Demand, StockBoard};

/// More pieces than any shop cuts; it keeps every sum within range.
const MOST: u64 = 100_000_000;
/// The most cents a cut list may come to, far within exact range.
const MOST_CENTS: i128 = 1 << 52;

/// A stretch of one of the texts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Text {
    pub source: usize,
    pub cell: Cell,
}

impl Text {
    pub fn new(source: usize, span: Range<usize>) -> Text {
        Text {
            source,
            cell: Cell::new(span),
        }
    }
}

/// Collects boards, pieces and mistakes.
pub(super) struct Reader {
    bare: Option<Unit>,
    findings: Findings,
    stock: Vec<(StockBoard, Text)>,
    pieces: Vec<(Demand, Option<String>)>,
    /// Whether a length was given that is not metric; a bare 0 is neither.
    imperial: bool,
    metric: bool,
}

impl Reader {
    pub fn new(unit: Option<Unit>) -> Reader {
        Reader {
            bare: unit,
            findings: Findings::default(),
            stock: Vec::new(),
            pieces: Vec::new(),
            imperial: false,
            metric: false,
        }
    }

    /// Takes a text in; what is read from it is named by its number.
    pub fn source(&mut self, name: &str, text: &str) -> usize {
        self.findings.sources.push(Source {
            name: name.to_string(),
            text: text.to_string(),
        });
        self.findings.sources.len() - 1
    }

    /// The whole of a text.
    pub fn whole(&self, source: usize) -> Text {
        Text::new(source, 0..self.findings.sources[source].text.len())
    }

    /// What is meant by a stretch, and the stretch without the spaces round it.
    pub fn trimmed(&self, text: &Text) -> (String, Text) {
        let (inner, span) = (text.cell).trimmed(&self.findings.sources[text.source].text);
        let at = Text {
            source: text.source,
            cell: Cell {
                span,
                ..text.cell.clone()
            },
        };
        (inner, at)
    }

    pub fn text(&self, source: usize) -> &str {
        &self.findings.sources[source].text
    }

    /// Notes a mistake.
    pub fn wrong(&mut self, at: &Text, message: impl Into<String>, help: impl Into<String>) {
        let place = Place {
            source: at.source,
            span: at.cell.span.clone(),
        };
        self.problem(Some(place), message.into(), help.into());
    }

    fn problem(&mut self, place: Option<Place>, message: String, help: String) {
        self.findings.problems.push(Problem {
            severity: Severity::Error,
            place,
            message,
            help,
            also: Vec::new(),
        });
    }

    /// Reads a length; a mistake is noted and gives nothing.
    pub fn length(&mut self, at: &Text) -> Option<Length> {
        let (text, at) = self.trimmed(at);
        match Length::parse(&text, Some(self.bare.unwrap_or_default())) {
            Ok(length) => {
                // Of all the units that are read, only metric ones have an m.
                let unit = text
                    .chars()
                    .any(|c| c.is_alphabetic() || "'\"′″".contains(c));
                match (unit, text.to_lowercase().contains('m')) {
                    (true, true) => self.metric = true,
                    (false, _) if length == Length::ZERO => {}
                    _ => self.imperial = true,
                }
                Some(length)
            }
            Err(error) => {
                let inner = error.span();
                let place = match at.cell.span.len() == text.len() {
                    true => at.cell.span.start + inner.start..at.cell.span.start + inner.end,
                    // Undoubled quotation marks have moved what is behind them.
                    false => at.cell.span.clone(),
                };
                self.wrong(&Text::new(at.source, place), error.message(), error.help());
                None
            }
        }
    }

    /// Reads a length above zero.
    pub fn positive(&mut self, at: &Text, what: &str) -> Option<Length> {
        let length = self.length(at)?;
        if length <= Length::ZERO {
            let (text, at) = self.trimmed(at);
            self.wrong(
                &at,
                format!("{what} of {text} has no length"),
                "give a length above 0",
            );
            return None;
        }
        Some(length)
    }

    /// Reads a whole number.
    pub fn count(&mut self, at: &Text, what: &str) -> Option<u64> {
        let (text, at) = self.trimmed(at);
        let count = text.parse::<u64>().ok().filter(|_| !text.starts_with('+'));
        match count {
            Some(count) if count <= MOST => Some(count),
            Some(_) => {
                let most = MOST / 1_000_000;
                self.wrong(
                    &at,
                    format!("{text} {what} are too many to be cut in one go"),
                    format!("give {most} million at most"),
                );
                None
            }
            None => {
                self.wrong(
                    &at,
                    format!("\"{text}\" is not a number of {what}"),
                    "give a whole number such as 12, without commas or a sign",
                );
                None
            }
        }
    }

    /// Reads how many boards a bundle has.
    pub fn bundle(&mut self, at: &Text) -> Option<u64> {
        let bundle = self.count(at, "boards in a bundle")?;
        if bundle == 0 {
            let (_, at) = self.trimmed(at);
            self.wrong(
                &at,
                "there are no bundles of 0 boards",
                "give 1 or more; without it boards are sold singly",
            );
            return None;
        }
        Some(bundle)
    }

    /// Reads a price.
    pub fn price(&mut self, at: &Text) -> Option<Money> {
        let (text, at) = self.trimmed(at);
        match Money::parse(&text) {
            Ok(price) => Some(price),
            Err(error) => {
                self.wrong(&at, error.message(), error.help());
                None
            }
        }
    }

    /// Takes a board in.
    pub fn board(
        &mut self,
        at: Text,
        length: Length,
        price: Option<Money>,
        available: Option<u64>,
        bundle: u64,
    ) {
        let board = StockBoard {
            length,
            price,
            on_hand: 0,
            available,
            bundle,
        };
        self.stock.push((board, at));
    }

    /// Takes pieces in.
    pub fn piece(&mut self, label: Option<String>, length: Length, count: u64) {
        let label = label.filter(|label| !label.is_empty());
        self.pieces.push((Demand { length, count }, label));
    }

    /// Checks everything together.
    pub fn finish(
        mut self,
        kerf: Option<Length>,
        end_trim: Option<Length>,
    ) -> Result<CutList, Findings> {
        if self.findings.problems.is_empty() {
            self.check_all();
        }
        if !self.findings.problems.is_empty() {
            // In the order of the texts, as a person reads them.
            self.findings.problems.sort_by_key(|problem| {
                let place = problem.place.as_ref();
                place.map(|place| (place.source, place.span.start))
            });
            return Err(self.findings);
        }
        let unit = self.bare.unwrap_or(match self.metric && !self.imperial {
            true => Unit::Millimetre,
            false => Unit::Inch,
        });
        let mut stock: Vec<StockBoard> = self.stock.into_iter().map(|(board, _)| board).collect();
        let by_length = stock
            .iter()
            .all(|board| board.price.is_none())
            .then(|| price_by_length(&mut stock));
        let (pieces, labels) = self.pieces.into_iter().unzip();
        Ok(CutList {
            problem: CutProblem {
                stock,
                pieces,
                kerf: kerf.unwrap_or(match unit {
                    Unit::Inch => Length::from_64ths(8),
                    Unit::Millimetre => Length::from_mm(3),
                }),
                end_trim: end_trim.unwrap_or_default(),
            },
            labels,
            unit,
            by_length,
        })
    }

    fn check_all(&mut self) {
        let pieces: u64 = self.pieces.iter().map(|(piece, _)| piece.count).sum();
        if self.stock.is_empty() {
            self.problem(
                None,
                "there are no boards to cut from".into(),
                "give lengths and prices such as --stock 16ft@41.50, or a --stock-file".into(),
            );
        }
        if pieces == 0 {
            self.problem(
                None,
                "there are no pieces to cut".into(),
                "give counts and lengths such as --piece 12x4ft, or a --piece-file".into(),
            );
        }
        let priced = self.stock.iter().any(|(board, _)| board.price.is_some());
        let without: Vec<Text> = self
            .stock
            .iter()
            .filter(|(board, _)| priced && board.price.is_none())
            .map(|(_, at)| at.clone())
            .collect();
        for at in without {
            self.wrong(
                &at,
                "this board has no price, but others have one",
                "give every board its price; or none, to buy the least length",
            );
        }
        let dearest = self.stock.iter().filter_map(|(board, _)| board.price).max();
        let longest = self.stock.iter().map(|(board, _)| board.length).max();
        // One board a piece, and what bundles leave over.
        let over = self.stock.iter().map(|(board, _)| board.bundle - 1);
        let boards = i128::from(pieces) + over.map(i128::from).sum::<i128>();
        let cents = boards * i128::from(dearest.unwrap_or_default().cents());
        let units = boards * i128::from(longest.unwrap_or_default().units());
        let total: i128 = self
            .pieces
            .iter()
            .map(|(piece, _)| i128::from(piece.count) * i128::from(piece.length.units()))
            .sum();
        if pieces > MOST || cents > MOST_CENTS || units.max(total) > i128::from(i64::MAX / 4) {
            self.problem(
                None,
                "there is more to cut here than can be counted exactly".into(),
                "look for a length, price or count with digits too many, or cut it in parts".into(),
            );
        }
    }
}

/// Prices each board by its length, one cent for each step of the size that
/// divides all lengths; gives the step.
fn price_by_length(stock: &mut [StockBoard]) -> Length {
    let step = stock
        .iter()
        .map(|board| board.length.units())
        .fold(0, greatest_common_divisor)
        .max(1);
    for board in stock {
        board.price = Some(Money::from_cents(board.length.units() / step));
    }
    Length::from_units(step)
}

fn greatest_common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 {
        a
    } else {
        greatest_common_divisor(b, a % b)
    }
}
