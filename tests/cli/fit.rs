//! `fit`: ways as options, and as job files.

use std::path::Path;

use serde_json::Value;

use crate::forecast::DECK;
use crate::{cents, file, json, run};

#[test]
fn ways_are_listed_for_people() {
    let deck = file("fit-deck.toml", DECK);
    let ran = run(&["fit", &deck]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    insta::assert_snapshot!(ran.out.replace(&deck, "deck.toml"));
}

fn ways(answer: &Value) -> &[Value] {
    answer["ways"].as_array().expect("ways")
}

#[test]
fn ways_have_the_money_of_real_plans() {
    let deck = file("fit-money.toml", DECK);
    let answer = json(&["fit", &deck]);
    for way in ways(&answer) {
        let leave = ways(&answer)
            .iter()
            .find(|other| other["kind"] == "leave" && other["fastener"] == way["fastener"])
            .expect("a way that leaves it");
        // One 16 ft board a course, and nothing for joints.
        let courses = way["courses"].as_i64().unwrap();
        assert_eq!(cents(&way["cost"]), 4150 * courses, "{way}");
        let difference = cents(&way["cost"]) - cents(&leave["cost"]);
        assert_eq!(cents(&way["difference"]), difference);
        assert_eq!(way["problem"], Value::Null);
    }
}

#[test]
fn a_chosen_way_is_options_for_any_command() {
    let deck = file("fit-choose.toml", DECK);
    let answer = json(&["fit", &deck]);
    for way in ways(&answer) {
        let number = way["number"].to_string();
        let ran = run(&["fit", &deck, "--choose", &number]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        let options = words(ran.out.trim_end_matches('\n'));
        let mut args = vec!["forecast", &deck];
        args.extend(options.iter().map(String::as_str));
        let forecast = json(&args);
        let name = &way["fastener"];
        let forecasts = forecast["forecasts"].as_array().unwrap();
        let found = forecasts
            .iter()
            .find(|forecast| forecast["fastener"] == *name)
            .unwrap();
        for key in [
            "courses",
            "first_width",
            "last_width",
            "short_by",
            "verdict",
        ] {
            assert_eq!(found[key], way[key], "{key} of {way}");
        }
    }
}

/// A line as a shell takes it apart.
fn words(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '\'' => {
                quoted = !quoted;
                word.get_or_insert_default();
            }
            ' ' if !quoted => words.extend(word.take()),
            c => word.get_or_insert_default().push(c),
        }
    }
    words.extend(word);
    words
}

