//! An order in its three forms: a list with its reasons for people, stable keys
//! for programs, and rows for the yard.

mod base;
mod codes;
mod csv;
mod fascia;
mod frame;
mod guard;
mod json;
mod spreadsheet;
mod stairs;
mod sums;
mod text;

pub use csv::csv;
pub use json::{OrderAnswer, json};
pub use spreadsheet::{SpreadsheetError, spreadsheet};
pub(super) use sums::{GroupSums, SumsAnswer, group_sums, json as sums, time};
pub use text::{answer, list, text};
