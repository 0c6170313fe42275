//! A yard's price list in place of the job's own prices.

use serde_json::Value;

use super::{cents, file, json, run};

const JOB: &str = r#"
[deck]
along  = "15ft"
across = "9ft"
[board]
face = "5-1/2in"
[[fastener]]
name = "edge clip"
gap  = "3/16in"
[[stock]]
length = "16ft"
item   = "DB-16"
[[stock]]
length = "8ft"
price  = 99.00
"#;

const LIST: &str = "item,unit,pack,price\n\
    db-16,ea,,38.90\n\
    \"8 ft x 5-1/2 in board\",board,,18.20\n\
    edge clip,box,90,24.90\n\
    edge clip,box,350,84.00\n\
    \"starter clip or face screw, first course's outer edge\",,,0.45\n\
    \"starter clip or face screw, last course's outer edge\",box,25,9.00\n";

fn line<'a>(order: &'a Value, item: &str) -> Vec<&'a Value> {
    let lines = order["lines"].as_array().expect("lines").iter();
    lines.filter(|line| line["item"] == item).collect()
}

#[test]
fn listed_prices_decide_what_is_bought() {
    let job = file("priced.toml", JOB);
    let list = file("yard.csv", LIST);
    let order = json(&["order", &job, "--prices", &list]);
    // Both lengths are had at the listed prices, one by the yard's own name, one
    // by what the order calls it; the job's 99.00 is nowhere.
    let boards: Vec<i64> = order["lines"]
        .as_array()
        .expect("lines")
        .iter()
        .filter(|line| line["group"] == "boards")
        .map(|line| cents(&line["price_each"]))
        .collect();
    assert!(!boards.is_empty());
    assert!(boards.iter().all(|each| [3_890, 1_820].contains(each)));
    let clips = line(&order, "edge clip");
    // The packs that are listed, in their cheapest mixture: all that hold enough
    // are tried.
    let needed = clips[0]["needed"].as_u64().expect("a count");
    let mixtures = (0..9u64).flat_map(|small| (0..4u64).map(move |large| (small, large)));
    let enough = mixtures.filter(|(small, large)| small * 90 + large * 350 >= needed);
    let least = enough
        .map(|(small, large)| small * 2_490 + large * 8_400)
        .min();
    let paid: i64 = clips.iter().map(|clip| cents(&clip["price"])).sum();
    assert_eq!(Some(paid as u64), least);
    let first = "starter clip or face screw, first course's outer edge";
    assert_eq!(cents(&line(&order, first)[0]["price_each"]), 45);
    // Listed by the pack, ordered by the piece: no price, and that is said.
    let last = "starter clip or face screw, last course's outer edge";
    assert_eq!(line(&order, last)[0]["price_each"], Value::Null);
    let said = order["cautions"].to_string();
    assert!(said.contains("in packs of 25"), "{said}");
    let total: i64 = order["lines"]
        .as_array()
        .expect("lines")
        .iter()
        .filter(|line| !line["price"].is_null())
        .map(|line| cents(&line["price"]))
        .sum();
    assert_eq!(total, cents(&order["total"]));
}

#[test]
fn without_the_list_the_job_has_no_price_for_its_boards() {
    let job = file("unpriced.toml", JOB);
    let ran = run(&["plan", &job]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("these boards have no price"),
        "{}",
        ran.err
    );
    let list = file("yard-too.csv", LIST);
    for command in ["check", "forecast", "fit", "plan"] {
        let ran = run(&[command, &job, "--prices", &list]);
        assert_eq!(ran.code, 0, "{command}: {}", ran.err);
    }
    let swept = "deck.across=9ft..9ft1in:1/2in";
    let ran = run(&["plan", &job, "--prices", &list, "--sweep", swept]);
    assert_eq!(ran.code, 0, "{}", ran.err);
}

#[test]
fn a_list_that_is_wrong_says_where() {
    let job = file("listed.toml", JOB);
    let list = file("wrong.csv", "item,price\nDB-16,38.90\nclip,4 90\n");
    let ran = run(&["order", &job, "--prices", &list]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("wrong.csv:3:6"), "{}", ran.err);
    let ran = run(&["order", &job, "--prices", "nowhere.csv"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("there is no such file"), "{}", ran.err);
}
