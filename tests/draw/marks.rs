//! The marks on the rim: where they are, how far off each may be, and what the
//! tape said.

use std::collections::BTreeMap;

use lastcourse::courses::{Verdict, forecast};
use lastcourse::deck::surface;
use lastcourse::draw::scene::Shape;
use lastcourse::draw::{self, Layer, Scene};
use lastcourse::job::{self, Tape, TapeReading};
use lastcourse::length::{Length, Unit};
use lastcourse::plan::{PlanOptions, plan};
use lastcourse::watch::Unwatched;

use super::sheets::large;
use super::{fixtures, reads_well, with_subject};

#[test]
fn marks_may_be_off_as_far_as_the_verdict_holds() {
    for (name, job, plan) in fixtures() {
        let off = with_subject(&job, &plan, draw::may_be_off);
        assert_eq!(off.len(), plan.courses.len(), "{name}");
        assert_eq!(off[0].0, Length::ZERO, "{name}");
        let surface = surface(&job).expect("a surface");
        let told = forecast(&job, &surface, plan.fastener);
        let verdict = |gap: Length| {
            let outcome = told.across.with_gap(gap).outcome();
            (outcome.laid, outcome.verdict)
        };
        if told.outcome.verdict == Verdict::Full {
            continue;
        }
        let now = verdict(plan.gap);
        let one = Length::from_units(1);
        for (gaps, (narrower, wider)) in off.iter().enumerate().skip(1) {
            let each = |off: &Length| Length::from_units(off.units() / gaps as i64);
            assert_eq!(verdict(plan.gap - each(narrower)), now, "{name}");
            let Some(wider) = wider else { continue };
            assert_eq!(verdict(plan.gap + each(wider)), now, "{name}");
            assert_ne!(verdict(plan.gap + each(wider) + one), now, "{name}");
        }
    }
}

#[test]
fn marks_are_those_of_the_courses() {
    for (name, job, plan) in fixtures() {
        let pages = with_subject(&job, &plan, draw::marks);
        let mut marks: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for item in pages.iter().flat_map(|page| &page.items) {
            if let (Some(name), Shape::Text(text)) = (&item.name, &item.shape) {
                marks
                    .entry(name.clone())
                    .or_default()
                    .push(text.words.clone());
            }
        }
        let places = plan
            .courses
            .iter()
            .map(|course| (format!("course {}", course.number), course.to));
        let joists = (1..)
            .zip(&plan.supports)
            .map(|(k, at)| (format!("joist {k}"), *at));
        for (mark, place) in places.chain(joists) {
            let told = &marks[&mark];
            let inches = Length::parse(&told[0], None).expect("a length");
            let mm = Length::parse(&told[1], Some(Unit::Millimetre)).expect("a length");
            assert!(
                (inches - place).abs() <= Length::from_64ths(2),
                "{name}: {mark} {told:?}"
            );
            assert!(
                (mm - place).abs() <= Length::from_tenths_of_mm(5),
                "{name}: {mark} {told:?}"
            );
        }
    }
}

/// Ten boards of 5-1/2 in with nine gaps of 3/16 in are 56-11/16 in: a frame of
/// 55-11/16 in and an overhang of 1 in.
const WHOLE: &str = r#"
title = "Whole courses"
[deck]
along = "8ft"
across = "55-11/16in"
[edge.first]
overhang = 0
[edge.last]
overhang = { set = "1in", least = "1/2in", most = "1-3/4in" }
[joists]
spacing = "16in"
[board]
face = "5-1/2in"
[[fastener]]
name = "face screw"
kind = "face"
gap = "3/16in"
[[stock]]
length = "8ft"
price = 10
[[stock]]
length = "10ft"
price = 13
"#;

