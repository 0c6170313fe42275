//! What ways cost, by real board plans. Jobs whose plans must be the same are
//! planned once. Plans are made by whoever asks, on as many cores as there are;
//! the order in which they are made decides nothing.

use super::way::Way;
use crate::courses::layout;
use crate::deck::{supports, surface};
use crate::job::{Board, CourseRules, Edge, Edges, Frame, Guards, Job, Joists, OrderRules, Span};
use crate::length::Length;
use crate::money::Money;
use crate::plan::{PlanError, Totals};

/// A job to be planned with one of its fasteners.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Task {
    /// The job.
    pub job: Job,
    /// The fastener, by its place in the job.
    pub fastener: usize,
}

/// What planning a task gave.
pub type Planned = Result<Totals, PlanError>;

/// Plans tasks, one answer for each, in order.
pub type Planner<'a> = &'a dyn Fn(&[Task]) -> Vec<Planned>;

/// A way and what it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Priced {
    /// The way.
    pub way: Way,
    /// The board plan's totals or why there is none; nothing where the job says
    /// nothing of boards.
    pub plan: Option<Planned>,
    /// Its cost less that of leaving all as it is with the same fastener.
    pub difference: Option<Money>,
    /// Its boards less those of leaving all as it is with the same fastener.
    pub more_boards: Option<i64>,
}

impl Priced {
    /// The plan's totals, if there is a plan.
    pub fn totals(&self) -> Option<&Totals> {
        self.plan.as_ref()?.as_ref().ok()
    }

    /// What it costs, if there is a plan.
    pub fn cost(&self) -> Option<Money> {
        self.totals().map(|totals| totals.cost)
    }

    /// Why there is no plan, if there is none.
    pub fn problem(&self) -> Option<String> {
        match &self.plan {
            Some(Ok(_)) => None,
            Some(Err(error)) => Some(error.to_string()),
            None => Some("the job says nothing of boards: add [[stock]]".to_string()),
        }
    }

    /// Whether its planning was stopped from outside.
    pub fn is_stopped(&self) -> bool {
        match &self.plan {
            Some(Ok(totals)) => totals.stopped,
            Some(Err(error)) => *error == PlanError::Stopped,
            None => false,
        }
    }
}

/// All that two jobs must share for the same plan to be best for both.
#[derive(PartialEq)]
struct Likeness {
    /// The job without what the rest of this says better.
    job: Job,
    from: Length,
    to: Length,
    supports: Vec<Length>,
    courses: usize,
    /// Widths count only where boards may be split.
    widths: Option<Vec<Length>>,
}

fn likeness(task: &Task) -> Option<Likeness> {
    let surface = surface(&task.job).ok()?;
    let layout = layout(&task.job, &surface, task.fastener);
    let widths = || layout.courses.iter().map(|course| course.width()).collect();
    Some(Likeness {
        job: without_places(&task.job),
        from: surface.from,
        to: surface.to,
        supports: supports(&task.job).centres,
        courses: layout.courses.len(),
        widths: task.job.cutting.split_rips.then(widths),
    })
}

/// A job without what decides only where its courses, supports and edges are,
/// or what is bought beside its boards.
fn without_places(job: &Job) -> Job {
    let edge = |edge: &Edge| Edge::Open {
        fascia: Length::ZERO,
        overhang: Span::fixed(Length::ZERO),
        allowance: edge.allowance(),
    };
    let edges = &job.edges;
    Job {
        deck: Frame {
            along: Length::ZERO,
            across: Length::ZERO,
            built: false,
            tolerance: Length::ZERO,
            diagonals: None,
        },
        edges: Edges {
            first: Edge::open(Length::ZERO),
            last: Edge::open(Length::ZERO),
            left: edge(&edges.left),
            right: edge(&edges.right),
        },
        joists: Joists::Positions {
            centres: Vec::new(),
            spacing: None,
            thickness: Length::ZERO,
        },
        board: Board {
            face_tolerance: Length::ZERO,
            uncertainty: Length::ZERO,
            narrowest_rip: Length::ZERO,
            movement: None,
            face: if job.cutting.split_rips {
                job.board.face
            } else {
                Length::ZERO
            },
        },
        fasteners: Vec::new(),
        courses: CourseRules::default(),
        order: OrderRules::default(),
        lumber: Vec::new(),
        frame: None,
        fascia: None,
        base: None,
        codes: None,
        guards: Guards::default(),
        readings: Vec::new(),
        ..job.clone()
    }
}

/// Whether tasks all have the same plan.
pub fn alike(tasks: &[Task]) -> bool {
    let mut known = tasks.iter().map(likeness);
    let first = known.next().flatten();
    first.is_some() && known.all(|other| other == first)
}

/// Plans tasks, those with the same plan once.
pub fn plan_all(tasks: &[Task], planner: Planner) -> Vec<Planned> {
    let mut distinct: Vec<Task> = Vec::new();
    let mut likenesses: Vec<Option<Likeness>> = Vec::new();
    let mut answers: Vec<usize> = Vec::new();
    for task in tasks {
        let likeness = likeness(task);
        let known = likenesses
            .iter()
            .position(|known| known.is_some() && *known == likeness);
        answers.push(known.unwrap_or(distinct.len()));
        if known.is_none() {
            distinct.push(task.clone());
            likenesses.push(likeness);
        }
    }
    let planned = planner(&distinct);
    answers
        .into_iter()
        .map(|k| planned.get(k).cloned().unwrap_or(Err(PlanError::Stopped)))
        .collect()
}

/// Prices ways by planning each; `leave` is what each is set against.
pub(super) fn price(job: &Job, ways: Vec<Way>, planner: Planner) -> Vec<Priced> {
    let tasks: Vec<Task> = ways
        .iter()
        .map(|way| Task {
            job: way.applied(job),
            fastener: way.fastener,
        })
        .collect();
    let planned = if job.stock.is_empty() {
        Vec::new()
    } else {
        plan_all(&tasks, planner)
    };
    let mut planned = planned.into_iter();
    ways.into_iter()
        .map(|way| Priced {
            way,
            plan: planned.next(),
            difference: None,
            more_boards: None,
        })
        .collect()
}
