//! `cut` over classes of problems, one after the other on one core: how many are
//! solved with proof, how long one takes, and what stays open. Ten seconds each
//! at most. Names after `--` choose classes (`-v` lists every problem):
//! `cargo bench --bench classes -- short scholl-2`.

#![allow(clippy::print_stdout, reason = "a bench reports what it measured")]

use std::env;
use std::time::Duration;

use lastcourse::stock::{StockError, solve};

mod support;
use support::classes::{Class, all};
use support::clock::{Clock, Until};

const LIMIT: Duration = Duration::from_secs(10);

/// Median, and the least that nineteen in twenty stay below.
fn middle(sorted: &[f64], percent: usize) -> f64 {
    sorted[(sorted.len() * percent / 100).min(sorted.len() - 1)]
}

fn run(class: &Class, each: bool) {
    let (mut solved, mut times, mut gaps) = (0, Vec::new(), Vec::new());
    for (place, problem) in class.problems.iter().enumerate() {
        let clock = Clock::start();
        let answer = solve(problem, &Until(Clock::start(), LIMIT));
        let took = clock.took().as_secs_f64() * 1e3;
        times.push(took);
        let gap = match &answer {
            Ok(plan) if plan.proven => 0.0,
            Ok(plan) => {
                let (cost, bound) = (plan.cost.cents() as f64, plan.bound.cents() as f64);
                (cost - bound) / bound.max(1.0) * 100.0
            }
            Err(StockError::NotEnough | StockError::TooLong(_)) => 0.0,
            Err(StockError::Stopped) => 100.0,
        };
        let open = match &answer {
            Ok(plan) => !plan.proven,
            Err(error) => *error == StockError::Stopped,
        };
        if open {
            gaps.push(gap);
        } else {
            solved += 1;
        }
        if each {
            let (cost, bound) = answer.map_or((0, 0), |p| (p.cost.cents(), p.bound.cents()));
            let state = if open { "open" } else { "" };
            println!("  {place:>3} {took:>9.1} ms  cost {cost} bound {bound} {gap:.4} % {state}");
        }
    }
    times.sort_by(f64::total_cmp);
    gaps.sort_by(f64::total_cmp);
    let gap = match gaps.last() {
        None => String::new(),
        Some(worst) => format!("{:.3} / {worst:.3} %", middle(&gaps, 50)),
    };
    println!(
        "| {} | {} | {solved}/{} | {:.1} | {:.0} | {:.0} | {gap} |",
        class.name,
        class.what,
        class.problems.len(),
        middle(&times, 50),
        middle(&times, 95),
        middle(&times, 100),
    );
}

fn main() {
    let asked: Vec<String> = env::args().skip(1).filter(|a| a != "--bench").collect();
    let each = asked.iter().any(|a| a == "-v");
    let names: Vec<&String> = asked.iter().filter(|a| !a.starts_with('-')).collect();
    println!(
        "| class | what | proven | median ms | 95 % | worst | gap of the rest: median / worst |"
    );
    println!("|---|---|---:|---:|---:|---:|---|");
    for class in all() {
        if names.is_empty() || names.iter().any(|name| *name == class.name) {
            run(&class, each);
        }
    }
}
