//! What is behind the last courses in a section: joist and rim or ledger, and
//! outside of them fascia and overhang, or the wall; and how far the outermost
//! board rests on them. Sizes are the job's where it says them.

use super::super::Subject;
use super::super::layer::Layer;
use super::super::place::hatching;
use super::super::scene::{Align, MM, Paper, Rect, Scene, Shape, Text, at};
use super::leaders::{Inwards, Label};
use super::{Cut, TICK, WALL};
use crate::job::Edge;
use crate::length::Length;

impl Cut<'_> {
    /// How far the outermost board rests on the frame, where that is less than half.
    pub fn bearing(&mut self) {
        let terms = self.subject.terms;
        let Some(course) = self.end.courses.first() else {
            return;
        };
        let [outer, inner] = [self.end.short, self.end.short + course.width];
        let on = inner - self.end.frame().max(outer);
        // Half a board and more says itself that it rests there.
        if on * 2 >= course.width {
            return;
        }
        let number = course.number;
        let (layer, words) = match on > Length::ZERO {
            true => (
                Layer::Label,
                format!("course {number} rests on {} of the frame", terms.short(on)),
            ),
            false => (
                Layer::Accent,
                format!("nothing of the frame is under course {number}"),
            ),
        };
        let x = self.x(inner);
        let y = self.sides.bottom;
        self.below.push(Label { x, y, layer, words });
    }

    /// What of the frame is behind the boards.
    pub fn frame(&mut self, scene: &mut Scene) {
        let Subject { job, .. } = self.subject;
        let (top, bottom) = (self.sides.bottom, self.foot);
        let outside = self.end.frame();
        let rules = job.frame.as_ref();
        let wall = matches!(self.end.edge, Edge::Wall { .. });
        let border = rules.map(|rules| match rules.ledger.filter(|_| wall) {
            Some(ledger) => (&job.lumber[ledger], 1, "ledger"),
            None => (&job.lumber[rules.rim], rules.rims, "rim"),
        });
        let border_wide = border.map_or(Length::ZERO, |(lumber, plies, _)| {
            lumber.thickness * i64::from(plies)
        });
        let [outer, inner] = [outside + border_wide, self.end.short + self.end.boards()];
        let joist = self.rect(outer.min(inner), inner, top, bottom);
        if outer < inner {
            self.joist(scene, joist);
        }
        if let Some((lumber, plies, what)) = border {
            for ply in 0..i64::from(plies) {
                let from = outside + lumber.thickness * ply;
                let rect = self.rect(from, from + lumber.thickness, top, bottom);
                crossed(scene, rect, what);
            }
            let several = match plies {
                1 => String::new(),
                plies => format!("{plies} × "),
            };
            let x = self.x(outside + border_wide.half_down());
            self.below(x, bottom, format!("{what}, {several}{}", lumber.size));
        } else {
            let x = self.x(outside);
            scene.line(Layer::Frame, at(x, top), at(x, bottom));
            self.below(x, bottom, "outside of the frame".to_owned());
        }
        // Broken off where it goes on.
        let from = self.x(outside).min(joist.left);
        let to = self.x(outside).max(joist.right);
        broken(scene, [from, to], bottom);
    }

    /// The joist, named past the screws and away from where it is broken off.
    fn joist(&mut self, scene: &mut Scene, rect: Rect) {
        let job = self.subject.job;
        scene.put(Layer::Offcut, Shape::Rect(rect)).named("joist");
        let words = match &job.frame {
            Some(rules) => format!("joist, {}", job.lumber[rules.joist].size),
            None => "joist".to_owned(),
        };
        let y = rect.bottom - 5 * MM;
        let text = match self.inwards {
            Inwards::Left => Text::new(at(rect.left + 4 * MM, y), words),
            Inwards::Right => Text::new(at(rect.right - 4 * MM, y), words).align(Align::End),
        };
        if rect.grown(-MM).holds(&text.bounds()) && text.bounds().top > self.sides.screws {
            scene.text(Layer::Label, text);
        } else {
            let x = self
                .x(self.end.short + self.end.boards())
                .midpoint(rect.middle().x);
            self.below(x, rect.bottom, text.words);
        }
    }

    /// What is outside of the frame: fascia and overhang, or the wall.
    pub fn outside(&mut self, scene: &mut Scene) {
        let terms = self.subject.terms;
        let (top, under) = (self.sides.top, self.sides.bottom);
        if self.end.short > Length::ZERO {
            let edge = self.edge;
            scene.line(
                Layer::Surface,
                at(edge, top - 2 * MM),
                at(edge, under + 2 * MM),
            );
            let x = self.x(self.end.short.half_down());
            let words = format!("{} left open", terms.short(self.end.short));
            self.above(x, Layer::Accent, words);
        }
        match self.end.edge {
            Edge::Wall { clearance } => {
                let face = self.x(-*clearance);
                let rect = match self.inwards {
                    Inwards::Left => Rect::new(face, top - 4 * MM, face + WALL, self.foot),
                    Inwards::Right => Rect::new(face - WALL, top - 4 * MM, face, self.foot),
                };
                scene.put(Layer::House, Shape::Lines(hatching(&rect, 2 * MM)));
                scene.line(Layer::House, at(face, rect.top), at(face, rect.bottom));
                let x = self.x(-clearance.half_down());
                let words = format!("{} clear of the wall", terms.short(*clearance));
                self.above(x, Layer::Label, words);
                let label = Label {
                    x: rect.middle().x,
                    y: rect.bottom,
                    layer: Layer::Label,
                    words: "house wall".to_owned(),
                };
                self.below.push(label);
            }
            Edge::Open { fascia, .. } => {
                let outside = self.end.frame();
                let face = self.end.face;
                if *fascia > Length::ZERO {
                    let rect = self.rect(face, face + *fascia, under, self.foot);
                    crossed(scene, rect, "fascia");
                    let off = match outside - face - *fascia {
                        Length::ZERO => String::new(),
                        off => format!(", {} off the frame", terms.short(off)),
                    };
                    let words = format!("fascia {}{off}", terms.short(*fascia));
                    self.below(rect.middle().x, self.foot, words);
                }
                let what = match *fascia > Length::ZERO {
                    true => "fascia",
                    false => "frame",
                };
                let y = under + 3 * MM;
                let words = match face {
                    Length::ZERO => format!("edge flush with the {what}"),
                    set if set > Length::ZERO => {
                        format!("overhang {} past the {what}", terms.short(set))
                    }
                    set => format!("edge {} inside the {what}", terms.short(-set)),
                };
                let ends = [self.x(Length::ZERO), self.x(face)];
                let mut lines = vec![[at(ends[0], y), at(ends[1], y)]];
                for x in ends {
                    lines.push([at(x, under + MM / 2), at(x, y + MM)]);
                    lines.push([at(x - TICK, y + TICK), at(x + TICK, y - TICK)]);
                }
                scene.put(Layer::Dimension, Shape::Lines(lines));
                self.below((ends[0] + ends[1]) / 2, y, words);
            }
        }
    }
}

/// A member that is cut through: its ends crossed.
fn crossed(scene: &mut Scene, rect: Rect, name: &str) {
    scene.put(Layer::Offcut, Shape::Rect(rect)).named(name);
    let [a, b, c, d] = rect.corners();
    scene.put(Layer::Dimension, Shape::Lines(vec![[a, c], [b, d]]));
}

/// A line where what is drawn goes on: level, with a kink in its middle.
fn broken(scene: &mut Scene, [from, to]: [Paper; 2], y: Paper) {
    let middle = (from + to) / 2;
    let points = [
        at(from - 2 * MM, y),
        at(middle - 1_200, y),
        at(middle - 500, y - 1_800),
        at(middle + 500, y + 1_800),
        at(middle + 1_200, y),
        at(to + 2 * MM, y),
    ];
    let lines = points.windows(2).map(|pair| [pair[0], pair[1]]).collect();
    scene.put(Layer::Dimension, Shape::Lines(lines));
}
