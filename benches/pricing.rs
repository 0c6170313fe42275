//! The steps that searches are made of: the cheapest block of courses, the best
//! filling of a board and the cheapest walk at given prices, and the bound of a
//! whole relaxation with its prices in whole numbers. Processor time.

use std::hint::black_box;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, SamplingMode, criterion_group, criterion_main};
use lastcourse::deck::{supports, surface};
use lastcourse::job::Job;
use lastcourse::joints::{Block, PathCosts, Pieces, Run, Slot, Walk};
use lastcourse::length::Length;
use lastcourse::plan::{PlanOptions, plan, refuting};
use lastcourse::stock::{Refuter, measure, solve};
use lastcourse::watch::Unwatched;

mod support;
use support::classes::all;
use support::clock::Processor;
use support::draw::Draw;

fn run_of(job: &Job) -> Run {
    let longest = job.stock.iter().map(|stock| stock.length).max();
    let surface = surface(job).expect("a surface");
    Run::new(job, &surface, &supports(job), longest.expect("boards")).expect("a run")
}

/// Prices near those of a relaxation: by length, a tenth more or less.
fn costs(run: &Run, draw: &mut Draw) -> PathCosts {
    let around = |draw: &mut Draw, length: Length| length.units() / 100 * draw.between(90, 110);
    PathCosts {
        row: run.lengths.iter().map(|&l| around(draw, l)).collect(),
        joint: (0..run.end()).map(|_| draw.between(0, 200_000)).collect(),
        course: Vec::new(),
    }
}

fn blocks(c: &mut Criterion<Processor>) {
    let mut group = c.benchmark_group("pricing/block");
    group.sampling_mode(SamplingMode::Flat);
    for feet in [20, 40, 60, 100, 200] {
        let job = support::feet(feet, 20);
        let run = run_of(&job);
        for courses in [2, 3] {
            let block = Block::new(&run, &job.joints, &vec![0; courses], 3_000_000);
            let Ok(Some(block)) = block else { continue };
            let costs = costs(&run, &mut Draw(feet as u64));
            let name = format!("{feet} ft, {courses} courses");
            group.bench_function(name, |b| {
                b.iter(|| block.least(black_box(&costs), None).expect("a way"));
            });
        }
    }
}

fn knapsacks(c: &mut Criterion<Processor>) {
    let mut group = c.benchmark_group("pricing/knapsack");
    group.sampling_mode(SamplingMode::Flat);
    for class in all() {
        if !["construction", "inches", "mid", "short", "short-fine"].contains(&class.name) {
            continue;
        }
        let most = class.problems.iter().max_by_key(|p| p.pieces.len());
        let problem = most.expect("problems");
        measure::knapsack(problem, |lengths, most| {
            let mut draw = Draw(lengths as u64);
            // Lengths longest first, so values fall as well.
            let mut values: Vec<i64> = (0..lengths).map(|_| draw.between(100, 9_000)).collect();
            values.sort_unstable_by(|a, b| b.cmp(a));
            let id = BenchmarkId::new(class.name, format!("{lengths} lengths"));
            group.bench_function(id, |b| b.iter(|| most(black_box(&values))));
        });
    }
}

fn walks(c: &mut Criterion<Processor>) {
    let mut group = c.benchmark_group("pricing/walk");
    group.sampling_mode(SamplingMode::Flat);
    for (feet, shortest, courses) in [(24, 48, 40), (32, 72, 40), (40, 96, 80)] {
        let mut job = support::feet(feet, 20);
        job.joints.shortest_piece = Length::from_inches(shortest);
        let run = run_of(&job);
        let pieces = Pieces::all(&run);
        let free = PathCosts::of_pieces(vec![0; run.lengths.len()], &run);
        let any = Slot {
            costs: &free,
            materials: &[0],
            course: 0,
            most: 0,
        };
        let walk = Walk::within(&run, &job.joints, &pieces, &[any], 30_000_000);
        let Ok(Some(walk)) = walk else {
            continue;
        };
        let costs = costs(&run, &mut Draw(feet as u64));
        let materials = vec![0; courses];
        let name = format!("{feet} ft, {courses} courses, {} steps", walk.size());
        group.bench_function(name, |b| {
            b.iter(|| walk.cheapest(black_box(&costs), &materials, None, 0, i64::MAX));
        });
    }
}

/// The relaxation, solved anew from nothing to a bound in whole numbers.
fn roots(c: &mut Criterion<Processor>) {
    let mut group = c.benchmark_group("root");
    group.sampling_mode(SamplingMode::Flat);
    group
        .sample_size(10)
        .measurement_time(Duration::from_secs(5));
    for (name, job) in [
        ("plan, 24 ft x 16 ft", support::feet(24, 16)),
        ("plan, 34 ft 3 in x 20 ft, five lengths", support::odd()),
        ("plan, 60 ft x 30 ft", support::feet(60, 30)),
        ("plan, 100 ft x 100 ft", support::feet(100, 100)),
        ("plan, 200 ft x 200 ft", support::feet(200, 200)),
    ] {
        let plan = plan(&job, &PlanOptions::default(), &Unwatched).expect("a plan");
        if refuting(&job, &plan, &Unwatched, |_| ()).is_some() {
            group.bench_function(name, |b| {
                b.iter(|| refuting(black_box(&job), &plan, &Unwatched, |_| ()));
            });
        }
    }
    for class in all() {
        if !["construction", "mid", "short"].contains(&class.name) {
            continue;
        }
        let most = class.problems.iter().max_by_key(|p| p.pieces.len());
        let problem = most.expect("problems");
        let plan = solve(problem, &Unwatched).expect("an answer");
        let name = format!("cut, {}, {} lengths", class.name, problem.pieces.len());
        group.bench_function(name, |b| {
            b.iter(|| Refuter::new(black_box(problem), &plan, &Unwatched).is_some());
        });
    }
}

/// Samples long enough for a clock that is told by the tick.
fn by_processor() -> Criterion<Processor> {
    Criterion::default()
        .with_measurement(Processor)
        .sample_size(10)
        .warm_up_time(Duration::from_millis(500))
        .measurement_time(Duration::from_secs(3))
}

criterion_group! {
    name = benches;
    config = by_processor();
    targets = blocks, knapsacks, walks, roots
}
criterion_main!(benches);
