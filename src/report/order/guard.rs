//! The guard behind an order: its stretches, posts and balusters, in sentences
//! and in numbers.

use schemars::JsonSchema;
use serde::Serialize;

use crate::guard::Run;
use crate::job::Job;
use crate::job::guard::GuardRules;
use crate::order::Order;
use crate::report::json::Measure;
use crate::report::terms::{counted, grouped};
use crate::report::{Page, Terms};

/// The guard.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct GuardAnswer {
    /// From the deck's surface to its top.
    height: Measure,
    /// All stretches together.
    length: Measure,
    /// Posts, those at corners counted once.
    posts: u64,
    /// Balusters; null where none are counted.
    balusters: Option<u64>,
    /// Its stretches, edge by edge.
    runs: Vec<RunAnswer>,
}

/// A stretch along one edge.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct RunAnswer {
    /// `first`, `last`, `left` or `right`.
    edge: &'static str,
    /// Where it starts, from the left end or the first edge.
    from: Measure,
    /// Where it ends.
    to: Measure,
    /// Bays between posts, all alike.
    bays: u64,
    /// What is clear between two posts.
    clear: Measure,
    /// Balusters in each bay; null where none are counted.
    balusters_each: Option<u64>,
    /// The clear space beside each; null where none are counted.
    space: Option<Measure>,
}

/// The guard's keys.
pub(super) fn json(job: &Job, order: &Order) -> Option<GuardAnswer> {
    let (rules, guard) = job.guards.rules.as_ref().zip(order.guard.as_ref())?;
    let at = |length| Measure::new(length, job.unit);
    let filled = rules.baluster.is_some();
    Some(GuardAnswer {
        height: at(rules.height),
        length: at(guard.length()),
        posts: guard.posts,
        balusters: filled.then(|| guard.balusters()),
        runs: (guard.runs.iter())
            .map(|run| RunAnswer {
                edge: run.side.name(),
                from: at(run.from),
                to: at(run.to),
                bays: run.bays,
                clear: at(run.clear),
                balusters_each: filled.then_some(run.balusters),
                space: filled.then(|| at(run.space)),
            })
            .collect(),
    })
}

/// The guard on the order's page.
pub(super) fn text(job: &Job, order: &Order, terms: &Terms, page: &mut Page) {
    let Some((rules, guard)) = job.guards.rules.as_ref().zip(order.guard.as_ref()) else {
        return;
    };
    page.space();
    page.line(&format!(
        "Guard, {} high: {} of it on {}, up to {} apart on centre.",
        terms.length(rules.height),
        terms.length(guard.length()),
        counted(guard.posts, "post"),
        terms.length(rules.post.spacing),
    ));
    for run in &guard.runs {
        page.hanging("- ", &stretch(rules, run, terms));
    }
}

/// `left edge, 0 in to 12 ft: 2 bays of 5 ft 8 in clear, each of 12 balusters 3-3/4 in apart.`
fn stretch(rules: &GuardRules, run: &Run, terms: &Terms) -> String {
    let at = |length| terms.length(length);
    let place = format!(
        "{} edge, {} to {}",
        run.side.name(),
        at(run.from),
        at(run.to)
    );
    if run.bays == 0 {
        return format!("{place}: one post fills it.");
    }
    let bays = counted(run.bays, "bay");
    let filled = match (&rules.baluster, run.balusters) {
        (None, _) => String::new(),
        (Some(_), 0) => ", narrow enough without a baluster".to_owned(),
        (Some(_), 1) => format!(", each of 1 baluster, {} clear beside it", at(run.space)),
        (Some(_), count) => format!(
            ", each of {} balusters {} apart",
            grouped(count),
            at(run.space)
        ),
    };
    format!("{place}: {bays} of {} clear{filled}.", at(run.clear))
}
