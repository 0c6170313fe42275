//! Sections through the ends of decks: to scale, with what is sawn off the last
//! course, and no leader through a label.

use lastcourse::draw::scene::{Item, Rect, Scene, Shape};
use lastcourse::draw::{self, Extent, Layer, Sheet, Subject};
use lastcourse::job::{Edge, FastenerKind, Job};
use lastcourse::length::Length;
use lastcourse::plan::Plan;
use proptest::prelude::*;
use roxmltree::Document;

use super::support::draw::strategy;
use super::{any_deck, fixtures, named, number, reads_well, scale, with_subject};

/// The sections of a plan's ends on both papers.
fn sections(job: &Job, plan: &Plan) -> Vec<Scene> {
    let mut all = Vec::new();
    for sheet in [Sheet::Letter, Sheet::A4] {
        all.extend(with_subject(job, plan, |subject| {
            draw::last(&Subject { sheet, ..*subject }).split_off(1)
        }));
    }
    all
}

/// Widths and gaps are the plan's, to scale.
#[track_caller]
fn to_scale(job: &Job, plan: &Plan, scene: &Scene) {
    let text = draw::svg(scene, Extent::Sheet);
    let document = Document::parse(&text).expect("well-formed XML");
    let scale = scale(&document);
    let mut drawn = named(&document, "board");
    drawn.extend(named(&document, "ripped"));
    let course = |name: &str| {
        let number: usize = name.parse().expect("a course");
        &plan.courses[number - 1]
    };
    let near = |drawn: f64, length: Length| {
        let off = (drawn - length.mm() / scale).abs();
        assert!(off < 0.0021, "{}: {drawn} mm for {length}", scene.title);
    };
    let third = drawn.len() == 3 || plan.courses.len() < 3;
    let ripped = |k: usize| plan.courses[k].ripped;
    let first = scene.title.contains("first");
    let beyond = if first {
        2
    } else {
        plan.courses.len().saturating_sub(3)
    };
    assert!(
        third || drawn.len() == 2 && ripped(beyond),
        "{}",
        scene.title
    );
    for (name, rect) in &drawn {
        near(number(rect, "width"), course(name).width);
        for (other, beside) in &drawn {
            let between = course(other).from - course(name).from;
            if course(other).number == course(name).number + 1 {
                near(number(beside, "x") - number(rect, "x"), between);
            }
        }
    }
    // What is left of a ripped board and what is sawn off make a board.
    let said: Vec<&str> = scene.texts().map(|text| &*text.words).collect();
    let read = |words: &str| {
        let bare = words.trim_start_matches('\u{2248}').trim();
        Length::parse(bare, Some(job.unit)).expect("a length")
    };
    let near = |one: Length, other: Length| (one - other).abs() <= Length::from_64ths(2);
    let sawn = said.iter().filter_map(|words| words.strip_prefix("saw "));
    let sawn: Vec<Length> = sawn
        .filter_map(|words| words.strip_suffix(" off this side"))
        .map(read)
        .collect();
    let ripped = named(&document, "ripped");
    assert_eq!(sawn.len(), ripped.len(), "{}: {said:?}", scene.title);
    for (name, _) in ripped {
        let width = course(&name).width;
        let start = format!("course {name}: rip to ");
        let told = said.iter().find_map(|words| words.strip_prefix(&*start));
        let kept = read(told.expect("a rip"));
        assert!(near(kept, width), "{}: {kept} for {width}", scene.title);
        let off = job.board.face - width;
        assert!(
            sawn.iter().any(|one| near(*one, off)),
            "{}: {off}",
            scene.title
        );
    }
}

fn lines(item: &Item) -> Vec<Rect> {
    match &item.shape {
        Shape::Lines(lines) => lines
            .iter()
            .map(|[from, to]| {
                Rect::new(
                    from.x.min(to.x),
                    from.y.min(to.y),
                    from.x.max(to.x),
                    from.y.max(to.y),
                )
                .grown(1)
            })
            .collect(),
        _ => Vec::new(),
    }
}

/// No leader, screw or outline runs through a word.
#[track_caller]
fn no_line_through_words(name: &str, scene: &Scene) {
    let seen = [Layer::Dimension, Layer::Trend, Layer::Frame, Layer::Surface];
    for item in scene.items.iter().filter(|item| seen.contains(&item.layer)) {
        for line in lines(item) {
            let through = scene.texts().find(|text| text.bounds().meets(&line));
            assert!(through.is_none(), "{name}: {line:?} through {through:?}");
        }
    }
}

#[test]
fn sections_are_to_scale_and_read_well() {
    for (name, job, plan) in fixtures() {
        for scene in sections(&job, &plan) {
            to_scale(&job, &plan, &scene);
            reads_well(&name, &scene);
            no_line_through_words(&name, &scene);
            let cut = scene.texts().find(|text| text.words.ends_with("..."));
            assert!(cut.is_none(), "{name}: {cut:?}");
        }
    }
}

#[test]
fn clips_are_in_gaps_and_screws_in_faces() {
    for (name, job, plan) in fixtures() {
        let kind = job.fasteners[plan.fastener].kind;
        for scene in sections(&job, &plan) {
            let count = |what: &str| {
                let items = scene.items.iter();
                items
                    .filter(|item| item.name.as_deref() == Some(what))
                    .count()
            };
            let whole = plan.courses.last().is_some_and(|last| !last.ripped);
            match kind {
                // Two gaps are drawn, and a starter holds the edge of a whole board.
                FastenerKind::Clip => assert_eq!(count("clip"), 2 + usize::from(whole), "{name}"),
                FastenerKind::Face => {
                    assert_eq!(count("clip"), 0, "{name}");
                    assert!(count("screw") >= 4, "{name}");
                }
            }
            assert_eq!(count("joist"), 1, "{name}");
            let fascia = job.edges.last.clone();
            let fascia = match fascia {
                Edge::Open { fascia, .. } => usize::from(fascia > Length::ZERO),
                Edge::Wall { .. } => 0,
            };
            assert_eq!(count("fascia"), fascia, "{name}");
        }
    }
}

/// The last course of the Heron yard deck is 1-3/8 in wide, and its frame ends
/// 1-3/4 in inside: an overhang of 1 in and a fascia of 3/4 in.
#[test]
fn a_course_past_the_frame_is_told() {
    for (name, job, plan) in fixtures() {
        for scene in sections(&job, &plan) {
            let words = "nothing of the frame is under course 39";
            let told = scene.texts().any(|text| text.words == words);
            assert_eq!(told, name.starts_with("heron"), "{name}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_end_is_drawn_to_scale_and_reads_well(
        (job, plan) in strategy(any_deck)
    ) {
        let Some(plan) = plan else { return Ok(()) };
        for scene in sections(&job, &plan) {
            to_scale(&job, &plan, &scene);
            reads_well(&scene.title, &scene);
            no_line_through_words(&scene.title, &scene);
        }
    }
}
