//! `measure`: readings as options and in the job file, and what is said of them.

use serde_json::Value;

use super::{JOB, file, json, run, run_with};

/// A deck whose gaps can be set, 19 ft 6 in by 7 ft 3 in.
fn deck(name: &str) -> String {
    let gap = "gap  = { set = \"3/16in\", least = \"1/16in\", most = \"5/16in\" }";
    file(name, JOB.replacen("gap  = \"3/16in\"", gap, 1))
}

#[test]
fn the_answer_comes_first_and_figures_follow() {
    // Surface: 87 - 1/4 + 1 = 87-3/4 in. 15 pitches of 5-11/16 in leave 2-7/16 in
    // to a 16th course; course 6 ends at 33-15/16 in (computed).
    let deck = deck("measure-deck.toml");
    let ran = run(&["measure", &deck, "--after", "6", "--at", "34-3/16in"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!("inches", ran.out);
    let both = ["--after", "6", "--left", "862mm", "--right", "866mm"];
    let metric = ["--set", "unit=mm", "--diagonals", "6338.5mm", "6343.5mm"];
    let ran = run(&[&["measure", &deck], &both[..], &metric[..]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!("millimetres", ran.out);
}

#[test]
fn a_deck_that_runs_as_planned_is_told_so() {
    let deck = deck("measure-plan.toml");
    let ran = run(&["measure", &deck, "--after", "6", "--at", "33-15/16"]);
    let first = ran.out.lines().next().expect("an answer");
    assert_eq!(
        first,
        "After course 6 the courses are where they should be, and it ends as planned:"
    );
    let nothing = run(&["measure", &deck]);
    assert_eq!(nothing.code, 0, "{}", nothing.err);
    assert!(
        nothing.out.contains("no course was measured"),
        "{}",
        nothing.out
    );
}

#[test]
fn readings_of_the_file_and_of_the_options_come_together() {
    let readings = "[[reading]]\nafter = 4\nat = \"22-9/16in\"\n\
                    [[reading]]\nafter = 8\nleft = \"45-1/4in\"\nright = \"45-3/8in\"\n";
    let deck = file("measure-readings.toml", format!("{JOB}\n{readings}"));
    let after = |answer: &Value| -> Vec<u64> {
        let readings = answer["readings"].as_array().expect("readings");
        readings
            .iter()
            .map(|r| r["after"].as_u64().expect("a course"))
            .collect()
    };
    let own = json(&["measure", &deck]);
    assert_eq!(after(&own), [4, 8]);
    assert_eq!(own["parallel"]["off"], 0.125);
    let more = json(&["measure", &deck, "--after=6", "--at=33-15/16in"]);
    assert_eq!(after(&more), [4, 6, 8]);
    // One given here takes the place of the file's after the same course.
    let other = json(&["measure", &deck, "--after=8", "--at=45-5/16in"]);
    assert_eq!(after(&other), [4, 8]);
    assert_eq!(other["parallel"], Value::Null);
    assert_eq!(other["readings"][1]["at"], 45.3125);
}

#[test]
fn what_follows_a_course_belongs_to_it() {
    let deck = deck("measure-order.toml");
    let answer = json(&[
        "measure",
        &deck,
        "--after",
        "4",
        "--at",
        "22-9/16in",
        "--after",
        "8",
        "--gap",
        "1/8in",
        "--left",
        "45in",
        "--right",
        "45in",
        "--tape",
        "1/32in",
        "--step",
        "1/16in",
    ]);
    let readings = answer["readings"].as_array().expect("readings");
    assert_eq!(
        (&readings[0]["at"], &readings[0]["left"]),
        (&22.5625.into(), &Value::Null)
    );
    assert_eq!(
        (&readings[1]["left"], &readings[1]["gap"]),
        (&45.into(), &0.125.into())
    );
    assert_eq!(answer["tape"], 0.03125);
    assert_eq!(answer["gap"], 0.125);
    for setting in answer["endings"][0]["settings"]
        .as_array()
        .expect("settings")
    {
        let gap = setting["gap"].as_f64().expect("a length");
        assert_eq!(gap % 0.0625, 0.0, "{setting}");
    }
}

#[test]
fn options_that_cannot_be_are_told_where_they_stand() {
    let deck = deck("measure-wrong.toml");
    let ran = run(&[
        "measure", &deck, "--at", "20in", "--after", "0", "--at", "4q", "--after", "5", "--left",
        "28in", "--after", "5", "--at", "0in", "--after", "6", "--gap", "-1in", "--step", "0",
    ]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    insta::assert_snapshot!("wrong_options", ran.err);
    let one = run(&["measure", &deck, "--diagonals", "21ft"]);
    assert_eq!(one.code, 2);
    assert!(one.err.contains("--diagonals"), "{}", one.err);
}

#[test]
fn a_course_counted_wrong_is_told_where_it_stands() {
    let deck = deck("measure-count.toml");
    let ran = run(&["measure", &deck, "--after", "5", "--at", "33-15/16in"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    insta::assert_snapshot!("a_miscount", ran.err);
    let job = format!("{JOB}\n[[reading]]\nafter = 5\nat = \"33-15/16in\"\n");
    let ran = run_with(&["measure", "-"], &job);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("| at = \"33-15/16in\""), "{}", ran.err);
    assert!(ran.err.contains("course 6 ends"), "{}", ran.err);
}

#[test]
fn diagonals_may_stand_in_the_job() {
    let deck = deck("measure-square.toml");
    let set = "deck.diagonals=[\"21ft 4-1/4in\", \"21ft 4in\"]";
    let answer = json(&["measure", &deck, "--set", set]);
    let square = &answer["square"];
    // 234 by 87 in: 249.65 in (computed); 1/4 in between diagonals of 256 in is
    // not of this frame.
    assert_eq!(square["on_tape"], 249.625);
    assert_eq!(square["fits"], false);
    let pair = ["--diagonals", "20ft 9-3/4in", "20ft 9-1/2in"];
    let answer = json(&[&["measure", deck.as_str()][..], &pair].concat());
    let square = &answer["square"];
    assert_eq!(square["fits"], true);
    // (249.75² - 249.5²) / (4 × 234) in over 87 in, computed.
    let across = square["across"].as_f64().expect("a length");
    assert!((across - 124.8125 / 936.0).abs() < 1e-5, "{across}");
    assert_eq!(square["accepted"], true);
}
