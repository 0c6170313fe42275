//! What a tape on the site says, in its two forms: answer first, then figures,
//! for people ([`text()`]), and every figure for programs ([`json()`]).

mod figures;
mod json;
mod text;
mod words;

pub use json::{MeasureAnswer, json};
pub use text::text;
