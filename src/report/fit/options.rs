//! A chosen way as options of any command, ready for a shell.

use crate::fit::Way;
use crate::job::{Job, Set};
use crate::text::{shell_option, shell_word};

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
        .map(|set| format!("--set {}", shell_word(&set.text())))
        .collect();
    if way.fastener != 0 {
        let name = &job.fasteners[way.fastener].name;
        words.push(shell_option("--fastener", name));
    }
    words.join(" ")
}
