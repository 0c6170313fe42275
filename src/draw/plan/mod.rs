//! The plan drawing: every board where it lies, seen from above, to scale, over
//! its frame and joists. It draws the courses, runs and pieces of a plan as they
//! are, whatever outline they make, standing at the first edge: the first
//! course at the foot, the boards' left ends at the left.

mod boards;
mod dimensions;
mod edges;

use super::Subject;
use super::block::{FOOT, Key, Title, foot};
use super::layer::Layer;
use super::paper::Scale;
use super::scene::{MM, Paper, Point, Rect, Scene, at};
use crate::length::Length;
use crate::plan::Plan;
use crate::report::terms::counted;
use dimensions::{Across, Along};
use edges::Sides;

/// Blank paper between the drawing and what stands beside it.
const AWAY: Paper = 3 * MM;

/// Where lengths of the deck lie on the paper.
#[derive(Debug, Clone, Copy)]
struct View {
    scale: Scale,
    /// Where 0 along and 0 across lie.
    origin: Point,
}

impl View {
    fn x(&self, along: Length) -> Paper {
        self.origin.x + self.scale.paper(along)
    }

    fn y(&self, across: Length) -> Paper {
        self.origin.y - self.scale.paper(across)
    }

    /// A rectangle between two places along and two across.
    fn rect(&self, along: [Length; 2], across: [Length; 2]) -> Rect {
        Rect::new(
            self.x(along[0]),
            self.y(across[1]),
            self.x(along[1]),
            self.y(across[0]),
        )
    }
}

/// How far the deck reaches each way, frame and boards together.
#[derive(Debug, Clone, Copy)]
struct Extent {
    along: [Length; 2],
    across: [Length; 2],
}

impl Extent {
    fn of(subject: &Subject<'_>) -> Extent {
        let frame = frame(subject);
        let mut extent = frame;
        let wider = |range: &mut [Length; 2], from: Length, to: Length| {
            *range = [range[0].min(from), range[1].max(to)];
        };
        wider(&mut extent.across, Length::ZERO, subject.surface.width);
        wider(&mut extent.along, subject.surface.from, subject.surface.to);
        for course in &subject.plan.courses {
            wider(&mut extent.across, course.from, course.to);
            for run in &course.runs {
                wider(&mut extent.along, run.from, run.to);
            }
        }
        extent
    }
}

/// Where the frame lies: along from its left side, across from the surface's first edge.
fn frame(subject: &Subject<'_>) -> Extent {
    let first = subject.job.edges.first.reach();
    Extent {
        along: [Length::ZERO, subject.job.deck.along],
        across: [first, first + subject.job.deck.across],
    }
}

/// Draws a plan.
pub fn plan(subject: &Subject<'_>, sheet: (usize, usize)) -> Scene {
    let Subject {
        job, plan, terms, ..
    } = subject;
    let mut scene = Scene::new(
        format!("{}: plan of the boards", job.title),
        subject.sheet.whole(),
        subject.sheet.inner(),
    );
    scene.description = description(subject);
    let extent = Extent::of(subject);
    let across = Across::of(subject);
    let along = Along::of(subject);
    let sides = Sides::of(subject, &across, &along);
    let room = Rect {
        bottom: scene.inner.bottom - FOOT - AWAY,
        ..scene.inner
    };
    let size = |scale: Scale| {
        let [width, height] = [extent.along, extent.across]
            .map(|range| scale.paper(range[1]) - scale.paper(range[0]));
        (width, height)
    };
    let free = |sides: &Sides| {
        let [left, top, right, bottom] = sides.taken();
        Rect::new(
            room.left + left,
            room.top + top,
            room.right - right,
            room.bottom - bottom,
        )
    };
    let largest = |free: &Rect| {
        let fits = |scale: &Scale| {
            let (width, height) = size(*scale);
            width <= free.width() && height <= free.height()
        };
        // Smaller and smaller, so that one fits in the end.
        Scale::all(terms.unit).find(fits).unwrap_or(Scale(i64::MAX))
    };
    // Names of edges stand where the edges are, unless they cost a scale.
    let sides = match largest(&free(&sides.clone().unnamed())) == largest(&free(&sides)) {
        true => sides,
        false => sides.unnamed(),
    };
    let free = free(&sides);
    let scale = largest(&free);
    let (width, height) = size(scale);
    let view = View {
        scale,
        origin: at(
            free.left + (free.width() - width) / 2 - scale.paper(extent.along[0]),
            free.bottom - (free.height() - height) / 2 + scale.paper(extent.across[0]),
        ),
    };
    let around = view.rect(extent.along, extent.across);
    sides.walls(&mut scene, around);
    boards::boards(&mut scene, subject, &view);
    let labelled = boards::pieces(&mut scene, subject, &view);
    sides.names(&mut scene, around);
    let taken = sides.bands();
    dimensions::courses(&mut scene, plan, &view, around.left - taken[0] - MM);
    across.draw(&mut scene, &view, around.right + taken[2], room);
    along.draw(&mut scene, &view, around.bottom + taken[3]);
    let title = Title {
        drawing: format!("Plan of the boards: {}", counts(plan)),
        scale: Some(scale),
        sheet,
    };
    let mut keys = keys(plan, labelled);
    keys.extend(sides.left_to_keys().map(|words| Key {
        layer: None,
        words: words.to_owned(),
    }));
    foot(&mut scene, subject, &title, &keys);
    scene
}

/// Courses, boards and joints, counted.
fn counts(plan: &Plan) -> String {
    [
        counted(plan.courses.len() as u64, "course"),
        counted(u64::from(plan.totals.boards), "board"),
        counted(u64::from(plan.totals.joints), "joint"),
    ]
    .join(", ")
}

fn description(subject: &Subject<'_>) -> String {
    let Subject {
        job, plan, terms, ..
    } = subject;
    let last = plan.courses.last();
    let last = last.map_or(String::new(), |course| match course.ripped {
        true => format!(
            " Course {} is the last, ripped to {}.",
            course.number,
            terms.length(course.width)
        ),
        false => format!(" Course {} is the last and whole.", course.number),
    });
    format!(
        "{} by {} of frame seen from above, the first course at the foot: {}, on {}, laid with {}.{last}",
        terms.length(job.deck.along),
        terms.length(job.deck.across),
        counts(plan),
        counted(plan.supports.len() as u64, "support"),
        terms.laid_with(job, plan),
    )
}

fn keys(plan: &Plan, labelled: Option<(String, u32)>) -> Vec<Key> {
    let key = |layer, words: &str| Key {
        layer: Some(layer),
        words: words.to_owned(),
    };
    let mut keys = Vec::new();
    match labelled {
        Some((piece, board)) => keys.push(Key {
            layer: None,
            words: format!("{piece} B{board}: piece {piece}, of board {board}"),
        }),
        None => keys.push(Key {
            layer: None,
            words: "pieces are too small here to be named".to_owned(),
        }),
    }
    if plan.courses.iter().any(|course| course.ripped) {
        keys.push(key(Layer::Ripped, "ripped course"));
    }
    if plan.totals.joints > 0 {
        keys.push(key(Layer::Joint, "butt joint, over a joist"));
    }
    let joists = match plan.totals.joints {
        0 => "joist, at its centre",
        _ => "joist; bold: it carries joints",
    };
    keys.push(key(Layer::Joist, joists));
    keys.push(key(Layer::Frame, "outside of the frame"));
    keys
}
