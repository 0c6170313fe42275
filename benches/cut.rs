//! `cut`: classes of cutting problems as they come up on a building site, from
//! fixed seeds, each class a few problems solved one after the other.

use std::time::Duration;

use criterion::{Criterion, SamplingMode, criterion_group, criterion_main};
use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::stock::{CutProblem, Demand, StockBoard, solve};
use lastcourse::watch::Unwatched;

mod support;
use support::draw::Draw;

/// So many different lengths of so many pieces each, to a quarter of an inch,
/// from boards of five lengths.
fn problem(seed: u64, lengths: usize, most_each: i64) -> CutProblem {
    let mut draw = Draw(seed);
    let stock = [8, 10, 12, 16, 20].map(|feet| StockBoard {
        length: Length::from_feet(feet),
        price: Some(Money::from_cents(feet * 260 + draw.between(0, 150))),
        on_hand: 0,
        available: None,
        bundle: 1,
    });
    CutProblem {
        stock: stock.to_vec(),
        pieces: (0..lengths)
            .map(|_| Demand {
                length: Length::from_64ths(16 * draw.between(48, 760)),
                count: draw.between(1, most_each) as u64,
            })
            .collect(),
        kerf: Length::from_64ths(8),
        end_trim: Length::ZERO,
    }
}

fn classes(c: &mut Criterion) {
    let mut group = c.benchmark_group("cut");
    group.sample_size(10).sampling_mode(SamplingMode::Flat);
    group.warm_up_time(Duration::from_millis(500));
    group.measurement_time(Duration::from_secs(6));
    for (name, lengths, most_each) in [
        ("5 lengths, 10 of each at most", 5, 10),
        ("15 lengths, 10 of each at most", 15, 10),
        ("30 lengths, 20 of each at most", 30, 20),
        ("30 lengths, 500 of each at most", 30, 500),
    ] {
        let problems: Vec<CutProblem> = (1..=3).map(|k| problem(k, lengths, most_each)).collect();
        group.bench_function(name, |b| {
            b.iter(|| {
                for problem in &problems {
                    solve(problem, &Unwatched).expect("an answer");
                }
            });
        });
    }
}

criterion_group!(benches, classes);
criterion_main!(benches);
