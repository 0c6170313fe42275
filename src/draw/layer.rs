//! Layers: what shapes stand for, and how each is drawn, alike in every format.
//! Widths of lines are those of technical drawings (ISO 128); hatching and width
//! carry the meaning and colour only repeats it, so that a black-and-white
//! printer loses nothing.

use super::scene::Paper;

/// A colour as its red, green and blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ink(pub u8, pub u8, pub u8);

const INK: Ink = Ink(0x1E, 0x23, 0x26);
const QUIET: Ink = Ink(0x5B, 0x64, 0x68);
const WHITE: Ink = Ink(0xFF, 0xFF, 0xFF);
const TINT: Ink = Ink(0xF1, 0xEC, 0xE2);
const ACCENT: Ink = Ink(0x1F, 0x5F, 0xA8);

/// What a shape stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// A piece of a whole board.
    Board,
    /// A piece that is ripped.
    Ripped,
    /// Hatching that says so.
    Hatch,
    /// What is left of a board.
    Offcut,
    /// That a piece is of a board begun in an earlier course.
    Borrowed,
    /// A butt joint.
    Joint,
    /// A joist under the boards.
    Joist,
    /// The frame under the boards.
    Frame,
    /// The outline of what the boards cover.
    Surface,
    /// A wall.
    House,
    /// Paper behind a text on boards.
    BoardBacking,
    /// Paper behind a text on hatching.
    Backing,
    /// The name of a piece.
    Piece,
    /// The number of a course.
    Course,
    /// Dimension lines.
    Dimension,
    /// A dimension across the boards.
    Across,
    /// A dimension along the boards.
    Along,
    /// What should be found first.
    Accent,
    /// Words beside the drawing.
    Label,
    /// Lines of the title block and of tables.
    Rule,
    /// A filled part of the scale bar; a point of a chart.
    Filled,
    /// From one point of a chart to the next.
    Trend,
}

/// How shapes of a layer are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Style {
    /// The colour of lines and of letters.
    pub ink: Ink,
    /// The width of lines; none are drawn where it is 0.
    pub width: Paper,
    /// Lengths of dashes and of the spaces between them.
    pub dash: Option<(Paper, Paper)>,
    /// What areas are filled with.
    pub fill: Option<Ink>,
}

impl Layer {
    /// What it is called in the formats that name it.
    pub fn name(self) -> &'static str {
        match self {
            Layer::Board => "board",
            Layer::Ripped => "ripped",
            Layer::Hatch => "hatch",
            Layer::Offcut => "offcut",
            Layer::Borrowed => "borrowed",
            Layer::Joint => "joint",
            Layer::Joist => "joist",
            Layer::Frame => "frame",
            Layer::Surface => "surface",
            Layer::House => "house",
            Layer::BoardBacking => "board-backing",
            Layer::Backing => "backing",
            Layer::Piece => "piece",
            Layer::Course => "course",
            Layer::Dimension => "dimension",
            Layer::Across => "across",
            Layer::Along => "along",
            Layer::Accent => "accent",
            Layer::Label => "label",
            Layer::Rule => "rule",
            Layer::Filled => "filled",
            Layer::Trend => "trend",
        }
    }

    /// How its shapes are drawn.
    pub fn style(self) -> Style {
        let line = |ink, width| Style {
            ink,
            width,
            dash: None,
            fill: None,
        };
        let filled = |ink, width, fill| Style {
            fill: Some(fill),
            ..line(ink, width)
        };
        match self {
            Layer::Board => filled(QUIET, 180, TINT),
            Layer::Ripped => filled(INK, 180, WHITE),
            Layer::Hatch => line(QUIET, 180),
            Layer::Offcut => filled(QUIET, 180, WHITE),
            Layer::Borrowed => Style {
                dash: Some((350, 900)),
                ..line(INK, 350)
            },
            Layer::Joint => line(INK, 500),
            Layer::Joist => Style {
                dash: Some((2_000, 1_000)),
                ..line(QUIET, 180)
            },
            Layer::Frame => Style {
                dash: Some((4_000, 1_200)),
                ..line(INK, 250)
            },
            Layer::Surface => line(INK, 500),
            Layer::House => line(INK, 180),
            Layer::BoardBacking => filled(INK, 0, TINT),
            Layer::Backing => filled(INK, 0, WHITE),
            Layer::Dimension => line(QUIET, 180),
            Layer::Rule => line(INK, 250),
            Layer::Trend => line(INK, 350),
            Layer::Filled => filled(INK, 180, INK),
            Layer::Accent => line(ACCENT, 350),
            Layer::Piece | Layer::Course | Layer::Across | Layer::Along | Layer::Label => {
                line(INK, 180)
            }
        }
    }
}
