//! Joists and beams as the frame has them: where they are carried, how far they
//! span and reach past, and the row and column of a table that this enters.
//!
//! A span is measured between the centres of beams and supports and from the
//! ledger's face, a cantilever from the last centre to the outside of the frame,
//! which is the longest that either is ever taken.

use super::finding::{Amount, Check, Finding, Outcome, Rule};
use super::tables::{self, Cell, SIZES, SPACINGS};
use super::widest;
use crate::base::{Base, Under};
use crate::frame::{Border, Skeleton};
use crate::job::dressed::{self, Dressed};
use crate::job::{CodeRules, Edition, Job, Lumber, OwnSpan, SpeciesGroup};
use crate::length::Length;

/// What helps where no table covers a joist.
const LOCAL: &str = "give the local table's span in a `[[codes.span]]`";

/// The joists of a frame measured.
struct Measured {
    /// The longest span; absent where joists are carried at one place only.
    span: Option<Length>,
    /// The longest cantilever with the span beside it.
    cantilever: Option<(Length, Option<Length>)>,
}

/// Where joists are carried across, from the frame's first edge: at ledgers and
/// on beams; where there are no beams, on the supports of a base that stand
/// under every joist, or else between the rims.
pub fn carried(frame: &Skeleton, base: Option<&Base>) -> Vec<Length> {
    let under = under(frame, base);
    let at = |edge: usize| under.is_none() || frame.edges[edge] == Border::Ledger;
    let first = at(0).then_some(frame.from);
    let last = at(1).then_some(frame.to);
    let under = under.into_iter().flatten().copied();
    let mut places: Vec<Length> = first.into_iter().chain(under).chain(last).collect();
    places.sort();
    places.dedup();
    places
}

/// What lies under the joists; nothing where they hang between ledgers and rims.
fn under<'a>(frame: &'a Skeleton, base: Option<&'a Base>) -> Option<&'a [Length]> {
    match base {
        _ if !frame.beams.is_empty() => Some(&frame.beams),
        Some(base) if base.under == Under::Joists { between: 0 } => Some(&base.across),
        _ => None,
    }
}

fn measured(job: &Job, frame: &Skeleton, base: Option<&Base>) -> Measured {
    let places = carried(frame, base);
    // What lies within a beam's own width is borne by it.
    let bearing = match job.frame.as_ref().and_then(|rules| rules.beam.as_ref()) {
        Some(beam) => (job.lumber[beam.size].thickness * i64::from(beam.plies)).half_up(),
        None => Length::ZERO,
    };
    let between = |pair: Option<&[Length]>| pair.map(|pair| pair[1] - pair[0]);
    let hung = under(frame, base).is_none();
    let past = |edge: usize, reach: Option<Length>, beside: Option<Length>| {
        let free = frame.edges[edge] != Border::Ledger && !hung;
        reach
            .filter(|reach| free && *reach > bearing)
            .map(|reach| (reach, beside))
    };
    let first = past(
        0,
        places.first().copied(),
        between(places.windows(2).next()),
    );
    let last = past(
        1,
        places.last().map(|&at| job.deck.across - at),
        between(places.windows(2).next_back()),
    );
    Measured {
        span: widest(&places),
        cantilever: first.into_iter().chain(last).max_by_key(|(reach, beside)| {
            // Of equal ones that with the shorter span beside it.
            (*reach, beside.map(|span| -span))
        }),
    }
}

