//! Where a frame's members meet, and how many nails or screws go there:
//! connectors with those they ask for, joists' ends, blocking, plies. It counts
//! the frame as it was laid out by [`crate::frame`], and designs no connection.

use super::goods::{bought, places};
use super::{Group, Line};
use crate::frame::{Border, Part, Skeleton};
use crate::job::{Fixing, FrameRules, Job, Plies};
use crate::length::Length;

/// Everything in a frame that takes hardware.
pub(super) struct Connections {
    /// Ends of single joists that hang.
    pub(super) hangers: u64,
    /// Ends of doubled joists that hang.
    pub(super) double_hangers: u64,
    /// Joists over beams.
    pub(super) ties: u64,
    /// Nails in what holds the base's posts.
    at_posts: u64,
    /// Ends of joists' plies at rims that do not hang there, and splices of rims.
    joist_ends: u64,
    /// Ends of blocking.
    blocking_ends: u64,
    /// Rims and joists of more than one ply.
    plies: Seams,
    /// Beams of more than one.
    beam_plies: Seams,
}

/// Plies that lie against each other.
#[derive(Default)]
struct Seams {
    /// So many, each as long as this.
    lengths: Vec<(u64, Length)>,
    /// Places where a ply is spliced.
    splices: u64,
}

impl Seams {
    fn count(&self) -> u64 {
        self.lengths.iter().map(|(count, _)| count).sum()
    }

    fn fasteners(&self, rules: &Plies) -> u64 {
        let along = |&(count, length): &(u64, Length)| count * places(length, rules.spacing);
        let places: u64 = self.lengths.iter().map(along).sum();
        (places + self.splices) * u64::from(rules.at_each)
    }
}

impl Connections {
    /// Those of a frame on a base whose posts' connectors take so many nails.
    pub(super) fn of(
        job: &Job,
        rules: &FrameRules,
        skeleton: &Skeleton,
        at_posts: u64,
    ) -> Connections {
        let joists = &skeleton.joists;
        let doubled = joists.iter().filter(|joist| joist.plies > 1).count() as u64;
        let sticks = joists
            .iter()
            .map(|joist| u64::from(joist.plies))
            .sum::<u64>();
        let rims = skeleton.edges.iter().filter_map(|edge| match edge {
            Border::Rims(plies) => Some(u64::from(*plies)),
            Border::Ledger => None,
        });
        let rims: Vec<u64> = rims.collect();
        // Joists hang at ledgers; where there is none, between the rims, if the
        // job has hangers for that.
        let hung = match skeleton.ledgers() {
            0 => 2,
            ledgers => ledgers,
        };
        let nailed = match (skeleton.ledgers(), &rules.hanger) {
            (0, Some(_)) => 0,
            _ => rims.len() as u64,
        };
        let pieces = |part: Part| {
            let pieces = skeleton.pieces.iter().filter(|piece| piece.part == part);
            pieces.map(|piece| piece.count).sum::<u64>()
        };
        let along = job.deck.along;
        let rim_splices = pieces(Part::Rim) - rims.iter().sum::<u64>();
        let rim_seams: u64 = rims.iter().map(|plies| plies - 1).sum();
        let (beams, plies) = match &rules.beam {
            Some(beam) => (skeleton.beams.len() as u64, u64::from(beam.plies)),
            None => (0, 1),
        };
        let beam_splices = pieces(Part::Beam) - beams * plies;
        let spliced = |seams: u64, splices: u64| if seams > 0 { splices } else { 0 };
        Connections {
            hangers: hung * (joists.len() as u64 - doubled),
            double_hangers: hung * doubled,
            ties: joists.len() as u64 * beams,
            at_posts,
            joist_ends: nailed * sticks + rim_splices,
            blocking_ends: 2 * pieces(Part::Blocking),
            plies: Seams {
                lengths: vec![(rim_seams, along), (doubled, skeleton.joist_length())],
                splices: spliced(rim_seams, rim_splices),
            },
            beam_plies: Seams {
                lengths: vec![(beams * (plies - 1), along)],
                splices: spliced(plies - 1, beam_splices),
            },
        }
    }

    fn connectors<'a>(&self, rules: &'a FrameRules) -> [(Option<&'a Fixing>, u64); 3] {
        [
            (rules.hanger.as_ref(), self.hangers),
            (rules.double_hanger.as_ref(), self.double_hangers),
            (rules.tie.as_ref(), self.ties),
        ]
    }

    /// Nails or screws that connectors ask for.
    pub(super) fn nails(&self, rules: &FrameRules) -> u64 {
        let each = self.connectors(rules).into_iter();
        let each = each.filter_map(|(fixing, count)| Some(u64::from(fixing?.nails) * count));
        each.sum::<u64>() + self.at_posts
    }

    /// Connectors, their nails, and the nails or screws of the frame itself.
    pub(super) fn lines(&self, rules: &FrameRules) -> Vec<Line> {
        let connectors = self.connectors(rules).into_iter();
        let connectors =
            connectors.filter_map(|(fixing, count)| bought(Group::Frame, &fixing?.goods, count));
        let nails = rules.nail.as_ref();
        let nails = nails.and_then(|nail| bought(Group::Frame, nail, self.nails(rules)));
        let fasteners = rules.fasteners.iter().filter_map(|fastener| {
            let of = |plies: &Option<Plies>, seams: &Seams| {
                plies.as_ref().map_or(0, |plies| seams.fasteners(plies))
            };
            let needed = u64::from(fastener.joist_end) * self.joist_ends
                + u64::from(fastener.blocking_end) * self.blocking_ends
                + of(&fastener.plies, &self.plies)
                + of(&fastener.beam_plies, &self.beam_plies);
            bought(Group::Frame, &fastener.goods, needed)
        });
        connectors.chain(nails).chain(fasteners).collect()
    }

    /// What there is that no fastener of the frame is for, by name.
    pub(super) fn unfastened(&self, rules: &FrameRules) -> Vec<&'static str> {
        let named = |goes: fn(&crate::job::FrameFastener) -> bool| rules.fasteners.iter().any(goes);
        let all = [
            (
                self.joist_ends,
                named(|f| f.joist_end > 0),
                "joists at rims",
            ),
            (
                self.blocking_ends,
                named(|f| f.blocking_end > 0),
                "blocking",
            ),
            (
                self.plies.count(),
                named(|f| f.plies.is_some()),
                "doubled rims and joists",
            ),
            (
                self.beam_plies.count(),
                named(|f| f.beam_plies.is_some()),
                "the plies of beams",
            ),
        ];
        let without = all
            .into_iter()
            .filter(|(count, named, _)| *count > 0 && !named);
        without.map(|(_, _, what)| what).collect()
    }
}
