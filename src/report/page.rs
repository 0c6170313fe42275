//! A text answer put together thought by thought: the answer in bold, figures,
//! tables, cautions, and what one could do next, with one blank line between
//! thoughts. It knows widths and styles; what is said is left to its users.

use anstyle::{AnsiColor, Style};
use unicode_width::UnicodeWidthStr;

use super::Table;
use crate::caution::Caution;
use crate::text::wrap;

/// How the answer itself stands out.
pub const ANSWER: Style = Style::new().bold();
/// How a word that asks for a decision stands out; the word is there without it.
pub const ACCENT: Style = AnsiColor::Yellow.on_default().bold();

/// A text answer under construction.
///
/// Styles are written as ANSI sequences; whoever prints the page strips them
/// where they are not wanted, or calls [`plain`].
///
/// ```
/// use lastcourse::report::{Page, plain};
///
/// let mut page = Page::new(40);
/// page.answer("44 boards for $1,672.00; no plan can cost less.");
/// page.line("Boards of three lengths.");
/// assert_eq!(
///     plain(&page.finish()),
///     "44 boards for $1,672.00; no plan can\ncost less.\n\nBoards of three lengths.\n"
/// );
/// ```
#[derive(Debug, Clone)]
pub struct Page {
    width: usize,
    text: String,
}

impl Page {
    /// An empty page, so many columns wide.
    pub fn new(width: usize) -> Page {
        Page {
            width: width.max(20),
            text: String::new(),
        }
    }

    /// The columns the page has.
    pub fn width(&self) -> usize {
        self.width
    }

    /// The answer in one sentence, bold, as a thought of its own.
    pub fn answer(&mut self, sentence: &str) {
        self.space();
        for line in wrap(sentence, self.width) {
            self.text.push_str(&format!("{ANSWER}{line}{ANSWER:#}\n"));
        }
        self.text.push('\n');
    }

    /// One line of the thought under way, wrapped with its rest indented.
    pub fn line(&mut self, text: &str) {
        self.hanging("", text);
    }

    /// A line that starts with a mark, its rest indented by the mark's width.
    pub fn hanging(&mut self, mark: &str, text: &str) {
        let indent = if mark.is_empty() { 2 } else { mark.width() };
        let rest = self.width.saturating_sub(indent);
        for (k, line) in wrap(text, if mark.is_empty() { self.width } else { rest })
            .iter()
            .enumerate()
        {
            let lead = match (k, mark.is_empty()) {
                (0, _) => mark.to_string(),
                (_, true) => String::new(),
                (_, false) => " ".repeat(indent),
            };
            self.text.push_str(&format!("{lead}{line}\n"));
        }
    }

    /// Ends the thought under way: the next one starts after a blank line.
    pub fn space(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// A heading over what follows, plain and with a colon's worth of rest.
    pub fn heading(&mut self, text: &str) {
        self.space();
        self.line(text);
    }

    /// A table; it stands close under the line before it.
    pub fn table(&mut self, table: &Table) {
        self.text.push_str(&table.render(self.width));
    }

    /// A figure drawn in text, taken as it is.
    pub fn figure(&mut self, lines: &str) {
        self.text.push_str(lines);
        if !lines.ends_with('\n') {
            self.text.push('\n');
        }
    }

    /// Cautions, each its own thought: the word, what is the matter, what to do.
    pub fn cautions(&mut self, cautions: &[Caution]) {
        for caution in cautions {
            self.space();
            let said = format!(
                "Caution: {}. {}.",
                caution.message.trim_end_matches('.'),
                capital(caution.help.trim_end_matches('.'))
            );
            for (k, line) in wrap(&said, self.width).iter().enumerate() {
                match line.strip_prefix("Caution:").filter(|_| k == 0) {
                    Some(rest) => {
                        self.text
                            .push_str(&format!("{ACCENT}Caution:{ACCENT:#}{rest}\n"));
                    }
                    None => self.text.push_str(&format!("{line}\n")),
                }
            }
        }
    }

    /// What one could do next: a choice and the command for it, ready to use.
    pub fn next(&mut self, choices: &[(String, String)]) {
        if choices.is_empty() {
            return;
        }
        self.space();
        for (choice, command) in choices {
            self.line(&format!("{choice}:"));
            self.text.push_str(&format!("  {command}\n"));
        }
    }

    /// The page as text, ending in one line break.
    pub fn finish(mut self) -> String {
        while self.text.ends_with("\n\n") {
            self.text.pop();
        }
        self.text
    }
}

/// A sentence started with a capital letter.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// Text without ANSI styles.
pub fn plain(text: &str) -> String {
    anstream::adapter::strip_str(text).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caution_says_the_word_and_what_to_do() {
        let mut page = Page::new(80);
        page.answer("Done.");
        page.cautions(&[Caution::new("the bay is wide", "add a support")]);
        assert_eq!(
            plain(&page.finish()),
            "Done.\n\nCaution: the bay is wide. Add a support.\n"
        );
    }

    #[test]
    fn thoughts_are_one_blank_line_apart() {
        let mut page = Page::new(80);
        page.answer("A.");
        page.space();
        page.line("B.");
        page.space();
        page.space();
        page.next(&[("To see more".into(), "lastcourse plan deck.toml".into())]);
        assert_eq!(
            plain(&page.finish()),
            "A.\n\nB.\n\nTo see more:\n  lastcourse plan deck.toml\n"
        );
    }
}
