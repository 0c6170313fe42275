//! `lastcourse order`.

use serde_json::Value;

use super::{JOB, cents, file, json, run};

#[test]
fn an_order_for_people() {
    let job = file("order-text.toml", JOB);
    let ran = run(&["order", &job]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let order = json(&["order", &job]);
    let total = order["total"].as_str().expect("money");
    let answer = format!("${total} before tax: ");
    assert!(ran.out.starts_with(&answer), "{answer:?}:\n{}", ran.out);
    let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "16 courses laid with slim clip at a gap of 3/16 in",
        "The usual rule, area plus ten per cent, would buy 22 boards of 16 ft for $913.00",
        "Not counted:",
        "The local building code",
    ] {
        assert!(words.contains(said), "{said:?} is not in:\n{}", ran.out);
    }
    assert!(
        ran.out.lines().all(|line| line.chars().count() <= 80),
        "{}",
        ran.out
    );
}

fn lines<'a>(order: &'a Value, group: &str) -> Vec<&'a Value> {
    let lines = order["lines"].as_array().expect("lines");
    lines.iter().filter(|line| line["group"] == group).collect()
}

/// Clips, counted again from the plan's own keys: one for each support in each
/// gap, one more there for each joint of either course.
fn clips(plan: &Value) -> u64 {
    let supports = plan["supports"].as_array().expect("supports").len() as u64;
    let courses = plan["courses"].as_array().expect("courses");
    let joints = |course: &Value| {
        course["runs"][0]["pieces"]
            .as_array()
            .expect("pieces")
            .len() as u64
            - 1
    };
    courses
        .windows(2)
        .map(|pair| supports + joints(&pair[0]) + joints(&pair[1]))
        .sum()
}

#[test]
fn the_order_follows_from_the_plan() {
    let job = file("order-json.toml", JOB);
    let order = json(&["order", &job]);
    let plan = json(&["plan", &job]);
    assert_eq!(order["schema"], "lastcourse/order/1");
    let mut total = 0;
    for line in order["lines"].as_array().expect("lines") {
        if !line["price"].is_null() {
            total += cents(&line["price"]);
        }
        if !line["price_each"].is_null() {
            let count = line["count"].as_i64().expect("a count");
            assert_eq!(cents(&line["price"]), cents(&line["price_each"]) * count);
        }
    }
    assert_eq!(cents(&order["total"]), total);

    let (planned, spare): (Vec<&Value>, Vec<&Value>) = lines(&order, "boards")
        .into_iter()
        .partition(|line| line["needed"] != 0);
    let sum = |lines: &[&Value], key: &str| -> u64 {
        lines
            .iter()
            .map(|line| line[key].as_u64().expect("a count"))
            .sum()
    };
    assert_eq!(plan["totals"]["boards"], sum(&planned, "needed"));
    assert_eq!(
        sum(&planned, "needed"),
        sum(&planned, "count") + sum(&planned, "on_hand")
    );
    let price: i64 = planned.iter().map(|line| cents(&line["price"])).sum();
    assert_eq!(cents(&plan["totals"]["price"]), price);
    // One spare of each length that is bought, none of what comes from hand.
    let lengths = planned.iter().filter(|line| line["count"] != 0).count() as u64;
    assert_eq!(sum(&spare, "count"), lengths);

    let fasteners = lines(&order, "fasteners");
    let clip = fasteners
        .iter()
        .find(|line| line["item"] == "slim clip")
        .expect("clips");
    let needed = clips(&plan);
    assert_eq!(clip["needed"], needed);
    let spared = needed + (needed * 5).div_ceil(100);
    assert_eq!(clip["count"], spared.div_ceil(50));
    assert_eq!((&clip["unit"], &clip["pack"]), (&"pack".into(), &50.into()));
    let supports = plan["supports"].as_array().expect("supports").len();
    for starter in fasteners.iter().filter(|line| line["item"] != "slim clip") {
        assert_eq!(starter["needed"], supports);
    }
}

#[test]
fn the_rule_of_thumb_stands_beside() {
    let job = file("order-thumb.toml", JOB);
    let rule = &json(&["order", &job])["rule_of_thumb"];
    // Surface: 236 in along; 87 - 1/4 + 1 = 87-3/4 in across. 1.1 x 236 x 87.75
    // over 5-1/2 x 192 is 21.57: 22 boards of 16 ft at $41.50.
    assert_eq!(
        (&rule["boards"], &rule["length"]),
        (&22.into(), &192.into())
    );
    assert_eq!(cents(&rule["price"]), 22 * 4150);
}

#[test]
fn the_yard_gets_rows() {
    let job = file("order-csv.toml", JOB);
    let ran = run(&["order", &job, "--format", "csv"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.starts_with(
        "group,item,unit,pack,needed,count,price_each,price,on_hand,delivery,pack_weight\n"
    ));
    assert!(
        ran.err.contains("building code"),
        "cautions go to standard error"
    );
    let order = json(&["order", &job]);
    let rows = csv::Reader::from_reader(ran.out.as_bytes())
        .into_records()
        .count();
    assert_eq!(rows, order["lines"].as_array().expect("lines").len());
}

#[test]
fn the_fascia_is_in_every_form() {
    let job = concat!(env!("CARGO_MANIFEST_DIR"), "/fixtures/heron-yard-deck.toml");
    let order = json(&["order", job]);
    let fascia = &order["fascia"];
    assert_eq!(fascia["corners"], "mitred");
    let last = &fascia["edges"][0];
    // Worked by hand in the tests of the fascia.
    assert_eq!(
        (&last["edge"], &last["length"]),
        (&"last".into(), &379.5.into())
    );
    assert_eq!(last["splices"][0], 192);
    assert_eq!(last["pieces"][1]["length"], 186.75);
    assert_eq!(last["pieces"][1]["return"], false);
    let totals = &fascia["cut_list"]["totals"];
    assert_eq!(totals["cost"], "201.20");
    assert_eq!(totals["proven"], true);
    let bought = lines(&order, "fascia");
    let boards = bought.iter().filter(|line| line["unit"] == "board");
    let price: i64 = boards.map(|line| cents(&line["price"])).sum();
    assert_eq!(price, 20_120);
    let rows = run(&["order", job, "--format", "csv"]).out;
    let rows: Vec<&str> = rows
        .lines()
        .filter(|row| row.starts_with("fascia,"))
        .collect();
    assert_eq!(rows.len(), bought.len(), "{rows:?}");
    // A question in passing: what another corner would take.
    let butted = json(&["order", job, "--set", "fascia.corners=butted"]);
    assert_eq!(butted["fascia"]["edges"][1]["length"], 216);
    let without = json(&["order", &file("order-no-fascia.toml", JOB)]);
    assert_eq!(without["fascia"], Value::Null);
}
