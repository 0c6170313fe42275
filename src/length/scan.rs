//! The words a written length is made of: numbers, fractions, units and the
//! signs between them, each with its place in the text. What they mean
//! together is left to the parser.

use std::ops::Range;

use super::parse::{ParseLengthError, fault};

/// A unit a length can be written in, from large to small within its system.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    Foot,
    Inch,
    Metre,
    Centimetre,
    Millimetre,
}

impl Measure {
    /// Units of 1/8 µm in one.
    pub(super) fn units(self) -> i128 {
        match self {
            Measure::Foot => 2_438_400,
            Measure::Inch => 203_200,
            Measure::Metre => 8_000_000,
            Measure::Centimetre => 80_000,
            Measure::Millimetre => 8_000,
        }
    }

    pub(super) fn is_metric(self) -> bool {
        !matches!(self, Measure::Foot | Measure::Inch)
    }

    pub(super) fn name(self) -> &'static str {
        match self {
            Measure::Foot => "feet",
            Measure::Inch => "inches",
            Measure::Metre => "metres",
            Measure::Centimetre => "centimetres",
            Measure::Millimetre => "millimetres",
        }
    }

    fn from_word(word: &str) -> Option<Measure> {
        Some(match word.to_lowercase().as_str() {
            "ft" | "foot" | "feet" => Measure::Foot,
            "in" | "inch" | "inches" => Measure::Inch,
            "m" | "metre" | "metres" | "meter" | "meters" => Measure::Metre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => {
                Measure::Centimetre
            }
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => {
                Measure::Millimetre
            }
            _ => return None,
        })
    }
}

/// One word of a written length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Word {
    /// Digits, with or without a decimal point: `value / 10^decimals`.
    Number {
        value: i128,
        decimals: u32,
    },
    /// A fraction in one character.
    Fraction(i128, i128),
    Unit(Measure),
    Slash,
    Dash,
    Plus,
    Comma,
}

/// A word, where it stands, and whether it touches the word before it.
#[derive(Debug, Clone)]
pub(super) struct Token {
    pub(super) word: Word,
    pub(super) at: Range<usize>,
    pub(super) touches: bool,
}

/// More digits than this are refused before they could overflow.
const MOST_DIGITS: usize = 18;

pub(super) fn scan(text: &str) -> Result<Vec<Token>, ParseLengthError> {
    let mut tokens = Vec::new();
    let mut at = 0;
    let mut touches = false;
    while let Some(next) = text[at..].chars().next() {
        if next.is_whitespace() || matches!(next, '\u{200b}' | '\u{2060}' | '\u{feff}') {
            at += next.len_utf8();
            touches = false;
            continue;
        }
        let (word, len) = word(text, at, next)?;
        tokens.push(Token {
            word,
            at: at..at + len,
            touches,
        });
        at += len;
        touches = true;
    }
    Ok(tokens)
}

fn word(text: &str, at: usize, next: char) -> Result<(Word, usize), ParseLengthError> {
    let rest = &text[at..];
    if next.is_ascii_digit() || next == '.' {
        return number(text, at);
    }
    if let Some(digits) = small_digits(rest) {
        return small_number(text, at, digits);
    }
    if next.is_alphabetic() {
        let len = rest
            .find(|c: char| !c.is_alphabetic() || vulgar(c).is_some())
            .unwrap_or(rest.len());
        let unit = Measure::from_word(&rest[..len]).ok_or_else(|| {
            fault(
                at..at + len,
                format!("\"{}\" is not a unit of length", &rest[..len]),
                "write ft, in, mm, cm or m",
            )
        })?;
        // An abbreviation's full stop, unless it starts a decimal.
        let stop = rest[len..].starts_with('.')
            && !rest[len + 1..].starts_with(|c: char| c.is_ascii_digit());
        return Ok((Word::Unit(unit), len + usize::from(stop)));
    }
    if is_prime(next) {
        let second = rest[next.len_utf8()..].chars().next();
        return Ok(match second {
            Some(second) if is_prime(second) => (
                Word::Unit(Measure::Inch),
                next.len_utf8() + second.len_utf8(),
            ),
            _ => (Word::Unit(Measure::Foot), next.len_utf8()),
        });
    }
    let word = match next {
        '"' | '\u{2033}' | '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{201f}' | '\u{2ba}'
        | '\u{2dd}' | '\u{ff02}' => Word::Unit(Measure::Inch),
        '/' | '\u{2044}' | '\u{2215}' => Word::Slash,
        '-' | '\u{2010}'..='\u{2013}' | '\u{2212}' => Word::Dash,
        '+' => Word::Plus,
        ',' => Word::Comma,
        _ => match vulgar(next) {
            Some((over, under)) => Word::Fraction(over, under),
            None => return Err(stranger(at, next)),
        },
    };
    Ok((word, next.len_utf8()))
}

