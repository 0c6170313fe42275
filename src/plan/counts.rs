//! How many boards of each kind, how many of them split and how many joints a plan may
//! have: what the search branches on.

use super::model::Model;

/// What whole counts a plan is allowed: boards of each kind and joints, from
/// and to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Counts {
    /// Boards of each kind, in whole bundles.
    pub boards: Vec<(i64, i64)>,
    /// Of those, boards that are split; none where no board may be.
    pub split: Vec<(i64, i64)>,
    /// Joints in all.
    pub joints: (i64, i64),
    /// Pieces of each row, if they are counted.
    pub pieces: Vec<(i64, i64)>,
    /// Supports, if those that carry joints are counted.
    pub supports: Option<Supports>,
    /// Joints of each lot of courses that lie alike at each place, lot by lot, if they
    /// are counted.
    pub places: Vec<(i64, i64)>,
}

/// Which supports carry joints, and how many of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Supports {
    /// Of each support: none where it is barred, one where it is paid for.
    pub each: Vec<(i64, i64)>,
    /// In all.
    pub all: (i64, i64),
}

impl Counts {
    /// All counts that a plan of at most some weight can have.
    pub(crate) fn all(model: &Model, at_most: i64) -> Counts {
        let boards: Vec<(i64, i64)> = (0..model.kinds.len())
            .map(|k| (0, model.most_bought(k, at_most)))
            .collect();
        let split = match model.splits.is_empty() {
            true => Vec::new(),
            false => boards.clone(),
        };
        let most = (model.materials.len() * model.run.most_joints().unwrap_or(0)) as i64;
        Counts {
            boards,
            split,
            joints: (
                0,
                model.joints_at_most.map_or(most, |limit| limit.min(most)),
            ),
            pieces: Vec::new(),
            supports: None,
            places: Vec::new(),
        }
    }

    /// Whether there is none.
    pub(crate) fn is_empty(&self) -> bool {
        self.boards
            .iter()
            .chain(&self.split)
            .chain([&self.joints])
            .chain(&self.pieces)
            .chain(&self.places)
            .chain(self.supports.iter().flat_map(Supports::bounds))
            .any(|(low, high)| low > high)
    }

    /// The same with pieces counted too.
    pub(crate) fn with_pieces(mut self, model: &Model) -> Counts {
        self.pieces = vec![(0, model.most_pieces); model.rows];
        self
    }

    /// The same with the places of joints counted too, of so many lots of courses.
    pub(crate) fn with_places(mut self, model: &Model, lots: usize) -> Counts {
        self.places = vec![(0, 1); lots * model.run.joints.len()];
        self
    }

    /// The same with supports counted too.
    pub(crate) fn with_supports(mut self, model: &Model) -> Counts {
        let places = model.run.joints.len();
        self.supports = Some(Supports {
            each: vec![(0, 1); places],
            all: (0, places as i64),
        });
        self
    }

    /// Pays for supports, or bars them, where all else is more than `gap` dearer: by what
    /// paying for each adds to a bound.
    pub(crate) fn keep_supports(&mut self, reduced: &[i128], gap: i128) {
        let each = self.supports.iter_mut().flat_map(|s| &mut s.each);
        for ((low, high), &reduced) in each.zip(reduced) {
            if reduced > gap {
                *high = *low;
            } else if -reduced > gap {
                *low = *high;
            }
        }
    }

    /// Just these boards.
    pub(crate) fn just(&self, boards: &[i64]) -> Counts {
        Counts {
            boards: boards.iter().map(|&n| (n, n)).collect(),
            ..self.clone()
        }
    }

    /// No more boards of any kind than these, nor joints if given.
    pub(crate) fn up_to(&self, boards: &[i64], joints: Option<i64>) -> Counts {
        let mut counts = self.clone();
        for (bounds, &n) in counts.boards.iter_mut().zip(boards) {
            bounds.1 = n;
        }
        if let Some(joints) = joints {
            counts.joints.1 = joints;
        }
        counts
    }

    /// The rest of these counts when just these boards are taken out, in parts.
    pub(crate) fn without(&self, model: &Model, boards: &[i64]) -> Vec<Counts> {
        let mut parts = Vec::new();
        let mut rest = self.clone();
        for (k, &n) in boards.iter().enumerate() {
            let (low, high) = rest.boards[k];
            let bundle = model.kinds[k].bundle;
            for bounds in [(low, n - bundle), (n + bundle, high)] {
                let mut part = rest.clone();
                part.boards[k] = bounds;
                if !part.is_empty() {
                    parts.push(part);
                }
            }
            rest.boards[k] = (n, n);
        }
        parts
    }

    /// The rest of these counts when just these boards and joints, or fewer of those,
    /// weigh less than any plan does; nothing where they may be a plan's.
    pub(crate) fn above(
        &self,
        model: &Model,
        bound: i64,
        boards: &[i64],
        joints: i64,
    ) -> Option<Vec<Counts>> {
        let weigh = boards
            .iter()
            .zip(&model.kinds)
            .map(|(n, kind)| n * kind.cost);
        let left = bound - weigh.sum::<i64>();
        let joint = model.weights.joint;
        // Supports that carry joints weigh something besides.
        if model.weights.doubled > 0 || joints * joint >= left {
            return None;
        }
        let mut parts = self.without(model, boards);
        let mut more = self.just(boards);
        if joint > 0 {
            more.joints.0 = more.joints.0.max((left + joint - 1) / joint);
            parts.push(more);
        }
        Some(parts)
    }
}

impl Supports {
    fn bounds(&self) -> impl Iterator<Item = &(i64, i64)> {
        self.each.iter().chain([&self.all])
    }

    /// The number of those that are paid for.
    pub(crate) fn paid(&self) -> i64 {
        self.each.iter().map(|bounds| bounds.0).sum()
    }
}
