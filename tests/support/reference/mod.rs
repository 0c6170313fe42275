//! Reference models of small jobs and cutting problems: what the best plan
//! costs, found by plain enumeration (`brute`) and by a 0/1 model given to a
//! general-purpose solver (`milp`). They share with the program only the
//! deck's geometry, which the verifier checks on its own.

pub mod boards;
pub mod brute;
pub mod milp;
pub mod patterns;

use lastcourse::courses::layout;
use lastcourse::deck::{supports, surface};
use lastcourse::job::Job;
use lastcourse::plan::Objective;

use boards::{Kind, Source};
use patterns::Pattern;

/// What a reference model knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// The best there is.
    Best(Best),
    /// No plan obeys the rules.
    Impossible,
    /// Beyond the model's size: it knows nothing.
    TooLarge,
}

/// The best plan's figures; ordered as the objective orders plans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Best {
    /// The objective's value.
    pub value: i64,
    /// Its cost in cents.
    pub cost: i64,
    /// Its joints.
    pub joints: i64,
}

/// A small job as the models read it.
#[derive(Debug)]
pub struct Instance {
    /// How many courses there are.
    pub courses: usize,
    /// The course whose pieces may lie side by side in a split board.
    pub split_course: Option<usize>,
    /// Every way to cut a run.
    pub patterns: Vec<Pattern>,
    /// The pieces that may be needed, longest first.
    pub kinds: Vec<Kind>,
    /// How many of each kind are wanted beside the courses' own.
    pub extra: Vec<u8>,
    /// Where boards come from.
    pub sources: Vec<Source>,
    /// Cents for a joint and for a support with joints.
    pub joint_price: i64,
    pub doubled_price: i64,
    /// Least distance of joints in neighbouring courses, in 1/8 µm.
    pub stagger: i64,
    /// Least count of supports between joints of neighbouring courses, the
    /// farther one's counted.
    pub stagger_joists: usize,
    /// The supports' centres, in 1/8 µm.
    pub supports: Vec<i64>,
    /// Courses after which patterns come round again.
    pub repeat: Option<usize>,
    /// Courses between two joints on a support.
    pub same_joist_after: usize,
}

impl Instance {
    /// The instance of a job with one of its fasteners, or nothing when a run
    /// can be cut in more than `most` ways.
    pub fn new(job: &Job, fastener: usize, most: usize) -> Option<Instance> {
        let surface = surface(job).expect("a surface");
        let courses = layout(job, &surface, fastener).courses;
        let face = job.board.face.units();
        let splittable: Vec<usize> = (0..courses.len())
            .filter(|&index| {
                let width = courses[index].width().units();
                job.cutting.split_rips
                    && width < face
                    && 2 * width + job.cutting.rip_kerf.units() <= face
            })
            .collect();
        assert!(
            splittable.len() <= 1,
            "two courses of less than half a face"
        );
        let patterns = patterns::every(job, &surface, &supports(job).centres, most)?;
        let mut kinds = Vec::new();
        for pattern in &patterns {
            for &length in &pattern.lengths {
                kinds.push(Kind {
                    length,
                    split: false,
                });
                if !splittable.is_empty() {
                    kinds.push(Kind {
                        length,
                        split: true,
                    });
                }
            }
        }
        kinds.extend(job.extras.iter().map(|extra| Kind {
            length: extra.length.units(),
            split: false,
        }));
        kinds.sort_unstable();
        kinds.reverse();
        kinds.dedup();
        let mut extra = vec![0; kinds.len()];
        for wanted in &job.extras {
            let length = wanted.length.units();
            let same = |kind: &Kind| kind.length == length && !kind.split;
            extra[kinds.iter().position(same)?] += u8::try_from(wanted.count).ok()?;
        }
        Some(Instance {
            extra,
            courses: courses.len(),
            split_course: splittable.first().copied(),
            patterns,
            kinds,
            sources: boards::sources(job),
            joint_price: job.joints.price.cents(),
            doubled_price: job.joints.doubled_joist_price.cents(),
            stagger: job.joints.stagger.units(),
            repeat: job.joints.repeat.map(|round| round as usize),
            stagger_joists: job.joints.stagger_joists as usize,
            supports: supports(job).centres.iter().map(|at| at.units()).collect(),
            same_joist_after: job.joints.same_joist_after as usize,
        })
    }

    /// Whether two patterns may lie so many courses apart (1: neighbours).
    pub fn compatible(&self, one: &Pattern, other: &Pattern, apart: usize) -> bool {
        one.joints.iter().all(|here| {
            other.joints.iter().all(|there| {
                let near = (here - there).abs() < self.stagger
                    || self.joists_between(*here, *there) < self.stagger_joists;
                !(apart == 1 && near || apart <= self.same_joist_after && here == there)
            })
        })
    }

    /// How many supports one joint is from another.
    fn joists_between(&self, here: i64, there: i64) -> usize {
        let number = |at| self.supports.iter().position(|&support| support == at);
        let number = |at| number(at).expect("a joint on a support");
        number(here).abs_diff(number(there))
    }

    /// How often a pattern in a course needs each kind of piece.
    pub fn needs(&self, pattern: &Pattern, course: usize) -> Vec<u8> {
        let split = self.split_course == Some(course);
        let mut needs = vec![0; self.kinds.len()];
        for &length in &pattern.lengths {
            let kind = Kind { length, split };
            let index = self.kinds.iter().position(|k| *k == kind).expect("a kind");
            needs[index] += 1;
        }
        needs
    }

    /// The figures of a plan with so much for boards (length bought and cents),
    /// joints and doubled supports.
    pub fn figures(
        &self,
        objective: Objective,
        boards: (i64, i64),
        joints: i64,
        doubled: i64,
    ) -> Best {
        let (length, price) = boards;
        let cost = price + joints * self.joint_price + doubled * self.doubled_price;
        Best {
            value: match objective {
                Objective::Cost => cost,
                Objective::Joints => joints,
                Objective::Waste => length,
            },
            cost,
            joints,
        }
    }
}
