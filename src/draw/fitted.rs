//! Texts made to fit the room there is: broken into lines between words, and
//! cut short with a mark where even that is not enough.

use super::font;
use super::scene::{Letters, Paper};
use crate::text::clean;

/// The space that no line ends at.
pub const NO_BREAK: char = '\u{a0}';

/// A text no longer than `room`, its end left out where it would be.
pub fn fitted(words: &str, letters: Letters, bold: bool, room: Paper) -> String {
    let words = clean(words);
    if font::width(&words, letters, bold) <= room {
        return words;
    }
    let mut kept = String::new();
    for c in words.chars() {
        let longer = format!("{kept}{c}");
        if font::width(&format!("{longer}..."), letters, bold) > room {
            break;
        }
        kept = longer;
    }
    format!("{}...", kept.trim_end())
}

/// A text in at most so many lines of small letters, none longer than `room`.
/// Words with a no-break space between them stay in one line.
pub fn lines(words: &str, most: usize, room: Paper) -> Vec<String> {
    let words = clean(words);
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ').filter(|word| !word.is_empty()) {
        let word = word.replace(NO_BREAK, " ");
        let full = lines.len() == most;
        match lines.last_mut() {
            Some(line) => {
                let longer = format!("{line} {word}");
                if full || font::width(&longer, Letters::Small, false) <= room {
                    *line = longer;
                } else {
                    lines.push(word);
                }
            }
            None => lines.push(word),
        }
    }
    lines
        .iter()
        .map(|line| fitted(line, Letters::Small, false, room))
        .collect()
}
