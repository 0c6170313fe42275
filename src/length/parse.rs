//! Reading lengths as people write them, without guessing: what could be meant
//! in two ways is refused, with the way to write it.

use std::ops::Range;
use std::str::FromStr;

use super::scan::{Measure, Token, Word, scan};
use super::{Length, Unit};

/// Why a text is not a length: what is wrong, where, and how to write it.
///
/// ```
/// use lastcourse::length::{Length, Unit};
/// let error = Length::parse("4,013", Some(Unit::Millimetre)).unwrap_err();
/// assert_eq!(error.span(), 1..2);
/// assert_eq!(
///     error.to_string(),
///     "a comma may mean thousands or decimals: write 4013 or 4.013, whichever is meant",
/// );
/// ```
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}: {help}")]
pub struct ParseLengthError {
    span: Range<usize>,
    message: String,
    help: String,
}

impl ParseLengthError {
    /// The bytes of the text that are at fault; empty only for an empty text.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// What is wrong.
    pub fn message(&self) -> &str {
        &self.message
    }

    /// How to write it.
    pub fn help(&self) -> &str {
        &self.help
    }
}

pub(super) fn fault(
    span: Range<usize>,
    message: impl Into<String>,
    help: impl Into<String>,
) -> ParseLengthError {
    ParseLengthError {
        span,
        message: message.into(),
        help: help.into(),
    }
}

impl Length {
    /// The longest length that is read, 100 km; anything longer is a slip of
    /// the pen, and sums of a million lengths stay within range.
    pub const LIMIT: Length = Length::from_mm(100_000_000);

    /// Reads a length as people write it.
    ///
    /// Feet and inches may be marked (`13' 2-1/2"`, with straight or
    /// typographic marks) or spelled (`13 ft 2 1/2 in`, `13 feet 2.5 inches`);
    /// fractions may be typed or vulgar (`5½"`); metric lengths are in `mm`,
    /// `cm` or `m`. A number without a unit is in `bare`, and refused when that
    /// is `None`. Rounded to the nearest 1/8 µm, halves away from zero.
    ///
    /// ```
    /// use lastcourse::length::{Length, Unit};
    /// let typed = Length::parse("13' 2-1/2\"", None)?;
    /// assert_eq!(typed, Length::parse("158½", Some(Unit::Inch))?);
    /// assert_eq!(Length::parse("4.013 m", None)?, Length::from_mm(4013));
    /// # Ok::<(), lastcourse::length::ParseLengthError>(())
    /// ```
    ///
    /// # Errors
    /// When the text is not a length, or could be read in two ways.
    pub fn parse(text: &str, bare: Option<Unit>) -> Result<Length, ParseLengthError> {
        let tokens = scan(text)?;
        let reader = Reader {
            text,
            tokens: &tokens,
            next: 0,
        };
        reader.length(bare)
    }
}

impl Unit {
    /// The system that a written length names, if it names one: inches for
    /// `13ft 2in`, millimetres for `4.013 m`, none for a bare number or for a
    /// text that is no length.
    pub fn named_in(text: &str) -> Option<Unit> {
        let tokens = scan(text).ok()?;
        tokens.iter().find_map(|token| match token.word {
            Word::Unit(measure) if measure.is_metric() => Some(Unit::Millimetre),
            Word::Unit(_) => Some(Unit::Inch),
            _ => None,
        })
    }
}

/// Reads with [`Length::parse`]; a number needs its unit.
impl FromStr for Length {
    type Err = ParseLengthError;
    fn from_str(text: &str) -> Result<Length, ParseLengthError> {
        Length::parse(text, None)
    }
}

const EXAMPLES: &str = "write it like 13ft 2-1/2in, 158-1/2in, 4013 mm or 4.013 m";

/// A count of some measure: `over / under`.
struct Part {
    over: i128,
    under: i128,
    at: Range<usize>,
}

struct Reader<'a> {
    text: &'a str,
    tokens: &'a [Token],
    next: usize,
}

