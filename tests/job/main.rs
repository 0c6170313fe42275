//! Job files: what is read from them, what is refused and how that is said,
//! changes by `--set`, and that no text makes the reader stumble.

/// Compares with a text kept beside the tests.
macro_rules! snapshot {
    ($said:expr) => {
        insta::with_settings!({ omit_expression => true }, {
            insta::assert_snapshot!($said);
        })
    };
}

mod base;
mod codes;
mod files;
mod guard;
mod messages;
mod random;
mod read;
mod readings;
mod sets;

use lastcourse::job::{self, Checked, Findings, Job, Set};

/// A job with nothing in it that could be left out, to change or add to.
pub const SMALL: &str = r#"
[deck]
along  = "20ft"
across = "13ft 2in"
[board]
face = "5-1/2in"
[[fastener]]
name = "slim clip"
gap  = "3/16in"
"#;

/// Reads a text with changes.
pub fn read(text: &str, sets: &[&str]) -> Result<Checked, Findings> {
    let sets: Vec<Set> = sets
        .iter()
        .map(|set| Set::parse(set).expect("a path and a value"))
        .collect();
    job::read(text, "deck.toml", &sets)
}

/// The job of a text that is right.
#[track_caller]
pub fn accepted(text: &str) -> Job {
    match read(text, &[]) {
        Ok(checked) => checked.job,
        Err(findings) => panic!("refused:\n{findings}"),
    }
}

/// The small job with lines added.
pub fn small_and(more: &str) -> String {
    format!("{SMALL}{more}")
}
