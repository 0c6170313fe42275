//! How the deck ends: the last courses seen from above at a large scale, with
//! the rip, the edge that is kept, and what is behind it; and the first ones
//! too where the first course is ripped. Cut across, they are drawn by
//! [`super::section`].

use super::Subject;
use super::block::{FOOT, Key, Sign, Title, foot};
use super::ends::{self, Ending};
use super::fitted::fitted;
use super::layer::Layer;
use super::paper::Scale;
use super::place::{hatching, spread};
use super::scene::{Align, Letters, MM, Paper, Rect, Scene, Shape, Text, at};
use super::section::section;
use crate::courses::{Forecast, forecast};
use crate::job::{Edge, FastenerKind, Side};
use crate::length::Length;
use crate::plan::PlannedCourse;

/// How thick a wall is drawn.
const WALL: Paper = 8 * MM;
const ROW: Paper = 5_200;
/// So many other fasteners are drawn beside.
const OTHERS: usize = 6;

/// One end of the deck: its courses from the edge inwards.
pub(super) struct End<'a> {
    pub name: &'static str,
    pub edge: &'a Edge,
    pub courses: Vec<&'a PlannedCourse>,
    /// What is left open before the edge of the surface.
    pub short: Length,
    /// Where the outside of the fascia is, inwards of the surface's edge.
    pub face: Length,
}

impl<'a> End<'a> {
    /// The same with no more than so many courses.
    pub fn of(&self, courses: usize) -> End<'a> {
        End {
            courses: self.courses.iter().take(courses).copied().collect(),
            ..*self
        }
    }

    /// How much of the boards is drawn across.
    pub fn boards(&self) -> Length {
        let near = self.courses.iter().map(|course| course.from).min();
        let far = self.courses.iter().map(|course| course.to).max();
        far.unwrap_or(Length::ZERO) - near.unwrap_or(Length::ZERO)
    }

    /// How much is drawn across, up to a wall.
    pub fn depth(&self) -> Length {
        let behind = match self.edge {
            Edge::Wall { clearance } => *clearance,
            Edge::Open { .. } => Length::ZERO,
        };
        self.boards() + self.short + behind
    }

    /// How far fascia, frame or wall reach past the surface.
    pub fn past(&self) -> Length {
        match self.edge {
            Edge::Wall { clearance } => *clearance,
            Edge::Open { .. } => (-self.face).max(Length::ZERO),
        }
    }

    /// Where the frame ends, inwards of the surface's edge.
    pub fn frame(&self) -> Length {
        self.edge.reach()
    }
}

/// Draws the end of the deck, or both where both are ripped: from above, and
/// each end cut across.
pub fn last(subject: &Subject<'_>) -> Vec<Scene> {
    let ends = ends_of(subject);
    let mut scenes = vec![above(subject, &ends)];
    let drawn = ends.iter().filter(|end| !end.courses.is_empty());
    scenes.extend(drawn.map(|end| section(subject, end)));
    scenes
}

fn ends_of<'a>(subject: &Subject<'a>) -> Vec<End<'a>> {
    let Subject {
        job, plan, surface, ..
    } = subject;
    // Packers hold a fascia off the frame, and nearer to the boards' edge.
    let face = |side: Side| {
        let off = match &job.fascia {
            Some(rules) => rules.stands_off(&job.edges, side),
            None => job.edges.fascia(side),
        };
        job.edges.at(side).reach() - off
    };
    let to = plan.courses.last().map_or(Length::ZERO, |last| last.to);
    let mut ends = vec![End {
        name: "last",
        edge: &job.edges.last,
        face: face(Side::Last),
        courses: plan.courses.iter().rev().take(3).collect(),
        short: surface.width - to,
    }];
    if plan.courses.len() > 1 && plan.courses.first().is_some_and(|first| first.ripped) {
        ends.push(End {
            name: "first",
            edge: &job.edges.first,
            face: face(Side::First),
            courses: plan.courses.iter().take(3).collect(),
            short: Length::ZERO,
        });
    }
    ends
}

