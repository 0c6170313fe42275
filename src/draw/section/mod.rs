//! A section through an end of the deck, cut across the boards beside a joist:
//! the last courses with their true widths and gaps, the rip and which edge of
//! it is kept, what holds them, and the frame, fascia or wall behind. Widths are
//! the plan's; how high things are drawn is the job's where it says so.

mod behind;
mod fasteners;
mod leaders;

use super::Subject;
use super::block::{FOOT, Key, Sign, Title, foot};
use super::last::End;
use super::layer::Layer;
use super::paper::Scale;
use super::place::hatching;
use super::scene::{Align, MM, Paper, Rect, Scene, Shape, Text, at};
use crate::courses::{Layout, layout};
use crate::job::{Decking, Fastener, FastenerKind};
use crate::length::{Length, Unit};
use crate::plan::PlannedCourse;
use fasteners::{Sides, clip, screw};
use leaders::{Inwards, Label, ROW, rows};

/// How thick a wall is drawn.
const WALL: Paper = 6 * MM;
/// How much of the joists is drawn before they are broken off.
const DEEP: Paper = 24 * MM;
const HEADING: Paper = 6 * MM;
/// Rows of labels above the boards, and under the frame.
const ABOVE: Paper = 10;
const UNDER: Paper = 5;
/// From the boards up to the first row of labels, past the dimensions.
const TO_LABELS: Paper = 9_800;
/// From the joists down to the first row of labels.
const BELOW: Paper = 6 * MM;
/// Half an oblique tick, each way.
const TICK: Paper = 700;
/// The least width on paper that a screw is drawn in.
const HOLDS: Paper = 4 * MM;
/// Boards wider than this take a third screw, as they are counted.
const TWO_SCREWS_UP_TO: Length = Length::from_inches(8);

/// How thick the boards are drawn, and what is said of it.
struct Thick {
    board: Length,
    words: String,
}

impl Thick {
    fn of(subject: &Subject<'_>) -> Thick {
        let (job, terms) = (subject.job, subject.terms);
        let decking = job.codes.as_ref().and_then(|codes| codes.decking);
        let nominal = match terms.unit {
            Unit::Inch => Length::from_inches(1),
            Unit::Millimetre => Length::from_mm(25),
        };
        let (board, known) = match decking {
            Some(Decking::Thick(thick)) => (thick, true),
            // What is sold as 2 in is dressed to 1-1/2 (PS 20-20, from memory).
            Some(Decking::TwoInch) => (Length::from_64ths(96), true),
            Some(Decking::FiveQuarter) => (Length::from_inches(1), true),
            _ => (nominal, false),
        };
        let shown = terms.short(board);
        let words = match known {
            true => format!("boards {shown} thick"),
            false => format!("boards drawn {shown} thick: not to scale"),
        };
        Thick { board, words }
    }
}

/// Draws the section of one end: its last three courses, or two where the third
/// one is ripped too, as at the other end of a narrow deck.
pub fn section(subject: &Subject<'_>, end: &End<'_>) -> Scene {
    let third = end.courses.get(2).is_some_and(|course| course.ripped);
    let end = &end.of(if third { 2 } else { 3 });
    let Subject { job, terms, .. } = subject;
    let mut scene = Scene::new(
        format!("{}: section at the {} edge", job.title, end.name),
        subject.sheet.whole(),
        subject.sheet.inner(),
    );
    let panel = Rect {
        bottom: scene.inner.bottom - FOOT - 4 * MM,
        ..scene.inner
    };
    let thick = Thick::of(subject);
    let layout = layout(job, subject.surface, subject.plan.fastener);
    let fits = |scale: &Scale| {
        let wide = scale.paper(end.depth() + end.past()) + WALL + 6 * MM;
        let high =
            scale.paper(thick.board) + DEEP + (ABOVE + UNDER) * ROW + TO_LABELS + BELOW + HEADING;
        scale.0 >= 2 && wide <= panel.width() && high <= panel.height()
    };
    let scale = Scale::all(terms.unit).find(fits).unwrap_or(Scale(i64::MAX));
    let mut cut = Cut {
        subject,
        end,
        layout: &layout,
        scale,
        // The last edge is at the right, as it is seen from the left.
        inwards: match end.name {
            "first" => Inwards::Right,
            _ => Inwards::Left,
        },
        edge: 0,
        sides: Sides {
            top: 0,
            bottom: 0,
            screws: 0,
        },
        foot: 0,
        above: Vec::new(),
        below: Vec::new(),
    };
    cut.place(&panel, scale.paper(thick.board));
    cut.draw(&mut scene, &panel);
    let title = Title {
        drawing: format!("How the {} course ends, cut across the boards", end.name),
        scale: Some(scale),
    };
    let key = |layer, words: &str| Key {
        layer,
        words: words.to_owned(),
    };
    let mut keys = vec![key(Some(Layer::Board), "whole board")];
    if end.courses.iter().any(|course| course.ripped) {
        keys.push(key(Some(Layer::Ripped), "ripped board"));
    }
    keys.push(key(None, &thick.words));
    keys.push(key(None, "fasteners and grooves: not to scale"));
    keys.push(key(None, "measure first; guards on the saw"));
    foot(&mut scene, &Sign::of(subject), &title, &keys);
    scene
}

