//! Orders side by side in their three forms: what each choice comes to, what it
//! changes in the order, and why some cannot be had.

mod csv;
mod json;
mod text;

pub use csv::csv;
pub use json::{CompareAnswer, json};
pub use text::text;

use crate::money::Money;
use crate::order::{Choice, Made};

/// What the first choice that can be had comes to: the others are set against it.
fn first(choices: &[Choice]) -> Option<&Made> {
    choices.iter().find_map(made)
}

fn made(choice: &Choice) -> Option<&Made> {
    choice.made.as_deref().ok()
}

/// What a choice comes to more than the first.
fn more(choices: &[Choice], made: &Made) -> Money {
    let first = first(choices).map_or(Money::ZERO, |first| first.order.sums.all);
    made.order.sums.all - first
}