/// The ends seen from above, and how other fasteners would end.
fn above(subject: &Subject<'_>, ends: &[End<'_>]) -> Scene {
    let Subject {
        job,
        plan,
        terms,
        surface,
        ..
    } = subject;
    let mut scene = Scene::new(
        format!("{}: the last course", job.title),
        subject.sheet.whole(),
        subject.sheet.inner(),
    );
    let forecasts: Vec<Forecast> = (0..job.fasteners.len())
        .filter(|&k| k != plan.fastener)
        .map(|k| forecast(job, surface, k))
        .collect();
    let others: Vec<Ending<'_>> = forecasts
        .iter()
        .take(OTHERS)
        .map(|forecast| Ending {
            own: false,
            ..Ending::of(job, forecast, terms)
        })
        .collect();
    let beside = match others.len().div_ceil(3) as Paper {
        0 => 0,
        rows => rows * ends::HEIGHT + ROW + 2 * MM,
    };
    let room = Rect {
        bottom: scene.inner.bottom - FOOT - 4 * MM - beside,
        ..scene.inner
    };
    let width = room.width() / ends.len() as Paper;
    let deepest = ends.iter().map(End::depth).max().unwrap_or(Length::ZERO);
    let free = room.height() - WALL - 3 * ROW;
    let fits = |scale: &Scale| scale.0 >= 2 && scale.paper(deepest) <= free;
    let scale = Scale::all(terms.unit).find(fits).unwrap_or(Scale(i64::MAX));
    for (k, end) in ends.iter().enumerate() {
        let left = room.left + k as Paper * width;
        let panel = Rect {
            left,
            right: left + width - 4 * MM,
            ..room
        };
        draw(&mut scene, subject, end, scale, panel);
    }
    if let Some(first) = others.first() {
        let y = room.bottom + ROW;
        let heading = "How the other fasteners would end, seen along the boards";
        let mut scale = ends::scale(first.across, terms, room.width());
        for other in &others {
            scale = scale.max(ends::scale(other.across, terms, room.width()));
        }
        let heading = format!("{heading}, {}", scale.words(terms.unit));
        scene.text(
            Layer::Label,
            Text::new(at(room.left, y), heading).bold(true),
        );
        ends::rows(&mut scene, &others, terms, scale, y + 2 * MM);
    }
    scene.description = match plan.courses.last() {
        Some(last) => format!(
            "Course {}, the last, is {} wide; its far edge is {} from the first edge.",
            last.number,
            terms.length(last.width),
            terms.length(last.to)
        ),
        None => "There is no course.".to_owned(),
    };
    let title = Title {
        drawing: "How the last course ends, from above".to_owned(),
        scale: Some(scale),
    };
    let key = |layer, words: &str| Key {
        layer: Some(layer),
        words: words.to_owned(),
    };
    let mut keys = vec![key(Layer::Board, "whole board")];
    if plan.courses.iter().any(|course| course.ripped) {
        keys.push(key(Layer::Ripped, "ripped board"));
    }
    keys.push(key(Layer::Frame, "outside of the frame"));
    keys.push(Key {
        layer: None,
        words: "measure first; guards on the saw".to_owned(),
    });
    foot(&mut scene, &Sign::of(subject), &title, &keys);
    scene
}

