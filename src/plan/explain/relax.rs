//! Which single rule, let go by how much, gives a job a plan. Values are tried
//! from the job's own away from it; what is offered has been planned.

use std::cell::Cell;

use super::lays::{Along, Lays, lays};
use super::{extras, keep_out, supply};
use crate::deck::supports;
use crate::job::{Job, Joists, Stock};
use crate::length::{Length, Unit};
use crate::money::Money;
use crate::plan::budget::Budget;
use crate::plan::model::{Model, longest};
use crate::plan::search::{Laid, search};
use crate::plan::types::Objective;

/// Values of one rule that are planned before it is given up: where the rules
/// along are what is in the way, and where they are not.
const TRIES: [usize; 2] = [5, 2];
/// Places for another joist that are looked at.
const MOST_JOISTS: usize = 48;

/// One rule let go, and what it takes.
pub(super) struct Relaxation {
    /// What to change, as a person would.
    pub what: String,
    /// How far that is from the job: what kind of change, then by what share.
    pub far: (u8, i64),
}

/// What a job is asked while its rules are let go.
pub(super) struct Asker<'a> {
    pub job: &'a Job,
    pub fastener: usize,
    pub stop: &'a dyn Fn() -> bool,
    /// Whether the rules along leave a way, so that something else is in it.
    pub lays: bool,
}

