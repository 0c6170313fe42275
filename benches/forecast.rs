//! `forecast`: the library alone, and the program from start to end.

use std::hint::black_box;
use std::process::{Command, Stdio};

use criterion::{Criterion, criterion_group, criterion_main};
use lastcourse::courses::forecast;
use lastcourse::deck::surface;

mod support;

fn library(c: &mut Criterion) {
    let job = support::movable();
    let surface = surface(&job).expect("a surface");
    c.bench_function("forecast/library", |b| {
        b.iter(|| {
            for fastener in 0..job.fasteners.len() {
                black_box(forecast(black_box(&job), &surface, fastener));
            }
        });
    });
}

fn run(args: &[&str]) {
    let status = Command::new(env!("CARGO_BIN_EXE_lastcourse"))
        .args(args)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    assert!(status.expect("the program runs").success());
}

fn program(c: &mut Criterion) {
    c.bench_function("forecast/program", |b| {
        b.iter(|| {
            let gap = ["--gap", "slim clip=3/16in", "--gap", "wide clip=1/4in"];
            let deck = ["forecast", "--across", "13ft 2in", "--face", "5-1/2in"];
            run(&[&deck[..], &gap[..]].concat());
        });
    });
    c.bench_function("start-up", |b| b.iter(|| run(&["--version"])));
}

criterion_group!(benches, library, program);
criterion_main!(benches);
