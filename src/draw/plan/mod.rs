//! The plan drawing: every board where it lies, seen from above, to scale, over
//! its frame and joists. It draws the courses, runs and pieces of a plan as they
//! are, whatever outline they make, standing at the first edge: the first
//! course at the foot, the boards' left ends at the left.

mod boards;
mod dimensions;
mod edges;
mod tiles;

use super::Subject;
use super::block::{FOOT, Key, Sign, Title, foot};
use super::layer::Layer;
use super::paper::Scale;
use super::scene::{MM, Paper, Point, Rect, Scene, at};
use crate::length::Length;
use crate::plan::Plan;
use crate::report::terms::counted;
use dimensions::{Across, Along};
use edges::Sides;
use tiles::Window;

/// Blank paper between the drawing and what stands beside it.
const AWAY: Paper = 3 * MM;
/// The keys there is room for.
const KEYS: usize = 8;

/// Where lengths of the deck lie on the paper.
#[derive(Debug, Clone, Copy)]
struct View {
    scale: Scale,
    /// Where 0 along and 0 across lie.
    origin: Point,
    /// What of the deck is seen.
    seen: Extent,
}

impl View {
    fn x(&self, along: Length) -> Paper {
        self.origin.x + self.scale.paper(along)
    }

    fn y(&self, across: Length) -> Paper {
        self.origin.y - self.scale.paper(across)
    }

    /// What is seen of a rectangle between two places along and two across.
    fn seen(&self, along: [Length; 2], across: [Length; 2]) -> Option<Rect> {
        let along = cut(along, self.seen.along);
        let across = cut(across, self.seen.across);
        (along[0] < along[1] && across[0] < across[1]).then(|| self.rect(along, across))
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

/// What two ranges have in common; turned round where that is nothing.
fn cut(range: [Length; 2], by: [Length; 2]) -> [Length; 2] {
    [range[0].max(by[0]), range[1].min(by[1])]
}

/// Whether a place is in a range.
fn within(place: Length, range: [Length; 2]) -> bool {
    place >= range[0] && place <= range[1]
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
        // A frame of less than nothing is no job, but is drawn all the same.
        across: [first, first + subject.job.deck.across.max(Length::ZERO)],
    }
}

/// Draws a plan: the whole of it on one sheet and, where pieces are too small
/// there to be named, part by part on further sheets.
pub fn plan(subject: &Subject<'_>) -> Vec<Scene> {
    let (whole, named) = one(subject, &Window::whole(subject));
    let mut scenes = vec![whole];
    if !named {
        let parts = tiles::windows(subject);
        scenes.extend(parts.iter().map(|window| one(subject, window).0));
    }
    scenes
}

/// Room for the drawing and what stands beside it.
fn room(subject: &Subject<'_>) -> Rect {
    let inner = subject.sheet.inner();
    Rect {
        bottom: inner.bottom - FOOT - AWAY,
        ..inner
    }
}

/// Draws what is seen through a window; also says whether any piece is named.
fn one(subject: &Subject<'_>, window: &Window) -> (Scene, bool) {
    let Subject {
        job, plan, terms, ..
    } = subject;
    let part = window.part.as_ref();
    let mut scene = Scene::new(
        match part {
            None => format!("{}: plan of the boards", job.title),
            Some(part) => format!("{}: plan of the boards, {}", job.title, part.words()),
        },
        subject.sheet.whole(),
        subject.sheet.inner(),
    );
    scene.description = description(subject);
    let extent = window.extent;
    let across = Across::of(subject, window);
    let along = Along::of(subject, window);
    let sides = Sides::of(subject, window, &across, &along);
    let room = room(subject);
    let size = |scale: Scale| {
        let [width, height] = [extent.along, extent.across]
            .map(|range| scale.paper(range[1]) - scale.paper(range[0]));
        (width, height)
    };
    let free = |sides: &Sides| sides.free(room);
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
        seen: extent,
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
        drawing: match part {
            None => format!("Plan of the boards: {}", counts(plan)),
            Some(part) => format!("Plan of the boards, {}", part.words()),
        },
        scale: Some(scale),
    };
    let named = labelled.is_some();
    let mut keys = keys(subject, labelled);
    keys.extend(sides.left_to_keys().map(|words| Key {
        layer: None,
        words: words.to_owned(),
    }));
    // A short bold line between two pieces says itself what it is.
    if keys.len() > KEYS {
        keys.retain(|key| key.layer != Some(Layer::Joint));
    }
    foot(&mut scene, &Sign::of(subject), &title, &keys);
    (scene, named)
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

fn keys(subject: &Subject<'_>, labelled: Option<(String, u32)>) -> Vec<Key> {
    let plan = subject.plan;
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
            words: match tiles::windows(subject).is_empty() {
                true => "pieces are too small here to be named",
                false => "pieces are named on the parts that follow",
            }
            .to_owned(),
        }),
    }
    if plan.courses.iter().any(|course| course.ripped) {
        keys.push(key(Layer::Ripped, "ripped course"));
    }
    if plan.totals.joints > 0 {
        keys.push(key(Layer::Joint, "butt joint, over a joist"));
    }
    if !boards::borrowed(subject).is_empty() {
        keys.push(key(Layer::Borrowed, "of a board begun earlier"));
    }
    let joists = match plan.totals.joints {
        0 => "joist, at its centre",
        _ => "joist; bold: it carries joints",
    };
    keys.push(key(Layer::Joist, joists));
    keys.push(key(Layer::Frame, "outside of the frame"));
    keys
}
