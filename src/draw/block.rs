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
const BLOCK: Paper = 105 * MM;
const ROW: Paper = 4_700;
const PAD: Paper = 1_800;

/// What the title block says of a drawing.
pub struct Title {
    /// What is drawn.
    pub drawing: String,
    /// The scale it is drawn to, if it is.
    pub scale: Option<Scale>,
    /// Which of how many sheets it is.
    pub sheet: (usize, usize),
}

/// What a mark in the drawing means.
pub struct Key {
    /// The layer the mark is drawn on; for a text, none.
    pub layer: Option<Layer>,
    /// What it means.
    pub words: String,
}

/// Puts title block, scale bar and keys at the foot of a scene.
pub fn foot(scene: &mut Scene, subject: &Subject<'_>, title: &Title, keys: &[Key]) {
    let inner = scene.inner;
    let block = Rect::new(
        inner.right - BLOCK,
        inner.bottom - FOOT,
        inner.right,
        inner.bottom,
    );
    title_block(scene, subject, title, block);
    let left = Rect::new(
        inner.left,
        inner.bottom - FOOT,
        block.left - 5 * MM,
        inner.bottom,
    );
    let mut y = left.top;
    if let Some(scale) = title.scale {
        scale_bar(scene, scale, subject.terms.unit, at(left.left, y));
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

fn title_block(scene: &mut Scene, subject: &Subject<'_>, title: &Title, block: Rect) {
    let Subject {
        job, plan, terms, ..
    } = subject;
    scene.put(Layer::Rule, Shape::Rect(block));
    let room = block.width() - 2 * PAD;
    let mut y = block.top + 5_400;
    let name = fitted(&job.title, Letters::Medium, true, room);
    let name = Text::new(at(block.left + PAD, y), name);
    scene.text(Layer::Label, name.letters(Letters::Medium).bold(true));
    // Feet and inches are told by their marks.
    let unit = match terms.unit {
        Unit::Inch => "",
        Unit::Millimetre => "; millimetres",
    };
    let scale = match title.scale {
        Some(scale) => format!("Scale {}{unit}", scale.words(terms.unit)),
        None => format!("Not to scale{unit}"),
    };
    let mut end: Vec<String> = subject.date.map(str::to_owned).into_iter().collect();
    if title.sheet.1 > 1 {
        end.push(format!("sheet {} of {}", title.sheet.0, title.sheet.1));
    }
    let mut rows = vec![(title.drawing.clone(), String::new())];
    let laid = format!("Laid with {}", terms.laid_with(job, plan));
    rows.extend(
        lines(&laid, 2, room)
            .into_iter()
            .map(|line| (line, String::new())),
    );
    rows.push((scale, end.join(", ")));
    for (left, right) in rows {
        y += ROW;
        let right = fitted(&right, Letters::Small, false, room / 2);
        let end = Text::new(at(block.right - PAD, y), right).align(Align::End);
        let taken = match end.words.is_empty() {
            true => 0,
            false => end.length() + PAD,
        };
        let left = fitted(&left, Letters::Small, false, room - taken);
        scene.text(Layer::Label, Text::new(at(block.left + PAD, y), left));
        if taken > 0 {
            scene.text(Layer::Label, end);
        }
    }
}

/// The scale bar: a round length in four parts, filled by turns.
fn scale_bar(scene: &mut Scene, scale: Scale, unit: Unit, place: Point) {
    const LONGEST: Paper = 75 * MM;
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
        Layer::Joint => {
            let x = middle.x + 7 * MM / 2;
            scene.line(layer, at(x, rect.top), at(x, rect.bottom));
        }
        _ => {
            scene.line(layer, middle, at(rect.right, middle.y));
        }
    }
}
