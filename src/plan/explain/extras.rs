//! Other pieces that the boards have no room for: fewer of them, or shorter
//! ones, so that a plan is possible.

use super::relax::{Asker, Relaxation, share};
use crate::job::Job;
use crate::length::Length;
use crate::plan::model::longest;

/// For each kind of other pieces, what of it has to be given up, if that alone
/// is enough.
pub(super) fn given_up(asker: &Asker) -> Vec<Relaxation> {
    let Some(longest) = longest(asker.job) else {
        return Vec::new();
    };
    (0..asker.job.extras.len())
        .filter_map(|at| {
            let too_long = asker.job.extras[at].length > longest;
            match too_long {
                true => shorter(asker, at, longest),
                false => fewer(asker, at),
            }
        })
        .collect()
}

fn shorter(asker: &Asker, at: usize, longest: Length) -> Option<Relaxation> {
    let mut job = asker.job.clone();
    let was = job.extras[at].length;
    job.extras[at].length = longest;
    asker.gives(&job).then(|| Relaxation {
        what: match of_stairs(&job, at) {
            Some(label) => format!("\"{label}\" of {} at most", longest.show(job.unit)),
            None => format!(
                "`extra.{}.length = \"{}\"`",
                at + 1,
                longest.exact(job.unit)
            ),
        },
        far: (1, share((was - longest).units(), was.units())),
    })
}

/// The label of other pieces that no `[[extra]]` asks for but stairs.
fn of_stairs(job: &Job, at: usize) -> Option<&str> {
    let label = &job.extras[at].label;
    let stairs = job
        .stairs
        .iter()
        .any(|stairs| stairs.tread_label() == *label);
    stairs.then_some(label.as_str())
}

/// The most of one kind that a plan was found with, by halving.
fn fewer(asker: &Asker, at: usize) -> Option<Relaxation> {
    let with = |count: u32| -> Job {
        let mut job = asker.job.clone();
        match count {
            0 => drop(job.extras.remove(at)),
            count => job.extras[at].count = count,
        }
        job
    };
    let was = asker.job.extras[at].count;
    if !asker.gives(&with(0)) {
        return None;
    }
    let (mut enough, mut too_many) = (0, was);
    while too_many - enough > 1 {
        let middle = enough + (too_many - enough) / 2;
        match asker.gives(&with(middle)) {
            true => enough = middle,
            false => too_many = middle,
        }
    }
    let label = &asker.job.extras[at].label;
    Some(Relaxation {
        what: match enough {
            enough if of_stairs(asker.job, at).is_some() => {
                format!("{enough} × \"{label}\" and not {was}")
            }
            0 => format!("no \"{label}\" (`extra.{}`)", at + 1),
            enough => format!("`extra.{}.count = {enough}`", at + 1),
        },
        far: (1, share(i64::from(was - enough), i64::from(was))),
    })
}
