//! `fit`: ways across and along, each priced by a real plan.

use std::time::Duration;

use criterion::{Criterion, SamplingMode, criterion_group, criterion_main};
use lastcourse::fit::{Planned, Ranking, Task, fit};
use lastcourse::plan::{Effort, PlanOptions, plan};
use lastcourse::watch::Unwatched;

mod support;

/// One plan after the other, as on a machine with one core.
fn planner(tasks: &[Task]) -> Vec<Planned> {
    let plan = |task: &Task| {
        let options = PlanOptions {
            fastener: task.fastener,
            effort: Effort::Quick,
            ..PlanOptions::default()
        };
        plan(&task.job, &options, &Unwatched).map(|plan| plan.totals)
    };
    tasks.iter().map(plan).collect()
}

fn ways(c: &mut Criterion) {
    let mut group = c.benchmark_group("fit");
    group.sample_size(10).sampling_mode(SamplingMode::Flat);
    group.measurement_time(Duration::from_secs(10));
    let job = support::movable();
    for (name, fasteners) in [("one fastener", &[0][..]), ("three fasteners", &[0, 1, 2])] {
        group.bench_function(name, |b| {
            b.iter(|| fit(&job, fasteners, Ranking::default(), &planner).expect("a deck"));
        });
    }
}

criterion_group!(benches, ways);
criterion_main!(benches);
