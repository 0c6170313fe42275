//! A board plan in its three forms. Equal boards and courses laid alike are
//! joined for people ([`text()`]); programs get every piece ([`json()`]), and a
//! spreadsheet every cut ([`csv()`]).

mod csv;
pub(crate) mod group;
mod json;
mod text;

pub use csv::csv;
pub use json::{PlanAnswer, json};
pub use text::{answer, text};
