//! Ways to finish in their two forms: a ranked table for people ([`text()`]),
//! every figure for programs ([`json()`]), and the options that make a way
//! ([`options()`]).

mod json;
mod options;
mod text;

pub use json::{FitAnswer, json};
pub use options::{options, sets};
pub use text::text;