#[test]
fn the_overhang_takes_what_whole_courses_are_off() {
    let mut job = job::read(WHOLE, "whole.toml", &[]).expect("a job").job;
    let plan = plan(&job, &PlanOptions::default(), &Unwatched).expect("a plan");
    assert_eq!(plan.courses.len(), 10);
    assert!(plan.courses.iter().all(|course| !course.ripped));
    // 1/2 in less and 3/4 in more over nine gaps, by hand: after 3 of them a
    // third of that, 1/6 and 1/4 in; after all nine the whole.
    let off = with_subject(&job, &plan, draw::may_be_off);
    let inches = |parts: i64, of: i64| Length::from_units(Length::UNITS_PER_INCH * parts / of);
    assert_eq!(off[0], (Length::ZERO, Some(Length::ZERO)));
    assert_eq!(off[3], (inches(1, 6), Some(inches(1, 4))));
    assert_eq!(off[9], (inches(1, 2), Some(inches(3, 4))));
    // 1/6 in is 1/8 in on a tape that shows sixteenths, never more than it is.
    let told = |scenes: &[Scene], course: &str| {
        let items = scenes.iter().flat_map(|scene| &scene.items);
        let mut texts = items.filter_map(|item| match (&item.name, &item.shape) {
            (Some(name), Shape::Text(text)) if name == course => Some(text.words.clone()),
            _ => None,
        });
        texts.next_back().expect("a course")
    };
    let scenes = with_subject(&job, &plan, draw::marks);
    assert_eq!(told(&scenes, "course 4"), "-1/8\" +1/4\"");
    assert_eq!(told(&scenes, "course 10"), "-1/2\" +3/4\"");
    // An overhang that is fixed takes nothing.
    let job::Edge::Open { overhang, .. } = &mut job.edges.last else {
        panic!("an open edge");
    };
    *overhang = job::Span::fixed(overhang.set);
    let off = with_subject(&job, &plan, draw::may_be_off);
    assert_eq!(off[9], (Length::ZERO, Some(Length::ZERO)));
    let scenes = with_subject(&job, &plan, draw::marks);
    assert_eq!(told(&scenes, "course 10"), "on the mark");
}

#[test]
fn what_the_tape_said_stands_in_its_box() {
    let (mut job, plan) = large();
    job.readings = vec![TapeReading {
        after: 7,
        tape: Tape::Once(Length::from_64ths(64 * 40 + 12)),
        gap: None,
    }];
    let pages = with_subject(&job, &plan, draw::marks);
    let boxes = |pages: &[Scene]| {
        let items = pages.iter().flat_map(|page| &page.items);
        let boxes = items.filter(|item| item.layer == Layer::Dimension);
        boxes
            .filter(|item| matches!(item.shape, Shape::Rect(_)))
            .count()
    };
    let mut texts = pages.iter().flat_map(Scene::texts);
    assert!(texts.any(|text| text.words == "3' 4-3/16\""));
    for page in &pages {
        reads_well(&page.title, page);
    }
    // A box more than where a tape is put to the deck anyway.
    job.readings.clear();
    let without = with_subject(&job, &plan, draw::marks);
    assert_eq!(boxes(&pages), boxes(&without) + 1);
}

#[test]
fn both_ends_that_were_read_are_told() {
    let (mut job, plan) = large();
    let reading = |after: u32, left: i64, right: i64| TapeReading {
        after,
        tape: Tape::Ends {
            left: Length::from_64ths(left),
            right: Length::from_64ths(right),
        },
        gap: None,
    };
    // 3 ft 4-3/16 in and 3 ft 4-1/4 in; 4 ft 9-15/16 in and 4 ft 10 in.
    job.readings = vec![
        reading(7, 64 * 40 + 12, 64 * 40 + 16),
        reading(10, 64 * 57 + 60, 64 * 58),
    ];
    let pages = with_subject(&job, &plan, draw::marks);
    let texts: Vec<&str> = pages
        .iter()
        .flat_map(Scene::texts)
        .map(|text| text.words.as_str())
        .collect();
    for told in [
        "L 3' 4-3/16\"",
        "R 3' 4-1/4\"",
        "L 4' 9-15/16\"",
        "R 4' 10\"",
    ] {
        assert!(texts.contains(&told), "{told}: {texts:?}");
    }
    for page in &pages {
        reads_well(&page.title, page);
    }
}
