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
        refused(&unknown, 2, "\"slim clip\"");
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
fn who_stops_before_there_is_a_plan_is_told_what_helps() {
    // Just the boards of the best plan: those that repeat courses need more.
    let job = file("wrong-soon.toml", JOB);
    let supply = [
        "--set",
        "stock.1.available=24",
        "--set",
        "stock.2.available=1",
    ];
    let at_once = ["--time-limit", "0.000001"];
    for planner in PLANNERS {
        let ran = run(&[&[planner, &job], &supply[..], &at_once].concat());
        refused(&ran, 3, "let it run longer");
    }
}

#[test]
fn a_value_below_zero_is_no_option() {
    for args in [
        ["cut", "--stock", "-16ft", "--piece", "3x4ft"],
        ["cut", "--stock", "16ft", "--piece", "-3x4ft"],
    ] {
        refused(&run(&args), 2, "");
    }
    let bare = [
        "forecast", "--across", "-13ft", "--face", "5in", "--gap", "a=1/4in",
    ];
    refused(&run(&bare), 2, "-13 ft");
    let job = file("wrong-choice.toml", JOB);
    for number in ["-1", "0", "first"] {
        let ran = run(&["fit", &job, "--choose", number]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("counted from 1"), "{}", ran.err);
    }
}

#[test]
fn bare_numbers_are_in_the_unit_of_the_others() {
    let bare = |across, gap| {
        let gap = format!("clip={gap}");
        super::json(&[
            "forecast", "--across", across, "--face", "145", "--gap", &gap,
        ])
    };
    assert_eq!(bare("3600", "5mm")["unit"], "mm");
    assert_eq!(bare("3600", "5mm")["forecasts"][0]["courses"], 24);
    assert_eq!(bare("3600", "5")["unit"], "in");
    assert_eq!(bare("120ft", "5mm")["unit"], "in");
}

#[test]
fn joists_closer_than_two_thick_to_the_end_give_way() {
    // Computed: asked for at 2 in, moved to 2-1/4 in, and still clear of the
    // next one at 18 in; with one at 3-1/2 in it gives way.
    let job = file("wrong-joists.toml", JOB);
    let supports = |first: &str, spacing: &str| {
        let first = format!("--set=joists.first={first}");
        let spacing = format!("--set=joists.spacing={spacing}");
        let small = ["--set=deck.along=3ft", "--set=deck.across=20in"];
        let plan = super::json(&["plan", &job, &first, &spacing, small[0], small[1]]);
        plan["supports"].clone()
    };
    assert_eq!(
        supports("2", "16"),
        serde_json::json!([0.75, 2.25, 18, 33.75, 35.25])
    );
    assert_eq!(
        supports("2", "1.5").as_array().map(|all| all[..3].to_vec()),
        serde_json::json!([0.75, 3.5, 5]).as_array().cloned()
    );
}

#[test]
fn a_full_disk_is_told() {
    let full = std::path::Path::new("/dev/full");
    if !full.exists() {
        return;
    }
    let out = std::fs::OpenOptions::new().write(true).open(full);
    let mut cut = command();
    cut.args(["cut", "--stock", "16ft@41.50", "--piece", "12x4ft"]);
    let output = cut.stdout(out.expect("a device")).output();
    let output = output.expect("the program ends");
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("cannot write the result"), "{said}");
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
