//! Cutting stock: pieces from boards of several lengths and prices, at the
//! least cost, with a lower bound and its proof. It knows lengths, counts and
//! prices; it knows no deck.
//!
//! The way through: [`types`](CutProblem) to an instance of distinct lengths,
//! a quick answer, the linear relaxation by column generation, and a bound in
//! whole numbers from its prices. The same prices tell which numbers of boards an
//! answer can have; these are packed cheapest first, by sums of lengths, or an
//! integer program over every pattern that a better answer could use decides.
//! Thousands of lengths are gathered in groups first.

mod boards;
mod close;
mod counts;
mod dive;
mod greedy;
mod instance;
mod large;
mod longest;
#[doc(hidden)]
pub mod measure;
mod pack;
mod reach;
mod refute;
mod relax;
mod search;
mod settle;
mod solve;
mod types;

pub(crate) use boards::{Boards, Pattern, gcd};
pub(crate) use close::Work;
pub(crate) use instance::{Cut, Instance, Kind, without_dominated};
pub(crate) use longest::Longest;
pub(crate) use reach::Reach;
pub use refute::Refuter;
pub(crate) use relax::parts;
pub(crate) use search::search;
pub use solve::solve;
pub use types::{
    BoardsLeft, CutBoard, CutPlan, CutProblem, CutProof, Demand, LimitPrice, StockBoard, StockError,
};
