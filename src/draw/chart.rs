//! Money over joints, and money over a field's values, as charts: places to
//! scale both ways, every point's figures in a row below it, what is to be found
//! first marked. The points are the planner's.

use super::block::{FOOT, Key, Sign, Title, foot};
use super::fitted::{fitted, lines};
use super::layer::Layer;
use super::paper::Sheet;
use super::place::{spread, thinned};
use super::scene::{Align, Letters, MM, Paper, Rect, Scene, Shape, Text, at};
use crate::fit::Point as Swept;
use crate::job::{Job, SweptValue};
use crate::money::Money;
use crate::plan::Curve;
use crate::report::Terms;
use crate::report::terms::counted;
use crate::report::{curve as curve_report, sweep as sweep_report};

/// Room a rotated label takes beside its neighbours.
const LABEL: Paper = 4_300;
/// Room of the labels' names at the left, and of money beside the chart.
const LEFT: Paper = 30 * MM;
/// How long a rotated label may be.
const LONG: Paper = 30 * MM;
/// From one row of labels to the next.
const APART: Paper = 4 * MM;
/// Half a point's mark.
const HALF: Paper = 900;
const ROW: Paper = 4_700;

/// What every chart of a job has in common.
#[derive(Debug, Clone, Copy)]
pub struct Charted<'a> {
    /// The job.
    pub job: &'a Job,
    /// The fastener its boards are laid with, by its place.
    pub fastener: usize,
    /// How lengths and money are printed.
    pub terms: &'a Terms,
    /// The size of the paper.
    pub sheet: Sheet,
    /// The date to be written on it, if one was given.
    pub date: Option<&'a str>,
}

/// A point, and what stands below it.
struct Mark {
    across: i64,
    money: Money,
    /// What the money is known not to go below, where that is less.
    bound: Option<Money>,
    words: Vec<String>,
    first: bool,
}

struct Chart {
    drawing: &'static str,
    answer: String,
    /// What the words below each point are.
    heads: Vec<String>,
    marks: Vec<Mark>,
    /// Whether a point's money holds up to the next one.
    steps: bool,
    keys: Vec<Key>,
}

fn key(layer: Option<Layer>, words: impl Into<String>) -> Key {
    Key {
        layer,
        words: words.into(),
    }
}

/// Draws the curve of joints against money.
pub fn curve(charted: &Charted<'_>, found: &Curve) -> Scene {
    let terms = charted.terms;
    let least = found.points.iter().map(|point| point.price).min();
    let marks: Vec<Mark> = found
        .points
        .iter()
        .map(|point| Mark {
            across: i64::from(point.joints),
            money: point.price,
            bound: (!point.proven()).then_some(point.bound),
            words: vec![
                point.joints.to_string(),
                point.boards.to_string(),
                terms.money(point.price),
            ],
            first: Some(point.price) == least,
        })
        .collect();
    let chart = Chart {
        drawing: "Joints against money",
        answer: curve_report::answer(found, terms),
        heads: ["joints", "boards", "money"].map(str::to_owned).to_vec(),
        steps: true,
        keys: vec![
            key(Some(Layer::Filled), "the least money with so many joints"),
            key(
                Some(Layer::Joist),
                "down to what is proven, where that is less",
            ),
            key(None, "money does not begin at nothing"),
        ],
        marks,
    };
    draw(charted, chart)
}

/// Draws what a job comes to over a range of values.
pub fn sweep(charted: &Charted<'_>, path: &str, points: &[Swept]) -> Scene {
    let Charted { job, terms, .. } = charted;
    let marks: Vec<Mark> = points
        .iter()
        .filter_map(|point| {
            let plan = point.plan.as_ref().ok()?;
            let (across, value) = match point.step.value {
                SweptValue::Length(length) => (length.units(), terms.short(length)),
                value @ SweptValue::Money(amount) => (amount, value.typed(job.unit)),
            };
            let ends = point
                .outcome
                .map(|outcome| sweep_report::ends(job, &outcome));
            Some(Mark {
                across,
                money: plan.cost,
                bound: None,
                words: vec![value, ends.unwrap_or_default(), terms.money(plan.cost)],
                first: point.cheapest,
            })
        })
        .collect();
    let mut keys = vec![
        key(Some(Layer::Filled), "what the boards come to"),
        key(None, "bold: none is cheaper"),
        key(None, "money does not begin at nothing"),
    ];
    let none = points.len() - marks.len();
    if none > 0 {
        keys.push(key(
            None,
            format!("{} without a plan", counted(none as u64, "value")),
        ));
    }
    let chart = Chart {
        drawing: "Money over a range of values",
        answer: sweep_report::answer(path, points, terms),
        heads: vec![
            path.to_owned(),
            "last course".to_owned(),
            "money".to_owned(),
        ],
        steps: false,
        keys,
        marks,
    };
    draw(charted, chart)
}

