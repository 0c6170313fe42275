//! How much work a search of a plan may spend, and on what. Work is counted, never
//! timed, so that the same job always comes to the same plan.

use super::finite::Work;
use crate::program::branch::Limits;

/// Steps of walks on a set of supports that are settled before all else.
const STEPS_OF_SET: usize = 4_000;

/// How much work is spent, in counts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Budget {
    /// Products in all; what was begun is finished.
    pub total: u64,
    /// Products spent at least on ties of the primary objective.
    pub ties: u64,
    /// Steps in the graph of a block beyond which wider blocks are not tried.
    pub steps: usize,
    /// The same where narrower ones have left something open.
    pub wider: usize,
    /// Counts given up, at one width, because no plan of them was found.
    pub stuck: usize,
    /// Steps of a search for an order of courses.
    pub order: u32,
    /// Other answers tried where one could not be put in order.
    pub others: usize,
    /// Whether plans of any counts are looked for before branching.
    pub before: bool,
    /// Families tried before branching.
    pub families: usize,
    /// Nodes looked at for a family.
    pub settle: usize,
    /// Products spent on a family; what was begun is finished.
    pub family: u64,
    /// Products spent on the pieces of one count of boards.
    pub pieces: u64,
    /// For integer programs over the columns at hand.
    pub whole: Limits,
    /// On the steps of courses of one family.
    pub coloured: Work,
    /// On single courses.
    pub stretches: Work,
    /// On the steps of blocks.
    pub flows: Work,
    /// On the steps of walks.
    pub circuits: Work,
    /// Products spent on circuits up to each weight; what was begun is finished.
    pub apart: u64,
    /// On the steps of walks of a few ways to cut a course.
    pub few: Work,
    /// Plans laid along walks at most, of each kind.
    pub walked: u64,
    /// Products spent on each kind; what was begun is finished.
    pub along: u64,
    /// Products spent on the parts of a plan; what was begun is finished.
    pub refill: u64,
    /// Products spent on longer parts of a plan at last.
    pub longer: u64,
    /// Products spent on the clashes of courses; what was begun is finished.
    pub mend: u64,
    /// For other answers.
    pub other: Work,
    /// For closing what is left over all columns.
    pub closing: Work,
}

impl Budget {
    /// For a plan that should be proven best.
    pub(crate) const FULL: Budget = Budget {
        total: 20_000_000_000,
        ties: 150_000_000,
        steps: 1_500_000,
        wider: 3_000_000,
        stuck: 6,
        order: 3_000,
        others: 24,
        before: true,
        families: 4,
        settle: 40,
        family: 600_000_000,
        pieces: 150_000_000,
        whole: Limits {
            nodes: 100,
            work: 60,
        },
        coloured: Work {
            columns: 4_000,
            limits: Limits {
                nodes: 150,
                work: 20,
            },
        },
        stretches: Work {
            columns: 20_000,
            limits: Limits {
                nodes: 4_000,
                work: 50,
            },
        },
        flows: Work {
            columns: 6_000,
            limits: Limits {
                nodes: 200,
                work: 20,
            },
        },
        circuits: Work {
            columns: 30_000,
            limits: Limits {
                nodes: 4_000,
                work: 500,
            },
        },
        apart: 2_500_000_000,
        few: Work {
            columns: 20_000,
            limits: Limits {
                nodes: 400,
                work: 40,
            },
        },
        walked: 4,
        along: 400_000_000,
        refill: 400_000_000,
        longer: 6_000_000_000,
        mend: 100_000_000,
        other: Work {
            columns: 60_000,
            limits: Limits {
                nodes: 600,
                work: 6_000,
            },
        },
        closing: Work {
            columns: 60_000,
            limits: Limits {
                nodes: 12_000,
                work: 12_000,
            },
        },
    };
    /// For tables of many plans.
    pub(crate) const QUICK: Budget = Budget {
        total: 250_000_000,
        ties: 10_000_000,
        steps: 100_000,
        wider: 100_000,
        stuck: 3,
        order: 400,
        others: 3,
        before: true,
        families: 2,
        settle: 12,
        family: 20_000_000,
        pieces: 4_000_000,
        whole: Limits { nodes: 20, work: 5 },
        coloured: Work {
            columns: 2_000,
            limits: Limits { nodes: 20, work: 3 },
        },
        stretches: Work {
            columns: 2_000,
            limits: Limits { nodes: 60, work: 6 },
        },
        flows: Work {
            columns: 2_000,
            limits: Limits { nodes: 20, work: 3 },
        },
        circuits: Work {
            columns: 2_000,
            limits: Limits { nodes: 20, work: 3 },
        },
        apart: 10_000_000,
        few: Work {
            columns: 1_000,
            limits: Limits { nodes: 20, work: 3 },
        },
        walked: 1,
        along: 10_000_000,
        refill: 10_000_000,
        longer: 0,
        mend: 5_000_000,
        other: Work {
            columns: 20_000,
            limits: Limits {
                nodes: 60,
                work: 600,
            },
        },
        closing: Work {
            columns: 20_000,
            limits: Limits {
                nodes: 100,
                work: 800,
            },
        },
    };

    /// For the plain problem on a set of supports, once so much is spent: so many times
    /// the least work.
    pub(super) fn for_set(&self, spent: u64, times: u64) -> Budget {
        let part = |whole: u64| whole.min(whole / 10 * times);
        let mut budget = *self;
        budget.total = spent + self.total / 40 * times;
        budget.steps = self.steps.min(self.steps / 4 * times as usize);
        budget.wider = budget.steps;
        // Few sets have a lighter plan: none is looked for before the set is bounded.
        budget.before = false;
        budget.refill = part(self.refill);
        budget.longer = 0;
        budget.along = part(self.along);
        budget.apart = part(self.apart);
        budget.circuits.columns = self.circuits.columns.min(STEPS_OF_SET);
        budget.circuits.limits.work = part(self.circuits.limits.work) / 2;
        budget.stretches.limits.work = part(self.stretches.limits.work) * 2;
        budget
    }
}
