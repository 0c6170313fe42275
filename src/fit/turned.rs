//! The same deck with its boards the other way: the frame's sides change places,
//! and the joists with them. It knows what turns along and what cannot; what
//! the turned deck costs is left to whoever plans it.

use crate::job::{BeamPlaces, Edge, FrameRules, Job, Joists, RunsPast, Side};
use crate::length::Length;

/// A job with its boards the other way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turned {
    /// The job.
    pub job: Job,
    /// What is no longer as the job said, for a person to know.
    pub notes: Vec<String>,
}

/// The job with its boards the other way.
///
/// What was the first edge lies at the left, the last at the right. Joists keep
/// their spacing, beams bear no longer a stretch of joist than they did, and a
/// ledger stays only where joists still end at a wall.
///
/// # Errors
/// When the job's joists are at places of their own with no spacing to go by:
/// nobody knows where they would be.
pub fn turned(job: &Job) -> Result<Turned, String> {
    let mut notes = Vec::new();
    let mut turned = job.clone();
    turned.deck.along = job.deck.across;
    turned.deck.across = job.deck.along;
    let edges = &mut turned.edges;
    std::mem::swap(&mut edges.first, &mut edges.left);
    std::mem::swap(&mut edges.last, &mut edges.right);
    // What is sawn off in place belongs to the boards' ends.
    for edge in [&mut edges.first, &mut edges.last] {
        if let Edge::Open { allowance, .. } = edge {
            *allowance = Length::ZERO;
        }
    }
    turned.joists = joists(&job.joists, &mut notes)?;
    if !job.joints.keep_out.is_empty() {
        turned.joints.keep_out.clear();
        notes.push("stretches kept free of joints are left out: they lie along".to_owned());
    }
    if let Some(fascia) = &mut turned.fascia {
        fascia.sides = sides(&fascia.sides);
        fascia.runs_past = match fascia.runs_past {
            RunsPast::Along => RunsPast::Across,
            RunsPast::Across => RunsPast::Along,
        };
    }
    for stairs in &mut turned.guards.stairs {
        stairs.side = other(stairs.side);
    }
    if let Some(guard) = &mut turned.guards.rules {
        guard.edges = sides(&guard.edges);
    }
    if let (Some(rules), Some(was)) = (&mut turned.frame, &job.frame) {
        frame(
            job,
            was,
            &turned.deck.across,
            &turned.edges,
            rules,
            &mut notes,
        );
    }
    Ok(Turned { job: turned, notes })
}

/// Where a side of the frame lies once it is turned over its diagonal.
fn other(side: Side) -> Side {
    match side {
        Side::First => Side::Left,
        Side::Last => Side::Right,
        Side::Left => Side::First,
        Side::Right => Side::Last,
    }
}

/// Sides turned, in the order sides are named in.
fn sides(named: &[Side]) -> Vec<Side> {
    let turned: Vec<Side> = named.iter().map(|&side| other(side)).collect();
    let all = Side::ALL.into_iter();
    all.filter(|side| turned.contains(side)).collect()
}

fn joists(joists: &Joists, notes: &mut Vec<String>) -> Result<Joists, String> {
    match joists {
        Joists::Spaced {
            spacing, thickness, ..
        } => Ok(Joists::Spaced {
            spacing: *spacing,
            first: *spacing,
            thickness: *thickness,
        }),
        Joists::Positions {
            spacing: Some(spacing),
            thickness,
            ..
        } => {
            notes.push("joists are taken at the spacing wanted, not at places of their own".into());
            Ok(Joists::Spaced {
                spacing: *spacing,
                first: *spacing,
                thickness: *thickness,
            })
        }
        Joists::Positions { spacing: None, .. } => Err(
            "its joists are at places of their own; give `joists.spacing` to say where they \
             would be the other way"
                .to_owned(),
        ),
    }
}

