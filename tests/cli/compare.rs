//! Whole orders side by side: each choice comes to what it comes to alone.

use serde_json::Value;

use super::{cents, file, json, run};

const JOB: &str = r#"
title = "Side yard"
[deck]
along  = "14ft"
across = "10ft 3in"
[edge.last]
overhang = { set = "1in", least = "1/2in", most = "1-1/2in" }
[board]
face = "5-1/2in"
[[fastener]]
name = "edge clip"
gap  = "3/16in"
pack = 90
pack_price = 24.90
minutes = 0.35
[[fastener]]
name = "screws"
kind = "face"
gap  = "1/4in"
pack = 350
pack_price = 21.00
minutes = 0.4
course_minutes = 5
[[stock]]
length = "14ft"
price  = 31.50
[[stock]]
length = "8ft"
price  = 17.20
[[stock]]
length = "12ft"
price  = 26.80
[order]
hour = 40
tax  = "5%"
[[alternative]]
name = "wide boards"
set  = ["board.face=7-1/4in", "stock.1.price=44.20", "stock.2.price=25.10", "stock.3.price=37.70"]
[[alternative]]
name = "more tax"
set  = ["order.tax=10%"]
[[alternative]]
name = "no such field"
set  = ["board.depth=1in"]
"#;

fn compared(what: &str, job: &str) -> Vec<Value> {
    let answer = json(&["order", job, "--compare", what]);
    assert_eq!(answer["schema"], "lastcourse/compare/1");
    answer["choices"].as_array().expect("choices").clone()
}

/// What an order comes to by itself.
fn alone(args: &[&str]) -> i64 {
    let args = [&["order"], args].concat();
    cents(&json(&args)["sums"]["all_in"])
}

fn all_in(choice: &Value) -> i64 {
    cents(&choice["sums"]["all_in"])
}

#[test]
fn each_fastener_comes_to_what_it_comes_to_alone() {
    let job = file("fasteners.toml", JOB);
    let choices = compared("fastener", &job);
    assert_eq!(choices.len(), 2);
    assert_eq!(all_in(&choices[0]), alone(&[&job]));
    assert_eq!(all_in(&choices[1]), alone(&[&job, "--fastener", "screws"]));
    let more = all_in(&choices[1]) - all_in(&choices[0]);
    assert_eq!(cents(&choices[1]["more"]), more);
    // Clips are what differs, among others.
    let differences = choices[1]["differences"].as_array().expect("lines");
    let clips = differences.iter().find(|line| line["item"] == "edge clip");
    assert_eq!(clips.expect("the clips")["to"], 0);
    assert!(differences.iter().all(|line| line["from"] != line["to"]));
}

#[test]
fn boards_are_those_alternatives_that_change_boards() {
    let job = file("boards.toml", JOB);
    let choices = compared("board", &job);
    let names: Vec<&Value> = choices.iter().map(|choice| &choice["name"]).collect();
    assert_eq!(names, ["as it is", "wide boards", "no such field"]);
    let sets = [
        "board.face=7-1/4in",
        "stock.1.price=44.20",
        "stock.2.price=25.10",
        "stock.3.price=37.70",
    ];
    let mut args = vec![job.as_str()];
    args.extend(sets.iter().flat_map(|set| ["--set", set]));
    assert_eq!(all_in(&choices[1]), alone(&args));
    // What cannot be made is said, and the others stand.
    assert_eq!(choices[2]["sums"], Value::Null);
    assert!(
        choices[2]["problem"]
            .as_str()
            .expect("why")
            .contains("depth")
    );
    let taxed = compared("alternative", &job).len();
    assert_eq!(taxed, 4);
}

#[test]
fn the_other_way_is_the_job_with_its_sides_changed() {
    let job = file("direction.toml", JOB);
    let choices = compared("direction", &job);
    let turned = JOB
        .replace("\"14ft\"\nacross", "\"10ft 3in\"\nacross")
        .replace("across = \"10ft 3in\"", "across = \"14ft\"")
        .replace("[edge.last]", "[edge.right]");
    let turned = file("turned.toml", turned);
    assert_eq!(all_in(&choices[0]), alone(&[&job]));
    assert_eq!(all_in(&choices[1]), alone(&[&turned]));
}

#[test]
fn sizes_and_other_jobs_stand_beside_it() {
    let job = file("sizes.toml", JOB);
    let choices = compared("size", &job);
    assert!(choices.len() > 1);
    // The words that are given for a size come to what is shown.
    let options = choices[1]["options"].as_str().expect("words");
    let (_, set) = options.split_once("--set ").expect("a set");
    let set = set.trim_matches('\'');
    assert_eq!(all_in(&choices[1]), alone(&[&job, "--set", set]));

    let other = file(
        "other.toml",
        JOB.replace("Side yard", "Front yard")
            .replace("14ft\"\nacross", "12ft\"\nacross"),
    );
    let answer = json(&["order", &job, "--beside", &other]);
    let choices = answer["choices"].as_array().expect("choices");
    assert_eq!(choices[1]["name"], "Front yard");
    assert_eq!(all_in(&choices[1]), alone(&[&other]));
    let text = run(&["order", &job, "--beside", &other]);
    // Starters have no price in this job, and that is said of every choice.
    assert_eq!(text.out.matches("2 lines without a price").count(), 2);
    assert_eq!(text.code, 0);
    assert!(
        text.out.contains("Front yard is cheapest at"),
        "{}",
        text.out
    );
    let csv = run(&["order", &job, "--beside", &other, "--format", "csv"]);
    assert_eq!(csv.out.lines().count(), 3);

    // Money of two kinds says nothing side by side.
    let abroad = file("abroad.toml", format!("currency = \"€\"\n{JOB}"));
    let ran = run(&["order", &job, "--beside", &abroad]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("in one currency"), "{}", ran.err);
}