/// A section being drawn.
struct Cut<'a> {
    subject: &'a Subject<'a>,
    end: &'a End<'a>,
    layout: &'a Layout,
    scale: Scale,
    inwards: Inwards,
    /// Where the surface ends.
    edge: Paper,
    sides: Sides,
    /// How far down the frame is drawn.
    foot: Paper,
    above: Vec<Label>,
    below: Vec<Label>,
}

impl<'a> Cut<'a> {
    /// A place so far inwards of the surface's edge.
    fn x(&self, inwards: Length) -> Paper {
        match self.inwards {
            Inwards::Left => self.edge - self.scale.paper(inwards),
            Inwards::Right => self.edge + self.scale.paper(inwards),
        }
    }

    /// A rectangle between two places inwards.
    fn rect(&self, one: Length, other: Length, top: Paper, bottom: Paper) -> Rect {
        let [one, other] = [self.x(one), self.x(other)];
        Rect::new(one.min(other), top, one.max(other), bottom)
    }

    /// Sets where things are, the whole of it in the middle of the panel.
    fn place(&mut self, panel: &Rect, thick: Paper) {
        let outside = self.scale.paper(self.end.past()) + WALL;
        let inside = self.scale.paper(self.end.depth());
        // A little to the side of the edge, where the labels' leaders end.
        let spare = (panel.width() - outside - inside).max(0) / 3;
        self.edge = match self.inwards {
            Inwards::Left => panel.right - outside - spare,
            Inwards::Right => panel.left + outside + spare,
        };
        let above = HEADING + ABOVE * ROW + TO_LABELS;
        let high = above + thick + DEEP + BELOW + UNDER * ROW;
        let top = panel.top + above + (panel.height() - high).max(0) / 3;
        let bottom = top + thick;
        let depth = self.subject.job.frame.as_ref().map(|rules| {
            let joist = &self.subject.job.lumber[rules.joist];
            self.scale.paper(joist.depth)
        });
        self.foot = bottom + depth.unwrap_or(DEEP).min(DEEP);
        self.sides = Sides {
            top,
            bottom,
            screws: (bottom + self.foot) / 2,
        };
    }

    fn draw(&mut self, scene: &mut Scene, panel: &Rect) {
        self.frame(scene);
        self.bearing();
        self.boards(scene);
        self.holding(scene);
        self.outside(scene);
        let labels = self.above.iter().chain(&self.below);
        let said: Vec<&str> = labels.map(|label| label.words.as_str()).collect();
        scene.description = format!("Cut across the boards: {}.", said.join("; "));
        let (inwards, top) = (self.inwards, self.sides.top - TO_LABELS);
        let above = std::mem::take(&mut self.above);
        let highest = rows(scene, above, inwards, top, true, panel);
        let below = std::mem::take(&mut self.below);
        rows(scene, below, inwards, self.foot + BELOW, false, panel);
        let heading = format!("Section at the {} edge, beside a joist", self.end.name);
        let place = at(panel.left, highest - HEADING);
        scene.text(Layer::Label, Text::new(place, heading).bold(true));
    }

    fn above(&mut self, x: Paper, layer: Layer, words: String) {
        let y = self.sides.top;
        self.above.push(Label { x, y, layer, words });
    }

    fn below(&mut self, x: Paper, y: Paper, words: String) {
        let layer = Layer::Label;
        self.below.push(Label { x, y, layer, words });
    }