#[test]
fn a_chosen_way_is_written_whole_or_not_at_all() {
    let deck = file("fit-write.toml", DECK);
    let written = format!("{deck}.new");
    let _ = std::fs::remove_file(&written);
    let way = json(&["fit", &deck, "--choose", "1"])["ways"][0].clone();
    let ran = run(&["fit", &deck, "--choose", "1", "--write", &written]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("Way 1 is written"), "{}", ran.out);
    let name = way["fastener"].as_str().unwrap();
    let forecast = json(&["forecast", &written, "--fastener", name]);
    assert_eq!(forecast["forecasts"][0]["last_width"], way["last_width"]);
    assert_eq!(forecast["forecasts"][0]["verdict"], way["verdict"]);
    // What is there stays, unless it may be replaced.
    let before = std::fs::read_to_string(&written).unwrap();
    let ran = run(&["fit", &deck, "--choose", "2", "--write", &written]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("--force"), "{}", ran.err);
    assert_eq!(std::fs::read_to_string(&written).unwrap(), before);
    let ran = run(&[
        "fit", &deck, "--choose", "2", "--write", &written, "--force",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_ne!(std::fs::read_to_string(&written).unwrap(), before);
    let folder = Path::new(&written).parent().unwrap();
    let parts = std::fs::read_dir(folder).unwrap().filter_map(Result::ok);
    let mut names = parts.map(|entry| entry.file_name().to_string_lossy().into_owned());
    assert!(!names.any(|name| name.contains("fit-write") && name.ends_with(".part")));
}

#[test]
fn what_cannot_be_written_says_why() {
    let deck = file("fit-nowhere.toml", DECK);
    let ran = run(&[
        "fit",
        &deck,
        "--choose",
        "1",
        "--write",
        "/no/such/folder/new.toml",
    ]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("cannot be written"), "{}", ran.err);
}

#[test]
fn a_way_that_there_is_not_is_refused() {
    let deck = file("fit-many.toml", DECK);
    let ran = run(&["fit", &deck, "--choose", "99"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("there is no way 99"), "{}", ran.err);
    assert_eq!(run(&["fit", &deck, "--choose", "0"]).code, 2);
    assert_eq!(run(&["fit", &deck, "--write", "x.toml"]).code, 2);
}

#[test]
fn options_given_before_are_part_of_a_way() {
    let deck = file("fit-given.toml", DECK);
    let given = [
        "--set",
        "deck.frame=built",
        "--set",
        "fastener.2.gap=3/16in",
        "--fastener",
        "spacers",
    ];
    let answer = json(&[&["fit", &deck][..], &given].concat());
    assert!(ways(&answer).iter().all(|way| way["kind"] != "frame"));
    let balanced = ways(&answer)
        .iter()
        .find(|way| way["kind"] == "balanced")
        .expect("a balanced way");
    let number = balanced["number"].to_string();
    let ran = run(&[&["fit", &deck, "--choose", &number][..], &given].concat());
    assert_eq!(
        ran.out,
        "--set deck.frame=built --set fastener.2.gap=3/16in --set courses.finish=balanced --fastener spacers\n"
    );
}

#[test]
fn a_deck_without_boards_has_ways_without_prices() {
    let (no_stock, _) = DECK.split_once("[[stock]]").unwrap();
    let deck = file("fit-bare.toml", no_stock);
    let answer = json(&["fit", &deck]);
    for way in ways(&answer) {
        assert_eq!(way["cost"], Value::Null);
        assert!(way["problem"].as_str().unwrap().contains("[[stock]]"));
    }
}

#[test]
fn a_frame_just_over_a_stock_length_is_told_how_much_shorter_saves() {
    // 16 ft of frame and an inch of overhang at both ends take 194 in.
    let deck = DECK.replace("15ft 10in", "16ft");
    let deck = file("fit-along.toml", deck);
    // With joints dearer than boards, every course is one board.
    let dear = ["--fastener", "spacers", "--set", "joints.price=100"];
    let answer = json(&[&["fit", &deck][..], &dear].concat());
    let along = ways(&answer)
        .iter()
        .find(|way| way["kind"] == "length")
        .expect("a way along");
    assert_eq!(along["changes"]["deck.along"], "15ft 10in");
    // 25 boards of 16 ft in place of 25 of 20 ft.
    assert_eq!(cents(&along["difference"]), 25 * (4150 - 5500));
    assert_eq!(along["verdict"], "short");
    let built = json(&["fit", &deck, "--set", "deck.frame=built"]);
    assert!(ways(&built).iter().all(|way| way["kind"] != "length"));
}

#[test]
fn the_ranking_can_be_changed() {
    let deck = file("fit-rank.toml", DECK);
    let answer = json(&["fit", &deck, "--rank", "cost"]);
    let costs: Vec<i64> = ways(&answer)
        .iter()
        .map(|way| cents(&way["cost"]))
        .collect();
    assert!(costs.is_sorted(), "{costs:?}");
    let answer = json(&["fit", &deck, "--rank", "robust"]);
    let chances: Vec<i64> = ways(&answer)
        .iter()
        .map(|way| -(way["chance"].as_f64().unwrap() * 1e6).round() as i64)
        .collect();
    assert!(chances.is_sorted(), "{chances:?}");
}