fn stranger(at: usize, next: char) -> ParseLengthError {
    let place = at..at + next.len_utf8();
    match next {
        '≈' | '~' | '±' => fault(
            place,
            format!("\"{next}\" does not belong in a length"),
            "write the length itself, such as 13ft 2-1/2in or 4013 mm",
        ),
        '_' => fault(
            place,
            "a number is written without separators",
            "write 4013, not 4_013",
        ),
        _ => fault(
            place,
            format!("\"{}\" does not belong in a length", next.escape_debug()),
            "write it like 13ft 2-1/2in, 158-1/2in, 4013 mm or 4.013 m",
        ),
    }
}

fn number(text: &str, at: usize) -> Result<(Word, usize), ParseLengthError> {
    let rest = &text[at..];
    let len = rest
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(rest.len());
    let digits = &rest[..len];
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
    if decimals.contains('.') || (whole.is_empty() && decimals.is_empty()) {
        return Err(fault(
            at..at + len,
            format!("\"{digits}\" is not a number"),
            "write one decimal point at most, such as 4.013 m or 4013 mm",
        ));
    }
    let decimals = decimals.trim_end_matches('0');
    if whole.trim_start_matches('0').len() + decimals.len() > MOST_DIGITS {
        return Err(fault(
            at..at + len,
            format!("a number of more than {MOST_DIGITS} digits"),
            "no tape reads that finely: six decimals are more than enough",
        ));
    }
    let value = whole
        .bytes()
        .chain(decimals.bytes())
        .fold(0i128, |sum, digit| sum * 10 + i128::from(digit - b'0'));
    let decimals = decimals.len() as u32;
    Ok((Word::Number { value, decimals }, len))
}

/// The raised or lowered digits a text starts with: `⁵` and `₁₆` of `⁵⁄₁₆`.
fn small_digits(rest: &str) -> Option<&'static [char; 10]> {
    const RAISED: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    const LOWERED: [char; 10] = ['₀', '₁', '₂', '₃', '₄', '₅', '₆', '₇', '₈', '₉'];
    [&RAISED, &LOWERED]
        .into_iter()
        .find(|digits| rest.starts_with(digits.as_slice()))
}

fn small_number(
    text: &str,
    at: usize,
    digits: &[char; 10],
) -> Result<(Word, usize), ParseLengthError> {
    let mut value = 0i128;
    let mut len = 0;
    for (count, c) in text[at..].chars().enumerate() {
        let Some(digit) = digits.iter().position(|&d| d == c) else {
            break;
        };
        len += c.len_utf8();
        if count == MOST_DIGITS {
            return Err(fault(
                at..at + len,
                format!("a number of more than {MOST_DIGITS} digits"),
                "no tape reads that finely",
            ));
        }
        value = value * 10 + digit as i128;
    }
    Ok((Word::Number { value, decimals: 0 }, len))
}

fn is_prime(c: char) -> bool {
    matches!(
        c,
        '\'' | '\u{2032}'
            | '\u{2018}'
            | '\u{2019}'
            | '\u{201b}'
            | '\u{2b9}'
            | '\u{2bc}'
            | '\u{b4}'
            | '`'
            | '\u{ff07}'
    )
}

fn vulgar(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}
