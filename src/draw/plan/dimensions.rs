//! Running dimensions of the plan drawing: the far edges of courses from the
//! first edge, the centres of joists from the frame's left, and the numbers of
//! the courses.

use super::super::Subject;
use super::super::font;
use super::super::layer::Layer;
use super::super::place::{spread, thinned};
use super::super::scene::{Align, Letters, MM, Paper, Rect, Scene, Text, at};
use super::tiles::Window;
use super::{View, within};
use crate::length::Length;
use crate::plan::Plan;
use crate::report::Terms;

/// Room a line of small letters takes.
const ROW: Paper = 4_000;
/// From what is measured to the dimension line.
const REACH: Paper = 5 * MM;
/// From the dimension line to its figures.
const TO_FIGURE: Paper = 2_500;
/// Half an oblique tick, each way.
const TICK: Paper = 700;

/// The dimensions across the boards.
pub struct Across {
    marks: Vec<Mark>,
}

struct Mark {
    place: Length,
    words: String,
    /// Whether it is there whatever room there is.
    must: bool,
    /// Whether it is a width, and to be found first.
    accent: bool,
    /// The course it belongs to, or the edge.
    name: String,
}

impl Across {
    /// Every fifth course, the last one, those that are ripped, and the edge
    /// where the courses stop short of it.
    pub fn of(subject: &Subject<'_>, window: &Window) -> Across {
        let Subject {
            plan,
            surface,
            terms,
            ..
        } = subject;
        let last = plan.courses.last();
        let number = last.map_or(0, |course| course.number);
        let mut marks = Vec::new();
        for course in &plan.courses {
            let must = course.number == number || course.ripped;
            if !must && course.number % 5 != 0 {
                continue;
            }
            marks.push(Mark {
                place: course.to,
                words: figure(terms, course.to),
                must,
                accent: false,
                name: course.number.to_string(),
            });
            if course.ripped {
                marks.push(Mark {
                    place: course.to - course.width.half_down(),
                    words: format!("rip {}", figure(terms, course.width)),
                    must: true,
                    accent: true,
                    name: course.number.to_string(),
                });
            }
        }
        let end = last.map_or(Length::ZERO, |course| course.to);
        if end < surface.width {
            marks.push(Mark {
                place: surface.width,
                words: format!("edge {}", figure(terms, surface.width)),
                must: true,
                accent: false,
                name: "edge".to_owned(),
            });
        }
        marks.retain(|mark| within(mark.place, window.extent.across));
        Across { marks }
    }

    /// How far they reach from what they measure.
    pub fn taken(&self) -> Paper {
        let words = self.marks.iter().map(|mark| mark.words.as_str());
        let width = |words: &str| font::width(words, Letters::Small, true);
        let widest = words.chain(["0"]).map(width).max();
        REACH + TO_FIGURE + widest.unwrap_or(0)
    }

    /// Draws them right of `from`, within the room there is for the drawing.
    pub fn draw(&self, scene: &mut Scene, view: &View, from: Paper, room: Rect) {
        let line = from + REACH;
        let height = |mark: &Mark| view.y(mark.place);
        // From above, as the places are spread.
        let mut marks: Vec<&Mark> = self.marks.iter().collect();
        marks.sort_by_key(|mark| height(mark));
        let must: Vec<&Mark> = marks.iter().copied().filter(|mark| mark.must).collect();
        let wanted: Vec<Paper> = must.iter().map(|mark| height(mark)).collect();
        // Where the part begins; all is measured from the first edge.
        let foot = Length::ZERO.max(view.seen.across[0]);
        let zero = view.y(foot);
        let least = room.top + ROW / 2;
        let placed = spread(&wanted, ROW, least, zero - ROW);
        let mut taken: Vec<(Paper, u8)> = placed.iter().map(|place| (*place, 0)).collect();
        taken.push((zero, 0));
        let fixed = taken.len();
        let fifth: Vec<&Mark> = marks.iter().copied().filter(|mark| !mark.must).collect();
        taken.extend(fifth.iter().map(|mark| (height(mark), 1)));
        let kept = thinned(&taken, ROW);
        let shown = fifth.iter().zip(&kept[fixed..]).filter(|(_, kept)| **kept);
        let shown = shown.map(|(mark, _)| (*mark, height(mark)));
        let all: Vec<(&Mark, Paper)> = must.into_iter().zip(placed).chain(shown).collect();
        let top = all.iter().map(|(mark, _)| height(mark)).min();
        scene.line(
            Layer::Dimension,
            at(line, zero),
            at(line, top.unwrap_or(zero)),
        );
        let draw = |scene: &mut Scene, at_height: Paper, place: Paper, mark: &Mark| {
            if !mark.accent {
                tick(scene, line, at_height, from + MM);
            }
            if at_height != place {
                let start = at(line + if mark.accent { 0 } else { MM }, at_height);
                let end = at(line + TO_FIGURE - MM / 2, place);
                scene.line(Layer::Dimension, start, end);
            }
            let layer = if mark.accent {
                Layer::Accent
            } else {
                Layer::Across
            };
            let text = Text::new(at(line + TO_FIGURE, place), mark.words.as_str());
            let item = scene.text(layer, text.bold(mark.accent).centred());
            item.named(mark.name.as_str());
        };
        let start = Mark {
            place: Length::ZERO,
            words: "0".to_owned(),
            must: true,
            accent: false,
            name: "start".to_owned(),
        };
        if foot == Length::ZERO {
            draw(scene, zero, zero, &start);
        }
        for (mark, place) in all {
            draw(scene, height(mark), place, mark);
        }
    }
}

