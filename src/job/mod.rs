//! What a person writes, and what was meant by it. [`model`] is the checked
//! job that every stage reads; the file's fields, defaults, checks and messages
//! lie beside it. Geometry is left to [`crate::deck`].
//!
//! A job comes from a file's text with [`read`], or is built in Rust from
//! [`Job::rectangle`].

pub mod base;
mod check;
pub mod codes;
mod defaults;
mod document;
pub mod dressed;
pub mod edit;
pub mod fascia;
mod framing;
pub mod guard;
pub mod items;
pub mod message;
pub mod model;
pub mod movement;
mod prices;
mod problem;
mod read;
mod reading;
pub mod readings;
mod schema;
mod tree;
mod values;

pub use base::BaseRules;
pub use codes::{CodeRules, Decking, Edition, OwnSpan, SpeciesGroup};
pub use defaults::trial_reading;
pub use edit::{Set, Sweep, SweepStep, SweptValue};
pub use fascia::{Adhesive, Corners, FasciaRules, Packers, RunsPast, Side, Splices};
pub use framing::{
    Beam, BeamPlaces, Blocking, BlockingPattern, Fixing, Flashing, FrameFastener, FrameRules,
    Goods, Handrails, Lumber, Plies, Preservative, Riser, Roll, Slab, Spaced, StairGoods,
};
pub use guard::{Baluster, GuardPost, GuardRules, Guards, Made, Rail, StairsAt};
pub use items::*;
pub use model::*;
pub use movement::*;
pub use prices::PriceList;
pub use problem::{Findings, Place, Problem, Severity, Source};
pub use read::{Checked, read, read_priced};
pub use readings::{Tape, TapeReading};
pub use schema::schema;

/// A commented job file that works: every field there is, with an invented deck.
pub const EXAMPLE: &str = include_str!("example.toml");
