//! Along the boards: where butt joints may fall in a run, which pieces lie
//! between them, and which joints neighbouring courses may have beside each
//! other. It knows supports, bearing and stagger; prices and boards are left to
//! [`crate::stock`] and [`crate::plan`].

mod block;
mod cheapest;
mod links;
mod repeat;
mod run;
mod walk;

pub use block::{Allowed, Block, Path, PathCosts, Pieces, Takes, TooLarge};
pub use links::Link;
pub use run::{Place, Run};
pub use walk::{Gathered, Near, Slot, Spot, Walk};
