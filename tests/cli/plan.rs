//! `lastcourse plan`.

use std::collections::BTreeMap;

use serde_json::Value;

use super::{JOB, cents, file, json, run};

#[test]
fn a_plan_for_people() {
    let job = file("plan-text.toml", JOB);
    let ran = run(&["plan", &job]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let totals = &json(&["plan", &job])["totals"];
    let answer = ran.out.split(';').next().expect("an answer");
    let boards = totals["boards"].as_u64().expect("a count");
    let price = totals["price"].as_str().expect("money");
    assert!(answer.starts_with(&format!("{boards} boards")), "{answer}");
    assert!(answer.ends_with(&format!("${price}")), "{answer}");
    for heading in [
        "Cut list",
        "Courses from the first edge",
        "slim clip at a gap",
    ] {
        assert!(
            ran.out.contains(heading),
            "{heading:?} is not in:\n{}",
            ran.out
        );
    }
    let cut_longer = "Pieces at the left edge are cut 1/2 in longer";
    assert!(ran.out.contains(cut_longer), "{}", ran.out);
    assert!(
        ran.out.lines().all(|line| line.chars().count() <= 80),
        "{}",
        ran.out
    );
}

fn list<'a>(value: &'a Value, key: &str) -> &'a Vec<Value> {
    value[key]
        .as_array()
        .unwrap_or_else(|| panic!("no list {key}"))
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("no number: {value}"))
}

#[test]
fn the_keys_say_the_same_thing_twice_over() {
    let job = file("plan-json.toml", JOB);
    let plan = json(&["plan", &job]);
    assert_eq!(plan["schema"], "lastcourse/plan/1");
    assert_eq!(
        (&plan["unit"], &plan["fastener"]),
        (&"in".into(), &"slim clip".into())
    );
    assert_eq!(plan["gap"], 0.1875);
    let totals = &plan["totals"];
    let mut pieces = BTreeMap::new();
    let mut laid = 0.0;
    let mut joints = 0;
    for (k, course) in list(&plan, "courses").iter().enumerate() {
        assert_eq!(course["number"], k + 1);
        assert_eq!(
            number(&course["width"]),
            number(&course["to"]) - number(&course["from"])
        );
        for run in list(course, "runs") {
            joints += list(run, "pieces").len() - 1;
            for piece in list(run, "pieces") {
                laid += number(&piece["to"]) - number(&piece["from"]);
                let id = piece["id"].as_str().expect("an id").to_string();
                pieces.insert(id, (number(&piece["length"]), piece["board"].clone()));
            }
        }
    }
    let mut price = 0;
    let mut bought = 0.0;
    let mut sawn = 0;
    for board in list(&plan, "boards") {
        price += cents(&board["price"]);
        bought += number(&board["length"]);
        let mut used = 0.0;
        for id in list(board, "pieces") {
            let (length, of) = &pieces[id.as_str().expect("an id")];
            assert_eq!(of, &board["number"]);
            used += length + 0.125;
            sawn += 1;
        }
        let offcut = (number(&board["length"]) - used).max(0.0);
        assert_eq!(number(&board["offcut"]), offcut);
        assert!(board["strips"].is_null());
    }
    assert_eq!(sawn, pieces.len());
    assert_eq!(cents(&totals["price"]), price);
    assert_eq!(totals["boards"], list(&plan, "boards").len());
    assert_eq!(totals["joints"], joints);
    assert_eq!(number(&totals["bought"]), bought);
    assert_eq!(number(&totals["laid"]), laid);
    assert!((number(&totals["waste"]) - (1.0 - laid / bought)).abs() < 1e-9);
    assert_eq!(totals["objective"], "cost");
    assert_eq!(totals["cost"], totals["value"]);
    assert_eq!(totals["stopped"], false);
    let (cost, bound) = (cents(&totals["cost"]), cents(&totals["bound"]));
    assert!(bound <= cost);
    assert_eq!(totals["proven"], bound == cost);
    let gap = (cost - bound) as f64 / cost as f64;
    assert!((number(&totals["gap"]) - gap).abs() < 1e-12);
}

#[test]
fn bound_and_value_speak_of_the_objective() {
    let job = file("plan-prefer.toml", JOB);
    let small = ["--set", "deck.across=3ft"];
    let args = |prefer| [&["plan", job.as_str(), "--prefer", prefer], &small[..]].concat();
    let joints = json(&args("joints"));
    let totals = &joints["totals"];
    assert_eq!(totals["objective"], "joints");
    assert_eq!(totals["value"], totals["joints"]);
    assert!(totals["bound"].is_u64());
    assert!(totals["cost"].is_string());
    let waste = json(&args("waste"));
    let totals = &waste["totals"];
    assert_eq!(totals["objective"], "waste");
    assert_eq!(totals["value"], totals["bought"]);
    assert!(number(&totals["bound"]) <= number(&totals["value"]));
}