/// The joists' spans and cantilevers.
pub(super) fn joists(
    job: &Job,
    rules: &CodeRules,
    supports: &[Length],
    frame: &Skeleton,
    base: Option<&Base>,
) -> Vec<Finding> {
    let Some(lumber) = job.frame.as_ref().map(|frame| &job.lumber[frame.joist]) else {
        return Vec::new();
    };
    let (Some(spacing), measured) = (widest(supports), measured(job, frame, base)) else {
        return Vec::new();
    };
    let what = |species: Option<SpeciesGroup>| {
        let wood = species.map_or(String::new(), |species| format!(", {}", species.name()));
        let apart = spacing.show(job.unit);
        format!("joists of {}{wood}, up to {apart} apart", lumber.size)
    };
    let finding = |check, ours, species, (rule, outcome): (Rule, Outcome)| Finding {
        check,
        what: what(species),
        ours: Amount::Length(ours),
        rule,
        outcome,
    };
    let mut found = Vec::new();
    if let Some(lines) = own(rules, lumber) {
        let line = lines.iter().find(|line| line.spacing >= spacing);
        let rule = || Rule::own(rules);
        let too_wide = || {
            let widest = lines.last().map(|line| line.spacing.show(job.unit));
            let why = format!(
                "its lines of {} stop at {} on centre",
                lumber.size,
                widest.unwrap_or_default()
            );
            let help = "add a `[[codes.span]]` for that spacing, or bring the joists nearer to \
                        each other";
            Outcome::not_covered(why, help)
        };
        if let Some(span) = measured.span {
            let outcome = line.map_or_else(too_wide, |line| Outcome::of(span, line.most));
            found.push(finding(Check::JoistSpan, span, None, (rule(), outcome)));
        }
        if let Some((reach, beside)) = measured.cantilever {
            let says = line.and_then(|line| line.cantilever);
            let answer = match (says, rules.edition) {
                (Some(most), _) => (rule(), Outcome::of(reach, most)),
                (None, Some(edition @ (Edition::Irc2015 | Edition::Irc2018))) => {
                    quarter(edition, lumber, reach, beside)
                }
                (None, _) => {
                    let why = "it says nothing of cantilevers";
                    let help = "add `cantilever` to its `[[codes.span]]`";
                    (rule(), Outcome::not_covered(why, help))
                }
            };
            found.push(finding(Check::JoistCantilever, reach, None, answer));
        }
        return found;
    }
    let Some(edition) = rules.edition else {
        return found;
    };
    let entered = match tables::joists(edition, false) {
        Some(_) => enter(rules, lumber, spacing),
        None => Err(("no table of joists in it is known here".to_owned(), LOCAL)),
    };
    let refused = |(why, help): &(String, &'static str)| {
        (Rule::of(edition), Outcome::not_covered(why, *help))
    };
    if let Some(span) = measured.span {
        let answer = match &entered {
            Ok(entry) => entry.span(edition, span, measured.cantilever.is_some()),
            Err(why) => refused(why),
        };
        found.push(finding(Check::JoistSpan, span, rules.species, answer));
    }
    if let Some((reach, beside)) = measured.cantilever {
        let answer = match (edition, &entered) {
            (Edition::Irc2021, _) => {
                let why = "its cantilevers go by the span beside them, in a table not known here";
                (Rule::of(edition), Outcome::not_covered(why, LOCAL))
            }
            (Edition::Dca6, Ok(entry)) => entry.overhang(reach, beside),
            (Edition::Dca6, Err(why)) => refused(why),
            (edition, _) => quarter(edition, lumber, reach, beside),
        };
        found.push(finding(
            Check::JoistCantilever,
            reach,
            rules.species,
            answer,
        ));
    }
    found
}

/// The job's own lines for a size, nearest joists first.
fn own<'a>(rules: &'a CodeRules, lumber: &Lumber) -> Option<Vec<&'a OwnSpan>> {
    let same = |line: &&OwnSpan| line.size.to_lowercase() == lumber.size.to_lowercase();
    let mut lines: Vec<&OwnSpan> = rules.spans.iter().filter(same).collect();
    lines.sort_by_key(|line| line.spacing);
    (!lines.is_empty()).then_some(lines)
}

/// A row and the column of a published table that a frame enters.
struct Entered {
    species: SpeciesGroup,
    size: usize,
    /// The first column that is no narrower than the joists are apart.
    column: usize,
    /// Whether they are exactly as far apart as the column says, or nearer than any.
    exact: bool,
}

/// Which row and column joists enter; why there is none, and what would help.
fn enter(
    rules: &CodeRules,
    lumber: &Lumber,
    spacing: Length,
) -> Result<Entered, (String, &'static str)> {
    let Some(species) = rules.species else {
        let why = "the job does not say what wood the joists are";
        return Err((
            why.to_owned(),
            "add `codes.species`, such as \"southern-pine\"",
        ));
    };
    let Some(size) = nominal(lumber) else {
        let why = "its joists are 2x6, 2x8, 2x10 and 2x12, dressed dry or green";
        return Err((why.to_owned(), LOCAL));
    };
    let Some(column) = SPACINGS.iter().position(|column| *column >= spacing) else {
        return Err(("its joists are 24 in apart at most".to_owned(), LOCAL));
    };
    Ok(Entered {
        species,
        size,
        column,
        exact: column == 0 || SPACINGS[column] == spacing,
    })
}

