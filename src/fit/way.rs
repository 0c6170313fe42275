//! One way to finish: what it changes, what the courses then come to, and how
//! well that is. Where ways come from, what they cost and how they are ranked
//! is left to its neighbours.

use super::change::{Change, play};
use super::robust::chance;
use crate::courses::{Across, Errors, Outcome, Spread, Verdict};
use crate::deck::{Surface, surface};
use crate::job::{Job, Joists, Side};
use crate::length::Length;

/// What a way does, from what disturbs a deck least to what does most. A way
/// may do several.
///
/// Another board width and a border have their place between the length and
/// the finishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Nothing.
    Leave,
    /// Moves the overhang of the last edge, then of the first.
    Overhang,
    /// Sets another gap.
    Gap,
    /// Leaves some gaps by another fastener.
    MixedFasteners,
    /// Makes the frame larger or smaller across.
    Frame,
    /// Takes a little off the run, so that a shorter board serves.
    Length,
    /// Rips the first and the last course alike.
    Balanced,
    /// Rips the last two courses alike.
    Shared,
    /// Rips the first course instead of the last.
    RipFirst,
}

impl Kind {
    /// Its name in every format.
    pub fn name(self) -> &'static str {
        match self {
            Kind::Leave => "leave",
            Kind::Overhang => "overhang",
            Kind::Gap => "gap",
            Kind::MixedFasteners => "mixed-fasteners",
            Kind::Frame => "frame",
            Kind::Length => "length",
            Kind::Balanced => "balanced",
            Kind::Shared => "shared",
            Kind::RipFirst => "rip-first",
        }
    }
}

/// How well a deck ends, from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ending {
    /// Every course is whole, and what is short the last overhang may be.
    Whole,
    /// Every course is whole, and the last ends short of the edge.
    Short,
    /// What is ripped is half a board or more.
    HalfBoard,
    /// What is ripped is less than half a board.
    Rip,
    /// A course is ripped narrower than the narrowest rip.
    Sliver,
}

/// A way to finish with one fastener.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// What it does; never empty, least disturbing first.
    pub kinds: Vec<Kind>,
    /// The changes, each field once.
    pub changes: Vec<Change>,
    /// The fastener, by its place in the job.
    pub fastener: usize,
    /// The surface there is then.
    pub surface: Surface,
    /// What the courses then come to.
    pub outcome: Outcome,
    /// How well that is.
    pub ending: Ending,
    /// The chance that it still comes out so, when anything is said to be off.
    pub chance: Option<f64>,
    /// Whether the gap it sets, if it sets one, can be set by hand.
    pub settable: bool,
    /// What the joists across are cut to, where the frame's size is changed.
    pub joist_length: Option<Length>,
}

impl Way {
    /// The way that makes these changes, or nothing where they leave no deck.
    ///
    /// # Panics
    /// When the job has no such fastener.
    pub fn new(job: &Job, fastener: usize, kinds: &[Kind], changes: Vec<Change>) -> Option<Way> {
        let changed = with(job, &changes);
        let surface = surface(&changed).ok()?;
        let across = Across::of(&changed, &surface, fastener);
        let outcome = across.outcome();
        let errors = Errors::of(&changed, fastener);
        let spread = Spread::of(&across, &outcome, &errors);
        let play = play(&changed, Side::Last);
        let resized = changes.iter().any(|c| matches!(c, Change::Across(_)));
        let mut kinds = kinds.to_vec();
        kinds.sort();
        Some(Way {
            kinds,
            fastener,
            surface,
            outcome,
            ending: ending(&across, &outcome, play),
            chance: errors
                .any()
                .then(|| chance(&across, &outcome, &spread, play)),
            settable: changes.iter().all(|change| match change {
                Change::Gap(_, to) => to.units() % job.unit.setting().units() == 0,
                _ => true,
            }),
            joist_length: resized.then(|| joist_length(&changed)),
            changes,
        })
    }

    /// What it is called: its kinds joined by `+`.
    pub fn kind(&self) -> String {
        let names: Vec<&str> = self.kinds.iter().map(|kind| kind.name()).collect();
        names.join("+")
    }

    /// The job with the way's changes made.
    pub fn applied(&self, job: &Job) -> Job {
        with(job, &self.changes)
    }

    /// Whether it does this.
    pub fn does(&self, kind: Kind) -> bool {
        self.kinds.contains(&kind)
    }
}

fn with(job: &Job, changes: &[Change]) -> Job {
    let mut changed = job.clone();
    for change in changes {
        change.apply(&mut changed);
    }
    changed
}

/// How well courses end, where the last overhang may yet move so far down and up.
fn ending(across: &Across, outcome: &Outcome, (down, _): (Length, Length)) -> Ending {
    // A gap solved and rounded down leaves less than one unit for each gap.
    let rounding = Length::from_units((outcome.laid - 2).max(0));
    match outcome.verdict {
        Verdict::Full => Ending::Whole,
        Verdict::Short if outcome.short_by <= (-down).max(rounding) => Ending::Whole,
        Verdict::Short if outcome.short_by <= across.gap => Ending::Short,
        // More than a gap is left open: a course that is not laid is missing.
        Verdict::Short => Ending::Rip,
        Verdict::Sliver => Ending::Sliver,
        Verdict::Rip if outcome.ripped_off * 2 <= across.face => Ending::HalfBoard,
        Verdict::Rip => Ending::Rip,
    }
}

/// What joists between the two rims of an open frame are cut to. The rims are
/// taken to be as thick as the joists.
fn joist_length(job: &Job) -> Length {
    let (Joists::Spaced { thickness, .. } | Joists::Positions { thickness, .. }) = &job.joists;
    (job.deck.across - *thickness * 2).max(Length::ZERO)
}
