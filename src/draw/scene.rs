//! A drawing as data: shapes at their places on the paper, each on a layer that
//! says what it stands for. It knows points, letters and how much room a text
//! takes; what is drawn, and how a format writes it, is left to others.

use super::font;
use super::layer::Layer;

/// A length on paper in thousandths of a millimetre.
pub type Paper = i64;

/// A millimetre of paper.
pub const MM: Paper = 1_000;

/// A place on the paper, from its upper left corner right and down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Point {
    /// From the left.
    pub x: Paper,
    /// From above.
    pub y: Paper,
}

/// A place on the paper.
pub const fn at(x: Paper, y: Paper) -> Point {
    Point { x, y }
}

/// A rectangle on the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rect {
    /// Its left side.
    pub left: Paper,
    /// Its upper side.
    pub top: Paper,
    /// Its right side; not left of `left`.
    pub right: Paper,
    /// Its lower side; not above `top`.
    pub bottom: Paper,
}

impl Rect {
    /// A rectangle between two sides each way.
    pub const fn new(left: Paper, top: Paper, right: Paper, bottom: Paper) -> Rect {
        Rect {
            left,
            top,
            right,
            bottom,
        }
    }

    /// Its size from left to right.
    pub fn width(&self) -> Paper {
        self.right - self.left
    }

    /// Its size from above.
    pub fn height(&self) -> Paper {
        self.bottom - self.top
    }

    /// Its middle.
    pub fn middle(&self) -> Point {
        at(self.left + self.width() / 2, self.top + self.height() / 2)
    }

    /// Its corners, round from the upper left one.
    pub fn corners(&self) -> [Point; 4] {
        [
            at(self.left, self.top),
            at(self.right, self.top),
            at(self.right, self.bottom),
            at(self.left, self.bottom),
        ]
    }

    /// The same, larger by so much on every side.
    pub fn grown(&self, by: Paper) -> Rect {
        Rect::new(
            self.left - by,
            self.top - by,
            self.right + by,
            self.bottom + by,
        )
    }

    /// Whether another lies wholly in it.
    pub fn holds(&self, other: &Rect) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }

    /// Whether another lies partly over it; sides that touch do not count.
    pub fn meets(&self, other: &Rect) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// How large letters are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Letters {
    /// 10 pt: capitals 2.5 mm high. Nothing is written smaller.
    Small,
    /// 14 pt: capitals 3.5 mm high.
    Medium,
    /// 20 pt: capitals 5 mm high.
    Large,
}

impl Letters {
    /// The size of the type in points.
    pub fn points(self) -> i64 {
        match self {
            Letters::Small => 10,
            Letters::Medium => 14,
            Letters::Large => 20,
        }
    }

    /// The size of the type on paper; a point is 1/72 in.
    pub fn size(self) -> Paper {
        self.points() * 25_400 / 72
    }
}

/// Which end of a text is at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// It starts there.
    Start,
    /// It is centred there.
    Middle,
    /// It ends there.
    End,
}

/// From where a text is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// From below.
    Level,
    /// From the right: it runs upwards.
    Up,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    /// Where its base line starts, is halved or ends.
    pub at: Point,
    /// Which of the three.
    pub align: Align,
    /// From where it is read.
    pub turn: Turn,
    /// How large its letters are.
    pub letters: Letters,
    /// Whether they are bold.
    pub bold: bool,
    /// What it says.
    pub words: String,
}

impl Text {
    /// A text in small letters that starts at a place.
    pub fn new(at: Point, words: impl Into<String>) -> Text {
        Text {
            at,
            align: Align::Start,
            turn: Turn::Level,
            letters: Letters::Small,
            bold: false,
            words: words.into(),
        }
    }

    /// The same in other letters.
    pub fn letters(self, letters: Letters) -> Text {
        Text { letters, ..self }
    }

    /// The same, bold if so.
    pub fn bold(self, bold: bool) -> Text {
        Text { bold, ..self }
    }

    /// The same, aligned otherwise.
    pub fn align(self, align: Align) -> Text {
        Text { align, ..self }
    }

    /// The same, to be read from the right.
    pub fn up(self) -> Text {
        Text {
            turn: Turn::Up,
            ..self
        }
    }

    /// How long it is at most, whatever plain typeface it is set in.
    pub fn length(&self) -> Paper {
        font::width(&self.words, self.letters, self.bold)
    }

    /// How far it reaches above its base line and below it.
    pub fn reach(&self) -> (Paper, Paper) {
        font::reach(&self.words, self.letters)
    }

