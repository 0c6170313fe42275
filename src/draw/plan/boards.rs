//! Boards, joints, joists and frame where they lie, and the names of pieces
//! that have room for them.

use super::super::Subject;
use super::super::layer::Layer;
use super::super::place::hatching;
use super::super::scene::{Align, MM, Paper, Point, Scene, Shape, Text, at};
use super::{View, frame};
use crate::plan::{PlannedCourse, PlannedPiece};

/// Hatching of ripped courses lies so far apart.
const HATCH: Paper = 1_500;

/// Draws all that is seen of the deck itself.
pub fn boards(scene: &mut Scene, subject: &Subject<'_>, view: &View) {
    let Subject { plan, terms, .. } = subject;
    for (course, piece) in pieces_of(subject) {
        let rect = view.rect([piece.from, piece.to], [course.from, course.to]);
        let layer = if course.ripped {
            Layer::Ripped
        } else {
            Layer::Board
        };
        let ripped = match course.ripped {
            true => format!(", ripped to {}", terms.length(course.width)),
            false => String::new(),
        };
        let note = format!(
            "{}: {}{ripped}, from board {}",
            piece.id,
            terms.length(piece.length),
            piece.board
        );
        let item = scene.put(layer, Shape::Rect(rect));
        item.named(piece.id.as_str()).noted(note);
    }
    for (course, piece) in pieces_of(subject).filter(|(course, _)| course.ripped) {
        let rect = view.rect([piece.from, piece.to], [course.from, course.to]);
        let lines = hatching(&rect, HATCH);
        if !lines.is_empty() {
            scene.put(Layer::Hatch, Shape::Lines(lines));
        }
    }
    let frame = frame(subject);
    for support in &plan.supports {
        let [first, last] = frame.across.map(|across| view.y(across));
        let x = view.x(*support);
        let line = scene.line(Layer::Joist, at(x, first), at(x, last));
        line.named(terms.short(*support));
    }
    let rect = view.rect(frame.along, frame.across);
    scene.put(Layer::Frame, Shape::Rect(rect));
    for course in &plan.courses {
        for run in &course.runs {
            for (joint, left) in run.joints(&plan.supports).zip(&run.pieces) {
                let x = view.x(joint);
                let (near, far) = (view.y(course.from), view.y(course.to));
                let line = scene.line(Layer::Joint, at(x, near), at(x, far));
                line.named(left.id.as_str());
            }
        }
    }
    let outline = outline(&plan.courses, view);
    if !outline.is_empty() {
        scene.put(Layer::Surface, Shape::Polygon(outline));
    }
}

fn pieces_of<'a>(
    subject: &Subject<'a>,
) -> impl Iterator<Item = (&'a PlannedCourse, &'a PlannedPiece)> {
    subject.plan.courses.iter().flat_map(|course| {
        let runs = course.runs.iter();
        runs.flat_map(|run| &run.pieces)
            .map(move |piece| (course, piece))
    })
}

/// What the courses cover: up along their right ends and down along their left.
fn outline(courses: &[PlannedCourse], view: &View) -> Vec<Point> {
    let ends = |course: &PlannedCourse| {
        let from = course.runs.iter().map(|run| run.from).min()?;
        let to = course.runs.iter().map(|run| run.to).max()?;
        Some((view.x(from), view.x(to)))
    };
    let mut right = Vec::new();
    let mut left = Vec::new();
    for course in courses {
        let Some((from, to)) = ends(course) else {
            continue;
        };
        for across in [course.from, course.to] {
            right.push(at(to, view.y(across)));
            left.push(at(from, view.y(across)));
        }
    }
    left.reverse();
    right.extend(left);
    // Corners only: points between two others of one line say nothing.
    let count = right.len();
    let corner = |k: &usize| {
        let [before, here, after] = [k + count - 1, *k, k + 1].map(|k| right[k % count].x);
        before != here || here != after
    };
    (0..count).filter(corner).map(|k| right[k]).collect()
}

/// Names the pieces, with the board each is sawn from where there is room for
/// it; gives the first that is named so.
pub fn pieces(scene: &mut Scene, subject: &Subject<'_>, view: &View) -> Option<(String, u32)> {
    let mut first = None;
    for (course, piece) in pieces_of(subject) {
        let rect = view.rect([piece.from, piece.to], [course.from, course.to]);
        let both = format!("{} B{}", piece.id, piece.board);
        for words in [both, piece.id.clone()] {
            let text = Text::new(rect.middle(), words)
                .align(Align::Middle)
                .centred();
            let bounds = text.bounds();
            let room = rect.grown(-MM / 20);
            if !room.holds(&bounds) || rect.width() < bounds.width() + 2 * MM {
                continue;
            }
            let backing = if course.ripped {
                Layer::Backing
            } else {
                Layer::BoardBacking
            };
            if first.is_none() {
                first = Some((piece.id.clone(), piece.board));
            }
            scene.put(backing, Shape::Rect(bounds));
            let item = scene.text(Layer::Piece, text);
            item.named(piece.id.as_str());
            break;
        }
    }
    first
}
