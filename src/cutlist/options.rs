//! Boards and pieces as options: `16ft@41.50x10:5`, `rail=12x4ft`.

use super::reader::{Reader, Text};
use crate::length::Length;

const BOARD_HELP: &str =
    "write LENGTH@PRICE, and xAVAILABLE behind it where the yard has only so many: 16ft@41.50x10";
const BUNDLE_HELP: &str = "the boards in a bundle stand last, behind a colon, and the price is of one board: 16ft@41.50x40:8";
const PIECE_HELP: &str = "write COUNTxLENGTH, and LABEL= before it if you like: rail=12x4ft";

/// What parts a count from what is counted.
const TIMES: [char; 3] = ['x', 'X', '×'];

/// A board: `LENGTH[@PRICE][xAVAILABLE][:BUNDLE]`.
pub(super) fn stock(reader: &mut Reader, source: usize) {
    let whole = reader.whole(source);
    let text = reader.text(source).to_owned();
    if text.trim().is_empty() {
        return reader.wrong(&whole, "a board is missing here", BOARD_HELP);
    }
    let (rest, bundle) = match split_last(&text, &[':']) {
        Some((before, after)) => (before, Some(after)),
        None => (0..text.len(), None),
    };
    let (rest, available) = match split_last(&text[rest.clone()], &TIMES) {
        Some((before, after)) => (before, Some(after)),
        None => (rest, None),
    };
    let (length, price) = match text[rest.clone()].find('@') {
        Some(at) => (rest.start..at, Some(at + 1..rest.end)),
        None => (rest, None),
    };
    let part = |span| Text::new(source, span);
    // Each part is read whatever the others are, so that all mistakes are told.
    let length = reader.positive(&part(length), "a board");
    let price = match price {
        Some(price) => reader.price(&part(price)).map(Some),
        None => Some(None),
    };
    let available = match available {
        Some(count) => reader.count(&part(count), "boards").map(Some),
        None => Some(None),
    };
    let bundle = match bundle {
        Some(span) if text[span.clone()].contains(TIMES) => {
            let at = part(span);
            let (wrong, at) = reader.trimmed(&at);
            let message = format!("\"{wrong}\" is not a number of boards in a bundle");
            reader.wrong(&at, message, BUNDLE_HELP);
            None
        }
        Some(span) => reader.bundle(&part(span)),
        None => Some(1),
    };
    if let (Some(length), Some(price), Some(available), Some(bundle)) =
        (length, price, available, bundle)
    {
        reader.board(whole, length, price, available, bundle);
    }
}

/// Pieces: `[LABEL=]COUNTxLENGTH`.
pub(super) fn piece(reader: &mut Reader, source: usize) {
    let whole = reader.whole(source);
    let text = reader.text(source).to_owned();
    if text.trim().is_empty() {
        return reader.wrong(&whole, "a piece is missing here", PIECE_HELP);
    }
    let (label, start) = match text.rfind('=') {
        Some(at) => (Some(text[..at].trim().to_string()), at + 1),
        None => (None, 0),
    };
    let part = |span| Text::new(source, span);
    let Some(times) = text[start..].find(TIMES).map(|at| start + at) else {
        return reader.wrong(
            &part(start..text.len()),
            format!("\"{}\" does not say how many pieces", text[start..].trim()),
            PIECE_HELP,
        );
    };
    let after = times + text[times..].chars().next().map_or(0, char::len_utf8);
    let count = reader.count(&part(start..times), "pieces");
    let length = reader.positive(&part(after..text.len()), "a piece");
    if let (Some(count), Some(length)) = (count, length) {
        reader.piece(label, length, count);
    }
}

/// Kerf or end trim: a length of 0 or more.
pub(super) fn saw(reader: &mut Reader, name: &str, text: Option<&str>) -> Option<Length> {
    let source = reader.source(name, text?);
    let whole = reader.whole(source);
    let length = reader.length(&whole)?;
    if length.is_negative() {
        reader.wrong(
            &whole,
            format!("{name} is below zero"),
            "a saw cut or trim takes 0 or more",
        );
    }
    Some(length)
}

/// The stretches before and behind the last of some letters.
fn split_last(
    text: &str,
    letters: &[char],
) -> Option<(std::ops::Range<usize>, std::ops::Range<usize>)> {
    let at = text.rfind(letters)?;
    let after = at + text[at..].chars().next()?.len_utf8();
    Some((0..at, after..text.len()))
}
