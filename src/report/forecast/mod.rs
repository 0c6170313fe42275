//! A forecast in its two forms: fasteners side by side for people, with the end
//! of the deck drawn in text ([`text()`]), and every figure for programs
//! ([`json()`]).

mod compare;
mod figures;
mod json;
mod meaning;
mod movement;
mod picture;
mod text;

pub use compare::{Boards, Row};
pub use figures::brief;
pub use json::{ForecastAnswer, json};
pub use picture::picture;
pub use text::{answer, text};
