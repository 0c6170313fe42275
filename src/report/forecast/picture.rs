//! The end of the deck as a row of boards in text, ripped courses drawn to
//! their share of a board. It draws what a forecast says and measures nothing.

use std::ops::Range;

use crate::courses::Forecast;
use crate::length::Length;

/// Columns of a whole board; a column is drawn to an eighth.
const WHOLE: i64 = 12;

/// Whole boards drawn at the end of a long deck, before the last one.
const TAIL: i64 = 3;

/// One line: `… ████████████ ████████████ ███████▍····│`, the dots what is
/// ripped off, the bar the last edge.
pub fn picture(forecast: &Forecast) -> String {
    let outcome = &forecast.outcome;
    let face = forecast.across.face;
    let boards = |courses: Range<i64>| courses.map(|k| board(forecast.course_width(k), face));
    // A ripped first course is worth seeing too.
    let head = match outcome.first_width {
        Some(width) if width < face => 1,
        _ => 0,
    };
    let mut parts: Vec<String> = Vec::new();
    if outcome.laid <= head + TAIL {
        parts.extend(boards(0..outcome.laid));
    } else {
        parts.extend(boards(0..head));
        parts.push("…".to_string());
        parts.extend(boards(outcome.laid - TAIL..outcome.laid));
    }
    let mut line = parts.join(" ");
    if outcome.short_by > Length::ZERO {
        let space = (outcome.short_by.units() * WHOLE / face.units()).clamp(1, WHOLE);
        line.push_str(&" ".repeat(space as usize));
    }
    line.push('│');
    line
}

/// A board, what is ripped off drawn as dots.
fn board(width: Length, face: Length) -> String {
    const PARTS: [&str; 8] = ["", "▏", "▎", "▍", "▌", "▋", "▊", "▉"];
    let eighths = i128::from(width.units()) * i128::from(8 * WHOLE) / i128::from(face.units());
    // Something that is there is seen.
    let eighths = (eighths as i64).clamp(1, 8 * WHOLE);
    let mut text = "█".repeat((eighths / 8) as usize);
    text.push_str(PARTS[(eighths % 8) as usize]);
    let used = (eighths + 7) / 8;
    text.push_str(&"·".repeat((WHOLE - used) as usize));
    text
}
