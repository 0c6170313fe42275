//! `forecast`: with and without a job file.

use serde_json::Value;

use crate::{file, json, run};

/// A deck whose runs are one board long.
pub const DECK: &str = r#"
title = "Landing by the pond"
[deck]
along     = "15ft 10in"
across    = "11ft 11in"
tolerance = "1/8in"
[edge.first]
wall_clearance = "1/4in"
[edge.last]
overhang = { set = "1in", least = "1/2in", most = "1-1/2in" }
[edge.left]
overhang = "1in"
[edge.right]
overhang = "1in"
[board]
face = "5-1/2in"
face_tolerance = "1/32in"
[[fastener]]
name = "slim clip"
gap  = "3/16in"
uncertainty = "1/32in"
[[fastener]]
name = "spacers"
kind = "face"
gap  = { set = "1/4in", least = "1/8in", most = "5/16in" }
tolerance = "1/64in"
[[stock]]
length = "16ft"
price  = 41.50
[[stock]]
length = "20ft"
price  = 55.00
"#;

#[test]
fn a_forecast_needs_no_file() {
    // 144 in and 5-1/2 in boards: 3-3/8 in is left at 1/8 in gaps, 1/4 in at
    // 1/4 in (computed; no published source).
    let answer = json(&[
        "forecast",
        "--across",
        "12ft",
        "--face",
        "5-1/2in",
        "--gap",
        "clip=1/8in",
        "--gap",
        "spacer=1/4in",
    ]);
    assert_eq!(answer["unit"], "in");
    assert_eq!(answer["surface"], 144);
    let [clip, spacer] = [&answer["forecasts"][0], &answer["forecasts"][1]];
    assert_eq!(
        (&clip["fastener"], &clip["courses"]),
        (&"clip".into(), &26.into())
    );
    assert_eq!(clip["last_width"], 3.375);
    assert_eq!(clip["ripped_off"], 2.125);
    assert_eq!(clip["short_if_omitted"], 3.5);
    assert_eq!(clip["verdict"], "rip");
    assert_eq!(spacer["last_width"], 0.25);
    assert_eq!(spacer["verdict"], "sliver");
    for key in [
        "worst",
        "rss",
        "chance_extra_course",
        "chance_sliver",
        "plan",
    ] {
        assert_eq!(spacer[key], Value::Null, "{key}");
    }
}

#[test]
fn metric_lengths_are_answered_in_millimetres() {
    // 3600 mm, 145 mm boards and 5 mm gaps: 24 courses and 5 mm to spare
    // (computed; no published source).
    let answer = json(&[
        "forecast", "--across", "3.6 m", "--face", "145mm", "--gap", "5mm",
    ]);
    assert_eq!(answer["unit"], "mm");
    let forecast = &answer["forecasts"][0];
    assert_eq!(forecast["courses"], 24);
    assert_eq!(forecast["short_by"], 5);
    assert_eq!(forecast["verdict"], "short");
    assert_eq!(forecast["gap_holds"][0], 5);
    let by: Vec<_> = forecast["gap_wrong"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["by"].as_i64().unwrap())
        .collect();
    assert_eq!(by, [-2, -1, 1, 2]);
}

#[test]
fn whatever_a_file_says_can_be_said_without_one() {
    let answer = json(&[
        "forecast",
        "--across",
        "12ft",
        "--face",
        "5-1/2in",
        "--gap",
        "1/4in",
        "--set",
        "courses.finish=balanced",
        "--set",
        "fastener.1.uncertainty=1/64in",
    ]);
    let forecast = &answer["forecasts"][0];
    assert_eq!(forecast["first_width"], 2.875);
    assert_eq!(forecast["last_width"], 2.875);
    assert_eq!(forecast["worst"][0], 0.25 - 25.0 / 64.0);
    assert_eq!(forecast["worst"], forecast["rss"]);
    assert_eq!(forecast["chance_sliver"], 0.0);
}

#[test]
fn figures_that_cannot_be_are_told_by_their_option() {
    let ran = run(&[
        "forecast",
        "--across",
        "12q",
        "--face",
        "0in",
        "--gap",
        "clip=6,5in",
        "--set",
        "deck.acros=1",
    ]);
    assert_eq!(ran.code, 2);
    assert_eq!(ran.out, "");
    insta::assert_snapshot!(ran.err);
    let wide = run(&[
        "forecast", "--across", "12ft", "--face", "5in", "--gap", "6in",
    ]);
    assert_eq!(wide.code, 2);
    assert!(wide.err.contains("6 in"), "{}", wide.err);
}

