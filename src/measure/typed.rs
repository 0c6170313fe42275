//! Readings, diagonals, the tape and the steps as options: `--after 9 --at "4ft
//! 3-5/8in"`. It reads them one after the other, as they were typed, and keeps
//! where each stands, so that a doubt can point there.

use super::doubt::{Doubt, End};
use crate::job::{Findings, Place, Problem, Severity, Source, Tape, TapeReading, trial_reading};
use crate::length::{Length, Unit};

/// One option as it was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word {
    /// Its name: `--at`.
    pub name: &'static str,
    /// What was given with it.
    pub text: String,
}

/// What was typed.
#[derive(Debug, Clone)]
pub struct Typed {
    /// The readings, by course; no course twice.
    pub readings: Vec<TapeReading>,
    /// The frame's diagonals.
    pub diagonals: Option<[Length; 2]>,
    /// How exactly the tape is read.
    pub tape: Length,
    /// The steps in which a gap can be set; above zero.
    pub step: Length,
    sources: Vec<Source>,
    groups: Vec<Group>,
}

/// The options of one reading, each by its source.
#[derive(Debug, Clone, Default)]
struct Group {
    course: Option<u32>,
    after: Option<usize>,
    at: Option<(usize, Option<Length>)>,
    left: Option<(usize, Option<Length>)>,
    right: Option<(usize, Option<Length>)>,
    to_far: Option<(usize, Option<Length>)>,
    gap: Option<(usize, Option<Length>)>,
}

const WRITTEN: &str = "write the course, then what the tape says: `--after 9 --at \"4ft 3-5/8in\"`, `--left` and `--right`, or `--to-far`";

/// Reads options in the order they were typed, bare numbers in the job's unit;
/// `far` is where the frame's last edge is from the starting edge.
///
/// # Errors
/// When anything in them is wrong: all of it at once.
pub fn read(words: &[Word], unit: Unit, far: Length) -> Result<Typed, Findings> {
    let mut reader = Reader {
        unit,
        far,
        findings: Findings::default(),
    };
    let mut groups: Vec<Group> = Vec::new();
    let mut diagonals = Vec::new();
    let mut tape = trial_reading(unit);
    let mut step = unit.setting();
    for word in words {
        let source = reader.source(word);
        match word.name {
            "--after" => groups.push(Group {
                course: reader.course(source),
                after: Some(source),
                ..Group::default()
            }),
            "--diagonals" => diagonals.extend(reader.length(source, true)),
            "--tape" => tape = reader.length(source, false).unwrap_or(tape),
            "--step" => step = reader.length(source, true).unwrap_or(step),
            name => {
                let above = !matches!(name, "--gap" | "--to-far");
                let length = reader.length(source, above);
                let Some(group) = groups.last_mut() else {
                    let message = format!("{name} stands before any --after");
                    reader.wrong(source, message, WRITTEN);
                    continue;
                };
                let slot = match name {
                    "--at" => &mut group.at,
                    "--left" => &mut group.left,
                    "--right" => &mut group.right,
                    "--to-far" => &mut group.to_far,
                    _ => &mut group.gap,
                };
                if slot.replace((source, length)).is_some() {
                    let message = format!("{name} is given twice after one --after");
                    reader.wrong(source, message, WRITTEN);
                }
            }
        }
    }
    let mut readings = Vec::new();
    for (k, group) in groups.iter().enumerate() {
        let same = |other: &&Group| other.course.is_some() && other.course == group.course;
        if let (Some(source), Some(_)) = (group.after, groups[..k].iter().find(same)) {
            let help = "keep the one that is right";
            reader.wrong(source, "this course has a reading already", help);
        }
        readings.extend(reader.reading(group));
    }
    if !reader.findings.problems.is_empty() {
        return Err(reader.findings);
    }
    readings.sort_by_key(|reading: &TapeReading| reading.after);
    Ok(Typed {
        readings,
        diagonals: <[Length; 2]>::try_from(diagonals).ok(),
        tape,
        step,
        sources: reader.findings.sources,
        groups,
    })
}

impl Typed {
    /// A doubt at the option it is about; nothing if that reading was not typed.
    pub fn told(&self, doubt: &Doubt) -> Option<Findings> {
        let group = self
            .groups
            .iter()
            .find(|group| group.course == Some(doubt.after))?;
        let slot = match doubt.end {
            End::Once => group.at.or(group.to_far),
            End::Left => group.left,
            End::Right => group.right,
        };
        let place = |source: usize| Place {
            source,
            span: 0..self.sources[source].text.len(),
        };
        Some(Findings {
            sources: self.sources.clone(),
            problems: vec![Problem {
                severity: Severity::Error,
                place: slot.map(|(source, _)| place(source)),
                message: doubt.message.clone(),
                help: doubt.help.clone(),
                also: group
                    .after
                    .map(|source| (place(source), "this course".to_owned()))
                    .into_iter()
                    .collect(),
            }],
        })
    }
}

