//! Results as people and programs read them: text for a terminal or a page,
//! JSON with stable keys, CSV for a spreadsheet or the yard. It turns values
//! into strings and decides nothing; writing the strings somewhere is left to
//! the commands.

pub mod certificate;
pub mod check;
pub mod compare;
pub mod csv;
pub mod curve;
pub mod cut;
pub mod fit;
pub mod forecast;
pub mod json;
pub mod measure;
pub mod order;
mod page;
pub mod plan;
pub mod schema;
pub mod sweep;
mod table;
pub mod terms;

pub(crate) use page::capital;
pub use page::{ACCENT, ANSWER, Page, plain};
pub use table::{Align, Column, Table};
pub use terms::Terms;
