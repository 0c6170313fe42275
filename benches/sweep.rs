//! `plan --sweep`: the program from start to end, on all cores, over a range of
//! widths and of prices.

use std::process::{Command, Stdio};
use std::time::Duration;

use criterion::{Criterion, SamplingMode, criterion_group, criterion_main};

/// The program on the terrace, at every value of a range.
fn sweep(range: &str) {
    let ran = Command::new(env!("CARGO_BIN_EXE_lastcourse"))
        .args(["plan", "fixtures/boathouse-terrace.toml", "--sweep", range])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    // 1 where some value has no plan or is not proven.
    let code = ran.expect("the program runs").code();
    assert!(matches!(code, Some(0 | 1)), "{code:?}");
}

fn ranges(c: &mut Criterion) {
    let mut group = c.benchmark_group("sweep");
    group.sample_size(10).sampling_mode(SamplingMode::Flat);
    group.measurement_time(Duration::from_secs(8));
    for (name, range) in [
        ("13 widths", "deck.across=13ft..14ft:1in"),
        ("3 prices", "stock.2.price=27..28:0.50"),
    ] {
        group.bench_function(name, |b| b.iter(|| sweep(range)));
    }
}

criterion_group!(benches, ranges);
criterion_main!(benches);