struct Reader {
    unit: Unit,
    far: Length,
    findings: Findings,
}

impl Reader {
    fn source(&mut self, word: &Word) -> usize {
        self.findings.sources.push(Source {
            name: word.name.to_owned(),
            text: word.text.clone(),
        });
        self.findings.sources.len() - 1
    }

    fn wrong(&mut self, source: usize, message: impl Into<String>, help: impl Into<String>) {
        let end = self.findings.sources[source].text.len();
        self.wrong_at(source, 0..end, message, help);
    }

    fn wrong_at(
        &mut self,
        source: usize,
        span: std::ops::Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.findings.problems.push(Problem {
            severity: Severity::Error,
            place: Some(Place { source, span }),
            message: message.into(),
            help: help.into(),
            also: Vec::new(),
        });
    }

    fn course(&mut self, source: usize) -> Option<u32> {
        let text = self.findings.sources[source].text.trim().to_owned();
        let course = text
            .parse()
            .ok()
            .filter(|course| (1..=10_000).contains(course));
        if course.is_none() {
            let message = format!("\"{text}\" is no course");
            self.wrong(
                source,
                message,
                "courses are counted from 1 at the first edge",
            );
        }
        course
    }

    /// A length from 0 up, or above it.
    fn length(&mut self, source: usize, above: bool) -> Option<Length> {
        let text = self.findings.sources[source].text.clone();
        match Length::parse(&text, Some(self.unit)) {
            Ok(length) if length > Length::ZERO || !above && length == Length::ZERO => {
                if length > Length::from_feet(1_000) {
                    self.wrong(
                        source,
                        "no length in a job is over 1000 ft",
                        "check its unit",
                    );
                    return None;
                }
                Some(length)
            }
            Ok(length) => {
                let name = self.findings.sources[source].name.clone();
                let help = match above {
                    true => "it has to be more than 0",
                    false => "it may be 0, but not less",
                };
                self.wrong(
                    source,
                    format!("{name} is {}", length.show(self.unit)),
                    help,
                );
                None
            }
            Err(error) => {
                self.wrong_at(source, error.span(), error.message(), error.help());
                None
            }
        }
    }

    fn reading(&mut self, group: &Group) -> Option<TapeReading> {
        let after = group.after?;
        let tape = match (group.at, group.left, group.right) {
            (None, None, None) if group.to_far.is_some() => {
                let (source, left_over) = group.to_far?;
                let left_over = left_over?;
                let at = self.far - left_over;
                if at <= Length::ZERO {
                    let (left_over, far) = (left_over.show(self.unit), self.far.show(self.unit));
                    let message = format!(
                        "{left_over} is left to the frame's last edge, which is {far} from the starting edge"
                    );
                    let help = "measure from the course's far edge on to the frame's last edge";
                    self.wrong(source, message, help);
                    return None;
                }
                Tape::ToFar { left_over, at }
            }
            _ if group.to_far.is_some() => {
                let (source, _) = group.to_far?;
                let message = "a reading is from the starting edge or to the far one";
                self.wrong(source, message, "give them after courses of their own");
                return None;
            }
            (Some((_, at)), None, None) => Tape::Once(at?),
            (None, Some((_, left)), Some((_, right))) => Tape::Ends {
                left: left?,
                right: right?,
            },
            (None, None, None) => {
                self.wrong(after, "nothing was measured after this course", WRITTEN);
                return None;
            }
            (Some((at, _)), _, _) => {
                self.wrong(at, "a reading has --at, or both ends", WRITTEN);
                return None;
            }
            (None, one, other) => {
                let (name, source) = match (one, other) {
                    (Some((source, _)), _) => ("--right", source),
                    (_, Some((source, _))) => ("--left", source),
                    _ => return None,
                };
                let help = format!("add {name}, or call it --at");
                self.wrong(source, "one end was measured, and not the other", help);
                return None;
            }
        };
        let gap = match group.gap {
            Some((_, gap)) => Some(gap?),
            None => None,
        };
        Some(TapeReading {
            after: group.course?,
            tape,
            gap,
        })
    }
}
