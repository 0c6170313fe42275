//! What the tests share: random jobs and cutting problems, and reference
//! models that find the optimum of small ones in another way than the program.

#![allow(dead_code, reason = "each test uses its own part")]

pub mod cuts;
pub mod draw;
pub mod jobs;
pub mod patience;
pub mod planted;
pub mod reference;