/// A length as a figure of a dimension: millimetres go without saying.
pub fn figure(terms: &Terms, length: Length) -> String {
    let words = terms.short(length);
    words.strip_suffix(" mm").unwrap_or(&words).to_owned()
}

/// An extension line from `from`, and the oblique tick on the dimension line.
fn tick(scene: &mut Scene, line: Paper, y: Paper, from: Paper) {
    scene.line(Layer::Dimension, at(from, y), at(line + MM, y));
    scene.line(
        Layer::Dimension,
        at(line - TICK, y + TICK),
        at(line + TICK, y - TICK),
    );
}

/// The dimensions along the boards.
pub struct Along {
    joists: Vec<(Length, String, bool)>,
}

impl Along {
    /// The centres of all joists, and whether each carries joints.
    pub fn of(subject: &Subject<'_>, window: &Window) -> Along {
        let Subject { plan, terms, .. } = subject;
        let carrying: std::collections::BTreeSet<Length> = plan
            .courses
            .iter()
            .flat_map(|course| &course.runs)
            .flat_map(|run| run.joints(&plan.supports))
            .collect();
        let seen = plan.supports.iter();
        let seen = seen.filter(|support| within(**support, window.extent.along));
        let joists = seen.map(|&support| {
            let carries = carrying.contains(&support);
            (support, figure(terms, support), carries)
        });
        Along {
            joists: joists.collect(),
        }
    }

    /// How far they reach from what they measure.
    pub fn taken(&self) -> Paper {
        let joists = self.joists.iter();
        let widest = joists.map(|(_, words, bold)| font::width(words, Letters::Small, *bold));
        let widest = widest.max();
        REACH + TO_FIGURE + widest.unwrap_or(0)
    }

    /// Draws those that have room, below `from`.
    pub fn draw(&self, scene: &mut Scene, view: &View, from: Paper) {
        let line = from + REACH;
        let last = self.joists.len().saturating_sub(1);
        let ranked = self.joists.iter().enumerate();
        let wanted: Vec<(Paper, u8)> = ranked
            .map(|(k, (place, _, carries))| {
                let rank = match (k == 0 || k == last, carries) {
                    (true, _) => 0,
                    (_, true) => 1,
                    _ => 2,
                };
                (view.x(*place), rank)
            })
            .collect();
        let kept = thinned(&wanted, ROW);
        let zero = view.x(Length::ZERO.max(view.seen.along[0]));
        let end = wanted.last().map_or(zero, |last| last.0);
        scene.line(Layer::Dimension, at(zero, line), at(end, line));
        if within(Length::ZERO, view.seen.along) {
            // Where the measuring starts, a tick without a figure.
            tick_down(scene, line, zero, from + MM);
        }
        for ((joist, (x, _)), kept) in self.joists.iter().zip(wanted).zip(kept) {
            tick_down(scene, line, x, from + MM);
            if !kept {
                continue;
            }
            let (_, words, carries) = joist;
            let text = Text::new(at(x, line + TO_FIGURE), words.as_str());
            let text = text.align(Align::End).bold(*carries).up().centred();
            scene.text(Layer::Along, text).named(words.as_str());
        }
    }
}

fn tick_down(scene: &mut Scene, line: Paper, x: Paper, from: Paper) {
    scene.line(Layer::Dimension, at(x, from), at(x, line + MM));
    scene.line(
        Layer::Dimension,
        at(x - TICK, line + TICK),
        at(x + TICK, line - TICK),
    );
}

/// The room the numbers of courses take beside the boards.
pub fn numbers(plan: &Plan) -> Paper {
    let widest = plan.courses.iter().map(|course| course.number).max();
    let widest = widest.unwrap_or(0).to_string();
    font::width(&widest, Letters::Small, false) + 2 * MM
}

/// The numbers of courses, each level with its course, ending left of `at_x`.
pub fn courses(scene: &mut Scene, plan: &Plan, view: &View, at_x: Paper) {
    const HIGH: Paper = 2_750;
    let middle = |k: usize| {
        let course = &plan.courses[k];
        (view.y(course.from) + view.y(course.to)) / 2
    };
    let last = plan.courses.len().saturating_sub(1);
    // Every one where there is room, else every second, fifth, tenth ...
    let steps = std::iter::successors(Some(1_u32), |d| d.checked_mul(10));
    let mut steps = steps.flat_map(|d| [d, d.saturating_mul(2), d.saturating_mul(5)]);
    let pitch = match last {
        0 => Paper::MAX,
        last => (middle(0) - middle(last)) / last as Paper,
    };
    let step = steps.find(|step| pitch.saturating_mul(Paper::from(*step)) >= HIGH);
    let step = step.unwrap_or(u32::MAX);
    let rank = |k: usize| match (k, plan.courses[k].number % step) {
        (k, _) if k == last => 0,
        (0, _) => 1,
        (_, 0) => 2,
        _ => 9,
    };
    let wanted: Vec<(Paper, u8)> = (0..plan.courses.len())
        .map(|k| (middle(k), rank(k)))
        .collect();
    let kept = thinned(&wanted, HIGH);
    for (k, (y, rank)) in wanted.into_iter().enumerate() {
        if !kept[k] || rank > 2 || !within(plan.courses[k].to, view.seen.across) {
            continue;
        }
        let number = plan.courses[k].number.to_string();
        let text = Text::new(at(at_x, y), number).align(Align::End).centred();
        let name = text.words.clone();
        scene.text(Layer::Course, text).named(name);
    }
}
