//! How decks end, side by side: the last courses seen along the boards, to scale
//! and set off from the edge they should reach, one for each fastener and for
//! gaps a little narrower and wider. What the courses come to is the forecast's.

use super::block::{FOOT, Key, Sign, Title, foot};
use super::fitted::fitted;
use super::layer::Layer;
use super::paper::{Scale, Sheet};
use super::place::hatching;
use super::scene::{Align, Letters, MM, Paper, Point, Rect, Scene, Shape, Text, at};
use crate::courses::{Across, Forecast, Outcome};
use crate::job::Job;
use crate::length::Length;
use crate::report::Terms;
use crate::report::forecast::brief;
use crate::report::terms::counted;

/// Courses drawn of each end.
const TAIL: i64 = 3;
const COLUMNS: Paper = 3;
const ROW: Paper = 4_700;
/// How thick boards are drawn; only their widths are to scale.
const THICK: Paper = 5 * MM;
/// How high one end is, its words with it.
pub const HEIGHT: Paper = 21 * MM;
const BETWEEN: Paper = 5 * MM;

/// One way a deck may end.
pub struct Ending<'a> {
    /// What it is called.
    pub name: String,
    /// What decides its courses.
    pub across: &'a Across,
    /// What they come to.
    pub outcome: Outcome,
    /// Whether it is the one to be found first.
    pub own: bool,
}

