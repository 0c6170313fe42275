//! What stands at the foot of every drawing: the title block at the right, and
//! at the left the scale bar over what the marks mean.

use super::Subject;
use super::fitted::{fitted, lines};
use super::layer::Layer;
use super::paper::Scale;
use super::place::hatching;
use super::scene::{Align, Letters, MM, Paper, Point, Rect, Scene, Shape, Text, at};
use crate::length::{Form, Length, Printer, Unit};

/// How high the foot of a drawing is.
pub const FOOT: Paper = 25_600;
/// How high the line at the foot of a list is.
pub const LINE: Paper = 8 * MM;
const BLOCK: Paper = 105 * MM;
/// Room for `sheet 100 of 100`.
const NUMBER: Paper = 36 * MM;
const ROW: Paper = 4_700;
const PAD: Paper = 1_800;

/// What the title block says of a drawing.
pub struct Title {
    /// What is drawn.
    pub drawing: String,
    /// The scale it is drawn to, if it is.
    pub scale: Option<Scale>,
}

/// What a mark in the drawing means.
pub struct Key {
    /// The layer the mark is drawn on; for a text, none.
    pub layer: Option<Layer>,
    /// What it means.
    pub words: String,
}

/// What the title blocks of one job have in common.
#[derive(Debug, Clone)]
pub struct Sign<'a> {
    /// The job's name.
    pub job: &'a str,
    /// What the boards are laid with, or what is compared.
    pub with: String,
    /// The unit of its figures.
    pub unit: Unit,
    /// The date to be written on it, if one was given.
    pub date: Option<&'a str>,
}