/// The row of a size by its section as it is: dressed dry, or green, which dries to
/// about the same.
fn nominal(lumber: &Lumber) -> Option<usize> {
    let section = Some([lumber.thickness, lumber.depth]);
    let is = |size| [Dressed::Dry, Dressed::Green].map(|how| dressed::section(size, how));
    SIZES
        .iter()
        .position(|(size, _)| is(size).contains(&section))
}

impl Entered {
    fn span(&self, edition: Edition, span: Length, cantilevered: bool) -> (Rule, Outcome) {
        let Some(table) = tables::joists(edition, cantilevered) else {
            let why = "it has no such table";
            return (Rule::of(edition), Outcome::not_covered(why, LOCAL));
        };
        let cell = table.span(self.species, self.size, self.column);
        let rule = Rule {
            table: Some(table.name.to_owned()),
            basis: Some(table.basis),
            from_memory: cell.from_memory,
            ..Rule::of(edition)
        };
        (rule, Outcome::of(span, cell.most))
    }

    /// The deck guide's overhang, and no more than a quarter of the span beside it.
    fn overhang(&self, reach: Length, beside: Option<Length>) -> (Rule, Outcome) {
        let table = tables::joists(Edition::Dca6, true);
        let cell = |column| table?.overhang(self.species, self.size, column);
        // Overhangs grow and shrink from column to column: between two the
        // lesser of both holds.
        let columns = match self.exact {
            true => self.column..=self.column,
            false => self.column - 1..=self.column,
        };
        let least: Option<Cell> = columns.filter_map(cell).min_by_key(|cell| cell.most);
        let rule = |from_memory| Rule {
            table: table.map(|table| table.name.to_owned()),
            basis: Some("and a quarter of the span beside it; L/180 with 220 lb at the end"),
            from_memory,
            ..Rule::of(Edition::Dca6)
        };
        match (least, beside) {
            (Some(cell), Some(beside)) => (
                rule(cell.from_memory),
                Outcome::of(reach, cell.most.min(a_quarter(beside))),
            ),
            _ => (rule(false), one_line()),
        }
    }
}

/// A quarter, rounded down to a whole unit.
fn a_quarter(span: Length) -> Length {
    Length::from_units(span.units().div_euclid(4))
}

fn one_line() -> Outcome {
    Outcome::not_covered(
        "they are carried at one place only, with no span beside it",
        "give the frame a second beam or line of supports",
    )
}

/// A joist's cantilever by the code: a quarter of the span beside it, or the
/// joist's nominal depth, whichever is more (IRC 2015, R507.5 and note f to its
/// table, as quoted by others).
fn quarter(
    edition: Edition,
    lumber: &Lumber,
    reach: Length,
    beside: Option<Length>,
) -> (Rule, Outcome) {
    let rule = Rule {
        table: Some("R507.5".to_owned()),
        basis: Some(match edition {
            Edition::Irc2018 => {
                "a quarter of the span beside it or the nominal depth, as quoted by others; taken \
                 for the IRC 2018 too"
            }
            _ => "a quarter of the span beside it or the nominal depth, as quoted by others",
        }),
        ..Rule::of(Edition::Irc2015)
    };
    let deep = nominal(lumber).map_or(Length::ZERO, |size| SIZES[size].1);
    match beside {
        Some(beside) => (rule, Outcome::of(reach, a_quarter(beside).max(deep))),
        None => (rule, one_line()),
    }
}

/// How far beams reach past their last supports: by the code a quarter of the
/// span beside it (IRC 2015, R507.6, and 2018, R507.5, from memory).
pub(super) fn beams(job: &Job, rules: &CodeRules, base: Option<&Base>) -> Option<Finding> {
    let section = match rules.edition? {
        Edition::Irc2015 => "R507.6",
        Edition::Irc2018 => "R507.5",
        Edition::Irc2021 | Edition::Dca6 => return None,
    };
    let base = base.filter(|base| base.under == Under::Beams)?;
    let beam = job.frame.as_ref()?.beam.as_ref()?;
    let along = &base.along;
    let reach = (*along.first()?).max(job.deck.along - *along.last()?);
    let rule = Rule {
        table: Some(section.to_owned()),
        basis: Some("a quarter of the beam's span beside it"),
        from_memory: true,
        ..Rule::of(rules.edition?)
    };
    let nearest = along.windows(2).map(|pair| pair[1] - pair[0]).min();
    let outcome = nearest.map_or_else(one_line, |span| Outcome::of(reach, a_quarter(span)));
    Some(Finding {
        check: Check::BeamCantilever,
        what: format!("beams of {}", job.lumber[beam.size].size),
        ours: Amount::Length(reach),
        rule,
        outcome,
    })
}
