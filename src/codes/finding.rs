//! One comparison with a table, and how it is said. A finding names the edition,
//! the table, what the table stands on, its value and ours.

use crate::caution::Caution;
use crate::job::{CodeRules, Edition};
use crate::length::{Length, Printer, Unit};

/// What is compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Check {
    /// Joists on centre under the boards.
    JoistSpacing,
    /// Joists that each length of board lies on.
    BoardBearing,
    /// Joists between two supports.
    JoistSpan,
    /// Joists past their last support.
    JoistCantilever,
    /// Beams past their last support.
    BeamCantilever,
}

impl Check {
    /// Its name in every format.
    pub fn name(self) -> &'static str {
        match self {
            Check::JoistSpacing => "joist-spacing",
            Check::BoardBearing => "board-bearing",
            Check::JoistSpan => "joist-span",
            Check::JoistCantilever => "joist-cantilever",
            Check::BeamCantilever => "beam-cantilever",
        }
    }

    /// What is done there, before the measure.
    fn does(self) -> &'static str {
        match self {
            Check::JoistSpacing => "lie on joists up to",
            Check::BoardBearing => "lies on",
            Check::JoistSpan => "span",
            Check::JoistCantilever | Check::BeamCantilever => "reach past their support by",
        }
    }

    /// What comes after the measure.
    fn so(self) -> &'static str {
        match self {
            Check::JoistSpacing => " on centre",
            Check::BoardBearing => " or more",
            _ => "",
        }
    }

    /// What would bring it within the table.
    fn help(self) -> &'static str {
        match self {
            Check::JoistSpacing => "bring the joists nearer to each other, or take thicker boards",
            Check::BoardBearing => {
                "let no piece be shorter (`joints.bearing`), or take longer boards"
            }
            Check::JoistSpan => {
                "bring the supports nearer to each other, or take deeper joists or more of them"
            }
            Check::JoistCantilever => "move the last beam or support nearer to the joists' ends",
            Check::BeamCantilever => "move the last support nearer to the beams' ends",
        }
    }
}

/// Where a limit comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rule {
    /// The edition; the job's own values where absent.
    pub edition: Option<Edition>,
    /// The table or section, or what the job calls its own source.
    pub table: Option<String>,
    /// What the value stands on, as far as that is known.
    pub basis: Option<&'static str>,
    /// Whether it is quoted from memory.
    pub from_memory: bool,
}

impl Rule {
    /// An edition, its table not said yet.
    pub(super) fn of(edition: Edition) -> Rule {
        Rule {
            edition: Some(edition),
            table: None,
            basis: None,
            from_memory: false,
        }
    }

    /// The job's own values.
    pub(super) fn own(rules: &CodeRules) -> Rule {
        Rule {
            edition: None,
            table: rules.source.clone(),
            basis: None,
            from_memory: false,
        }
    }

    /// What is commonly done.
    pub(super) fn practice() -> Rule {
        Rule {
            edition: None,
            table: Some("common practice, no source".to_owned()),
            basis: None,
            from_memory: false,
        }
    }

    /// Whose rule it is: `IRC 2018, Table R507.6`.
    pub fn cited(&self) -> String {
        let table = self.table.as_deref();
        match (self.edition, table) {
            (Some(edition), Some(table)) => format!("{}, {table}", edition.name()),
            (Some(edition), None) => edition.name().to_owned(),
            (None, Some(source)) => source.to_owned(),
            (None, None) => "the job's own table".to_owned(),
        }
    }

    /// Whose rule it is and what it stands on.
    fn full(&self) -> String {
        let mut text = self.cited();
        if let Some(basis) = self.basis {
            text += &format!("; {basis}");
        }
        if self.from_memory {
            text += "; quoted from memory";
        }
        text
    }
}

/// A measure or a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// A length, of which the limit is the most.
    Length(Length),
    /// Joists under a board, of which the limit is the least.
    Count(u32),
}

