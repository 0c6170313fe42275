//! Scenes as one PDF, a page each, with bookmarks: its letters are embedded and
//! can be searched, and the same scenes give the same bytes. It turns exact
//! places on paper into points and decides nothing.

use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{self, Path, PathBuilder, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};
use krilla::{Data, Document, SerializeSettings};

use super::layer::{Ink, Style};
use super::letters::shown;
use super::scene::{Align, Item, Paper, Point, Scene, Shape, Text, Turn};
use crate::text::clean;

/// That a PDF could not be made; what the writer says of it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the PDF cannot be written: {0}")]
pub struct PdfError(String);

/// The two faces that drawings are lettered in.
struct Faces {
    plain: Font,
    bold: Font,
}

impl Faces {
    fn new() -> Option<Faces> {
        let face = |bytes: &'static [u8]| Font::new(Data::from(bytes.to_vec()), 0);
        Some(Faces {
            plain: face(dejavu::sans::regular())?,
            bold: face(dejavu::sans::bold())?,
        })
    }
}

/// The scenes as pages of one PDF.
///
/// # Errors
/// That the writer refuses one of its pages, as one without any size.
pub fn pdf(title: &str, scenes: &[Scene]) -> Result<Vec<u8>, PdfError> {
    let failed = |what: &str| PdfError(what.to_owned());
    let faces = Faces::new().ok_or_else(|| failed("its typeface cannot be read"))?;
    // No date and no random number: the same scenes are the same bytes.
    let mut document = Document::new_with(SerializeSettings::default());
    let title = clean(title);
    document.set_metadata(Metadata::new().title(title).language("en".to_owned()));
    let mut outline = Outline::new();
    for (number, scene) in scenes.iter().enumerate() {
        let [width, height] = [scene.sheet.width(), scene.sheet.height()].map(points);
        let settings = PageSettings::from_wh(width, height)
            .ok_or_else(|| failed("a sheet of paper has no size"))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for item in &scene.items {
            draw(&mut surface, item, &faces);
        }
        surface.finish();
        page.finish();
        let top = XyzDestination::new(number, geom::Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(clean(scene.drawn()), top));
    }
    document.set_outline(outline);
    document
        .finish()
        .map_err(|error| PdfError(format!("{error:?}")))
}

/// A length on paper in points of 1/72 in.
fn points(length: Paper) -> f32 {
    (length as f64 * 72.0 / 25_400.0) as f32
}

fn place(point: Point) -> (f32, f32) {
    (points(point.x), points(point.y))
}

fn colour(Ink(red, green, blue): Ink) -> krilla::paint::Paint {
    rgb::Color::new(red, green, blue).into()
}

fn filled(ink: Ink) -> Fill {
    Fill {
        paint: colour(ink),
        ..Fill::default()
    }
}

fn draw(surface: &mut Surface<'_>, item: &Item, faces: &Faces) {
    let style = item.layer.style();
    if let Shape::Text(text) = &item.shape {
        surface.set_stroke(None);
        surface.set_fill(Some(filled(style.ink)));
        return write(surface, text, faces);
    }
    let mut path = PathBuilder::new();
    let mut closed = |points: &[Point]| {
        for (k, point) in points.iter().enumerate() {
            let (x, y) = place(*point);
            match k {
                0 => path.move_to(x, y),
                _ => path.line_to(x, y),
            }
        }
        path.close();
    };
    match &item.shape {
        Shape::Rect(rect) => closed(&rect.corners()),
        Shape::Polygon(points) => closed(points),
        Shape::Lines(lines) => {
            for [from, to] in lines {
                let (x, y) = place(*from);
                path.move_to(x, y);
                let (x, y) = place(*to);
                path.line_to(x, y);
            }
        }
        Shape::Text(_) => {}
    }
    if let Some(path) = path.finish() {
        stroke(
            surface,
            &path,
            &style,
            matches!(item.shape, Shape::Lines(_)),
        );
    }
}

fn stroke(surface: &mut Surface<'_>, path: &Path, style: &Style, lines: bool) {
    let fill = style.fill.filter(|_| !lines);
    let dash = style.dash.map(|(dash, space)| StrokeDash {
        array: vec![points(dash), points(space)],
        offset: 0.0,
    });
    let stroke = (style.width > 0).then(|| Stroke {
        paint: colour(style.ink),
        width: points(style.width),
        dash,
        ..Stroke::default()
    });
    if fill.is_none() && stroke.is_none() {
        return;
    }
    surface.set_fill(fill.map(filled));
    surface.set_stroke(stroke);
    surface.draw_path(path);
}

fn write(surface: &mut Surface<'_>, text: &Text, faces: &Faces) {
    let words = clean(&text.words);
    let words = shown(&words, text.bold);
    let (x, y) = place(text.at);
    let size = points(text.letters.size());
    let before = match text.align {
        Align::Start => 0.0,
        Align::Middle => points(text.length()) / 2.0,
        Align::End => points(text.length()),
    };
    let turn = match text.turn {
        Turn::Level => Transform::from_translate(x, y),
        Turn::Up => Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y),
    };
    let face = if text.bold { &faces.bold } else { &faces.plain };
    surface.push_transform(&turn);
    let start = geom::Point::from_xy(-before, 0.0);
    surface.draw_text(
        start,
        face.clone(),
        size,
        &words,
        false,
        TextDirection::LeftToRight,
    );
    surface.pop();
}