impl<'a> Ending<'a> {
    /// A fastener's, at the gap it is said to leave.
    pub fn of(job: &Job, forecast: &'a Forecast, terms: &Terms) -> Ending<'a> {
        let name = &job.fasteners[forecast.fastener].name;
        Ending {
            name: format!("{name}, gap {}", terms.length(forecast.across.gap)),
            across: &forecast.across,
            outcome: forecast.outcome,
            own: true,
        }
    }
}

/// The largest scale at which the ends of a deck fit in so many to a row.
pub fn scale(across: &Across, terms: &Terms, width: Paper) -> Scale {
    let gap = across.mixed.map_or(across.gap, |(_, gap)| gap);
    // As much again as a board may be left open before the edge.
    let whole = (across.face + across.gap.max(gap)) * (TAIL + 1);
    let fits = |scale: &Scale| scale.paper(whole) <= cell(width);
    Scale::all(terms.unit).find(fits).unwrap_or(Scale(i64::MAX))
}

/// How wide one of a row is.
fn cell(width: Paper) -> Paper {
    (width - (COLUMNS - 1) * BETWEEN) / COLUMNS
}

/// Draws ends in rows from a place down, each as far along as it is in its row;
/// gives where they end.
pub fn rows(
    scene: &mut Scene,
    endings: &[Ending<'_>],
    terms: &Terms,
    scale: Scale,
    top: Paper,
) -> Paper {
    let inner = scene.inner;
    let width = cell(inner.width());
    let mut y = top;
    for row in endings.chunks(COLUMNS as usize) {
        for (k, ending) in row.iter().enumerate() {
            let left = inner.left + k as Paper * (width + BETWEEN);
            end(scene, ending, terms, scale, at(left, y));
        }
        y += HEIGHT;
    }
    y
}

fn end(scene: &mut Scene, ending: &Ending<'_>, terms: &Terms, scale: Scale, place: Point) {
    let Ending {
        across, outcome, ..
    } = ending;
    let room = cell(scene.inner.width());
    let title = fitted(&ending.name, Letters::Small, ending.own, room);
    let text = Text::new(at(place.x, place.y + ROW - 1_300), title).bold(ending.own);
    scene.text(Layer::Label, text);
    let top = place.y + ROW + MM / 2;
    let edge = place.x + room - MM;
    // Back from the edge that the surface should reach.
    let x = |back: Length| edge - scale.paper(back);
    let mut back = outcome.short_by;
    for k in (0..outcome.laid).rev().take(TAIL as usize) {
        let width = across.course_width(outcome, k);
        let board = Rect::new(x(back + width), top, x(back), top + THICK);
        let ripped = width < across.face;
        let layer = if ripped { Layer::Ripped } else { Layer::Board };
        scene
            .put(layer, Shape::Rect(board))
            .named((k + 1).to_string());
        if ripped {
            scene.put(Layer::Hatch, Shape::Lines(hatching(&board, 1_200)));
        }
        back += width;
        if k > 0 {
            back += across.gap_after(k - 1, outcome.laid).0;
        }
    }
    scene.line(
        Layer::Surface,
        at(edge, top - MM),
        at(edge, top + THICK + MM),
    );
    let words = match outcome.laid {
        0 => brief(outcome, terms),
        _ => format!("course {}", brief(outcome, terms)),
    };
    let words = fitted(&words, Letters::Small, ending.own, room - 2 * MM);
    let text = Text::new(at(edge, top + THICK + ROW), words)
        .bold(ending.own)
        .align(Align::End);
    let layer = match ending.own {
        true => Layer::Accent,
        false => Layer::Label,
    };
    scene.text(layer, text);
}

/// What of forecasts is drawn, and on what.
#[derive(Debug, Clone, Copy)]
pub struct Forecasts<'a> {
    /// The job.
    pub job: &'a Job,
    /// What each fastener comes to.
    pub forecasts: &'a [Forecast],
    /// How lengths are printed.
    pub terms: &'a Terms,
    /// The size of the paper; it is as high as it has to be.
    pub sheet: Sheet,
    /// The date to be written on it, if one was given.
    pub date: Option<&'a str>,
}

/// Draws fasteners side by side: how the deck ends with each, and how if its
/// gaps are as much narrower and wider as is easily overlooked.
pub fn forecasts(asked: &Forecasts<'_>) -> Scene {
    let Forecasts {
        job,
        forecasts,
        terms,
        ..
    } = asked;
    let (mut whole, mut inner) = (asked.sheet.whole(), asked.sheet.inner());
    let high = forecasts.len() as Paper * HEIGHT + FOOT + 4 * MM;
    // No higher than it has to be, however many fasteners there are.
    let more = high - inner.height();
    whole.bottom += more;
    inner.bottom += more;
    let mut scene = Scene::new(
        format!("{}: fasteners side by side", job.title),
        whole,
        inner,
    );
    let widest = forecasts.iter().max_by_key(|forecast| forecast.across.gap);
    let scale = widest.map_or(Scale(1), |forecast| {
        scale(&forecast.across, terms, inner.width())
    });
    let mut y = inner.top;
    let mut said = Vec::new();
    for forecast in *forecasts {
        let own = Ending::of(job, forecast, terms);
        said.push(format!("{}: {}", own.name, brief(&own.outcome, terms)));
        let wrong = |by: Option<&crate::courses::GapWrong>, way: &str| {
            let by = by?;
            Some(Ending {
                name: format!("gaps {} {way}", terms.length(by.by.abs())),
                across: &forecast.across,
                outcome: by.outcome?,
                own: false,
            })
        };
        let mut row = vec![own];
        row.extend(wrong(forecast.gap_wrong.first(), "narrower"));
        row.extend(wrong(forecast.gap_wrong.last(), "wider"));
        y = rows(&mut scene, &row, terms, scale, y);
    }
    scene.description = format!("How the deck ends. {}.", said.join("; "));
    let title = Title {
        drawing: "The last courses, seen along the boards".to_owned(),
        scale: Some(scale),
    };
    let sign = Sign {
        job: &job.title,
        with: counted(forecasts.len() as u64, "fastener"),
        unit: terms.unit,
        date: asked.date,
    };
    let key = |layer, words: &str| Key {
        layer,
        words: words.to_owned(),
    };
    let keys = [
        key(Some(Layer::Board), "whole board"),
        key(Some(Layer::Ripped), "ripped board"),
        key(Some(Layer::Joint), "where the boards are to end"),
        key(None, "boards are drawn thicker than to scale"),
    ];
    foot(&mut scene, &sign, &title, &keys);
    scene
}
