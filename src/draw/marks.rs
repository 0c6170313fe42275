//! The marks to lay out by: where the far edge of each course falls from the
//! starting edge, how far it may be off there, and where the joists stand along
//! the rim. What a whole deck's error means is the forecast's; here it is shared
//! out course by course.

use super::Subject;
use super::block::{FOOT, Key, Sign, Title, foot};
use super::fitted::fitted;
use super::layer::Layer;
use super::scene::{Align, Letters, MM, Paper, Rect, Scene, Shape, Text, at};
use crate::courses::{Forecast, Verdict, forecast};
use crate::job::{Edge, Tape};
use crate::length::{Form, Length, Printer, Unit};

const ROW: Paper = 4_700;
const COLUMN: Paper = 125 * MM;
const HEAD: Paper = 12 * MM;
/// Where the cells of a row end, from the column's left.
const CELLS: [Paper; 4] = [9 * MM, 38 * MM, 54 * MM, 90 * MM];
/// The room for how far a mark may be off.
const OFF: Paper = 35 * MM;
/// Where what is measured is written, from the column's left.
const BOX: [Paper; 2] = [92 * MM, 121 * MM];
/// Rows at which a tape is put to the deck.
const EVERY: usize = 5;

/// A row of the strip.
#[derive(Debug, Clone, Default)]
struct Row {
    /// The number; none where a row only goes on with what was read.
    number: String,
    /// The place in inches and in millimetres.
    place: [String; 2],
    /// How far it may be off.
    off: String,
    /// What the tape said there.
    read: Option<String>,
}

/// A column of the strip: its title, the heads of its cells, its rows.
type Block<'a> = (&'static str, [&'static str; 4], &'a [Row]);

fn place(length: Length) -> [String; 2] {
    [
        Printer::new(Unit::Inch)
            .form(Form::Short)
            .unmarked()
            .show(length),
        Printer::new(Unit::Millimetre)
            .unmarked()
            .show(length)
            .trim_end_matches(" mm")
            .to_owned(),
    ]
}

/// How far the far edges of courses may be off, narrower and wider, when the
/// courses still to be laid go on as those before them did: as many gaps, each
/// off as far as the verdict allows. No wider limit where any will do. Courses
/// that come out whole leave nothing to spare but the range of the last edge's
/// overhang, which may take what they are off.
pub fn may_be_off(subject: &Subject<'_>) -> Vec<(Length, Option<Length>)> {
    let forecast = forecast(subject.job, subject.surface, subject.plan.fastener);
    let gap = forecast.across.gap;
    let holds = forecast.verdict_holds;
    let courses = subject.plan.courses.len() as i64;
    let (own, _) = forecast.across.share((courses - 1).max(0));
    let takes = overhang_takes(subject, &forecast);
    (0..courses)
        .map(|before| {
            let gaps = before.min(own);
            let share = |off: Length| off.units() * gaps / own.max(1);
            let [in_less, in_more] = takes.map(|off| Length::from_units(share(off)));
            let wider = holds.most.map(|most| ((most - gap) * gaps).max(in_more));
            (((gap - holds.least) * gaps).max(in_less), wider)
        })
        .collect()
}

/// Whether the courses come out whole at the last edge.
fn whole(subject: &Subject<'_>) -> bool {
    let forecast = forecast(subject.job, subject.surface, subject.plan.fastener);
    forecast.outcome.verdict == Verdict::Full
}

/// How much less and more than it is set to the last edge's overhang may be,
/// where the courses come out whole there; nothing elsewhere.
fn overhang_takes(subject: &Subject<'_>, forecast: &Forecast) -> [Length; 2] {
    match (&subject.job.edges.last, forecast.outcome.verdict) {
        (Edge::Open { overhang, .. }, Verdict::Full) => {
            [overhang.set - overhang.least, overhang.most - overhang.set]
        }
        _ => [Length::ZERO; 2],
    }
}

/// To what a tape shows, never more than it is.
fn inwards(length: Length, unit: Unit) -> String {
    let step = match unit {
        Unit::Inch => Length::UNITS_PER_INCH / 16,
        Unit::Millimetre => Length::UNITS_PER_MM,
    };
    let down = Length::from_units(length.units().div_euclid(step) * step);
    let printer = Printer::new(unit).form(Form::Short);
    printer.show(down).trim_end_matches(" mm").to_owned()
}