impl Amount {
    fn show(self, unit: Unit) -> String {
        match self {
            Amount::Length(length) => Printer::new(unit).to_64ths().show(length),
            Amount::Count(1) => "1 joist".to_owned(),
            Amount::Count(count) => format!("{count} joists"),
        }
    }
}

/// How a measure compares.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// This limit or better.
    Within(Amount),
    /// Worse than this limit: more of a length, fewer of a count.
    Beyond(Amount),
    /// The table says nothing of it.
    NotCovered {
        /// Why not.
        why: String,
        /// What one could do.
        help: String,
    },
}

impl Outcome {
    pub(super) fn of(ours: Length, most: Length) -> Outcome {
        let limit = Amount::Length(most);
        match ours <= most {
            true => Outcome::Within(limit),
            false => Outcome::Beyond(limit),
        }
    }

    pub(super) fn not_covered(why: impl Into<String>, help: impl Into<String>) -> Outcome {
        Outcome::NotCovered {
            why: why.into(),
            help: help.into(),
        }
    }

    /// Its name in every format.
    pub fn name(&self) -> &'static str {
        match self {
            Outcome::Within(_) => "within",
            Outcome::Beyond(Amount::Length(_)) => "over",
            Outcome::Beyond(Amount::Count(_)) => "under",
            Outcome::NotCovered { .. } => "not-covered",
        }
    }

    /// The limit, where there is one.
    pub fn limit(&self) -> Option<Amount> {
        match self {
            Outcome::Within(limit) | Outcome::Beyond(limit) => Some(*limit),
            Outcome::NotCovered { .. } => None,
        }
    }
}

/// One comparison.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// What is compared.
    pub check: Check,
    /// Whose measure it is, such as `joists of 2x8, southern pine, 16 in apart`.
    pub what: String,
    /// The measure.
    pub ours: Amount,
    /// Where the limit comes from.
    pub rule: Rule,
    /// How it compares.
    pub outcome: Outcome,
}

impl Finding {
    /// What was found, in a sentence without its full stop.
    pub fn sentence(&self, unit: Unit) -> String {
        let measured = format!(
            "{} {} {}{}",
            self.what,
            self.check.does(),
            self.ours.show(unit),
            self.check.so()
        );
        let rule = &self.rule;
        match &self.outcome {
            Outcome::Within(limit) => {
                let within = match limit {
                    Amount::Length(_) => "within",
                    Amount::Count(_) => "no fewer than",
                };
                format!(
                    "{measured}, {within} {} ({})",
                    limit.show(unit),
                    rule.full()
                )
            }
            Outcome::Beyond(limit) => {
                let beyond = match (self.ours, *limit) {
                    (Amount::Length(ours), Amount::Length(most)) => {
                        let by = Amount::Length(ours - most).show(unit);
                        format!("over {} by {by}", limit.show(unit))
                    }
                    _ => format!("fewer than {}", limit.show(unit)),
                };
                format!("{measured}, {beyond} ({})", rule.full())
            }
            Outcome::NotCovered { why, .. } => {
                format!("{measured}, which {} does not cover: {why}", rule.cited())
            }
        }
    }

    /// A caution, unless it is within its table.
    fn caution(&self, unit: Unit) -> Option<Caution> {
        let help = match &self.outcome {
            Outcome::Within(_) => return None,
            Outcome::Beyond(_) => self.check.help(),
            Outcome::NotCovered { help, .. } => help,
        };
        let help = format!(
            "{help}; the local building code decides, and where it asks for one a licensed engineer"
        );
        Some(Caution::new(self.sentence(unit), help))
    }
}

/// What a person should look at: all that is over its table or not covered.
pub fn cautions(findings: &[Finding], unit: Unit) -> Vec<Caution> {
    let found = findings.iter().filter_map(|finding| finding.caution(unit));
    found.collect()
}