    /// The room it takes.
    pub fn bounds(&self) -> Rect {
        let long = self.length();
        let (above, below) = self.reach();
        let before = match self.align {
            Align::Start => 0,
            Align::Middle => long / 2,
            Align::End => long,
        };
        let Point { x, y } = self.at;
        match self.turn {
            Turn::Level => Rect::new(x - before, y - above, x - before + long, y + below),
            Turn::Up => Rect::new(x - above, y + before - long, x + below, y + before),
        }
    }

    /// The same, moved so that the middle of its capitals is level with its place.
    pub fn centred(mut self) -> Text {
        let half = font::capital(self.letters) / 2;
        match self.turn {
            Turn::Level => self.at.y += half,
            Turn::Up => self.at.x += half,
        }
        self
    }
}

/// A shape.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shape {
    /// Straight lines that belong together.
    Lines(Vec<[Point; 2]>),
    /// A rectangle.
    Rect(Rect),
    /// A closed outline.
    Polygon(Vec<Point>),
    /// A line of text.
    Text(Text),
}

/// A shape, and what it stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// The layer it lies on.
    pub layer: Layer,
    /// The shape.
    pub shape: Shape,
    /// What it is called, where it stands for one thing: a piece's id, a course's number.
    pub name: Option<String>,
    /// What there is to say of it where a reader points at it.
    pub note: Option<String>,
}

/// A sheet of paper with all that is drawn on it, in the order it is drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scene {
    /// What is drawn, in few words.
    pub title: String,
    /// What there is to be seen, for readers who cannot see it.
    pub description: String,
    /// The whole sheet.
    pub sheet: Rect,
    /// The sheet inside its margins; nothing is drawn outside it.
    pub inner: Rect,
    /// The shapes.
    pub items: Vec<Item>,
    /// Where its number ends if it is one of several sheets.
    pub number: Option<Point>,
}

/// Numbers the sheets of a set, where there are several.
pub fn numbered(mut scenes: Vec<Scene>) -> Vec<Scene> {
    let of = scenes.len();
    for (k, scene) in scenes.iter_mut().enumerate() {
        if let Some(place) = scene.number.filter(|_| of > 1) {
            let words = format!("sheet {} of {of}", k + 1);
            scene.text(Layer::Label, Text::new(place, words).align(Align::End));
        }
    }
    scenes
}

impl Scene {
    /// An empty sheet.
    pub fn new(title: String, sheet: Rect, inner: Rect) -> Scene {
        Scene {
            title,
            description: String::new(),
            sheet,
            inner,
            items: Vec::new(),
            number: None,
        }
    }

    /// What is drawn, without the job it is of.
    pub fn drawn(&self) -> &str {
        self.title.rsplit(": ").next().unwrap_or_default()
    }

    /// Puts a shape on a layer.
    pub fn put(&mut self, layer: Layer, shape: Shape) -> &mut Item {
        let place = self.items.len();
        self.items.push(Item {
            layer,
            shape,
            name: None,
            note: None,
        });
        &mut self.items[place]
    }

    /// A line on a layer.
    pub fn line(&mut self, layer: Layer, from: Point, to: Point) -> &mut Item {
        self.put(layer, Shape::Lines(vec![[from, to]]))
    }

    /// A text on a layer.
    pub fn text(&mut self, layer: Layer, text: Text) -> &mut Item {
        self.put(layer, Shape::Text(text))
    }

    /// A text with blank paper of a layer behind it.
    pub fn backed(&mut self, backing: Layer, layer: Layer, text: Text) -> &mut Item {
        self.put(backing, Shape::Rect(text.bounds().grown(MM / 5)));
        self.text(layer, text)
    }

    /// All texts.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text),
            _ => None,
        })
    }
}

impl Item {
    /// Says what one thing the shape stands for.
    pub fn named(&mut self, name: impl Into<String>) -> &mut Item {
        self.name = Some(name.into());
        self
    }

    /// Says what there is to say of it.
    pub fn noted(&mut self, note: impl Into<String>) -> &mut Item {
        self.note = Some(note.into());
        self
    }

    /// The room it takes, its lines taken as thin.
    pub fn bounds(&self) -> Rect {
        let around = |points: &mut dyn Iterator<Item = Point>| {
            let first = points.next().unwrap_or(at(0, 0));
            points.fold(
                Rect::new(first.x, first.y, first.x, first.y),
                |rect, point| {
                    Rect::new(
                        rect.left.min(point.x),
                        rect.top.min(point.y),
                        rect.right.max(point.x),
                        rect.bottom.max(point.y),
                    )
                },
            )
        };
        match &self.shape {
            Shape::Lines(lines) => around(&mut lines.iter().flatten().copied()),
            Shape::Rect(rect) => *rect,
            Shape::Polygon(points) => around(&mut points.iter().copied()),
            Shape::Text(text) => text.bounds(),
        }
    }
}