impl Reader<'_> {
    fn length(mut self, bare: Option<Unit>) -> Result<Length, ParseLengthError> {
        let sign = self
            .peek()
            .ok_or_else(|| fault(0..self.text.len(), "there is no length here", EXAMPLES))?;
        let negative = sign == Word::Dash;
        self.next += usize::from(negative || sign == Word::Plus);
        let mut whole_units = 0i128;
        let mut before: Option<(Measure, Part)> = None;
        loop {
            let part = self.part()?;
            let measure = self.measure(&part, before.as_ref(), bare)?;
            if let Some(before) = &before {
                follows(before, measure, &part)?;
            }
            if self.next == self.tokens.len() {
                return self.total(negative, whole_units, measure, &part);
            }
            if part.under != 1 {
                return Err(fault(
                    part.at.start..self.end(),
                    format!(
                        "only the last number of a length may have a fraction, and {} follows {}",
                        self.rest(),
                        &self.text[part.at.clone()]
                    ),
                    EXAMPLES,
                ));
            }
            whole_units += part.over * measure.units();
            before = Some((measure, part));
            self.joiner(measure)?;
        }
    }

    fn peek(&self) -> Option<Word> {
        self.tokens.get(self.next).map(|token| token.word)
    }

    fn end(&self) -> usize {
        self.tokens.last().map_or(0, |token| token.at.end)
    }

    fn rest(&self) -> &str {
        let start = self
            .tokens
            .get(self.next)
            .map_or(self.end(), |t| t.at.start);
        &self.text[start..self.end()]
    }

    /// What may stand between two parts: a comma, or the dash of `13'-2"`.
    fn joiner(&mut self, measure: Measure) -> Result<(), ParseLengthError> {
        let token = &self.tokens[self.next];
        match token.word {
            Word::Comma => self.next += 1,
            Word::Dash if measure == Measure::Foot => self.next += 1,
            Word::Number { .. } | Word::Fraction(..) => return Ok(()),
            _ => return Err(self.unexpected()),
        }
        match self.peek() {
            Some(Word::Number { .. } | Word::Fraction(..)) => Ok(()),
            _ => Err(fault(
                token.at.clone(),
                "a number is missing after this",
                EXAMPLES,
            )),
        }
    }

    /// A number, a fraction, or a number and a fraction.
    fn part(&mut self) -> Result<Part, ParseLengthError> {
        let Some(token) = self.tokens.get(self.next) else {
            let last = &self.tokens[self.tokens.len() - 1];
            return Err(fault(
                last.at.clone(),
                "a number is missing after this",
                EXAMPLES,
            ));
        };
        let start = token.at.start;
        if let Some((over, under)) = self.fraction()? {
            let at = start..self.tokens[self.next - 1].at.end;
            self.no_more_fraction(start)?;
            return Ok(Part { over, under, at });
        }
        let Word::Number { value, decimals } = token.word else {
            return Err(self.unexpected());
        };
        self.next += 1;
        let before_dash = self.next;
        let dash = self.peek() == Some(Word::Dash);
        if dash {
            self.next += 1;
        }
        if let Some((over, under)) = self.fraction()? {
            let at = start..self.tokens[self.next - 1].at.end;
            let written = &self.text[at.clone()];
            let touches = |k: usize| self.tokens[k].touches;
            if dash && !(touches(before_dash) && touches(before_dash + 1)) {
                return Err(fault(
                    at,
                    format!("\"{written}\" could be a sum or a difference"),
                    "write the number and its fraction without spaces round the dash, such as 5-1/2, or with a space alone: 5 1/2",
                ));
            }
            if decimals > 0 {
                return Err(fault(
                    at,
                    format!("\"{written}\" has decimals and a fraction"),
                    "write one of them, such as 2.5 or 2-1/2",
                ));
            }
            if over >= under {
                return Err(fault(
                    at,
                    format!("the fraction of \"{written}\" is not below 1"),
                    "write a whole number and a fraction below 1, such as 2-1/2",
                ));
            }
            self.no_more_fraction(start)?;
            let over = value
                .checked_mul(under)
                .and_then(|sum| sum.checked_add(over))
                .ok_or_else(|| too_long(at.clone()))?;
            return Ok(Part { over, under, at });
        }
        if dash && matches!(self.peek(), Some(Word::Number { .. })) {
            return Err(fault(
                start..self.end(),
                format!(
                    "\"{}\" could be feet and inches, or inches and a fraction",
                    &self.text[start..self.end()]
                ),
                "mark feet and inches, such as 13' 2-1/2\" or 13ft 2-1/2in",
            ));
        }
        self.next = before_dash;
        if let Some(Word::Comma) = self.peek()
            && !matches!(
                self.tokens.get(self.next - 1).map(|t| t.word),
                Some(Word::Unit(_))
            )
        {
            return Err(self.comma());
        }
        Ok(Part {
            over: value,
            under: 10i128.pow(decimals),
            at: token.at.clone(),
        })
    }

    fn comma(&self) -> ParseLengthError {
        let at = self.tokens[self.next].at.clone();
        let digits = |range: &str| range.chars().all(|c| c.is_ascii_digit());
        let number = |k: usize| self.tokens.get(k).map(|t| &self.text[t.at.clone()]);
        match (number(self.next - 1), number(self.next + 1)) {
            (Some(left), Some(right)) if digits(left) && digits(right) => fault(
                at,
                "a comma may mean thousands or decimals",
                format!("write {left}{right} or {left}.{right}, whichever is meant"),
            ),
            _ => fault(at, "a comma may mean thousands or decimals", EXAMPLES),
        }
    }

    /// `1/2` or `½`; nothing, and nothing consumed, if there is none here.
    fn fraction(&mut self) -> Result<Option<(i128, i128)>, ParseLengthError> {
        match (self.peek(), self.tokens.get(self.next + 1).map(|t| t.word)) {
            (Some(Word::Fraction(over, under)), _) => {
                self.next += 1;
                Ok(Some((over, under)))
            }
            (
                Some(Word::Number {
                    value: over,
                    decimals,
                }),
                Some(Word::Slash),
            ) => {
                let start = self.tokens[self.next].at.start;
                let Some(Word::Number {
                    value: under,
                    decimals: more,
                }) = self.tokens.get(self.next + 2).map(|t| t.word)
                else {
                    return Err(fault(
                        start..self.tokens[self.next + 1].at.end,
                        "the fraction has nothing under its line",
                        "write it like 1/2 or 3/16",
                    ));
                };
                let at = start..self.tokens[self.next + 2].at.end;
                if decimals > 0 || more > 0 {
                    return Err(fault(
                        at,
                        "a fraction is made of whole numbers",
                        "write it like 3/16, or as a decimal like 0.1875",
                    ));
                }
                if under == 0 {
                    return Err(fault(
                        at,
                        "a fraction cannot have 0 under its line",
                        "write it like 1/2 or 3/16",
                    ));
                }
                self.next += 3;
                Ok(Some((over, under)))
            }
            _ => Ok(None),
        }
    }

    fn no_more_fraction(&self, start: usize) -> Result<(), ParseLengthError> {
        match self.peek() {
            Some(Word::Slash) => Err(fault(
                start..self.end(),
                format!(
                    "\"{}\" has two fraction lines",
                    &self.text[start..self.end()]
                ),
                "write one fraction, such as 2-1/2",
            )),
            Some(Word::Fraction(..) | Word::Number { .. }) => Err(fault(
                start..self.end(),
                format!(
                    "\"{}\" has more after its fraction",
                    &self.text[start..self.end()]
                ),
                EXAMPLES,
            )),
            _ => Ok(()),
        }
    }

    /// The unit after a part, or the one that is meant where none is written.
    fn measure(
        &mut self,
        part: &Part,
        before: Option<&(Measure, Part)>,
        bare: Option<Unit>,
    ) -> Result<Measure, ParseLengthError> {
        if let Some(Word::Unit(measure)) = self.peek() {
            self.next += 1;
            return Ok(measure);
        }
        let written = &self.text[part.at.clone()];
        if self.next < self.tokens.len() {
            return Err(match self.peek() {
                Some(Word::Number { .. }) => fault(
                    part.at.start..self.end(),
                    format!(
                        "\"{written}\" and \"{}\" stand side by side without units",
                        self.rest()
                    ),
                    "write the unit after each number and no space inside one: 13ft 2-1/2in, 4013 mm",
                ),
                _ => self.unexpected(),
            });
        }
        match (before, bare) {
            (Some((Measure::Foot, _)), _) => Ok(Measure::Inch),
            (Some((measure, _)), _) => Err(fault(
                part.at.clone(),
                format!("\"{written}\" after {} has no unit", measure.name()),
                EXAMPLES,
            )),
            (None, Some(Unit::Inch)) => Ok(Measure::Inch),
            (None, Some(Unit::Millimetre)) => Ok(Measure::Millimetre),
            (None, None) if part.over == 0 => Ok(Measure::Inch),
            (None, None) => Err(fault(
                part.at.clone(),
                format!("\"{written}\" has no unit"),
                format!("write {written} in, {written} ft, {written} mm or {written} m"),
            )),
        }
    }

    fn unexpected(&self) -> ParseLengthError {
        let token = &self.tokens[self.next];
        let written = &self.text[token.at.clone()];
        match token.word {
            Word::Dash | Word::Plus => fault(
                token.at.clone(),
                format!("a \"{written}\" stands where none belongs"),
                "a sign goes before the whole length, and lengths are not added up here",
            ),
            Word::Unit(_) => fault(
                token.at.clone(),
                format!("the unit \"{written}\" has no number before it"),
                EXAMPLES,
            ),
            _ => fault(
                token.at.clone(),
                format!("\"{written}\" is out of place"),
                EXAMPLES,
            ),
        }
    }

    fn total(
        &self,
        negative: bool,
        whole_units: i128,
        measure: Measure,
        part: &Part,
    ) -> Result<Length, ParseLengthError> {
        let all = self.tokens[0].at.start..self.end();
        let over = part
            .over
            .checked_mul(measure.units())
            .ok_or_else(|| too_long(all.clone()))?;
        // Halves go away from zero: the sign is put on after rounding.
        let rounded = over / part.under + i128::from(over % part.under * 2 >= part.under);
        let units = whole_units + rounded;
        if units > i128::from(Length::LIMIT.units()) {
            return Err(too_long(all));
        }
        let units = units as i64;
        Ok(Length::from_units(if negative { -units } else { units }))
    }
}

