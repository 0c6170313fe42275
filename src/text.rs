//! Text for people, whatever it says: broken into lines, and made safe to
//! print. It knows words and columns; styles and pages are left to
//! [`crate::report`].

use unicode_width::UnicodeWidthStr;

/// Text from a job or a file made safe to print: control characters, which
/// could move the cursor or change colours, become replacement marks.
pub fn clean(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { '\u{FFFD}' } else { c })
        .collect()
}

/// A whole number with its thousands set apart: `12,345`.
pub fn grouped(number: u128) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (k, digit) in digits.chars().enumerate() {
        if k > 0 && (digits.len() - k).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// Text broken into lines of at most `width` columns at spaces. A measure such
/// as `13 ft 2-1/2 in` is never torn apart, nor is what stands between
/// backquotes; what is longer than a line stands alone.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let text = clean(text);
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in glued_words(&text) {
        if !line.is_empty() && line.width() + 1 + word.width() > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(&word);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// Words, with a number and the unit behind it as one word, and what stands
/// between backquotes too: it is there to be copied.
fn glued_words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut previous = "";
    for word in text.split_whitespace() {
        let bare = word.trim_end_matches([',', '.', ';', ':', ')']);
        let starts_with_digit = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
        let is_number =
            |word: &str| starts_with_digit(word.trim_start_matches(['(', '≈', '-', '$', '±', '+']));
        let glue = match bare {
            "ft" | "in" | "mm" | "m" | "%" | "lb" | "kg" | "pieces" => is_number(previous),
            _ => previous == "ft" && starts_with_digit(word),
        };
        let quoted = |word: &String| word.matches('`').count() % 2 == 1;
        match words.last_mut().filter(|last| glue || quoted(last)) {
            Some(last) => {
                last.push(' ');
                last.push_str(word);
            }
            None => words.push(word.to_string()),
        }
        previous = word;
    }
    words
}

/// A word as a shell takes it, for commands that are there to be copied.
pub fn shell_word(text: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./=,:%+@".contains(c);
    if !text.is_empty() && text.chars().all(plain) {
        text.to_string()
    } else {
        format!("'{}'", text.replace('\'', "'\\''"))
    }
}

/// An option and its value for a shell; a value with a dash before it is tied
/// to its option, since it would be taken for another one.
pub fn shell_option(option: &str, value: &str) -> String {
    let tie = if value.starts_with('-') { '=' } else { ' ' };
    format!("{option}{tie}{}", shell_word(value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measures_are_not_torn_apart() {
        let lines = wrap(
            "Course 28 is the last, ripped to 13 ft 2-1/2 in, as asked.",
            36,
        );
        assert_eq!(
            lines,
            [
                "Course 28 is the last, ripped to",
                "13 ft 2-1/2 in, as asked."
            ]
        );
    }

    #[test]
    fn a_word_longer_than_the_line_stands_alone() {
        assert_eq!(
            wrap("a wordlongerthanten b", 10),
            ["a", "wordlongerthanten", "b"]
        );
        assert_eq!(wrap("", 10), [""]);
    }

    #[test]
    fn what_could_command_the_terminal_is_replaced() {
        assert_eq!(wrap("deck\u{1b}[31m red", 80), ["deck\u{FFFD}[31m red"]);
    }

    #[test]
    fn what_is_there_to_be_copied_stays_whole() {
        assert_eq!(
            wrap("say `gap = \"3/16in\"` or measure", 18),
            ["say", "`gap = \"3/16in\"`", "or measure"]
        );
    }

    #[test]
    fn a_shell_gets_one_word() {
        assert_eq!(shell_word("deck.across=158in"), "deck.across=158in");
        assert_eq!(shell_word("deck.across=13ft 2in"), "'deck.across=13ft 2in'");
        assert_eq!(shell_word("it's"), "'it'\\''s'");
        assert_eq!(shell_word(""), "''");
        assert_eq!(
            shell_option("--fastener", "slim clip"),
            "--fastener 'slim clip'"
        );
        assert_eq!(shell_option("--fastener", "-x"), "--fastener=-x");
    }
}