/// Draws the marks, on as many pages as they take.
pub fn marks(subject: &Subject<'_>) -> Vec<Scene> {
    let Subject {
        job, plan, terms, ..
    } = subject;
    let mut courses: Vec<Row> = Vec::new();
    for (course, (narrower, wider)) in plan.courses.iter().zip(may_be_off(subject)) {
        let less = inwards(narrower, terms.unit);
        let more = wider.map(|wider| inwards(wider, terms.unit));
        let off = match (course.number, more) {
            (1, _) => String::new(),
            // Less than a tape shows is nothing.
            (_, Some(more)) if less == inwards(Length::ZERO, terms.unit) && less == more => {
                "on the mark".to_owned()
            }
            (_, Some(more)) => format!("-{less} +{more}"),
            (_, None) => format!("-{less}, any more"),
        };
        let mut read = read(subject, course.number).into_iter();
        courses.push(Row {
            number: course.number.to_string(),
            place: place(course.to),
            off,
            read: read.next(),
        });
        // What was read at the other end has a row of its own.
        courses.extend(read.map(|read| Row {
            read: Some(read),
            ..Row::default()
        }));
    }
    let joists = plan.supports.iter().zip(1..).map(|(support, number)| Row {
        number: number.to_string(),
        place: place(*support),
        ..Row::default()
    });
    let joists: Vec<Row> = joists.collect();
    let inner = subject.sheet.inner();
    let bottom = inner.bottom - FOOT - 3 * MM;
    let rows = ((bottom - inner.top - HEAD) / ROW).max(1) as usize;
    let columns = (inner.width() / COLUMN).max(1) as usize;
    let course_heads = ["course", "far edge", "mm", "may be off"];
    let joist_heads = ["joist", "centre", "mm", ""];
    let course_title = "Courses, from the first edge";
    let joist_title = "Joists, from the frame's left";
    let blocks: Vec<Block<'_>> = courses
        .chunks(rows)
        .map(|rows| (course_title, course_heads, rows))
        .chain(
            joists
                .chunks(rows)
                .map(|rows| (joist_title, joist_heads, rows)),
        )
        .collect();
    let pages: Vec<&[Block<'_>]> = blocks.chunks(columns).collect();
    let count = pages.len();
    let [means, still] = match subject.job.edges.last {
        Edge::Open { overhang, .. } if overhang.is_free() && whole(subject) => [
            "A mark off by as much as it may be: at that pace the last",
            "overhang still is within its range. Beyond it, set the next",
        ],
        _ => [
            "A mark off by as much as it may be: at that pace the last",
            "course still comes out as planned. Beyond it, set the next",
        ],
    };
    let keys = [
        means,
        still,
        "gaps back before going on. Measure at least at the boxes;",
        "`lastcourse measure` says what a reading means.",
        "Marks are rounded to 1/16 in and to the mm.",
    ];
    let mut scenes = Vec::new();
    for (page, blocks) in pages.into_iter().enumerate() {
        let mut scene = Scene::new(
            format!("{}: layout marks", job.title),
            subject.sheet.whole(),
            inner,
        );
        scene.description = format!(
            "Where the far edge of each course and the centre of each joist falls, page {} of {count}.",
            page + 1
        );
        for (k, (title, heads, rows)) in blocks.iter().enumerate() {
            let left = inner.left + k as Paper * COLUMN;
            if k > 0 {
                // Where strips are cut apart.
                let x = left - 2 * MM;
                scene.line(Layer::Joist, at(x, inner.top), at(x, bottom));
            }
            column(&mut scene, left, (title, *heads, rows));
        }
        let title = Title {
            drawing: "Layout marks for courses and joists".to_owned(),
            scale: None,
        };
        let keys = keys.map(|words| Key {
            layer: None,
            words: words.to_owned(),
        });
        foot(&mut scene, &Sign::of(subject), &title, &keys);
        scenes.push(scene);
    }
    scenes
}

/// What the tape said after a course, where the job has it already: once, or at
/// the left and at the right end.
fn read(subject: &Subject<'_>, course: u32) -> Vec<String> {
    let mut readings = subject.job.readings.iter();
    let short = |length| subject.terms.short(length);
    match readings.find(|reading| reading.after == course) {
        None => Vec::new(),
        Some(reading) => match reading.tape {
            Tape::Once(at) | Tape::ToFar { at, .. } => vec![short(at)],
            Tape::Ends { left, right } => {
                vec![format!("L {}", short(left)), format!("R {}", short(right))]
            }
        },
    }
}

/// Whether a row is one at which a tape is put to the deck.
fn fifth(row: &Row) -> bool {
    let number = row.number.parse::<usize>();
    number.is_ok_and(|number| number.is_multiple_of(EVERY))
}

fn column(scene: &mut Scene, left: Paper, (title, heads, rows): Block<'_>) {
    let top = scene.inner.top;
    let title = Text::new(at(left, top + 4 * MM), title).bold(true);
    scene.text(Layer::Label, title);
    let measured = !heads[3].is_empty();
    let mut cells = |y: Paper, words: [&str; 4], layer: Layer, name: Option<&str>, bold: bool| {
        for (k, (words, end)) in words.into_iter().zip(CELLS).enumerate() {
            if words.is_empty() {
                continue;
            }
            let words = match k {
                3 => fitted(words, Letters::Small, false, OFF),
                _ => words.to_owned(),
            };
            let text = match k {
                0 => Text::new(at(left + 2 * MM, y), words),
                _ => Text::new(at(left + end, y), words).align(Align::End),
            };
            let item = scene.text(layer, text.bold(bold && k < 3));
            if let Some(name) = name.filter(|_| k > 0) {
                item.named(name);
            }
        }
    };
    // The heads stand apart from the row numbers they are wider than.
    cells(
        top + HEAD - 3_200,
        ["", heads[1], heads[2], heads[3]],
        Layer::Label,
        None,
        false,
    );
    let (mut boxes, mut readings) = (Vec::new(), Vec::new());
    for (k, row) in rows.iter().enumerate() {
        let y = top + HEAD + ROW * k as Paper + ROW - 1_400;
        let words = [&row.number, &row.place[0], &row.place[1], &row.off].map(String::as_str);
        let last = k + 1 == rows.len();
        let fifth = fifth(row) || last && !row.number.is_empty();
        let name = format!("{} {}", heads[0], row.number);
        cells(y, words, Layer::Across, Some(&name), fifth);
        if let Some(words) = row.read.as_ref().filter(|_| measured) {
            let words = fitted(words, Letters::Small, false, BOX[1] - BOX[0] - 2 * MM);
            let text = Text::new(at(left + BOX[0] + MM, y), words);
            readings.push(text);
        }
        if (fifth || row.read.is_some()) && measured {
            let top = top + HEAD + ROW * k as Paper;
            boxes.push(Rect::new(
                left + BOX[0],
                top + 400,
                left + BOX[1],
                top + ROW - 400,
            ));
        }
    }
    if measured {
        let head = Text::new(at(left + BOX[0], top + HEAD - 3_200), "measured");
        scene.text(Layer::Label, head);
    }
    for reading in readings {
        scene.text(Layer::Label, reading);
    }
    for square in boxes {
        scene.put(Layer::Dimension, Shape::Rect(square));
    }
    let from = top + HEAD;
    let to = from + ROW * rows.len() as Paper;
    scene.line(Layer::Rule, at(left, from), at(left, to));
    let ticks = (0..=rows.len()).map(|k| {
        let y = from + ROW * k as Paper;
        // Under each fifth row, and what goes on with it.
        let ends = k.checked_sub(1).and_then(|k| rows.get(k));
        let goes_on = rows.get(k).is_some_and(|row| row.number.is_empty());
        let numbered = rows[..k].iter().rfind(|row| !row.number.is_empty());
        let long = match ends.is_none() || numbered.is_some_and(fifth) && !goes_on {
            true => COLUMN - 4 * MM,
            false => 1_500,
        };
        [at(left, y), at(left + long, y)]
    });
    scene.put(Layer::Dimension, Shape::Lines(ticks.collect()));
}
