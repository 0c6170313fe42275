//! An order in its three forms: a list with its reasons for people, stable keys
//! for programs, and rows for the yard.

mod base;
mod codes;
mod csv;
mod fascia;
mod frame;
mod guard;
mod json;
mod stairs;
mod text;

pub use csv::csv;
pub use json::{OrderAnswer, json};
pub use text::{answer, list, text};
