//! Letters that the embedded typeface lacks: what is shown in their place, and
//! a caution that names them. It knows the typeface; who is told is left to others.

use std::borrow::Cow;
use std::sync::LazyLock;

use ttf_parser::Face;
use unicode_width::UnicodeWidthChar;

use super::scene::{Scene, Text};
use crate::caution::Caution;
use crate::text::clean;

/// What is shown for a letter that the typeface lacks: a box.
pub const STAND_IN: char = '\u{25a1}';
/// So many letters are named.
const NAMED: usize = 12;

static FACES: LazyLock<[Option<Face<'static>>; 2]> = LazyLock::new(|| {
    let faces = [dejavu::sans::regular(), dejavu::sans::bold()];
    faces.map(|bytes| Face::parse(bytes, 0).ok())
});

/// Whether the typeface has a letter. One that takes no room, such as a joiner,
/// is not missed.
fn has(c: char, bold: bool) -> bool {
    let face = &FACES[usize::from(bold)];
    c.is_ascii()
        || face
            .as_ref()
            .is_some_and(|face| face.glyph_index(c).is_some())
}

/// Words as the typeface can show them.
pub fn shown(words: &str, bold: bool) -> Cow<'_, str> {
    match words.chars().all(|c| has(c, bold)) {
        true => Cow::Borrowed(words),
        false => {
            let shown = |c: char| match (has(c, bold), c.width()) {
                (true, _) => Some(c),
                (false, Some(0)) => None,
                (false, _) => Some(STAND_IN),
            };
            Cow::Owned(words.chars().filter_map(shown).collect())
        }
    }
}

/// The letters of texts that a box stands for, each once.
fn lacking<'a>(texts: impl Iterator<Item = &'a Text>) -> Vec<char> {
    let mut found = Vec::new();
    for text in texts {
        for c in clean(&text.words).chars() {
            if !has(c, text.bold) && c.width() != Some(0) && !found.contains(&c) {
                found.push(c);
            }
        }
    }
    found
}

/// A caution where scenes have letters that the typeface lacks.
pub fn lacking_letters<'a>(scenes: impl IntoIterator<Item = &'a Scene>) -> Option<Caution> {
    let lacking = lacking(scenes.into_iter().flat_map(Scene::texts));
    if lacking.is_empty() {
        return None;
    }
    let named = lacking.iter().take(NAMED);
    let named: Vec<String> = named
        .map(|&c| format!("{c} (U+{:04X})", u32::from(c)))
        .collect();
    let more = match lacking.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Some(Caution::new(
        format!(
            "the typeface of PDF and PNG lacks {}{more}",
            named.join(", ")
        ),
        format!(
            "a box, {STAND_IN}, stands for each of them; SVG and HTML take the reader's typefaces"
        ),
    ))
}
