//! Across the boards: the arithmetic of courses, forecasts and ways to finish.

#[path = "../common/mod.rs"]
mod common;

mod courses;
mod fit;
mod forecast;