fn too_long(at: Range<usize>) -> ParseLengthError {
    fault(
        at,
        "longer than 100 km",
        "a length of a deck is meant: look for a digit too many, or for the wrong unit",
    )
}

/// Checks that a part may follow the one before it.
fn follows(
    (before, larger): &(Measure, Part),
    measure: Measure,
    part: &Part,
) -> Result<(), ParseLengthError> {
    let both = larger.at.start..part.at.end;
    if before.is_metric() != measure.is_metric() {
        return Err(fault(
            both,
            format!("{} and {} in one length", before.name(), measure.name()),
            "write all of it in feet and inches, or all of it metric",
        ));
    }
    if *before == measure {
        return Err(fault(
            both,
            format!("{} are given twice", measure.name()),
            EXAMPLES,
        ));
    }
    if before.units() < measure.units() {
        return Err(fault(
            both,
            format!("{} come after {}", measure.name(), before.name()),
            format!("write the {} first", measure.name()),
        ));
    }
    let too_many = match part.over.checked_mul(measure.units()) {
        Some(units) => units >= part.under * before.units(),
        None => true,
    };
    if too_many {
        let most = before.units() / measure.units();
        return Err(fault(
            part.at.clone(),
            format!(
                "after {} there are fewer than {most} {}",
                before.name(),
                measure.name()
            ),
            format!(
                "carry the rest over to the {}, or write the whole length in {}",
                before.name(),
                measure.name()
            ),
        ));
    }
    Ok(())
}
