//! What a person writes, and what was meant by it. [`model`] is the checked
//! job that every stage reads; the file's fields, defaults, checks and messages
//! lie beside it. Geometry is left to [`crate::deck`].

pub mod model;

pub use model::*;
