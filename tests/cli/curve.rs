//! `lastcourse plan --curve` and `--joints`.

use super::{JOB, cents, file, json, run};

#[test]
fn every_line_is_a_plan() {
    let job = file("curve.toml", JOB);
    let curve = json(&["plan", &job, "--curve"]);
    assert_eq!(curve["schema"], "lastcourse/curve/1");
    let points = curve["points"].as_array().expect("points");
    assert!(points.len() > 1, "{curve}");
    for point in points {
        let joints = point["joints"].to_string();
        let plan = json(&["plan", &job, "--joints", &joints]);
        let totals = &plan["totals"];
        assert_eq!(totals["joints_at_most"], point["joints"]);
        assert_eq!(totals["cost"], point["price"]);
        assert!(cents(&totals["bound"]) <= cents(&point["price"]));
        assert_eq!(point["proven"], point["bound"] == point["price"]);
    }
    let cheapest = json(&["plan", &job]);
    assert_eq!(
        points[points.len() - 1]["price"],
        cheapest["totals"]["cost"]
    );
    let fewest = json(&["plan", &job, "--prefer", "joints"]);
    assert_eq!(points[0]["joints"], fewest["totals"]["joints"]);
}

#[test]
fn it_is_a_table_for_people_and_for_spreadsheets() {
    let job = file("curve-text.toml", JOB);
    let shown = run(&["plan", &job, "--curve"]);
    assert_eq!(shown.code, 0, "{}", shown.err);
    insta::assert_snapshot!(shown.out.replace(&job, "JOB"));
    let sheet = run(&["plan", &job, "--curve", "--format", "csv"]);
    assert!(
        sheet.out.starts_with("joints,boards,price,bound,proven\n"),
        "{}",
        sheet.out
    );
}

#[test]
fn a_limit_is_part_of_every_sentence_about_the_best() {
    let job = file("curve-limit.toml", JOB);
    let curve = json(&["plan", &job, "--curve"]);
    let fewest = curve["points"][0]["joints"].as_u64().expect("a count");
    let most = fewest.to_string();
    let plan = run(&["plan", &job, "--joints", &most]);
    let answer = plan.out.split("\n\n").next().unwrap_or_default();
    let answer = answer.split_whitespace().collect::<Vec<_>>().join(" ");
    let limit = format!("no plan with {most} joints at most can cost less.");
    assert!(answer.ends_with(&limit), "{answer}");
    assert!(
        plan.out.contains(&format!(" --joints {most}")),
        "{}",
        plan.out
    );
    let none = run(&["plan", &job, "--joints", "2"]);
    assert_eq!((none.code, none.out.as_str()), (1, ""));
    assert!(
        none.err.contains("2 joints at most are asked for"),
        "{}",
        none.err
    );
    let both = run(&["plan", &job, "--joints", &most, "--curve"]);
    assert_eq!(both.code, 2);
}