    /// The courses with their widths and gaps.
    fn boards(&mut self, scene: &mut Scene) {
        let terms = self.subject.terms;
        let mut named = None;
        let mut before: Option<&PlannedCourse> = None;
        let mut inwards = self.end.short;
        for course in self.end.courses.clone() {
            if let Some(outer) = before {
                let gap = gap_between(outer, course);
                let fastener = self.left_by(outer.number.min(course.number));
                let mut words = format!("gap {}", terms.short(gap));
                if let Some(clip) = fastener.filter(|one| one.kind == FastenerKind::Clip) {
                    if named.replace(&clip.name) != Some(&clip.name) {
                        words.push_str(&format!(", {} at each joist", clip.name));
                    }
                    if course.ripped {
                        words.push_str("; the sawn edge wants a groove");
                    }
                }
                let x = self.x(inwards + gap.half_down());
                self.above(x, Layer::Label, words);
                inwards += gap;
            }
            let (top, bottom) = (self.sides.top, self.sides.bottom);
            let rect = self.rect(inwards, inwards + course.width, top, bottom);
            let layer = match course.ripped {
                true => Layer::Ripped,
                false => Layer::Board,
            };
            let item = scene.put(layer, Shape::Rect(rect));
            item.named(course.number.to_string());
            match course.ripped {
                true => self.ripped(scene, course, rect, inwards),
                false => self.whole(scene, course, rect),
            }
            inwards += course.width;
            before = Some(course);
        }
    }

    fn ripped(&mut self, scene: &mut Scene, course: &PlannedCourse, rect: Rect, at: Length) {
        let Subject { job, terms, .. } = self.subject;
        let lines = hatching(&rect, 1_500);
        if !lines.is_empty() {
            scene.put(Layer::Hatch, Shape::Lines(lines));
        }
        let width = terms.short(course.width);
        let words = format!("course {}: rip to {width}", course.number);
        self.above(rect.middle().x, Layer::Accent, words);
        let off = terms.short(job.board.face - course.width);
        self.above(self.x(at), Layer::Label, format!("saw {off} off this side"));
        let inner = self.x(at + course.width);
        let kept = match self.left_by(self.inner_gap(course)) {
            Some(one) if one.kind == FastenerKind::Clip => "edge kept, its groove to the clips",
            _ => "edge kept",
        };
        self.above(inner, Layer::Label, kept.to_owned());
    }

    fn whole(&mut self, scene: &mut Scene, course: &PlannedCourse, rect: Rect) {
        let width = self.subject.terms.short(course.width);
        let words = format!("course {}, whole: {width}", course.number);
        let line = rect.top - 2_200;
        let place = at(rect.middle().x, line - 1_000);
        let text = [words.clone(), format!("{}: {width}", course.number)]
            .map(|words| Text::new(place, words).align(Align::Middle))
            .into_iter()
            .find(|text| text.length() + 6 * MM <= rect.width());
        let Some(text) = text else {
            return self.above(rect.middle().x, Layer::Label, words);
        };
        let mut lines = vec![[at(rect.left, line), at(rect.right, line)]];
        for x in [rect.left, rect.right] {
            lines.push([at(x, rect.top - MM / 2), at(x, line - MM)]);
            lines.push([at(x - TICK, line + TICK), at(x + TICK, line - TICK)]);
        }
        scene.put(Layer::Dimension, Shape::Lines(lines));
        scene
            .text(Layer::Across, text)
            .named(course.number.to_string());
    }

    /// The gap on a course's inner side, by the number of the course before it.
    fn inner_gap(&self, course: &PlannedCourse) -> u32 {
        match self.inwards {
            Inwards::Left => course.number.saturating_sub(1),
            Inwards::Right => course.number,
        }
    }