fn draw(charted: &Charted<'_>, chart: Chart) -> Scene {
    let Charted {
        job,
        terms,
        sheet,
        date,
        ..
    } = *charted;
    let title = format!("{}: {}", job.title, chart.drawing.to_lowercase());
    let mut scene = Scene::new(title, sheet.whole(), sheet.inner());
    scene.description.clone_from(&chart.answer);
    let inner = scene.inner;
    let mut y = inner.top;
    for line in lines(&chart.answer, 3, inner.width() * 5 / 6) {
        y += ROW;
        let text = Text::new(at(inner.left, y - 1_300), line);
        scene.text(Layer::Label, text.bold(true));
    }
    let below: Paper = rooms(&chart).iter().sum();
    let plot = Rect::new(
        inner.left + LEFT,
        y + 5 * MM,
        inner.right - 5 * MM,
        inner.bottom - FOOT - 8 * MM - below,
    );
    if !chart.marks.is_empty() {
        points(&mut scene, terms, &chart, plot);
    }
    let foot_title = Title {
        drawing: chart.drawing.to_owned(),
        scale: None,
    };
    let sign = Sign {
        job: &job.title,
        with: format!("Laid with {}", job.fasteners[charted.fastener].name),
        unit: terms.unit,
        date,
    };
    foot(&mut scene, &sign, &foot_title, &chart.keys);
    scene
}

/// Where amounts lie in a chart, between round ones.
struct Amounts {
    least: i64,
    most: i64,
    step: i64,
}

impl Amounts {
    /// Round amounts round some others, some six of them.
    fn round(amounts: impl Iterator<Item = i64> + Clone) -> Amounts {
        let least = amounts.clone().min().unwrap_or(0);
        let most = amounts.max().unwrap_or(0);
        let wanted = ((most - least) / 6).max(1);
        let decades = std::iter::successors(Some(1_i64), |d| d.checked_mul(10));
        let mut steps = decades.flat_map(|d| [1, 2, 5].map(|k| d.saturating_mul(k)));
        let step = steps.find(|step| *step >= wanted).unwrap_or(wanted);
        let least = least.div_euclid(step) * step;
        let most = (most.div_euclid(step) + 1) * step;
        Amounts { least, most, step }
    }

    fn y(&self, cents: i64, plot: &Rect) -> Paper {
        let share = i128::from(cents - self.least) * i128::from(plot.height());
        plot.bottom - (share / i128::from(self.most - self.least)) as Paper
    }
}

fn points(scene: &mut Scene, terms: &Terms, chart: &Chart, plot: Rect) {
    let marks = &chart.marks;
    let amounts = marks
        .iter()
        .flat_map(|mark| [Some(mark.money), mark.bound])
        .flatten()
        .map(Money::cents);
    let money = Amounts::round(amounts);
    let mut cents = money.least;
    while cents <= money.most {
        let y = money.y(cents, &plot);
        scene.line(Layer::Hatch, at(plot.left, y), at(plot.right, y));
        let words = terms.money(Money::from_cents(cents));
        let text = Text::new(at(plot.left - 2 * MM, y), words).align(Align::End);
        scene.text(Layer::Along, text.centred());
        cents += money.step;
    }
    let least = marks.iter().map(|mark| mark.across).min().unwrap_or(0);
    let most = marks.iter().map(|mark| mark.across).max().unwrap_or(0);
    let x = |across: i64| match most - least {
        0 => plot.left + plot.width() / 2,
        range => {
            let share = i128::from(across - least) * i128::from(plot.width() - 2 * LABEL);
            plot.left + LABEL + (share / i128::from(range)) as Paper
        }
    };
    let lines: Vec<_> = marks
        .windows(2)
        .flat_map(|pair| {
            let (from, to) = (x(pair[0].across), x(pair[1].across));
            let (before, after) = (
                money.y(pair[0].money.cents(), &plot),
                money.y(pair[1].money.cents(), &plot),
            );
            match chart.steps {
                true => vec![
                    [at(from, before), at(to, before)],
                    [at(to, before), at(to, after)],
                ],
                false => vec![[at(from, before), at(to, after)]],
            }
        })
        .collect();
    if !lines.is_empty() {
        scene.put(Layer::Trend, Shape::Lines(lines));
    }
    for mark in marks {
        let (x, y) = (x(mark.across), money.y(mark.money.cents(), &plot));
        if let Some(bound) = mark.bound {
            let down = money.y(bound.cents(), &plot);
            scene.line(Layer::Joist, at(x, y), at(x, down));
        }
        let square = Rect::new(x - HALF, y - HALF, x + HALF, y + HALF);
        scene
            .put(Layer::Filled, Shape::Rect(square))
            .named(mark.words[0].as_str());
        if mark.first {
            let around = square.grown(HALF);
            scene.put(Layer::Accent, Shape::Rect(around));
        }
    }
    labels(scene, chart, plot, &x);
}

