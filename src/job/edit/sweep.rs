//! One field over a range of values, as `--sweep` asks for it: the range as it
//! is typed, and the change of the field for each of its values. What a job
//! comes to at each value is left to others.

use std::fmt;
use std::ops::Range;

use toml_edit::DocumentMut;

use super::Set;
use super::path::resolve;
use crate::job::document::Document;
use crate::job::problem::{Findings, Place, Problem, Severity, Source};
use crate::job::reading::Shape;
use crate::length::{Length, Unit};
use crate::money::Rate;

/// A field and the range it goes through: `deck.across=13ft..13ft6in:1/4in`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sweep {
    text: String,
    path: Range<usize>,
    from: Range<usize>,
    to: Range<usize>,
    step: Range<usize>,
}

/// A text that names no field and range.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParseSweepError(String);

impl fmt::Display for ParseSweepError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "`{}` is no PATH=FROM..TO:STEP; write it like deck.across=13ft..13ft6in:1/4in",
            self.0
        )
    }
}

impl std::error::Error for ParseSweepError {}

/// One value of a range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SweptValue {
    /// A length.
    Length(Length),
    /// An amount of money, in ten-thousandths.
    Money(i64),
}

/// One value of a range, and the change that makes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SweepStep {
    /// The value.
    pub value: SweptValue,
    /// The field's change to it.
    pub set: Set,
}

impl SweptValue {
    /// The value as it is typed into a job file.
    pub fn typed(self, unit: Unit) -> String {
        match self {
            SweptValue::Length(length) => length.exact(unit),
            SweptValue::Money(amount) => {
                let (whole, part) = (amount / 10_000, amount % 10_000);
                match part % 100 {
                    0 => format!("{whole}.{:02}", part / 100),
                    _ => format!("{whole}.{part:04}"),
                }
            }
        }
    }

    fn count(self) -> i64 {
        match self {
            SweptValue::Length(length) => length.units(),
            SweptValue::Money(amount) => amount,
        }
    }

    fn like(self, count: i64) -> SweptValue {
        match self {
            SweptValue::Length(_) => SweptValue::Length(Length::from_units(count)),
            SweptValue::Money(_) => SweptValue::Money(count),
        }
    }
}

impl Sweep {
    /// The most values of one sweep.
    pub const MOST: i64 = 400;

    /// Reads `PATH=FROM..TO:STEP`; what the values are is not looked at yet.
    ///
    /// # Errors
    /// When a part is missing.
    pub fn parse(text: &str) -> Result<Sweep, ParseSweepError> {
        let none = || ParseSweepError(text.to_owned());
        let set = Set::parse(text).map_err(|_| none())?;
        let from = set.path().len() + 1;
        let dots = from + text[from..].find("..").ok_or_else(none)?;
        let colon = dots + text[dots..].rfind(':').ok_or_else(none)?;
        let sweep = Sweep {
            text: text.to_owned(),
            path: 0..set.path().len(),
            from: from..dots,
            to: dots + 2..colon,
            step: colon + 1..text.len(),
        };
        let parts = [&sweep.from, &sweep.to, &sweep.step];
        let whole = parts.into_iter().all(|part| !sweep.part(part).is_empty());
        whole.then_some(sweep).ok_or_else(none)
    }

    /// The field's path, as typed.
    pub fn path(&self) -> &str {
        self.part(&self.path)
    }

    /// The sweep as it is typed.
    pub fn text(&self) -> &str {
        &self.text
    }

    fn part(&self, span: &Range<usize>) -> &str {
        self.text[span.clone()].trim()
    }

