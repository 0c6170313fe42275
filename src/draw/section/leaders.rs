//! Labels with leaders above and below a drawing: each has a row of its own, the
//! innermost the nearest one, so that no leader meets a label. It knows places
//! and words; what they say is left to the drawing.

use super::super::fitted::fitted;
use super::super::layer::Layer;
use super::super::scene::{Align, Letters, MM, Paper, Rect, Scene, Text, at};

/// From one row of labels to the next.
pub const ROW: Paper = 4_700;
/// From a leader to its label.
const AWAY: Paper = 1_200;

/// A label, and where its leader begins.
pub struct Label {
    pub x: Paper,
    pub y: Paper,
    pub layer: Layer,
    pub words: String,
}

/// Which way the drawing reaches inwards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Inwards {
    Left,
    Right,
}

/// Writes labels in rows from a line up, or down: the first row is at `line`,
/// and each further one a row beyond it. Gives where the last one ends.
pub fn rows(
    scene: &mut Scene,
    mut labels: Vec<Label>,
    inwards: Inwards,
    line: Paper,
    upwards: bool,
    panel: &Rect,
) -> Paper {
    // What lies furthest inwards has the nearest row: labels run inwards from
    // their leaders, over those that end in nearer rows.
    match inwards {
        Inwards::Left => labels.sort_by_key(|label| label.x),
        Inwards::Right => labels.sort_by_key(|label| -label.x),
    }
    let row = if upwards { -ROW } else { ROW };
    let mut y = line;
    for label in labels {
        let bold = label.layer == Layer::Accent;
        let (align, from, room) = match inwards {
            Inwards::Left => (Align::End, label.x - AWAY, label.x - AWAY - panel.left),
            Inwards::Right => (Align::Start, label.x + AWAY, panel.right - label.x - AWAY),
        };
        let words = fitted(&label.words, Letters::Small, bold, room);
        scene.line(Layer::Dimension, at(label.x, label.y), at(label.x, y));
        let to = match inwards {
            Inwards::Left => label.x - AWAY + MM / 2,
            Inwards::Right => label.x + AWAY - MM / 2,
        };
        scene.line(Layer::Dimension, at(label.x, y), at(to, y));
        let text = Text::new(at(from, y), words).align(align).bold(bold);
        scene.text(label.layer, text.centred());
        y += row;
    }
    y - row
}
