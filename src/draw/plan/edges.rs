//! The four edges in the plan drawing: walls hatched and named, open edges
//! named, and how much room all that stands beside the boards takes.

use super::super::Subject;
use super::super::fitted::fitted;
use super::super::layer::Layer;
use super::super::place::hatching;
use super::super::scene::{Align, Letters, MM, Paper, Rect, Scene, Shape, Text, at};
use super::AWAY;
use super::dimensions::{self, Across, Along};
use super::tiles::Window;
use crate::job::Edge;

/// How thick a wall is drawn.
const BAND: Paper = 6 * MM;
/// The room an edge's name takes.
const NAME: Paper = 5_500;

/// An edge as it is drawn.
#[derive(Debug, Clone)]
struct Side {
    wall: bool,
    name: String,
}

/// The edges at the left, above, at the right and below.
#[derive(Debug, Clone)]
pub struct Sides {
    sides: [Side; 4],
    /// What stands between each edge and its name.
    beside: [Paper; 4],
    /// Whether open edges are named where they are, and not among the keys.
    named: bool,
}

impl Sides {
    /// The edges of a plan.
    pub fn of(subject: &Subject<'_>, window: &Window, across: &Across, along: &Along) -> Sides {
        let Subject {
            job, plan, terms, ..
        } = subject;
        let side = |edge: &Edge, name: &str| match edge {
            Edge::Wall { clearance } => Side {
                wall: true,
                name: format!("house wall, {} clear", terms.short(*clearance)),
            },
            Edge::Open {
                fascia, overhang, ..
            } => {
                let mut words = format!("{name} edge");
                if fascia.units() != 0 {
                    words.push_str(&format!(", fascia {}", terms.short(*fascia)));
                }
                if overhang.set.units() != 0 {
                    words.push_str(&format!(", overhang {}", terms.short(overhang.set)));
                }
                Side {
                    wall: false,
                    name: words,
                }
            }
        };
        let edges = &job.edges;
        let sides = [
            side(&edges.left, "left"),
            side(&edges.last, "last"),
            side(&edges.right, "right"),
            side(&edges.first, "first"),
        ];
        let mut number = 0;
        let sides = sides.map(|side| {
            let goes_on = window.goes_on(number);
            number += 1;
            match goes_on {
                Some(name) => Side { wall: false, name },
                None => side,
            }
        });
        Sides {
            sides,
            beside: [dimensions::numbers(plan), 0, across.taken(), along.taken()],
            named: true,
        }
    }

    /// The same, with the open edges' names left to the keys.
    pub fn unnamed(self) -> Sides {
        Sides {
            named: false,
            ..self
        }
    }

    /// The open edges' names, where they are left to the keys.
    pub fn left_to_keys(&self) -> impl Iterator<Item = &str> {
        let open = self.sides.iter().filter(|side| !self.named && !side.wall);
        open.map(|side| side.name.as_str())
    }

    /// How thick the walls are drawn on each side.
    pub fn bands(&self) -> [Paper; 4] {
        std::array::from_fn(|k| if self.sides[k].wall { BAND } else { 0 })
    }

    /// The room all that stands beside the boards takes on each side.
    fn taken(&self) -> [Paper; 4] {
        std::array::from_fn(|k| match self.sides[k].wall {
            true => BAND + self.beside[k] + AWAY / 2,
            false if self.named => self.beside[k] + NAME + AWAY / 2,
            false => self.beside[k] + AWAY / 2,
        })
    }

    /// The room left for the boards themselves.
    pub fn free(&self, room: Rect) -> Rect {
        let [left, top, right, bottom] = self.taken();
        Rect::new(
            room.left + left,
            room.top + top,
            room.right - right,
            room.bottom - bottom,
        )
    }

    /// Draws the walls around what there is of deck.
    pub fn walls(&self, scene: &mut Scene, around: Rect) {
        let band = |k: usize| match k {
            0 => Rect {
                right: around.left,
                left: around.left - BAND,
                ..around
            },
            1 => Rect {
                bottom: around.top,
                top: around.top - BAND,
                ..around
            },
            2 => Rect {
                left: around.right,
                right: around.right + BAND,
                ..around
            },
            _ => Rect {
                top: around.bottom,
                bottom: around.bottom + BAND,
                ..around
            },
        };
        for (k, side) in self.sides.iter().enumerate() {
            if !side.wall {
                continue;
            }
            let band = band(k);
            scene.put(Layer::House, Shape::Lines(hatching(&band, 2 * MM)));
            let upright = k % 2 == 0;
            let room = if upright { band.height() } else { band.width() };
            let words = fitted(&side.name, Letters::Small, true, room - 4 * MM);
            let text = Text::new(band.middle(), words)
                .align(Align::Middle)
                .bold(true);
            let text = if upright { text.up() } else { text };
            let text = text.centred();
            let blank = match upright {
                true => Rect {
                    left: band.left,
                    right: band.right,
                    ..text.bounds().grown(MM)
                },
                false => Rect {
                    top: band.top,
                    bottom: band.bottom,
                    ..text.bounds().grown(MM)
                },
            };
            scene.put(Layer::Backing, Shape::Rect(blank));
            scene.text(Layer::Label, text);
            let edge = match k {
                0 => [at(band.right, band.top), at(band.right, band.bottom)],
                1 => [at(band.left, band.bottom), at(band.right, band.bottom)],
                2 => [at(band.left, band.top), at(band.left, band.bottom)],
                _ => [at(band.left, band.top), at(band.right, band.top)],
            };
            scene.line(Layer::House, edge[0], edge[1]);
        }
    }

    /// Names the open edges, outside of what else stands beside them.
    pub fn names(&self, scene: &mut Scene, around: Rect) {
        for (k, side) in self.sides.iter().enumerate() {
            if side.wall || !self.named {
                continue;
            }
            let away = self.beside[k] + NAME / 2 + MM / 2;
            let middle = around.middle();
            let place = match k {
                0 => at(around.left - away, middle.y),
                1 => at(middle.x, around.top - away),
                2 => at(around.right + away, middle.y),
                _ => at(middle.x, around.bottom + away),
            };
            let upright = k % 2 == 0;
            let room = if upright {
                around.height()
            } else {
                around.width()
            };
            let words = fitted(&side.name, Letters::Small, false, room);
            let text = Text::new(place, words).align(Align::Middle);
            let text = if upright { text.up() } else { text };
            scene.text(Layer::Label, text.centred());
        }
    }
}