impl Asker<'_> {
    fn may(&self, job: &Job) -> bool {
        lays(job, self.fastener) == Lays::Yes
    }

    /// Whether a plan is found for a job.
    pub(super) fn gives(&self, job: &Job) -> bool {
        if (self.stop)() || !self.may(job) || supply::is_short(job, self.fastener) {
            return false;
        }
        Model::new(job, self.fastener, Objective::Cost)
            .is_ok_and(|model| self.any(&model, job).is_some())
    }

    /// The first plan that is found for a model.
    pub(super) fn any(&self, model: &Model, job: &Job) -> Option<Laid> {
        let found = Cell::new(false);
        let tell = |laid: Option<&Laid>, _| found.set(found.get() || laid.is_some());
        let stop = || found.get() || (self.stop)();
        search(model, &job.joints, Budget::QUICK, &stop, &tell).best
    }

    /// The first of some values, from the job's own away from it, that may be
    /// laid; all beyond it may be too.
    pub(super) fn first<T>(&self, values: &[T], apply: &dyn Fn(&mut Job, &T)) -> usize {
        values.partition_point(|value| !self.may(&self.with(value, apply)))
    }

    /// The nearest of some values that gives a plan: those that may be laid are
    /// planned, in ever wider steps.
    pub(super) fn nearest<'v, T>(
        &self,
        values: &'v [T],
        apply: &dyn Fn(&mut Job, &T),
    ) -> Option<&'v T> {
        let first = self.first(values, apply);
        let steps = (0..TRIES[usize::from(self.lays)]).map(|n| first + (1 << n) - 1);
        steps
            .filter_map(|at| values.get(at))
            .find(|value| self.gives(&self.with(*value, apply)))
    }

    fn with<T>(&self, value: &T, apply: &dyn Fn(&mut Job, &T)) -> Job {
        let mut job = self.job.clone();
        apply(&mut job, value);
        job
    }

    /// Every rule that can be let go by itself, the nearest to the job first.
    /// Where boards are short by their mere length, no rule along can help.
    pub(super) fn relaxations(&self, focus: Length, short: bool) -> Vec<Relaxation> {
        let along = || {
            [
                self.stagger(),
                self.stagger_joists(),
                keep_out::shorter(self),
                self.repeat(),
                self.bearing(),
                self.shortest_piece(),
                self.same_joist_after(),
                self.joist(focus),
                self.spacing(),
            ]
        };
        let mut found: Vec<Relaxation> = self.longer_boards().into_iter().collect();
        if !short {
            found.extend(along().into_iter().flatten());
        }
        found.extend(
            supply::more(self)
                .into_iter()
                .map(|(what, share)| Relaxation {
                    what,
                    far: (1, share),
                }),
        );
        found.extend(extras::given_up(self));
        found.sort_by_key(|relaxation| relaxation.far);
        found
    }

    fn stagger(&self) -> Option<Relaxation> {
        let values = staggers(self.job, self.fastener);
        let value = self.nearest(&values, &|job, value| job.joints.stagger = *value)?;
        let was = self.job.joints.stagger;
        Some(Relaxation {
            what: format!("`joints.stagger = \"{}\"`", value.exact(self.job.unit)),
            far: (0, share(was.units() - value.units(), was.units())),
        })
    }

    fn stagger_joists(&self) -> Option<Relaxation> {
        let was = self.job.joints.stagger_joists;
        let values: Vec<u32> = below(was, 0);
        let value = self.nearest(&values, &|job, value| job.joints.stagger_joists = *value)?;
        Some(Relaxation {
            what: format!("`joints.stagger_joists = {value}`"),
            far: (0, share(i64::from(was - value), i64::from(was))),
        })
    }

    /// Another number of courses after which joints repeat, or none.
    fn repeat(&self) -> Option<Relaxation> {
        let was = self.job.joints.repeat?;
        let others = [1, 2, 3, 4].map(|more| was.saturating_add(more));
        let others = others.into_iter().map(Some).chain([None]);
        let found = others.into_iter().find(|&repeat| {
            self.gives(&self.with(&repeat, &|job, value| job.joints.repeat = *value))
        })?;
        Some(match found {
            Some(repeat) => Relaxation {
                what: format!("`joints.repeat = {repeat}`"),
                far: (0, share(i64::from(repeat - was), i64::from(was))),
            },
            None => Relaxation {
                what: "joints that need not repeat, `joints.repeat = `".to_owned(),
                far: (0, 1_000),
            },
        })
    }

    fn bearing(&self) -> Option<Relaxation> {
        let was = self.job.joints.bearing;
        let values: Vec<u32> = below(was, 1);
        let value = self.nearest(&values, &|job, value| job.joints.bearing = *value)?;
        Some(Relaxation {
            what: format!("`joints.bearing = {value}`"),
            far: (0, share(i64::from(was - value), i64::from(was))),
        })
    }

    fn shortest_piece(&self) -> Option<Relaxation> {
        let was = self.job.joints.shortest_piece;
        let values = shortest_pieces(self.job, self.fastener);
        let value = self.nearest(&values, &|job, value| job.joints.shortest_piece = *value)?;
        Some(Relaxation {
            what: format!(
                "`joints.shortest_piece = \"{}\"`",
                value.exact(self.job.unit)
            ),
            far: (0, share(was.units() - value.units(), was.units())),
        })
    }

    fn same_joist_after(&self) -> Option<Relaxation> {
        let was = self.job.joints.same_joist_after;
        let values: Vec<u32> = below(was, 0);
        let value = self.nearest(&values, &|job, value| job.joints.same_joist_after = *value)?;
        Some(Relaxation {
            what: format!("`joints.same_joist_after = {value}`"),
            far: (0, share(i64::from(was - value), i64::from(was))),
        })
    }

    fn longer_boards(&self) -> Option<Relaxation> {
        let now = longest(self.job).unwrap_or(Length::ZERO);
        let trims = self.job.cutting.end_trim * 2;
        let step = step(self.job.unit);
        let extra = (self.job.extras.iter()).map(|extra| extra.length);
        let extra = extra.max().unwrap_or(Length::ZERO);
        let mut values: Vec<Length> = Along::of(self.job, self.fastener, Length::from_feet(3_000))?
            .run
            .lengths
            .iter()
            .chain(self.job.extras.iter().map(|extra| &extra.length))
            .filter(|&&length| length > now)
            // Shorter than another piece they would not do.
            .map(|&length| rounded_up(length.max(extra) + trims, step))
            .collect();
        values.sort_unstable();
        values.dedup();
        let price = self.job.stock.iter().filter_map(|s| s.price).max();
        let value = self.nearest(&values, &|job, value| {
            job.stock.push(Stock {
                item: None,
                length: *value,
                price: Some(price.unwrap_or(Money::ZERO)),
                on_hand: 0,
                available: None,
                bundle: 1,
            });
        })?;
        Some(Relaxation {
            what: format!("boards of {} or longer", value.show(self.job.unit)),
            far: (1, share((*value - now).units(), now.units())),
        })
    }

    /// Another joist, as near as can be to where it is wanted.
    fn joist(&self, focus: Length) -> Option<Relaxation> {
        let supports = supports(self.job);
        let coarse = match self.job.unit {
            Unit::Inch => Length::from_inches(1),
            Unit::Millimetre => Length::from_mm(10),
        };
        let mut places: Vec<Length> = supports
            .centres
            .windows(2)
            .filter(|bay| bay[1] - bay[0] >= supports.thickness * 4)
            .map(|bay| rounded_up((bay[0] + bay[1]).half_down(), coarse))
            .collect();
        // As far from a joist as joints of neighbours are.
        let stagger = self.job.joints.stagger;
        let beside = supports
            .centres
            .iter()
            .flat_map(|&c| [c - stagger, c + stagger]);
        places.extend(beside.filter(|&place| {
            let next = supports.centres.partition_point(|&c| c < place);
            let bay = |next: usize| {
                Some([
                    *supports.centres.get(next.checked_sub(1)?)?,
                    *supports.centres.get(next)?,
                ])
            };
            bay(next).is_some_and(|[left, right]| {
                (place - left).min(right - place) >= supports.thickness
            })
        }));
        places.sort_by_key(|&place| (place - focus).abs());
        places.truncate(MOST_JOISTS);
        let with = |place: Length| {
            let mut job = self.job.clone();
            let mut centres = supports.centres.clone();
            centres.push(place);
            centres.sort_unstable();
            job.joists = Joists::Positions {
                centres,
                spacing: None,
                thickness: supports.thickness,
            };
            job
        };
        let place = places
            .into_iter()
            .filter(|&place| self.may(&with(place)))
            .take(2)
            .find(|&place| self.gives(&with(place)))?;
        Some(Relaxation {
            what: format!("a joist near {}", place.show(self.job.unit)),
            far: (2, 0),
        })
    }

    /// Joists closer together.
    fn spacing(&self) -> Option<Relaxation> {
        let Joists::Spaced {
            spacing: was,
            first,
            ..
        } = self.job.joists
        else {
            return None;
        };
        let usual: Vec<Length> = match self.job.unit {
            Unit::Inch => [24, 16, 12, 8].map(Length::from_inches).to_vec(),
            Unit::Millimetre => [600, 500, 450, 400, 300, 200].map(Length::from_mm).to_vec(),
        };
        let values: Vec<Length> = usual.into_iter().filter(|value| *value < was).collect();
        // A first joist that was left to the spacing moves with it.
        let apply = |moves: bool| {
            move |job: &mut Job, value: &Length| {
                if let Joists::Spaced { spacing, first, .. } = &mut job.joists {
                    *spacing = *value;
                    if moves {
                        *first = *value;
                    }
                }
            }
        };
        let value = self.nearest(&values, &apply(first == was))?;
        let text = value.exact(self.job.unit);
        let mut what = format!("`joists.spacing = \"{text}\"`");
        if first == was && !self.gives(&self.with(value, &apply(false))) {
            what += &format!(" with `joists.first = \"{text}\"`");
        }
        Some(Relaxation {
            what,
            far: (2, share((was - *value).units(), was.units())),
        })
    }
}

