//! The files we hand out: the example, the schema, and the jobs beside the code.

use std::collections::BTreeSet;

use lastcourse::courses::{Verdict, layout};
use lastcourse::deck::surface;
use lastcourse::job::{self, Job};
use lastcourse::length::{Length, Unit};
use serde_json::Value;

use super::{accepted, read};

const FIXTURES: [(&str, &str); 5] = [
    (
        "boathouse-terrace",
        include_str!("../../fixtures/boathouse-terrace.toml"),
    ),
    (
        "orchard-platform",
        include_str!("../../fixtures/orchard-platform.toml"),
    ),
    (
        "mill-pond-landing",
        include_str!("../../fixtures/mill-pond-landing.toml"),
    ),
    (
        "heron-yard-deck",
        include_str!("../../fixtures/heron-yard-deck.toml"),
    ),
    (
        "quince-corner",
        include_str!("../../fixtures/quince-corner.toml"),
    ),
];

fn fixture(name: &str) -> Job {
    let (_, text) = FIXTURES
        .iter()
        .find(|(known, _)| *known == name)
        .expect("a fixture");
    accepted(text)
}

#[test]
fn the_example_and_the_fixtures_are_accepted_without_a_caution() {
    for (name, text) in FIXTURES.into_iter().chain([("example", job::EXAMPLE)]) {
        let checked = read(text, &[]).unwrap_or_else(|findings| panic!("{name}:\n{findings}"));
        assert!(
            checked.findings.problems.is_empty(),
            "{name}:\n{}",
            checked.findings
        );
    }
}

#[test]
fn what_the_example_shows_as_a_comment_is_right_too() {
    // A further field is a line that starts with "# ", a name and "=".
    let shown: Vec<(&str, &str)> = job::EXAMPLE
        .lines()
        .filter_map(|line| line.strip_prefix("# ")?.split_once('='))
        .filter(|(name, _)| {
            name.trim()
                .chars()
                .all(|c| c.is_ascii_lowercase() || c == '_')
        })
        .collect();
    assert!(shown.len() >= 5, "{shown:?}");
    for (name, _) in shown {
        let line = job::EXAMPLE
            .lines()
            .find(|line| line.starts_with(&format!("# {name}=")))
            .expect("the line just found");
        let text = job::EXAMPLE.replace(line, &line[2..]);
        if let Err(findings) = read(&text, &[]) {
            panic!("{line}\n{findings}");
        }
    }
}

/// Every property name in a schema.
fn properties(schema: &Value, found: &mut BTreeSet<String>) {
    match schema {
        Value::Object(map) => {
            for (key, value) in map {
                if let ("properties", Value::Object(fields)) = (key.as_str(), value) {
                    found.extend(fields.keys().cloned());
                }
                properties(value, found);
            }
        }
        Value::Array(values) => values.iter().for_each(|value| properties(value, found)),
        _ => {}
    }
}

#[test]
fn every_field_of_the_schema_is_in_the_example_and_described() {
    let schema = job::schema();
    let mut names = BTreeSet::new();
    properties(&schema, &mut names);
    assert!(names.len() > 50, "{names:?}");
    for name in &names {
        let shown = [
            format!("{name} "),
            format!("[{name}"),
            format!("{name}]"),
            format!(".{name}]"),
        ];
        assert!(
            shown
                .iter()
                .any(|form| job::EXAMPLE.contains(form.as_str())),
            "`{name}` is not in the example"
        );
    }
    let tables = schema["$defs"].as_object().expect("definitions");
    for (table, definition) in tables {
        let Some(fields) = definition["properties"].as_object() else {
            continue;
        };
        for (field, schema) in fields {
            assert!(
                schema["description"].is_string(),
                "{table}.{field} is not described"
            );
        }
    }
}

#[test]
fn the_schema_asks_for_what_a_job_needs() {
    let schema = job::schema();
    assert_eq!(
        schema["required"],
        serde_json::json!(["deck", "board", "fastener"])
    );
    assert_eq!(schema["additionalProperties"], Value::Bool(false));
    let deck = &schema["$defs"]["DeckTable"];
    assert_eq!(deck["required"], serde_json::json!(["along", "across"]));
    let length = &schema["$defs"]["LengthAboveZero"];
    assert_eq!(length["type"], serde_json::json!(["string", "number"]));
    let range = schema["$defs"]["LengthOrRange"]["anyOf"]
        .as_array()
        .expect("two forms");
    assert_eq!(range.len(), 2);
}

#[track_caller]
fn comes_to(job: &Job, fastener: usize, courses: usize, verdict: Verdict, last: Length) {
    let surface = surface(job).expect("a surface");
    let layout = layout(job, &surface, fastener);
    assert_eq!(
        (layout.courses.len(), layout.verdict, layout.last),
        (courses, verdict, last)
    );
}

// The figures below are computed by hand from n = ceil((W + g)/(b + g)) and
// last = W - (n - 1)(b + g).

#[test]
fn the_boathouse_terrace_leaves_a_strip_of_a_sixteenth() {
    // W = 158 + 9/16 + 1 - 1/4 = 159-5/16; 28 pitches of 5-11/16 are 159-1/4.
    comes_to(
        &fixture("boathouse-terrace"),
        0,
        29,
        Verdict::Sliver,
        Length::from_64ths(4),
    );
}

#[test]
fn the_orchard_platform_leaves_a_strip_of_40_mm() {
    // W = 4390; 29 pitches of 150 are 4350.
    let job = fixture("orchard-platform");
    assert_eq!(job.unit, Unit::Millimetre);
    comes_to(&job, 0, 30, Verdict::Sliver, Length::from_mm(40));
}

#[test]
fn the_mill_pond_landing_comes_out_only_with_the_gap_on_the_box() {
    // W = 142 - 1/4 + 3/4 + 1 = 143-1/2, which is 25 boards and 24 gaps of 1/4.
    let job = fixture("mill-pond-landing");
    comes_to(&job, 0, 25, Verdict::Full, Length::from_64ths(352));
    // With 3/16 the 24 gaps are 1-1/2 narrower: 25 courses end short, a 26th is 1-5/16.
    comes_to(&job, 1, 26, Verdict::Sliver, Length::from_64ths(84));
    // Spacers can be set to the 1/4 the frame was planned for.
    let spacers = &job.fasteners[2];
    assert!(
        spacers.gap.least < Length::from_64ths(16) && Length::from_64ths(16) < spacers.gap.most
    );
}
