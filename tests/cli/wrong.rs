//! What is said of input that is wrong or cannot be read, by every command
//! alike: a clear message, the right exit code, and nothing half-written.

use std::process::Stdio;

use super::{JOB, Ran, command, file, run, run_with};

/// A message with a way out, on standard error alone.
#[track_caller]
fn refused(ran: &Ran, code: i32, words: &str) {
    assert_eq!(ran.code, code, "{ran:#?}");
    assert_eq!(ran.out, "", "nothing is half-written");
    let said = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains(words), "{words:?} is not in:\n{}", ran.err);
    assert!(said.contains("help"), "no way out in:\n{}", ran.err);
    assert!(!said.contains("panicked"), "{}", ran.err);
}

const PLANNERS: [&str; 2] = ["plan", "order"];
const READERS: [&str; 4] = ["plan", "order", "forecast", "fit"];

#[test]
fn files_that_cannot_be_read() {
    let noise: Vec<u8> = (0..5000u32).map(|k| ((k * 7919) >> 3) as u8).collect();
    let noise = file("noise.toml", noise);
    let empty = file("empty.toml", "");
    for command in READERS {
        refused(&run(&[command, "no such file.toml"]), 2, "no such file");
        refused(&run(&[command, env!("CARGO_TARGET_TMPDIR")]), 2, "folder");
        refused(&run(&[command, &noise]), 2, "no job file");
        refused(&run(&[command, &empty]), 2, "");
    }
    let with = |path: &str| run(&["cut", "--stock-file", path, "--piece", "2x4ft"]);
    refused(&with("no such file.csv"), 2, "no such file");
    refused(&with(env!("CARGO_TARGET_TMPDIR")), 2, "folder");
    refused(&with(&noise), 2, "not");
    refused(&with(&empty), 2, "empty");
}

#[test]
fn jobs_that_cannot_be() {
    let job = file("wrong-field.toml", JOB);
    for command in READERS {
        let set = |set: &str| run(&[command, &job, "--set", set]);
        refused(&set("deck.along=-3ft"), 2, "-3ft");
        refused(&set("deck.along=3 parsecs"), 2, "parsecs");
        refused(&set("fastener.1.gap=7in"), 2, "gap");
        refused(&set("deck.acros=7ft"), 2, "across");
        let unknown = run(&[command, &job, "--fastener", "nails"]);
        refused(&unknown, 2, "`slim clip`");
    }
}

#[test]
fn jobs_that_cannot_be_planned() {
    let job = file("wrong-job.toml", JOB);
    for command in PLANNERS {
        let set = |sets: &[&str]| {
            let mut args = vec![command, job.as_str()];
            for set in sets {
                args.extend(["--set", set]);
            }
            run(&args)
        };
        // A stagger that cannot be met, and a bay wider than any board.
        refused(&set(&["joints.stagger=15ft"]), 1, "");
        refused(&set(&["joists.spacing=18ft", "joints.bearing=2"]), 1, "");
    }
    // What cannot be planned can still be finished, without a price.
    let ran = run(&["fit", &job, "--set", "joints.stagger=15ft"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("No prices: "), "{}", ran.out);
}

#[test]
fn options_that_are_wrong() {
    let job = file("wrong-options.toml", JOB);
    for args in [
        vec!["plan", &job, "--format", "xml"],
        vec!["plan", &job, "--time-limit", "soon"],
        vec!["order", &job, "--prefer", "beauty"],
        vec!["cut", "--unit", "cubit"],
        vec!["saw"],
    ] {
        let ran = run(&args);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{args:?}");
        assert!(!ran.err.is_empty(), "{args:?}");
    }
}

#[test]
fn a_pipe_closed_early_is_no_error() {
    let mut child = command()
        .args(["cut", "--stock", "16ft@41.50", "--piece", "12x4ft"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("the program ends");
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty(), "{output:?}");
}

#[test]
fn colour_is_for_terminals() {
    let args = ["cut", "--stock", "16ft@41.50", "--piece", "12x4ft"];
    assert!(!run(&args).out.contains('\u{1b}'));
    let wrong = run(&["cut", "--stock", "16f@41.50", "--piece", "12x4ft"]);
    assert!(!wrong.err.contains('\u{1b}'));
}

#[test]
fn a_job_may_come_from_standard_input() {
    let ran = run_with(&["plan", "-"], JOB);
    assert_eq!(ran.code, 0, "{}", ran.err);
}