/// Distances there are between joints, below the stagger, the greatest first.
pub(super) fn staggers(job: &Job, fastener: usize) -> Vec<Length> {
    let joints = along(job, fastener).map_or_else(Vec::new, |along| along.run.joints);
    let mut values = vec![Length::ZERO];
    for (i, &a) in joints.iter().enumerate() {
        let near = joints[i + 1..].iter().map(|&b| b - a);
        values.extend(near.take_while(|&apart| apart < job.joints.stagger));
    }
    descending(values, job.joints.stagger)
}

/// Lengths of pieces as they lie, below the shortest allowed, the longest first.
pub(super) fn shortest_pieces(job: &Job, fastener: usize) -> Vec<Length> {
    let mut free = job.clone();
    free.joints.shortest_piece = Length::ZERO;
    let mut values = vec![Length::ZERO];
    if let Some(Along { run, .. }) = along(&free, fastener) {
        for a in 0..run.end() {
            values.extend(run.reach(a).map(|b| run.ends(b) - run.starts(a)));
        }
    }
    descending(values, job.joints.shortest_piece)
}

/// A count and all below it down to the least, without the count itself.
pub(super) fn below(count: u32, least: u32) -> Vec<u32> {
    (least..count.min(10_000)).rev().collect()
}

fn along(job: &Job, fastener: usize) -> Option<Along> {
    Along::of(job, fastener, longest(job)?)
}

fn descending(mut values: Vec<Length>, below: Length) -> Vec<Length> {
    values.retain(|value| *value < below && !value.is_negative());
    values.sort_unstable_by(|a, b| b.cmp(a));
    values.dedup();
    values
}

/// A part of a whole in thousandths.
pub(super) fn share(part: i64, whole: i64) -> i64 {
    (i128::from(part) * 1_000 / i128::from(whole.max(1))) as i64
}

fn step(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_64ths(4),
        Unit::Millimetre => Length::from_mm(1),
    }
}

pub(super) fn rounded_up(length: Length, step: Length) -> Length {
    let steps = length.units().div_euclid(step.units());
    let down = step * steps;
    if down < length { down + step } else { down }
}