#[test]
fn the_cut_list_has_a_row_for_every_piece_and_adds_up() {
    let job = file("plan-csv.toml", JOB);
    let plan = json(&["plan", &job]);
    let sheet = run(&["plan", &job, "--format", "csv"]);
    assert_eq!(sheet.code, 0, "{}", sheet.err);
    let mut rows = csv::Reader::from_reader(sheet.out.as_bytes());
    let heads = rows.headers().expect("heads").clone();
    let at = |name: &str| heads.iter().position(|head| head == name).expect("a head");
    let mut price = 0.0;
    let mut pieces = Vec::new();
    for row in rows.records() {
        let row = row.expect("a row");
        price += row[at("price")].parse::<f64>().unwrap_or(0.0);
        pieces.push(row[at("piece")].to_string());
        assert_eq!(&row[at("unit")], "in");
    }
    let total = plan["totals"]["price"].as_str().expect("money");
    assert_eq!(format!("{price:.2}"), total);
    let planned: usize = list(&plan, "boards")
        .iter()
        .map(|board| list(board, "pieces").len())
        .sum();
    pieces.sort();
    pieces.dedup();
    assert_eq!(pieces.len(), planned);
}

#[test]
fn other_pieces_and_what_bundles_leave_over_are_listed() {
    let job = file("plan-extras.toml", JOB);
    let sets = [
        "extra.1.label=stair tread",
        "extra.1.length=30in",
        "extra.1.count=2",
        "deck.across=2ft",
        "stock.1.bundle=40",
        "stock.2.bundle=40",
    ];
    let mut args = vec!["plan", &job];
    args.extend(sets.iter().flat_map(|set| ["--set", set]));
    let plan = json(&args);
    let extras = list(&plan, "extras");
    let ids: Vec<_> = extras.iter().map(|extra| extra["id"].as_str()).collect();
    assert_eq!(ids, [Some("stair tread 1"), Some("stair tread 2")]);
    assert_eq!(extras[0]["label"], "stair tread");
    assert_eq!(extras[0]["length"], 30);
    assert_eq!(plan["totals"]["extra"], 60);
    let boards = list(&plan, "boards");
    for extra in extras {
        let number = extra["board"].as_u64().expect("a number") as usize;
        assert!(list(&boards[number - 1], "pieces").contains(&extra["id"]));
    }
    let left: u64 = list(&plan, "left_over")
        .iter()
        .map(|left| left["count"].as_u64().expect("a count"))
        .sum();
    let bought = boards.iter().filter(|board| board["on_hand"] == false);
    assert!(
        left > 0 && (bought.count() as u64 + left).is_multiple_of(40),
        "{left}"
    );
    // The spreadsheet has them too, and its prices still add up.
    let csv_args = [&args[..], &["--format", "csv"]].concat();
    let sheet = run(&csv_args);
    let count = |label: &str| sheet.out.matches(label).count() as u64;
    assert_eq!((count(",left over"), count(",stair tread")), (left, 2 * 2));
    let text = run(&args).out;
    assert!(
        text.contains(&format!("and {left} left over for")),
        "{text}"
    );
    assert!(text.contains("Other pieces from the same boards"), "{text}");
    args[0] = "order";
    let order = json(&args);
    assert_eq!(order["extras"][0]["label"], "stair tread");
    assert_eq!(order["boards_price"], plan["totals"]["price"]);
}

#[test]
fn the_same_job_has_the_same_plan() {
    let job = file("plan-same.toml", JOB);
    let once = run(&["plan", &job, "--format", "json"]);
    let twice = run(&["plan", &job, "--format", "json"]);
    assert_eq!(once.out, twice.out);
}

#[test]
fn another_fastener_is_another_plan() {
    let job = file("plan-fastener.toml", JOB);
    let plan = json(&["plan", &job, "--fastener", "screws"]);
    assert_eq!(plan["fastener"], "screws");
    assert_eq!(plan["gap"], 0.125);
}

#[test]
fn a_metric_job_is_answered_in_millimetres() {
    let job = file("plan-metric.toml", JOB);
    let plan = json(&["plan", &job, "--set", "unit=mm"]);
    assert_eq!(plan["unit"], "mm");
    assert_eq!(plan["gap"], 4.7625);
}
