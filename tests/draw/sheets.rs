//! Sets of sheets: plans in parts, lists on paper, and the PDF of them all.

use std::collections::BTreeSet;

use lastcourse::draw::{self, Layer, Scene};
use lastcourse::job::{self, Job};
use lastcourse::order::order;
use lastcourse::plan::{Effort, Plan, PlanOptions, plan};
use lastcourse::watch::Unwatched;
use lastcourse::{deck::surface, draw::scene::Shape};

use super::{fixtures, reads_well, with_subject};

/// A deck too large for a sheet on which its pieces can be named.
const LARGE: &str = r#"
title = "Long quay"
[deck]
along = "60ft"
across = "30ft"
[joists]
spacing = "16in"
[board]
face = "5-1/2in"
[[fastener]]
name = "edge clip"
gap = "3/16in"
[[fastener]]
name = "face screw"
gap = "1/4in"
[[stock]]
length = "12ft"
price = "28.60"
[[stock]]
length = "16ft"
price = "38.90"
"#;

pub fn large() -> (Job, Plan) {
    let job = job::read(LARGE, "large.toml", &[]).expect("a job").job;
    let options = PlanOptions {
        effort: Effort::Quick,
        ..PlanOptions::default()
    };
    let plan = plan(&job, &options, &Unwatched).expect("a plan");
    (job, plan)
}

/// All sheets of a job's plan.
pub fn sheets(job: &Job, plan: &Plan) -> Vec<Scene> {
    let order = order(job, &surface(job).expect("a surface"), plan, &Unwatched);
    let order = order.expect("an order");
    with_subject(job, plan, |subject| draw::sheets(subject, &order))
}

fn names<'a>(scenes: &'a [Scene], layer: &'a [Layer]) -> Vec<&'a str> {
    let items = scenes.iter().flat_map(|scene| &scene.items);
    items
        .filter(|item| layer.contains(&item.layer))
        .filter_map(|item| item.name.as_deref())
        .collect()
}

#[test]
fn what_is_too_small_to_be_named_is_drawn_in_parts() {
    let (job, plan) = large();
    let scenes = with_subject(&job, &plan, draw::plan);
    assert!(scenes.len() > 2, "{} sheets", scenes.len());
    for scene in &scenes {
        reads_well(&scene.title, scene);
    }
    assert!(names(&scenes[..1], &[Layer::Piece]).is_empty());
    let parts = &scenes[1..];
    let pieces = plan.courses.iter().flat_map(|course| &course.runs);
    let pieces: BTreeSet<&str> = pieces
        .flat_map(|run| &run.pieces)
        .map(|piece| piece.id.as_str())
        .collect();
    // Every piece is on a part, and none is without its name.
    let drawn = names(parts, &[Layer::Board, Layer::Ripped]);
    assert_eq!(drawn.iter().copied().collect::<BTreeSet<_>>(), pieces);
    let ripped = names(parts, &[Layer::Ripped]);
    let named: BTreeSet<&str> = names(parts, &[Layer::Piece]).into_iter().collect();
    for piece in &pieces {
        assert!(named.contains(piece) || ripped.contains(piece), "{piece}");
    }
    // Every joint is on one part, or on the two that meet there.
    let joints = names(parts, &[Layer::Joint]);
    let distinct: BTreeSet<&str> = joints.iter().copied().collect();
    assert_eq!(distinct.len() as u32, plan.totals.joints);
}

#[test]
fn lists_on_paper_hold_every_row_and_read_well() {
    let mut jobs: Vec<(Job, Plan)> = fixtures()
        .into_iter()
        .map(|(_, job, plan)| (job, plan))
        .collect();
    jobs.push(large());
    for (job, plan) in jobs {
        let sheets = sheets(&job, &plan);
        let order = order(&job, &surface(&job).expect("a surface"), &plan, &Unwatched);
        let order = order.expect("an order");
        for sheet in &sheets {
            reads_well(&sheet.title, sheet);
        }
        let all: Vec<&str> = sheets
            .iter()
            .flat_map(Scene::texts)
            .map(|text| text.words.as_str())
            .collect();
        let together = all.join(" ");
        for line in &order.lines {
            let words = line.item.replace('\u{a0}', " ");
            assert!(together.contains(&words), "{}: {words}", job.title);
        }
        // A box for each board and each course.
        let boxes = |what: &str| {
            let sheets = sheets.iter().filter(|sheet| sheet.title.ends_with(what));
            let items = sheets.flat_map(|sheet| &sheet.items);
            items
                .filter(|item| item.layer == Layer::Dimension)
                .filter(|item| matches!(item.shape, Shape::Rect(_)))
                .count()
        };
        assert_eq!(boxes(": cut list"), plan.boards.len(), "{}", job.title);
        assert_eq!(boxes(": laying list"), plan.courses.len(), "{}", job.title);
        // Numbered from one to the last.
        for (number, sheet) in (1..).zip(&sheets) {
            let words = format!("sheet {number} of {}", sheets.len());
            assert!(sheet.texts().any(|text| text.words == words), "{words}");
        }
    }
}

#[test]
fn the_same_plan_is_the_same_pdf() {
    for (name, job, plan) in fixtures() {
        let sheets = sheets(&job, &plan);
        let pdf = || draw::pdf(&job.title, &sheets).expect("a PDF");
        let one = pdf();
        assert_eq!(one, pdf(), "{name}");
        assert!(one.starts_with(b"%PDF-"), "{name}");
        assert!(one.len() < 1_000_000, "{name}: {} bytes", one.len());
    }
}

#[test]
fn a_large_deck_s_pdf_is_small() {
    let (job, plan) = large();
    let pdf = draw::pdf(&job.title, &sheets(&job, &plan)).expect("a PDF");
    assert!(pdf.len() < 1_000_000, "{} bytes", pdf.len());
}
