//! The cut drawing: every board as a bar with its pieces in saw order, boards
//! sawn alike as one bar with a count, and under it which piece is of which
//! board. Pages are filled from above.

use std::collections::HashMap;

use super::Subject;
use super::block::{FOOT, Key, Sign, Title, foot};
use super::fitted::{fitted, lines};
use super::layer::Layer;
use super::paper::Scale;
use super::place::hatching;
use super::scene::{Align, Letters, MM, Paper, Rect, Scene, Shape, Text, at};
use crate::length::Length;
use crate::plan::PlannedBoard;
use crate::report::plan::group::{alike_boards, extras, places};
use crate::report::terms::counted;

const BAR: Paper = 6 * MM;
const ROW: Paper = 4_700;
const BETWEEN: Paper = 4 * MM;

/// A length to be sawn, and what there is to know of it.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
struct Cut {
    length: Length,
    /// The width it is ripped to, if it is.
    ripped: Option<Length>,
}

/// Boards sawn and ripped alike.
struct Alike<'a> {
    boards: Vec<&'a PlannedBoard>,
    strips: Vec<Vec<Cut>>,
}

fn alike<'a>(subject: &Subject<'a>) -> Vec<Alike<'a>> {
    let plan = subject.plan;
    let (places, extras) = (places(plan), extras(plan));
    let cut = |id: &String| match (places.get(id.as_str()), extras.get(id.as_str())) {
        (Some((course, piece)), _) => Some(Cut {
            length: piece.length,
            ripped: course.ripped.then_some(course.width),
        }),
        (None, Some(extra)) => Some(Cut {
            length: extra.length,
            ripped: None,
        }),
        (None, None) => None,
    };
    let by_number: HashMap<u32, &PlannedBoard> = plan
        .boards
        .iter()
        .map(|board| (board.number, board))
        .collect();
    let mut found: Vec<Alike<'_>> = Vec::new();
    for group in alike_boards(subject.job, plan) {
        // What is cut alike may be ripped otherwise.
        let start = found.len();
        for board in group
            .numbers
            .iter()
            .filter_map(|number| by_number.get(number))
        {
            let strips: Vec<Vec<Cut>> = match &board.strips {
                None => vec![board.pieces.iter().filter_map(cut).collect()],
                Some(strips) => strips
                    .iter()
                    .map(|ids| ids.iter().filter_map(cut).collect())
                    .collect(),
            };
            match found[start..]
                .iter_mut()
                .find(|alike| alike.strips == strips)
            {
                Some(alike) => alike.boards.push(board),
                None => found.push(Alike {
                    boards: vec![board],
                    strips,
                }),
            }
        }
    }
    found
}

/// Draws the cuts, on as many pages as they take.
pub fn cuts(subject: &Subject<'_>) -> Vec<Scene> {
    let Subject {
        job, plan, terms, ..
    } = subject;
    let inner = subject.sheet.inner();
    let longest = plan.boards.iter().map(|board| board.length).max();
    let longest = longest.unwrap_or(Length::ZERO);
    let fits = |scale: &Scale| scale.paper(longest) <= inner.width();
    let scale = Scale::all(terms.unit).find(fits).unwrap_or(Scale(i64::MAX));
    let fresh = || {
        Scene::new(
            format!("{}: boards and their cuts", job.title),
            subject.sheet.whole(),
            inner,
        )
    };
    let mut scenes = vec![fresh()];
    let bottom = inner.bottom - FOOT - 3 * MM;
    let mut y = inner.top;
    for alike in alike(subject) {
        let heading = heading(subject, &alike);
        let heading = lines(&heading, 2, inner.width());
        let names = names(&alike, inner.width());
        let bars = alike.strips.len() as Paper * BAR;
        let high = |names: usize| (heading.len() + names) as Paper * ROW + bars + MM + BETWEEN;
        if y > inner.top && y + high(names.len().min(3)) > bottom {
            scenes.push(fresh());
            y = inner.top;
        }
        let Some(mut scene) = scenes.last_mut() else {
            break;
        };
        for line in &heading {
            y += ROW;
            scene.text(
                Layer::Label,
                Text::new(at(inner.left, y - 1_300), line.as_str()).bold(false),
            );
        }
        for (k, strip) in alike.strips.iter().enumerate() {
            let top = y + k as Paper * BAR;
            bar(
                scene,
                subject,
                &alike,
                (k, strip),
                scale,
                at(inner.left, top),
            );
        }
        y += bars + MM;
        for line in names {
            if y + ROW > bottom {
                scenes.push(fresh());
                y = inner.top;
                let Some(next) = scenes.last_mut() else {
                    break;
                };
                scene = next;
            }
            y += ROW;
            scene.text(Layer::Label, Text::new(at(inner.left, y - 1_300), line));
        }
        y += BETWEEN;
    }
    let pages = scenes.len();
    for (page, scene) in scenes.iter_mut().enumerate() {
        let boards = counted(u64::from(plan.totals.boards), "board");
        scene.description = format!(
            "{boards} as bars with their cuts in saw order, page {} of {pages}.",
            page + 1
        );
        let title = Title {
            drawing: format!("Cuts, pieces in saw order: {boards}"),
            scale: Some(scale),
        };
        foot(scene, &Sign::of(subject), &title, &keys(subject));
    }
    scenes
}