fn draw(scene: &mut Scene, subject: &Subject<'_>, end: &End<'_>, scale: Scale, panel: Rect) {
    let Subject { job, terms, .. } = subject;
    let left = panel.left;
    let right = left + panel.width() * 2 / 5;
    let name = Text::new(
        at(left, panel.top + 4 * MM),
        format!("At the {} edge", end.name),
    );
    scene.text(Layer::Label, name.bold(true));
    // From above: what is behind the edge, the edge, the courses inwards.
    let clearance = match end.edge {
        Edge::Wall { clearance } => *clearance,
        Edge::Open { .. } => Length::ZERO,
    };
    let top = panel.top + 2 * ROW + WALL;
    let mut labels: Vec<(Paper, Layer, String)> = Vec::new();
    if let Edge::Wall { .. } = end.edge {
        let wall = Rect::new(left, top - WALL, right, top);
        scene.put(Layer::House, Shape::Lines(hatching(&wall, 2 * MM)));
        scene.line(Layer::House, at(left, top), at(right, top));
        labels.push((top - WALL / 2, Layer::Label, "house wall".to_owned()));
        let y = top + scale.paper(clearance) / 2;
        labels.push((
            y,
            Layer::Label,
            format!("{} left to the wall", terms.short(clearance)),
        ));
    }
    // Where the surface ends, and from there inwards.
    let edge = top + scale.paper(clearance);
    if end.short > Length::ZERO {
        let y = edge + scale.paper(end.short) / 2;
        labels.push((
            y,
            Layer::Accent,
            format!("{} left open", terms.short(end.short)),
        ));
    }
    let mut inwards = end.short;
    let mut before: Option<&PlannedCourse> = None;
    let clips = job.fasteners[subject.plan.fastener].kind == FastenerKind::Clip;
    for course in &end.courses {
        if let Some(before) = before {
            let gap = if before.from > course.from {
                before.from - course.to
            } else {
                course.from - before.to
            };
            let y = edge + scale.paper(inwards + gap.half_down());
            labels.push((y, Layer::Label, format!("gap {}", terms.short(gap))));
            inwards += gap;
        }
        let rect = Rect::new(
            left,
            edge + scale.paper(inwards),
            right,
            edge + scale.paper(inwards + course.width),
        );
        let (layer, at_label) = match course.ripped {
            true => (Layer::Ripped, Layer::Accent),
            false => (Layer::Board, Layer::Label),
        };
        scene
            .put(layer, Shape::Rect(rect))
            .named(course.number.to_string());
        let middle = rect.middle().y;
        if course.ripped {
            let lines = hatching(&rect, 2 * MM);
            scene.put(Layer::Hatch, Shape::Lines(lines));
            let off = job.board.face - course.width;
            labels.push((rect.top, Layer::Label, "sawn edge".to_owned()));
            let words = format!(
                "course {}: rip to {}, {} off",
                course.number,
                terms.short(course.width),
                terms.short(off)
            );
            labels.push((middle, at_label, words));
            let kept = match clips {
                true => "edge kept, its groove to the clips",
                false => "edge kept",
            };
            labels.push((rect.bottom, Layer::Label, kept.to_owned()));
        } else {
            let words = format!(
                "course {}: whole, {}",
                course.number,
                terms.short(course.width)
            );
            labels.push((middle, at_label, words));
        }
        inwards += course.width;
        before = Some(course);
    }
    let bottom = edge + scale.paper(inwards);
    if let Edge::Open {
        fascia, overhang, ..
    } = end.edge
    {
        // The surface reaches past fascia and frame.
        let face = edge + scale.paper(end.face);
        let frame = edge + scale.paper(overhang.set + *fascia);
        let within = |y: Paper| y >= panel.top + 2 * ROW && y <= bottom;
        labels.push((edge, Layer::Label, "edge of the boards".to_owned()));
        if *fascia > Length::ZERO && within(face) {
            scene.line(Layer::Dimension, at(left, face), at(right, face));
            let words = format!(
                "fascia {}, {} inside",
                terms.short(*fascia),
                terms.short(end.face)
            );
            labels.push((face, Layer::Label, words));
        }
        if within(frame) {
            scene.line(Layer::Frame, at(left, frame), at(right, frame));
            let words = format!("frame, {} inside", terms.short(overhang.set + *fascia));
            labels.push((frame, Layer::Label, words));
        }
    }
    labels.sort_by_key(|label| label.0);
    let wanted: Vec<Paper> = labels.iter().map(|label| label.0).collect();
    let first = panel.top + 2 * ROW;
    let places = spread(&wanted, ROW, first, panel.bottom - ROW / 2);
    for ((y, layer, words), place) in labels.into_iter().zip(places) {
        let lines = vec![
            [at(right + MM, y), at(right + 4 * MM, y)],
            [at(right + 4 * MM, y), at(right + 9 * MM, place)],
        ];
        scene.put(Layer::Dimension, Shape::Lines(lines));
        let accent = layer == Layer::Accent;
        let from = right + 10 * MM;
        let words = fitted(&words, Letters::Small, accent, panel.right - from);
        let text = Text::new(at(from, place), words)
            .bold(accent)
            .align(Align::Start);
        scene.text(layer, text.centred());
    }
}