impl<'a> Sign<'a> {
    /// That of a plan's drawings.
    pub fn of(subject: &Subject<'a>) -> Sign<'a> {
        let with = subject.terms.laid_with(subject.job, subject.plan);
        Sign {
            job: &subject.job.title,
            with: format!("Laid with {with}"),
            unit: subject.terms.unit,
            date: subject.date,
        }
    }
}

/// Puts title block, scale bar and keys at the foot of a scene.
pub fn foot(scene: &mut Scene, sign: &Sign<'_>, title: &Title, keys: &[Key]) {
    let inner = scene.inner;
    let block = Rect::new(
        inner.right - BLOCK,
        inner.bottom - FOOT,
        inner.right,
        inner.bottom,
    );
    title_block(scene, sign, title, block);
    let left = Rect::new(
        inner.left,
        inner.bottom - FOOT,
        block.left - 5 * MM,
        inner.bottom,
    );
    let mut y = left.top;
    if let Some(scale) = title.scale {
        scale_bar(scene, scale, sign.unit, at(left.left, y));
        y += 8 * MM;
    }
    // Down one column, then down a second one.
    const SAMPLE: Paper = 9 * MM;
    let rows = (left.bottom - y) / ROW;
    let half = match keys.len() as Paper <= rows {
        true => left.width(),
        false => left.width() / 2,
    };
    let mut column = left.left;
    for key in keys {
        if y + ROW > left.bottom {
            if column > left.left {
                break;
            }
            column += half + MM;
            y = left.top;
        }
        let middle = y + ROW / 2;
        let mut from = column;
        if let Some(layer) = key.layer {
            sample(scene, layer, at(column, middle));
            from += SAMPLE;
        }
        let words = fitted(&key.words, Letters::Small, false, column + half - from);
        let text = Text::new(at(from, middle), words).centred();
        scene.text(Layer::Label, text);
        y += ROW;
    }
}

fn title_block(scene: &mut Scene, sign: &Sign<'_>, title: &Title, block: Rect) {
    scene.put(Layer::Rule, Shape::Rect(block));
    let room = block.width() - 2 * PAD;
    let mut y = block.top + 5_400;
    let end = at(block.right - PAD, y);
    let taken = dated(scene, sign.date, end, room / 2);
    let name = fitted(sign.job, Letters::Medium, true, room - taken);
    let name = Text::new(at(block.left + PAD, y), name);
    scene.text(Layer::Label, name.letters(Letters::Medium).bold(true));
    // Feet and inches are told by their marks.
    let unit = match sign.unit {
        Unit::Inch => "",
        Unit::Millimetre => "; millimetres",
    };
    let scale = match title.scale {
        Some(scale) => format!("Scale {}{unit}", scale.words(sign.unit)),
        None => format!("Not to scale{unit}"),
    };
    let mut rows = vec![(title.drawing.clone(), room)];
    rows.extend(
        lines(&sign.with, 2, room)
            .into_iter()
            .map(|line| (line, room)),
    );
    rows.push((scale, room - NUMBER));
    for (words, room) in rows {
        y += ROW;
        let words = fitted(&words, Letters::Small, false, room);
        scene.text(Layer::Label, Text::new(at(block.left + PAD, y), words));
    }
    scene.number = Some(at(block.right - PAD, y));
}

/// Writes the date, if one was given, to end at a place; gives the room it takes.
fn dated(scene: &mut Scene, date: Option<&str>, end: Point, room: Paper) -> Paper {
    let Some(date) = date else {
        return 0;
    };
    let date = fitted(date, Letters::Small, false, room);
    let text = Text::new(end, date).align(Align::End);
    let taken = text.length() + PAD;
    scene.text(Layer::Label, text);
    taken
}

/// Puts a line at the foot of a sheet of lists: the job, what is listed, the
/// date and the sheet's number.
pub fn footline(scene: &mut Scene, subject: &Subject<'_>, listed: &str) {
    let inner = scene.inner;
    let rule = inner.bottom - LINE + MM;
    scene.line(Layer::Rule, at(inner.left, rule), at(inner.right, rule));
    let y = inner.bottom - 1_300;
    let end = inner.right - NUMBER;
    scene.number = Some(at(inner.right, y));
    let taken = dated(scene, subject.date, at(end, y), inner.width() / 4);
    let words = format!("{}: {listed}", subject.job.title);
    let words = fitted(&words, Letters::Small, false, end - inner.left - taken);
    scene.text(Layer::Label, Text::new(at(inner.left, y), words));
}

/// The scale bar: a round length in four parts, filled by turns.
fn scale_bar(scene: &mut Scene, scale: Scale, unit: Unit, place: Point) {
    // Its last figure ends before the second column of keys.
    const LONGEST: Paper = 58 * MM;
    let (one, round): (Length, &[i64]) = match unit {
        Unit::Inch => (Length::from_inches(1), &[1, 2, 4, 8, 12, 24]),
        Unit::Millimetre => (Length::from_mm(10), &[1, 2, 4, 8, 10, 20, 40]),
    };
    let larger: i64 = match unit {
        Unit::Inch => 48,
        Unit::Millimetre => 100,
    };
    // 4, 8, 20, 40, 80, 200 ft ... and 1, 2, 4, 10 m.
    let steps = [1, 2, 5];
    let decades = std::iter::successors(Some(larger), |d| d.checked_mul(10));
    let all = round
        .iter()
        .copied()
        .chain(decades.flat_map(|d| steps.map(|step| d.saturating_mul(step))));
    let fits = |count: &i64| {
        let length = one.checked_mul(*count);
        length.is_some_and(|length| scale.paper(length) <= LONGEST)
    };
    let count = all.take_while(fits).last().unwrap_or(1);
    let whole = one * count;
    let y = place.y + MM;
    let height = 1_600;
    let quarter = |k: i64| place.x + scale.paper(Length::from_units(whole.units() * k / 4));
    for k in 0..4 {
        let layer = if k % 2 == 0 {
            Layer::Filled
        } else {
            Layer::Backing
        };
        let part = Rect::new(quarter(k), y, quarter(k + 1), y + height);
        scene.put(layer, Shape::Rect(part));
    }
    let outline = Rect::new(quarter(0), y, quarter(4), y + height);
    scene
        .put(Layer::Dimension, Shape::Rect(outline))
        .named("scale bar");
    let below = y + height + 3_400;
    scene.text(Layer::Label, Text::new(at(place.x, below), "0"));
    let words = Printer::new(unit).form(Form::Short).show(whole);
    let end = Text::new(at(quarter(4), below), words).align(Align::Middle);
    scene.text(Layer::Label, end);
}

/// A small piece of what a layer is drawn like.
fn sample(scene: &mut Scene, layer: Layer, middle: Point) {
    let rect = Rect::new(
        middle.x,
        middle.y - 1_300,
        middle.x + 7 * MM,
        middle.y + 1_300,
    );
    match layer {
        Layer::Ripped => {
            scene.put(layer, Shape::Rect(rect));
            scene.put(Layer::Hatch, Shape::Lines(hatching(&rect, 1_200)));
        }
        Layer::Offcut => {
            scene.put(layer, Shape::Rect(rect));
            scene.put(Layer::House, Shape::Lines(hatching(&rect, 3 * MM)));
        }
        Layer::Board => {
            scene.put(layer, Shape::Rect(rect));
        }
        Layer::Filled => {
            let x = middle.x + 7 * MM / 2;
            let mark = Rect::new(x - 900, middle.y - 900, x + 900, middle.y + 900);
            scene.put(layer, Shape::Rect(mark));
        }
        Layer::Joint => {
            let x = middle.x + 7 * MM / 2;
            scene.line(layer, at(x, rect.top), at(x, rect.bottom));
        }
        _ => {
            scene.line(layer, middle, at(rect.right, middle.y));
        }
    }
}