fn keys(subject: &Subject<'_>) -> Vec<Key> {
    let key = |layer, words: &str| Key {
        layer,
        words: words.to_owned(),
    };
    let mut keys = vec![key(None, "B7: board 7, with its pieces")];
    if subject.plan.courses.iter().any(|course| course.ripped) {
        keys.push(key(Some(Layer::Ripped), "piece of a ripped course"));
    }
    keys.push(key(Some(Layer::Offcut), "what is left over"));
    keys.push(key(None, "guards on, eyes and ears covered"));
    keys
}

/// What is sawn from what, in a line.
fn heading(subject: &Subject<'_>, alike: &Alike<'_>) -> String {
    let terms = subject.terms;
    let Some(board) = alike.boards.first() else {
        return String::new();
    };
    let hand = if board.on_hand { " from hand" } else { "" };
    let strip = |strip: &Vec<Cut>| {
        let cuts: Vec<String> = strip
            .iter()
            .map(|cut| match cut.ripped {
                None => terms.short(cut.length),
                Some(width) => {
                    format!(
                        "{} ripped to {}",
                        terms.short(cut.length),
                        terms.short(width)
                    )
                }
            })
            .collect();
        cuts.join(" + ")
    };
    let strips: Vec<String> = alike.strips.iter().map(strip).collect();
    let split = if strips.len() > 1 {
        ", ripped in two"
    } else {
        ""
    };
    format!(
        "{} of {}{hand}{split}: {}; {} left over",
        counted(alike.boards.len() as u64, "board"),
        terms.short(board.length),
        strips.join(" | "),
        terms.short(board.offcut)
    )
}

/// The boards and their pieces, in lines.
fn names(alike: &Alike<'_>, room: Paper) -> Vec<String> {
    let board = |board: &&PlannedBoard| {
        let pieces = match &board.strips {
            None => board.pieces.join(", "),
            Some(strips) => format!("{} | {}", strips[0].join(", "), strips[1].join(", ")),
        };
        format!("B{}: {pieces}", board.number)
    };
    let boards: Vec<String> = alike.boards.iter().map(board).collect();
    lines_of(&boards, room)
}

/// Parts in lines, each part whole.
fn lines_of(parts: &[String], room: Paper) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        let longer = lines.last().map(|line| format!("{line}; {part}"));
        match longer.filter(|longer| Text::new(at(0, 0), longer.as_str()).length() <= room) {
            Some(longer) => {
                lines.pop();
                lines.push(longer);
            }
            None => lines.push(fitted(part, Letters::Small, false, room)),
        }
    }
    lines
}

fn bar(
    scene: &mut Scene,
    subject: &Subject<'_>,
    alike: &Alike<'_>,
    (k, strip): (usize, &Vec<Cut>),
    scale: Scale,
    place: super::scene::Point,
) {
    let Some(board) = alike.boards.first() else {
        return;
    };
    let cutting = &subject.job.cutting;
    let between = |from: Length, to: Length| {
        Rect::new(
            place.x + scale.paper(from),
            place.y,
            place.x + scale.paper(to),
            place.y + BAR,
        )
    };
    let ids = match &board.strips {
        None => &board.pieces,
        Some(strips) => &strips[k.min(1)],
    };
    let whole = between(Length::ZERO, board.length);
    scene
        .put(Layer::Offcut, Shape::Rect(whole))
        .named(format!("B{}", board.number));
    let mut from = cutting.end_trim;
    for (cut, id) in strip.iter().zip(ids) {
        let rect = between(from, from + cut.length);
        let layer = if cut.ripped.is_some() {
            Layer::Ripped
        } else {
            Layer::Board
        };
        scene.put(layer, Shape::Rect(rect)).named(id.as_str());
        if cut.ripped.is_some() {
            scene.put(Layer::Hatch, Shape::Lines(hatching(&rect, 1_500)));
        }
        let text = Text::new(rect.middle(), subject.terms.short(cut.length));
        let text = text.align(Align::Middle).centred();
        if text.bounds().width() + 2 * MM <= rect.width() {
            if cut.ripped.is_some() {
                scene.backed(Layer::Backing, Layer::Piece, text);
            } else {
                scene.text(Layer::Piece, text);
            }
        }
        from += cut.length + cutting.kerf;
    }
    let rest = between(from.min(board.length), board.length);
    if board.offcut > Length::ZERO && rest.width() > 0 {
        scene.put(Layer::House, Shape::Lines(hatching(&rest, 3 * MM)));
    }
}