/// The frame under joists that run the other way.
fn frame(
    job: &Job,
    was: &FrameRules,
    across: &Length,
    edges: &crate::job::Edges,
    rules: &mut FrameRules,
    notes: &mut Vec<String>,
) {
    let wall = |edge: &Edge| matches!(edge, Edge::Wall { .. });
    if was.ledger.is_some() && !wall(&edges.first) && !wall(&edges.last) {
        rules.ledger = None;
        rules.ledger_fastener = None;
        rules.flashing = None;
        notes.push(
            "joists then run beside the wall: what fixes the outermost one to it is not counted"
                .to_owned(),
        );
    }
    let Some(beam) = &mut rules.beam else {
        return;
    };
    let longest = stretch(job, was);
    let count = (across.units() + longest.units() - 1).div_euclid(longest.units().max(1));
    // A ledger carries one end; without one both ends have a beam.
    let beams = count + 1 - if rules.ledger.is_some() { 1 } else { 0 };
    beam.at = BeamPlaces::Even(u32::try_from(beams.clamp(1, 100)).unwrap_or(1));
    notes.push(format!(
        "{beams} even beams, so that no stretch of joist is longer than {}, as now",
        longest.show(job.unit)
    ));
}

/// The longest stretch of joist between what bears it now.
fn stretch(job: &Job, was: &FrameRules) -> Length {
    let ledger = |edge: &Edge| was.ledger.is_some() && matches!(edge, Edge::Wall { .. });
    let ledgers = [ledger(&job.edges.first), ledger(&job.edges.last)];
    let mut places: Vec<Length> = Vec::new();
    places.extend(ledgers[0].then_some(Length::ZERO));
    match was.beam.as_ref().map(|beam| &beam.at) {
        Some(BeamPlaces::Centres(centres)) => places.extend(centres),
        Some(BeamPlaces::Even(count)) => {
            let spaces = i64::from(*count) + ledgers.map(i64::from).iter().sum::<i64>() - 1;
            let step = Length::from_units(job.deck.across.units() / spaces.max(1));
            return step;
        }
        None => {}
    }
    places.extend(ledgers[1].then_some(job.deck.across));
    let between = places.windows(2).map(|pair| pair[1] - pair[0]);
    between.max().unwrap_or(job.deck.across)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::deck::surface;
    use crate::job::{Beam, Lumber, Zone};
    use crate::length::Unit;

    fn feet(count: i64) -> Length {
        Length::from_feet(count)
    }

    fn deck() -> Job {
        let mut job = Job::rectangle(
            Unit::Inch,
            feet(20),
            feet(12),
            Length::from_64ths(352),
            Length::from_64ths(12),
        );
        job.edges.first = Edge::wall(Length::from_64ths(16));
        job.edges.last = Edge::open(Length::from_inches(1));
        job.joints.keep_out = vec![Zone {
            from: feet(2),
            to: feet(3),
        }];
        job
    }

    #[test]
    fn turned_twice_the_surface_is_what_it_was() {
        let job = deck();
        let once = turned(&job).expect("a turned job").job;
        let (was, is) = (surface(&job).unwrap(), surface(&once).unwrap());
        assert_eq!((was.width, was.run()), (is.run(), is.width));
        assert!(matches!(once.edges.left, Edge::Wall { .. }));
        assert!(once.joints.keep_out.is_empty());
        let twice = turned(&once).expect("a turned job").job;
        assert_eq!(twice.deck, job.deck);
        assert_eq!(twice.edges, job.edges);
    }

    #[test]
    fn beams_bear_no_longer_stretch_than_before() {
        let mut job = deck();
        let stock = crate::job::Stock::bought(feet(20), crate::money::Money::from_cents(1));
        job.lumber = vec![Lumber {
            size: "2x8".to_owned(),
            thickness: Length::from_64ths(96),
            depth: Length::from_64ths(464),
            treated: true,
            stock: vec![stock],
        }];
        job.frame = Some(FrameRules {
            ledger: Some(0),
            beam: Some(Beam {
                size: 0,
                plies: 2,
                at: BeamPlaces::Centres(vec![feet(6), feet(11)]),
            }),
            ..FrameRules::new(0, Length::ZERO)
        });
        // By hand: 6 ft from the ledger to the first beam is the longest; 20 ft
        // the other way takes four stretches of 5 ft: five beams, both ends among
        // them, as there is no ledger.
        let other = turned(&job).expect("a turned job");
        let rules = other.job.frame.expect("a frame");
        assert_eq!(rules.ledger, None);
        assert_eq!(rules.beam.map(|beam| beam.at), Some(BeamPlaces::Even(5)));
        assert_eq!(other.notes.len(), 3);
    }

    #[test]
    fn joists_at_places_of_their_own_need_a_spacing() {
        let mut job = deck();
        job.joists = Joists::Positions {
            centres: vec![Length::ZERO, feet(20)],
            spacing: None,
            thickness: Length::from_64ths(96),
        };
        assert!(turned(&job).is_err());
    }
}