#[test]
fn some_figures_and_not_others_are_refused() {
    let ran = run(&["forecast", "--across", "12ft"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("--face") && ran.err.contains("--gap"));
    assert_eq!(run(&["forecast"]).code, 2);
    let both = run(&[
        "forecast", "x.toml", "--across", "1ft", "--face", "5in", "--gap", "0",
    ]);
    assert_eq!(both.code, 2);
}

#[test]
fn fasteners_stand_side_by_side() {
    let deck = file("forecast-deck.toml", DECK);
    let ran = run(&["forecast", &deck]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    insta::assert_snapshot!(ran.out);
}

#[test]
fn what_a_fastener_costs_more_is_that_of_real_plans() {
    // At 1/8 in there are 26 courses, at 5/16 in 25, each of one 16 ft board.
    let deck = file("forecast-costs.toml", DECK);
    let answer = json(&[
        "forecast",
        &deck,
        "--set",
        "fastener.1.gap=1/8in",
        "--set",
        "fastener.2.gap=5/16in",
    ]);
    let [narrow, wide] = [&answer["forecasts"][0], &answer["forecasts"][1]];
    assert_eq!(narrow["courses"], 26);
    assert_eq!(narrow["plan"]["price"], "1079.00");
    assert_eq!(narrow["against_best"]["courses"], 1);
    assert_eq!(narrow["against_best"]["boards"], 1);
    assert_eq!(narrow["against_best"]["cost"], "41.50");
    assert_eq!(wide["against_best"]["cost"], "0.00");
}

#[test]
fn a_measured_gap_asks_for_no_dry_run() {
    let deck = file("forecast-measured.toml", DECK);
    let stated = run(&["forecast", &deck, "--fastener", "slim clip"]);
    assert!(stated.out.contains("nobody has measured"), "{}", stated.out);
    // 9 gaps of 3/16 in between 10 boards of 5-1/2 in are 4 ft 8-11/16 in.
    let trial = "fastener.1.trial={ boards = 10, over = \"4ft 8-11/16in\" }";
    let measured = run(&["forecast", &deck, "--fastener", "slim clip", "--set", trial]);
    assert_eq!(measured.code, 0, "{}", measured.err);
    assert!(!measured.out.contains("nobody has measured"));
    assert!(
        measured.out.contains("3/16 in, measured"),
        "{}",
        measured.out
    );
}

#[test]
fn one_fastener_can_be_asked_for() {
    let deck = file("forecast-one.toml", DECK);
    let answer = json(&["forecast", &deck, "--fastener", "spacers"]);
    assert_eq!(answer["forecasts"].as_array().unwrap().len(), 1);
    assert_eq!(answer["forecasts"][0]["fastener"], "spacers");
    let ran = run(&["forecast", &deck, "--fastener", "glue"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("spacers"));
}

#[test]
fn wood_is_told_as_it_is_laid_and_in_service() {
    let job = file("wooden.toml", DECK);
    // White fir, 5-1/2 in, 12 to 8 %: 5.5 x 0.00245 x 4 = 0.0539 in (Wood
    // Handbook, equation 13-2; computed).
    let sets = [
        "--set=board.wood.species=white-fir",
        "--set=board.wood.moisture_now=12%",
        "--set=board.wood.moisture_service=8%",
        "--set=board.wood.gap_service=1/4in",
    ];
    let ask = [&["forecast", job.as_str()][..], &sets].concat();
    let answer = json(&ask);
    assert_eq!(answer["composite"], Value::Null);
    assert_eq!(answer["wood"]["species"], "white fir");
    assert_eq!(answer["wood"]["equation"], "13-2");
    let near = |value: &Value, wanted: f64| {
        let value = value.as_f64().expect("a length");
        assert!((value - wanted).abs() < 1e-5, "{value} for {wanted}");
    };
    near(&answer["wood"]["face_service"], 5.5 - 0.0539);
    for (one, gap) in answer["forecasts"]
        .as_array()
        .unwrap()
        .iter()
        .zip([0.1875, 0.25])
    {
        near(&one["gap"], gap);
        near(&one["gap_service"], gap + 0.0539);
        near(&one["gap_to_set"], 0.25 - 0.0539);
        // A ripped course shrinks by its share.
        let last = one["last_width"].as_f64().expect("a length");
        near(&one["last_width_service"], last * (1.0 - 0.00245 * 4.0));
    }
    // Gaps of 1/4 in are 0.0539 in wider than wanted; clips' are 0.0086 off.
    let cautions = answer["cautions"].as_array().unwrap();
    assert_eq!(cautions.len(), 1, "{cautions:?}");
    let page = run(&ask);
    assert!(page.out.contains("set now for 1/4 in then"), "{}", page.out);
}

#[test]
fn composite_has_its_end_gaps_by_temperature() {
    let job = file("composite.toml", DECK);
    let sets = [
        "--set=board.expansion.coefficient=5e-5/F",
        "--set=board.expansion.laid_at=60F",
        "--set=board.expansion.coldest=0F",
        "--set=board.expansion.hottest=140F",
    ];
    let ask = [&["forecast", job.as_str()][..], &sets].concat();
    let answer = json(&ask);
    let composite = &answer["composite"];
    // The run is 16 ft: 192 x 5e-5 x 80 = 0.768 in (computed).
    assert_eq!(composite["length"], 192);
    assert_eq!(composite["grows"], serde_json::json!([0.768002, 0.768002]));
    let rows = composite["by_temperature"].as_array().unwrap();
    assert_eq!(rows.len(), 8);
    assert_eq!(rows[7]["leave"], 0);
    let page = run(&ask);
    let row = page.out.lines().find(|line| line.starts_with("  60 °F"));
    let row = row.unwrap_or_else(|| panic!("{}", page.out));
    // On the tape 0.768 in is 13/16 in; no gap is left by the job.
    let cells: Vec<&str> = row
        .split("  ")
        .map(str::trim)
        .filter(|c| !c.is_empty())
        .collect();
    assert_eq!(cells, ["60 °F", "13/16 in", "0 in"]);
    // No joint and no wall along the boards: a plan has nothing to say.
    let ask = [&["plan", job.as_str()][..], &sets].concat();
    assert!(!run(&ask).out.contains("grow"));
    // Between walls it has, twice: 190 - 1/2 in, half of 0.758 in each.
    let walls = [
        "--set=edge.left={ wall_clearance = \"1/4in\" }",
        "--set=edge.right={ wall_clearance = \"1/4in\" }",
    ];
    let answer = json(&[&ask[..], &walls].concat());
    let cautions = answer["cautions"].as_array().unwrap().iter();
    let said: Vec<&str> = cautions
        .filter_map(|said| said["message"].as_str())
        .collect();
    let walls = said.iter().filter(|said| said.contains("towards the wall"));
    assert_eq!(walls.count(), 2, "{said:?}");
}