    /// The values from the first on, the last only if a step reaches it, each
    /// with the change that makes it in a file of this text; bare numbers are
    /// in the job's unit.
    ///
    /// # Errors
    /// When the path leads to no length or price, a value cannot be read, the
    /// range is empty or does not go up, or there are too many values.
    pub fn steps(&self, file: &str, unit: Unit) -> Result<Vec<SweepStep>, Findings> {
        let document = file.parse::<DocumentMut>().map_err(|error| {
            self.wrong(&self.path, format!("the file cannot be read: {error}"), "")
        })?;
        let (_, shape) = resolve(document.as_table(), Document::MEMBERS, self.path())
            .map_err(|fault| self.wrong(&fault.span, fault.message, fault.help))?;
        let read = |span: &Range<usize>| -> Result<SweptValue, Findings> {
            let typed = self.part(span);
            let (message, help) = match shape {
                Shape::Length | Shape::Range => match Length::parse(typed, Some(unit)) {
                    Ok(length) => return Ok(SweptValue::Length(length)),
                    Err(error) => (error.message().to_owned(), error.help().to_owned()),
                },
                Shape::Money { decimals } => match Rate::per_foot(typed) {
                    Ok(rate) if decimals == 4 || rate.ten_thousandths() % 100 == 0 => {
                        return Ok(SweptValue::Money(rate.ten_thousandths()));
                    }
                    Ok(_) => (
                        format!("`{typed}` has parts of a cent"),
                        "a price has up to two decimals".to_owned(),
                    ),
                    Err(error) => (error.message().to_owned(), error.help().to_owned()),
                },
                _ => {
                    return Err(self.wrong(
                        &self.path,
                        format!("`{}` is no length and no price", self.path()),
                        "sweep a field that is one, such as `deck.across` or `stock.1.price`",
                    ));
                }
            };
            Err(self.wrong(span, message, help))
        };
        let (from, to, step) = (read(&self.from)?, read(&self.to)?, read(&self.step)?);
        if step.count() <= 0 {
            return Err(self.wrong(
                &self.step,
                format!("a step of {} leads nowhere", self.part(&self.step)),
                "values go up from the first: give a step above 0",
            ));
        }
        if to.count() < from.count() {
            return Err(self.wrong(
                &(self.from.start..self.to.end),
                format!(
                    "{} is less than {}, and values go up from the first",
                    self.part(&self.to),
                    self.part(&self.from)
                ),
                format!(
                    "write the lesser one first: `{}..{}`",
                    self.part(&self.to),
                    self.part(&self.from)
                ),
            ));
        }
        let apart = i128::from(to.count()) - i128::from(from.count());
        let count = apart / i128::from(step.count()) + 1;
        if count > i128::from(Sweep::MOST) {
            let least = (apart + i128::from(Sweep::MOST) - 2) / i128::from(Sweep::MOST - 1);
            let least = i64::try_from(least).unwrap_or(i64::MAX);
            return Err(self.wrong(
                &self.step,
                format!(
                    "these are {count} values, {} at most are planned",
                    Sweep::MOST
                ),
                format!(
                    "give a step of {} or more, or a shorter range",
                    step.like(rounded_up(step, least, unit)).typed(unit)
                ),
            ));
        }
        let at = |n: i64| from.like(from.count() + n * step.count());
        let steps = (0..count as i64).map(|n| SweepStep {
            value: at(n),
            set: Set::new(self.path(), at(n).typed(unit)),
        });
        Ok(steps.collect())
    }

