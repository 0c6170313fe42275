//! Boards, joints, joists and frame where they lie, and the names of pieces
//! that have room for them.

use std::collections::{HashMap, HashSet};

use super::super::Subject;
use super::super::layer::Layer;
use super::super::place::hatching;
use super::super::scene::{Align, MM, Paper, Scene, Shape, Text, at};
use super::{View, cut, frame, within};
use crate::length::Length;
use crate::plan::{PlannedBoard, PlannedCourse, PlannedPiece};

/// Hatching of ripped courses lies so far apart.
const HATCH: Paper = 1_500;

/// Draws all that is seen of the deck itself.
pub fn boards(scene: &mut Scene, subject: &Subject<'_>, view: &View) {
    let Subject { plan, terms, .. } = subject;
    let boards = plan.boards.iter().map(|board| (board.number, board));
    let together: HashMap<u32, &PlannedBoard> = boards.collect();
    for (course, piece) in pieces_of(subject) {
        let Some(rect) = view.seen([piece.from, piece.to], [course.from, course.to]) else {
            continue;
        };
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
            "{}: {}{ripped}, from board {}{}",
            piece.id,
            terms.length(piece.length),
            piece.board,
            together
                .get(&piece.board)
                .map_or(String::new(), |all| with(all, &piece.id))
        );
        let item = scene.put(layer, Shape::Rect(rect));
        item.named(piece.id.as_str()).noted(note);
    }
    for (course, piece) in pieces_of(subject).filter(|(course, _)| course.ripped) {
        let Some(rect) = view.seen([piece.from, piece.to], [course.from, course.to]) else {
            continue;
        };
        let lines = hatching(&rect, HATCH);
        if !lines.is_empty() {
            scene.put(Layer::Hatch, Shape::Lines(lines));
        }
    }
    let begun = borrowed(subject);
    for (course, piece) in pieces_of(subject).filter(|(_, piece)| begun.contains(&*piece.id)) {
        let seen = view.seen([piece.from, piece.to], [course.from, course.to]);
        let Some(rect) = seen.filter(|rect| rect.width() > 2 * MM) else {
            continue;
        };
        let y = rect.bottom - (rect.height() / 4).min(600);
        let line = scene.line(
            Layer::Borrowed,
            at(rect.left + MM / 2, y),
            at(rect.right - MM / 2, y),
        );
        line.named(piece.id.as_str());
    }
    let frame = frame(subject);
    for support in &plan.supports {
        let [first, last] = cut(frame.across, view.seen.across);
        if !within(*support, view.seen.along) || first > last {
            continue;
        }
        let [first, last] = [first, last].map(|across| view.y(across));
        let x = view.x(*support);
        let line = scene.line(Layer::Joist, at(x, first), at(x, last));
        line.named(terms.short(*support));
    }
    let corners = [
        (frame.along[0], frame.across[0]),
        (frame.along[1], frame.across[0]),
        (frame.along[1], frame.across[1]),
        (frame.along[0], frame.across[1]),
    ];
    closed(scene, Layer::Frame, &corners, view);
    for course in &plan.courses {
        for run in &course.runs {
            for (joint, left) in run.joints(&plan.supports).zip(&run.pieces) {
                if !within(joint, view.seen.along) || !within(course.to, view.seen.across) {
                    continue;
                }
                let x = view.x(joint);
                let (near, far) = (view.y(course.from), view.y(course.to));
                let line = scene.line(Layer::Joint, at(x, near), at(x, far));
                line.named(left.id.as_str());
            }
        }
    }
    closed(scene, Layer::Surface, &outline(&plan.courses), view);
}

/// What else is sawn from a board, in words.
fn with(board: &PlannedBoard, own: &str) -> String {
    let strips = board.strips.iter().flatten().flatten();
    let pieces = match &board.strips {
        None => board.pieces.iter().collect::<Vec<_>>(),
        Some(_) => strips.collect(),
    };
    let others = pieces.into_iter().filter(|id| *id != own);
    let others: Vec<&str> = others.map(String::as_str).collect();
    match others.is_empty() {
        true => String::new(),
        false => format!(" with {}", others.join(", ")),
    }
}

/// The pieces of boards that an earlier course was cut from already.
pub fn borrowed<'a>(subject: &Subject<'a>) -> HashSet<&'a str> {
    let mut begun: HashMap<u32, u32> = HashMap::new();
    let mut found = HashSet::new();
    for (course, piece) in pieces_of(subject) {
        let first = *begun.entry(piece.board).or_insert(course.number);
        if first < course.number {
            found.insert(piece.id.as_str());
        }
    }
    found
}

/// Draws what is seen of a closed outline with sides along and across.
fn closed(scene: &mut Scene, layer: Layer, corners: &[(Length, Length)], view: &View) {
    let seen = |(along, across): &(Length, Length)| {
        within(*along, view.seen.along) && within(*across, view.seen.across)
    };
    let place = |(along, across): (Length, Length)| at(view.x(along), view.y(across));
    if corners.is_empty() {
        return;
    }
    if corners.iter().all(seen) {
        let outline = corners.iter().map(|corner| place(*corner)).collect();
        scene.put(layer, Shape::Polygon(outline));
        return;
    }
    let next = corners.iter().cycle().skip(1);
    let sides = corners.iter().zip(next).filter_map(|(from, to)| {
        let along = cut([from.0.min(to.0), from.0.max(to.0)], view.seen.along);
        let across = cut([from.1.min(to.1), from.1.max(to.1)], view.seen.across);
        (along[0] <= along[1] && across[0] <= across[1])
            .then(|| [place((along[0], across[0])), place((along[1], across[1]))])
    });
    let sides: Vec<_> = sides.collect();
    if !sides.is_empty() {
        scene.put(layer, Shape::Lines(sides));
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
fn outline(courses: &[PlannedCourse]) -> Vec<(Length, Length)> {
    let ends = |course: &PlannedCourse| {
        let from = course.runs.iter().map(|run| run.from).min()?;
        let to = course.runs.iter().map(|run| run.to).max()?;
        Some((from, to))
    };
    let mut right = Vec::new();
    let mut left = Vec::new();
    for course in courses {
        let Some((from, to)) = ends(course) else {
            continue;
        };
        for across in [course.from, course.to] {
            right.push((to, across));
            left.push((from, across));
        }
    }
    left.reverse();
    right.extend(left);
    // Corners only: points between two others of one line say nothing.
    let count = right.len();
    let corner = |k: &usize| {
        let [before, here, after] = [k + count - 1, *k, k + 1].map(|k| right[k % count].0);
        before != here || here != after
    };
    (0..count).filter(corner).map(|k| right[k]).collect()
}

/// Names the pieces, with the board each is sawn from where there is room for
/// it; gives the first that is named so.
pub fn pieces(scene: &mut Scene, subject: &Subject<'_>, view: &View) -> Option<(String, u32)> {
    let mut first = None;
    for (course, piece) in pieces_of(subject) {
        let Some(rect) = view.seen([piece.from, piece.to], [course.from, course.to]) else {
            continue;
        };
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
