//! `lastcourse plan --sweep`.

use serde_json::Value;

use super::{JOB, cents, file, json, run};

const ACROSS: &str = "deck.across=7ft..7ft6in:1in";

fn points(answer: &Value) -> &Vec<Value> {
    answer["points"].as_array().expect("points")
}

#[test]
fn every_value_is_what_a_plan_of_it_says() {
    let job = file("sweep.toml", JOB);
    let sweep = json(&["plan", &job, "--sweep", ACROSS]);
    assert_eq!(sweep["schema"], "lastcourse/sweep/1");
    assert_eq!(sweep["path"], "deck.across");
    assert_eq!(points(&sweep).len(), 7);
    let mut least = i64::MAX;
    for (inches, point) in (84..).zip(points(&sweep)) {
        assert_eq!(point["value"], inches);
        let set = point["set"].as_str().expect("a set");
        let plan = json(&["plan", &job, "--set", set]);
        assert_eq!(
            point["courses"],
            plan["courses"].as_array().expect("courses").len()
        );
        for key in [
            "boards", "joints", "price", "cost", "bound", "proven", "gap",
        ] {
            assert_eq!(point[key], plan["totals"][key], "{key} at {set}");
        }
        least = least.min(cents(&point["cost"]));
    }
    for point in points(&sweep) {
        assert!(point["cheapest"] == false || cents(&point["cost"]) == least);
    }
    assert_eq!(points(&sweep)[0]["cheapest"], true);
}

#[test]
fn a_price_decides_which_boards_are_bought() {
    let job = file("sweep-price.toml", JOB);
    let sweep = json(&["plan", &job, "--sweep", "stock.1.price=20..44:6"]);
    let prices: Vec<i64> = points(&sweep).iter().map(|p| cents(&p["price"])).collect();
    assert_eq!(points(&sweep)[4]["value"], "44.00");
    // A dearer board never makes the whole cheaper, and once it is not bought
    // its price does not matter.
    assert!(prices.is_sorted(), "{prices:?}");
    assert!(prices[0] < prices[4], "{prices:?}");
}

#[test]
fn it_is_a_table_for_people_and_for_spreadsheets() {
    let job = file("sweep-text.toml", JOB);
    let shown = run(&["plan", &job, "--sweep", ACROSS]);
    assert_eq!(shown.code, 0, "{}", shown.err);
    insta::assert_snapshot!(shown.out.replace(&job, "JOB"));
    let sheet = run(&["plan", &job, "--sweep", ACROSS, "--format", "csv"]);
    assert_eq!(sheet.out.lines().count(), 8);
    assert!(
        sheet.out.starts_with("field,value,courses,"),
        "{}",
        sheet.out
    );
}

#[test]
fn a_value_without_a_plan_says_why_and_the_others_stand() {
    let job = file("sweep-none.toml", JOB);
    let sweep = json(&["plan", &job, "--sweep", "joints.stagger=16in..240in:112in"]);
    let problems: Vec<bool> = points(&sweep)
        .iter()
        .map(|p| p["problem"].is_null())
        .collect();
    assert_eq!(problems, [true, true, false]);
    assert!(points(&sweep)[2]["cost"].is_null());
    // A value that the job file itself refuses.
    let sweep = json(&["plan", &job, "--sweep", "board.face=0in..5in:5in"]);
    let problem = points(&sweep)[0]["problem"].as_str().expect("a problem");
    assert!(problem.contains("board.face"), "{problem}");
    assert!(points(&sweep)[1]["problem"].is_null());
}

#[test]
fn a_range_that_makes_no_sense_is_refused_where_it_is_wrong() {
    let job = file("sweep-wrong.toml", JOB);
    for (sweep, says) in [
        ("deck.across=7ft", "no PATH=FROM..TO:STEP"),
        ("deck.across=7ft..8ft:-1in", "a step of -1in leads nowhere"),
        (
            "deck.across=8ft..7ft:1in",
            "write the lesser one first: `7ft..8ft`",
        ),
        ("deck.across=1ft..90ft:1mm", "400 at most are planned"),
        ("deck.frame=1..2:1", "is no length and no price"),
        ("stock.9.price=1..2:1", "is not there"),
        ("board.face=-2in..-1in:1in", "it has to be more than 0"),
    ] {
        let ran = run(&["plan", &job, "--sweep", sweep]);
        assert_eq!(
            (ran.code, ran.out.as_str()),
            (2, ""),
            "{sweep}: {}",
            ran.err
        );
        assert!(ran.err.contains(says), "{sweep}: {}", ran.err);
    }
}

#[test]
fn a_time_limit_leaves_what_was_planned_until_then() {
    let job = file("sweep-limit.toml", JOB);
    let limit = ["--time-limit", "0.000001"];
    let sweep = json(&[&["plan", job.as_str(), "--sweep", ACROSS], &limit[..]].concat());
    assert_eq!(sweep["stopped"], true);
    assert_eq!(points(&sweep).len(), 7);
}