    /// What leaves the gap after a course.
    fn left_by(&self, course: u32) -> Option<&'a Fastener> {
        let place = (course as usize).checked_sub(1)?;
        let gap = self.layout.gaps.get(place)?;
        self.subject.job.fasteners.get(gap.fastener)
    }

    /// What goes through a course's face, if anything does: one gap beside it
    /// without clips is enough.
    fn through(&self, course: &PlannedCourse) -> Option<&'a Fastener> {
        let face = |one: &&'a Fastener| one.kind == FastenerKind::Face;
        if self.layout.gaps.is_empty() {
            let own = self.subject.job.fasteners.get(self.subject.plan.fastener);
            return own.filter(face);
        }
        let beside = [course.number.saturating_sub(1), course.number];
        let mut beside = beside.into_iter().filter_map(|gap| self.left_by(gap));
        beside.find(face)
    }

    /// Clips, starters and screws.
    fn holding(&mut self, scene: &mut Scene) {
        let mut said = false;
        let mut before: Option<&PlannedCourse> = None;
        let mut inwards = self.end.short;
        for course in self.end.courses.clone() {
            if let Some(outer) = before {
                let gap = gap_between(outer, course);
                let fastener = self.left_by(outer.number.min(course.number));
                if fastener.is_some_and(|one| one.kind == FastenerKind::Clip) {
                    // The inner course's edge here is its outer one.
                    let grooves = [true, !course.ripped];
                    self.clip(scene, inwards, inwards + gap, grooves);
                }
                inwards += gap;
            }
            let through = self.through(course);
            if let Some(fastener) = through {
                let places = self.screws(scene, inwards, course.width, fastener);
                if let Some(x) = places.first().filter(|_| !said) {
                    let plug = fastener.plug.as_ref();
                    let plug =
                        plug.map_or(String::new(), |plug| format!(", {} over each", plug.name));
                    let words = format!("{} through the face at each joist{plug}", fastener.name);
                    self.above(*x, Layer::Label, words);
                    said = true;
                }
            }
            if before.is_none() && through.is_none() {
                self.starter(scene, course, inwards);
            }
            inwards += course.width;
            before = Some(course);
        }
    }

    /// Whether the frame is under a place.
    fn over_frame(&self, x: Paper) -> bool {
        let frame = self.x(self.end.frame());
        match self.inwards {
            Inwards::Left => x <= frame,
            Inwards::Right => x >= frame,
        }
    }

    /// A clip between two places inwards; grooves of the outer side first.
    fn clip(&self, scene: &mut Scene, from: Length, to: Length, grooves: [bool; 2]) {
        let [outer, inner] = [self.x(from), self.x(to)];
        let held = self.over_frame((outer + inner) / 2);
        let (places, grooves) = match self.inwards {
            Inwards::Left => ([inner, outer], [grooves[1], grooves[0]]),
            Inwards::Right => ([outer, inner], grooves),
        };
        clip(scene, places, grooves, held, self.sides);
    }

    /// Screws across a course, the outermost first; where they are.
    fn screws(
        &self,
        scene: &mut Scene,
        from: Length,
        width: Length,
        fastener: &Fastener,
    ) -> Vec<Paper> {
        let [outer, inner] = [self.x(from), self.x(from + width)];
        let wide = (outer - inner).abs();
        let shares: &[Paper] = match wide {
            wide if wide < HOLDS => &[],
            wide if wide < 3 * HOLDS => &[50],
            _ if self.subject.job.board.face > TWO_SCREWS_UP_TO => &[15, 50, 85],
            _ => &[15, 85],
        };
        let places = shares
            .iter()
            .map(|share| outer + (inner - outer) * share / 100);
        let places: Vec<Paper> = places.filter(|x| self.over_frame(*x)).collect();
        for x in &places {
            screw(scene, *x, fastener.plug.is_some(), self.sides);
        }
        places
    }

    /// What holds the outer edge of a course that is held by clips inside.
    fn starter(&mut self, scene: &mut Scene, course: &PlannedCourse, at: Length) {
        let own = self.subject.job.fasteners.get(self.subject.plan.fastener);
        let Some(fastener) = self.left_by(self.inner_gap(course)).or(own) else {
            return;
        };
        let starter = fastener.starter.as_ref();
        let starter = starter.map(|goods| goods.name.as_str());
        let (x, screwed) = match course.ripped {
            true => {
                let places = self.screws(scene, at, course.width, fastener);
                let x = places.first().copied();
                (x.unwrap_or(self.x(at)), x.is_some())
            }
            false => {
                let stub = Length::from_units(Length::UNITS_PER_MM * 3);
                self.clip(scene, at - stub, at, [false, true]);
                (self.x(at), false)
            }
        };
        let words = match (starter, course.ripped, screwed) {
            (Some(name), false, _) => format!("{name} at each joist"),
            (Some(name), true, false) => format!("{name}: the sawn edge wants a groove"),
            (Some(name), true, true) => {
                format!("{name}: the sawn edge wants a groove, or a screw through the face")
            }
            (None, false, _) => "starter clip or face screw at each joist".to_owned(),
            (None, true, false) => "starter clip: the sawn edge wants a groove".to_owned(),
            (None, true, true) => {
                "face screw at each joist: the sawn edge has no groove".to_owned()
            }
        };
        self.above(x, Layer::Label, words);
    }
}

fn gap_between(one: &PlannedCourse, other: &PlannedCourse) -> Length {
    match one.from > other.from {
        true => one.from - other.to,
        false => other.from - one.to,
    }
}
