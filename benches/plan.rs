//! `plan` with all its proof, over decks that take up to a few seconds; larger
//! ones are measured once each by the bench `whole`.

use std::time::Duration;

use criterion::{Criterion, SamplingMode, criterion_group, criterion_main};
use lastcourse::plan::{PlanOptions, plan};
use lastcourse::watch::Unwatched;

mod support;

fn decks(c: &mut Criterion) {
    let mut group = c.benchmark_group("plan");
    group.sample_size(10).sampling_mode(SamplingMode::Flat);
    group.warm_up_time(Duration::from_millis(500));
    group.measurement_time(Duration::from_secs(8));
    for (name, job) in [
        ("16 ft x 24 ft", support::feet(16, 24)),
        ("24 ft x 16 ft", support::feet(24, 16)),
        ("34 ft 3 in x 20 ft, five lengths", support::odd()),
    ] {
        group.bench_function(name, |b| {
            b.iter(|| plan(&job, &PlanOptions::default(), &Unwatched).expect("a plan"));
        });
    }
}

criterion_group!(benches, decks);
criterion_main!(benches);
