//! Cutting stock: pieces from boards of several lengths and prices, at the
//! least cost, with a lower bound and its proof. It knows lengths, counts and
//! prices; it knows no deck.

mod types;

pub use types::{CutBoard, CutPlan, CutProblem, Demand, StockBoard, StockError};
