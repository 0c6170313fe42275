//! A scene as SVG: shapes written one by one in millimetres, layers as groups
//! with their style. It formats numbers and escapes text, and decides nothing.

use std::fmt::Write;

use super::layer::{Ink, Layer};
use super::scene::{Align, Item, Paper, Point, Rect, Scene, Shape, Text, Turn};
use crate::text::clean;

/// Typefaces by preference, each no wider than what room was reckoned for.
const FAMILY: &str = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";

/// How much of the sheet is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// The whole sheet, as a file of its own.
    Sheet,
    /// What is inside the margins, to stand in a page that has its own.
    Inner,
}

/// The scene as an SVG file, or as an element that a page can hold.
pub fn svg(scene: &Scene, extent: Extent) -> String {
    let mut out = String::new();
    // Writing to a string cannot fail.
    let _ = write(scene, extent, &mut out);
    out
}

fn write(scene: &Scene, extent: Extent, out: &mut String) -> std::fmt::Result {
    let Rect { left, top, .. } = match extent {
        Extent::Sheet => scene.sheet,
        Extent::Inner => scene.inner,
    };
    let seen = match extent {
        Extent::Sheet => scene.sheet,
        Extent::Inner => scene.inner,
    };
    let [x, y, width, height] = [left, top, seen.width(), seen.height()].map(mm);
    if extent == Extent::Sheet {
        out.push_str("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    }
    writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"{x} {y} {width} {height}\" role=\"img\" font-family=\"{FAMILY}\">"
    )?;
    writeln!(out, "<title>{}</title>", escaped(&scene.title))?;
    writeln!(out, "<desc>{}</desc>", escaped(&scene.description))?;
    if extent == Extent::Sheet {
        writeln!(
            out,
            "<rect class=\"paper\" width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>"
        )?;
    }
    for layer in scene.items.chunk_by(|a, b| a.layer == b.layer) {
        group(layer, out)?;
    }
    out.push_str("</svg>\n");
    Ok(())
}

fn group(items: &[Item], out: &mut String) -> std::fmt::Result {
    let Some(first) = items.first() else {
        return Ok(());
    };
    write!(out, "<g class=\"{}\"", first.layer.name())?;
    if items
        .iter()
        .any(|item| !matches!(item.shape, Shape::Text(_)))
    {
        lines(first.layer, out)?;
    }
    out.push_str(">\n");
    for item in items {
        shape(item, out)?;
    }
    out.push_str("</g>\n");
    Ok(())
}

/// The style of lines and areas.
fn lines(layer: Layer, out: &mut String) -> std::fmt::Result {
    let style = layer.style();
    match style.fill {
        Some(fill) => write!(out, " fill=\"{}\"", colour(fill))?,
        None => out.push_str(" fill=\"none\""),
    }
    if style.width == 0 {
        return Ok(());
    }
    let (ink, width) = (colour(style.ink), mm(style.width));
    write!(out, " stroke=\"{ink}\" stroke-width=\"{width}\"")?;
    if let Some((dash, space)) = style.dash {
        write!(out, " stroke-dasharray=\"{} {}\"", mm(dash), mm(space))?;
    }
    Ok(())
}

fn shape(item: &Item, out: &mut String) -> std::fmt::Result {
    let name = match &item.name {
        Some(name) => format!(" data-name=\"{}\"", escaped(name)),
        None => String::new(),
    };
    let element = match &item.shape {
        Shape::Rect(rect) => {
            let [x, y, width, height] = [rect.left, rect.top, rect.width(), rect.height()].map(mm);
            write!(
                out,
                "<rect{name} x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\""
            )?;
            "rect"
        }
        Shape::Lines(lines) => {
            write!(out, "<path{name} d=\"")?;
            for [from, to] in lines {
                write!(out, "M{}L{}", pair(*from), pair(*to))?;
            }
            out.push('"');
            "path"
        }
        Shape::Polygon(points) => {
            let points: Vec<String> = points.iter().map(|point| pair(*point)).collect();
            write!(out, "<polygon{name} points=\"{}\"", points.join(" "))?;
            "polygon"
        }
        Shape::Text(text) => return write_text(item, text, &name, out),
    };
    match &item.note {
        Some(note) => writeln!(out, "><title>{}</title></{element}>", escaped(note)),
        None => writeln!(out, "/>"),
    }
}

fn write_text(item: &Item, text: &Text, name: &str, out: &mut String) -> std::fmt::Result {
    let [x, y, size] = [text.at.x, text.at.y, text.letters.size()].map(mm);
    let ink = colour(item.layer.style().ink);
    write!(
        out,
        "<text{name} x=\"{x}\" y=\"{y}\" font-size=\"{size}\" fill=\"{ink}\""
    )?;
    match text.align {
        Align::Start => {}
        Align::Middle => out.push_str(" text-anchor=\"middle\""),
        Align::End => out.push_str(" text-anchor=\"end\""),
    }
    if text.bold {
        out.push_str(" font-weight=\"bold\"");
    }
    if text.turn == Turn::Up {
        write!(out, " transform=\"rotate(-90 {x} {y})\"")?;
    }
    writeln!(out, ">{}</text>", escaped(&text.words))
}

fn pair(point: Point) -> String {
    format!("{},{}", mm(point.x), mm(point.y))
}

/// A length on paper in millimetres, to its last digit.
fn mm(length: Paper) -> String {
    let sign = if length < 0 { "-" } else { "" };
    let (whole, thousandths) = (length.abs() / 1_000, length.abs() % 1_000);
    let text = format!("{sign}{whole}.{thousandths:03}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn colour(Ink(red, green, blue): Ink) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// Text as XML takes it, in an element or between quotes. What XML cannot hold
/// at all, escaped or not, becomes a mark.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in clean(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{FFFE}' | '\u{FFFF}' => out.push('\u{FFFD}'),
            c => out.push(c),
        }
    }
    out
}
