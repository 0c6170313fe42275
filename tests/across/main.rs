//! Across the boards: the arithmetic of courses, forecasts and ways to finish,
//! and what a tape says of them.

#[path = "../common/mod.rs"]
mod common;

mod courses;
mod fit;
mod forecast;
mod measure;
mod site;
mod square;