/// The figures of as many points as have room, in rows below the chart.
fn labels(scene: &mut Scene, chart: &Chart, plot: Rect, x: &dyn Fn(i64) -> Paper) {
    let marks = &chart.marks;
    let ends = [0, marks.len() - 1];
    let room = (plot.width() / LABEL) as usize;
    // Where not all have room, every so many, and what should be found first.
    let every = marks.len().div_ceil(room.max(1));
    let wanted: Vec<(Paper, u8)> = marks
        .iter()
        .enumerate()
        .map(|(k, mark)| {
            let rank = match (mark.first, ends.contains(&k), k % every) {
                (true, _, _) => 0,
                (_, true, _) => 1,
                (_, _, 0) => 2,
                _ => 3,
            };
            (x(mark.across), rank)
        })
        .collect();
    let kept: Vec<usize> = match every {
        1 => (0..marks.len()).collect(),
        _ => (0..marks.len())
            .zip(thinned(&wanted, LABEL))
            .filter_map(|(k, kept)| kept.then_some(k))
            .collect(),
    };
    let places: Vec<Paper> = kept.iter().map(|&k| wanted[k].0).collect();
    let spread = spread(&places, LABEL, plot.left, plot.right);
    let ticks = 3 * MM;
    let lines = kept.iter().zip(&spread).map(|(&k, place)| {
        [
            at(wanted[k].0, plot.bottom),
            at(*place, plot.bottom + ticks),
        ]
    });
    scene.put(Layer::Dimension, Shape::Lines(lines.collect()));
    let mut below = plot.bottom + ticks + MM;
    for ((row, head), room) in chart.heads.iter().enumerate().zip(rooms(chart)) {
        let top = below;
        below += room;
        for (&k, place) in kept.iter().zip(&spread) {
            let mark = &marks[k];
            let words = fitted(&mark.words[row], Letters::Small, mark.first, room - APART);
            let layer = if mark.first {
                Layer::Accent
            } else {
                Layer::Across
            };
            // Read from the right, each begins at the foot of its row's room.
            let text = Text::new(at(*place, top), words)
                .up()
                .align(Align::End)
                .bold(mark.first);
            scene.text(layer, text.centred());
        }
        let left = plot.left - LEFT;
        for (line, words) in lines_of(head).into_iter().enumerate() {
            let text = Text::new(at(left, top + (line as Paper + 1) * ROW - 1_300), words);
            scene.text(Layer::Label, text);
        }
    }
}

/// The room that each row of labels takes: its longest label, or its own name.
fn rooms(chart: &Chart) -> Vec<Paper> {
    let room = |(row, head): (usize, &String)| {
        let labels = chart.marks.iter().map(|mark| {
            let words = Text::new(at(0, 0), mark.words[row].as_str());
            words.bold(mark.first).length()
        });
        let name = lines_of(head).len() as Paper * ROW;
        labels.fold(name, Paper::max).min(LONG) + APART
    };
    chart.heads.iter().enumerate().map(room).collect()
}

fn lines_of(head: &str) -> Vec<String> {
    lines(head, 3, LEFT - 3 * MM)
}
