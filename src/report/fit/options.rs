//! A chosen way as options of any command, ready for a shell.

use crate::fit::Way;
use crate::job::{Job, Set};

/// The fields that a way changes, and what to.
pub fn sets(job: &Job, way: &Way) -> Vec<Set> {
    let changes = way.changes.iter();
    changes
        .map(|change| Set::new(change.path(job), change.value(job)))
        .collect()
}

/// The options that make a way, after others that were given already: `--set`
/// for each change, and `--fastener` unless the job's first is meant.
pub fn options(job: &Job, way: &Way, given: &[Set]) -> String {
    let own = sets(job, way);
    let mut words: Vec<String> = given
        .iter()
        .chain(&own)
        .map(|set| format!("--set {}", quoted(&set.text())))
        .collect();
    if way.fastener != 0 {
        words.push(format!(
            "--fastener {}",
            quoted(&job.fasteners[way.fastener].name)
        ));
    }
    words.join(" ")
}

/// A word as a shell takes it.
fn quoted(text: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./=,:%+@".contains(c);
    if !text.is_empty() && text.chars().all(plain) {
        text.to_string()
    } else {
        format!("'{}'", text.replace('\'', "'\\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shell_gets_one_word() {
        assert_eq!(quoted("deck.across=158in"), "deck.across=158in");
        assert_eq!(quoted("deck.across=13ft 2in"), "'deck.across=13ft 2in'");
        assert_eq!(quoted("it's"), "'it'\\''s'");
        assert_eq!(quoted(""), "''");
    }
}
