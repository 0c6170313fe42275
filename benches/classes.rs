//! `cut` over classes of problems, one after the other on one core: how many are
//! solved with proof, how long one takes, and what stays open. Ten seconds each
//! at most. Names after `--` choose classes (`-v` lists every problem):
//! `cargo bench --bench classes -- short scholl-2`. With `-c` certificates are
//! written instead: for how many the whole stated bound is re-checkable.

#![allow(clippy::print_stdout, reason = "a bench reports what it measured")]

use std::env;
use std::time::Duration;

use lastcourse::proof::{check, of_cut};
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

/// How much of each bound a certificate of its own proves.
fn certify(class: &Class, each: bool) {
    let (mut answers, mut root, mut whole) = (0, 0, 0);
    let (mut times, mut checks, mut sizes, mut gaps) = (vec![], vec![], vec![], vec![]);
    for (place, problem) in class.problems.iter().enumerate() {
        let Ok(plan) = solve(problem, &Until(Clock::start(), LIMIT)) else {
            continue;
        };
        answers += 1;
        // A watch that stops at once leaves the root's prices.
        let mut alone = plan.clone();
        if let Some(proof) = &mut alone.proof {
            proof.further.clear();
        }
        let alone = of_cut(
            problem,
            &alone,
            None,
            &Until(Clock::start(), Duration::ZERO),
        );
        root += i32::from(matches!(alone, Ok(Some(alone)) if alone.beyond.is_none()));
        let clock = Clock::start();
        let written = of_cut(problem, &plan, None, &Until(Clock::start(), LIMIT));
        let took = clock.took().as_secs_f64() * 1e3;
        times.push(took);
        let Ok(Some(written)) = written else {
            println!("  {place:>3} {took:>9.1} ms  no certificate: {written:?}");
            continue;
        };
        let clock = Clock::start();
        let confirmed = check(&written, None).expect("what is written is confirmed");
        checks.push(clock.took().as_secs_f64() * 1e3);
        let size = serde_json::to_vec_pretty(&written).expect("JSON").len();
        sizes.push(size as f64 / 1e3);
        let gap = (written.stated - written.bound) as f64 / written.stated.max(1) as f64 * 100.0;
        if confirmed.complete {
            whole += 1;
        } else {
            gaps.push(gap);
        }
        if each {
            println!(
                "  {place:>3} {took:>9.1} ms ({:.0})  {} sets, {size} bytes, {gap:.4} % not re-checkable",
                checks[checks.len() - 1],
                confirmed.sets
            );
        }
    }
    for list in [&mut times, &mut checks, &mut sizes, &mut gaps] {
        list.sort_by(f64::total_cmp);
        list.extend(list.is_empty().then_some(0.0));
    }
    println!(
        "| {} | {answers} | {root} | {whole} | {:.1} / {:.0} | {:.1} / {:.0} | {:.0} / {:.0} | {:.3} / {:.3} % |",
        class.name,
        middle(&times, 50),
        middle(&times, 100),
        middle(&checks, 50),
        middle(&checks, 100),
        middle(&sizes, 50),
        middle(&sizes, 100),
        middle(&gaps, 50),
        middle(&gaps, 100),
    );
}

fn main() {
    let asked: Vec<String> = env::args().skip(1).filter(|a| a != "--bench").collect();
    let each = asked.iter().any(|a| a == "-v");
    let names: Vec<&String> = asked.iter().filter(|a| !a.starts_with('-')).collect();
    let certificates = asked.iter().any(|a| a == "-c");
    if certificates {
        println!(
            "| class | answers | by root prices | wholly re-checkable | writing ms: median / worst \
             | checking ms | kB | not re-checkable of the rest: median / worst |"
        );
        println!("|---|---:|---:|---:|---:|---:|---:|---|");
    } else {
        println!(
            "| class | what | proven | median ms | 95 % | worst | gap of the rest: median / worst |"
        );
        println!("|---|---|---:|---:|---:|---:|---|");
    }
    for class in all() {
        if names.is_empty() || names.iter().any(|name| *name == class.name) {
            if certificates {
                certify(&class, each);
            } else {
                run(&class, each);
            }
        }
    }
}
