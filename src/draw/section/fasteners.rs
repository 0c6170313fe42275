//! What holds the last courses, seen in a section: clips in their grooves,
//! starters at an outer edge, screws through the face. Where each is comes from
//! the job's fasteners and the plan's gaps; how large it is drawn says nothing.

use super::super::layer::Layer;
use super::super::scene::{MM, Paper, Rect, Scene, Shape, at};

/// How thick a clip is drawn.
const CLIP: Paper = 600;
/// How far a clip reaches into a groove.
const WING: Paper = 2_200;
/// How wide a screw's head is drawn.
const HEAD: Paper = 1_800;

/// A board's upper and lower side in the drawing.
#[derive(Debug, Clone, Copy)]
pub struct Sides {
    pub top: Paper,
    pub bottom: Paper,
    /// How far down screws reach.
    pub screws: Paper,
}

impl Sides {
    fn middle(self) -> Paper {
        (self.top + self.bottom) / 2
    }
}

/// A clip between two sides across: it reaches into the grooves of the edges
/// that have one, and is screwed down where the frame is under it.
pub fn clip(
    scene: &mut Scene,
    [left, right]: [Paper; 2],
    grooves: [bool; 2],
    held: bool,
    sides: Sides,
) {
    let y = sides.middle();
    let wing = |has: bool| if has { WING } else { 0 };
    let plate = Rect::new(
        left - wing(grooves[0]),
        y - CLIP / 2,
        right + wing(grooves[1]),
        y + CLIP / 2,
    );
    for (has, x) in [
        (grooves[0], [plate.left - MM / 2, left]),
        (grooves[1], [right, plate.right + MM / 2]),
    ] {
        if has {
            let groove = Rect::new(x[0], y - CLIP, x[1], y + CLIP);
            scene.put(Layer::Offcut, Shape::Rect(groove));
        }
    }
    scene.put(Layer::Filled, Shape::Rect(plate)).named("clip");
    if !held {
        return;
    }
    let x = (left + right) / 2;
    scene.line(Layer::Trend, at(x, y), at(x, sides.screws));
}

/// A screw through a board's face, flush or under a plug.
pub fn screw(scene: &mut Scene, x: Paper, plugged: bool, sides: Sides) {
    let head = match plugged {
        true => Rect::new(
            x - HEAD / 2,
            sides.top,
            x + HEAD / 2,
            sides.top + (sides.bottom - sides.top) / 3,
        ),
        false => Rect::new(x - HEAD / 2, sides.top, x + HEAD / 2, sides.top + MM / 2),
    };
    let under = head.bottom;
    scene
        .line(Layer::Trend, at(x, under), at(x, sides.screws))
        .named("screw");
    let layer = if plugged {
        Layer::Offcut
    } else {
        Layer::Filled
    };
    scene.put(layer, Shape::Rect(head));
}
