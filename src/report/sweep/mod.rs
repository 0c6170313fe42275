//! What a job comes to over a range of values, in its three forms: a table for
//! people ([`text()`]), all figures for programs ([`json()`]) and spreadsheets
//! ([`csv()`]).

mod csv;
mod json;
mod text;

pub use csv::csv;
pub use json::{SweepAnswer, json};
pub use text::{answer, ends, text};