    fn wrong(
        &self,
        span: &Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Findings {
        Findings {
            sources: vec![Source {
                name: "--sweep".to_owned(),
                text: self.text.clone(),
            }],
            problems: vec![Problem {
                severity: Severity::Error,
                place: Some(Place {
                    source: 0,
                    span: span.clone(),
                }),
                message: message.into(),
                help: help.into(),
                also: Vec::new(),
            }],
        }
    }
}

/// A count that people would type, not below `least`: whole sixteenths of an
/// inch, millimetres or cents.
fn rounded_up(like: SweptValue, least: i64, unit: Unit) -> i64 {
    let tidy = match (like, unit) {
        (SweptValue::Money(_), _) => 100,
        (_, Unit::Inch) => Length::from_64ths(4).units(),
        (_, Unit::Millimetre) => Length::from_mm(1).units(),
    };
    (least.saturating_add(tidy - 1) / tidy).saturating_mul(tidy)
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "[deck]\nacross = \"13ft\"\n[[stock]]\nlength = \"12ft\"\nprice = 20\n";

    fn values(text: &str) -> Result<Vec<String>, (String, String)> {
        let sweep = Sweep::parse(text).expect("a sweep");
        let steps = sweep.steps(FILE, Unit::Inch).map_err(|findings| {
            let problem = &findings.problems[0];
            let place = problem.place.as_ref().expect("a place");
            (text[place.span.clone()].to_owned(), problem.message.clone())
        })?;
        Ok(steps
            .iter()
            .map(|step| step.set.value().to_owned())
            .collect())
    }

    #[test]
    fn values_go_up_in_steps_and_never_past_the_last() {
        let across = values("deck.across=13ft..13ft1in:1/4in").expect("values");
        assert_eq!(
            across,
            [
                "13ft",
                "13ft 0-1/4in",
                "13ft 0-1/2in",
                "13ft 0-3/4in",
                "13ft 1in"
            ]
        );
        assert_eq!(
            values("deck.across=156..157:3/4").expect("values"),
            ["13ft", "13ft 0-3/4in"]
        );
        assert_eq!(
            values("deck.across=4m..4.005m:2mm").expect("values").len(),
            3
        );
        assert_eq!(
            values("stock.1.price=9.50..10:0.25").expect("values"),
            ["9.50", "9.75", "10.00"]
        );
        assert_eq!(
            values("stock.1.price_per_foot=2..2.01:0.0050").expect("values"),
            ["2.00", "2.0050", "2.01"]
        );
        assert_eq!(
            values("edge.last.overhang=-1in..1in:1in").expect("values"),
            ["-1in", "0in", "1in"]
        );
        assert_eq!(
            values("deck.across=13ft..13ft:1in").expect("values"),
            ["13ft"]
        );
    }

    #[test]
    fn what_is_no_range_is_refused_where_it_is_wrong() {
        for text in [
            "deck.across",
            "deck.across=13ft",
            "deck.across=13ft..14ft",
            "=1..2:1",
            "deck.across=..14ft:1in",
            "deck.across=13ft..14ft:",
        ] {
            assert!(Sweep::parse(text).is_err(), "{text}");
        }
        let at = |text: &str| values(text).expect_err(text);
        assert_eq!(
            at("deck.across=13ft..14ft:-1in"),
            ("-1in".into(), "a step of -1in leads nowhere".into())
        );
        assert_eq!(at("deck.across=13ft..14ft:0").0, "0");
        assert_eq!(at("deck.across=14ft..13ft:1in").0, "14ft..13ft");
        assert_eq!(
            at("deck.across=1ft..100ft:1/16in").1,
            "these are 19009 values, 400 at most are planned"
        );
        assert_eq!(at("deck.acros=1ft..2ft:1in").0, "acros");
        assert_eq!(
            at("deck.frame=1..2:1"),
            (
                "deck.frame".into(),
                "`deck.frame` is no length and no price".into()
            )
        );
        assert_eq!(at("deck.across=13ft..soon:1in").0, "soon");
        assert_eq!(at("stock.1.price=9..10:0.125").0, "0.125");
    }

    #[test]
    fn a_step_that_is_offered_is_just_long_enough() {
        let sweep = Sweep::parse("deck.across=1ft..100ft:1/16in").expect("a sweep");
        let findings = sweep.steps(FILE, Unit::Millimetre).expect_err("too many");
        assert_eq!(
            findings.problems[0].help,
            "give a step of 76mm or more, or a shorter range"
        );
        assert_eq!(
            values("deck.across=1ft..100ft:76mm").expect("values").len(),
            398
        );
    }
}
