//! A plan for programs. The keys are stable; new ones may be added.

use schemars::JsonSchema;
use serde::Serialize;

use crate::caution::Caution;
use crate::job::Job;
use crate::length::Unit;
use crate::plan::Plan;
use crate::report::json::{Amount, Answer, Measure, Value, Warning, gap, objective, waste};

/// A board plan: courses cut into pieces, and the boards they are cut from.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PlanAnswer {
    /// The fastener the courses are laid with.
    fastener: String,
    /// Its gap.
    gap: Measure,
    /// The last gaps, where another fastener leaves them.
    mixed: Option<Mixed>,
    /// The supports' centres along, from the frame's left side.
    supports: Vec<Measure>,
    /// The courses from the first edge.
    courses: Vec<Course>,
    /// Other pieces cut from the same boards.
    extras: Vec<Extra>,
    /// Boards that are paid and not used, because they are sold in bundles.
    left_over: Vec<LeftOver>,
    /// The boards, each with what is sawn from it.
    boards: Vec<Board>,
    /// Counts, money and how good the plan is known to be.
    totals: Totals,
    /// What a person should look at.
    cautions: Vec<Warning>,
}

/// The last gaps of the deck, left by another fastener.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Mixed {
    /// The other fastener.
    fastener: String,
    /// Its gap.
    gap: Measure,
    /// How many gaps, counted back from the last one.
    gaps: u32,
}

/// One course.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Course {
    /// Counted from 1 at the first edge.
    number: u32,
    /// Its near edge across, 0 at the surface's first edge.
    from: Measure,
    /// Its far edge across.
    to: Measure,
    /// `to - from`.
    width: Measure,
    /// Whether it is ripped below the board's face.
    ripped: bool,
    /// Its stretches between edges.
    runs: Vec<Run>,
}

/// One stretch of a course.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Run {
    /// Where it starts along; 0 is the frame's left side.
    from: Measure,
    /// Where it ends along.
    to: Measure,
    /// Its pieces from left to right.
    pieces: Vec<Piece>,
}

/// One piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Piece {
    /// Course number and a letter counted from the left: `12b`.
    id: String,
    /// Where it starts along once sawn off in place.
    from: Measure,
    /// Where it ends along once sawn off in place.
    to: Measure,
    /// The length it is cut to: `to - from` and the allowance at an open edge.
    length: Measure,
    /// The number of the board it is cut from.
    board: u32,
}

/// One piece that is no part of the deck.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Extra {
    /// The label and a number counted from 1: `stair tread 3`.
    id: String,
    /// What the job calls it.
    label: String,
    /// The length it is cut to.
    length: Measure,
    /// The number of the board it is cut from.
    board: u32,
}

/// Boards of one stock that a bundle leaves over.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct LeftOver {
    /// Their place among the job's `[[stock]]`, from 1.
    stock: usize,
    /// Length of each.
    length: Measure,
    /// How many.
    count: u32,
    /// What they cost together.
    price: Amount,
}

/// One board.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Board {
    /// Counted from 1.
    number: u32,
    /// Its place among the job's `[[stock]]`, from 1.
    stock: usize,
    /// Its length.
    length: Measure,
    /// What it costs; 0 from hand.
    price: Amount,
    /// Whether it lay there already.
    on_hand: bool,
    /// The ids of the pieces sawn from it, in saw order.
    pieces: Vec<String>,
    /// Null, or the ids of the pieces of the two strips it is ripped into.
    strips: Option<[Vec<String>; 2]>,
    /// What remains after the last cut.
    offcut: Measure,
}

/// Counts, money and proof.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Totals {
    /// Boards used, those from hand included.
    boards: u32,
    /// Money for the boards bought, those left over included.
    price: Amount,
    /// Butt joints.
    joints: u32,
    /// The most joints that were allowed: the bound is of such plans; null without a limit.
    joints_at_most: Option<u32>,
    /// Supports that carry at least one joint.
    doubled_joists: u32,
    /// What was minimised first: `cost`, `joints` or `waste`.
    objective: &'static str,
    /// Price of boards, joints and doubled joists together.
    cost: Amount,
    /// The objective's value: money for `cost`, a count for `joints`, a length for `waste`.
    value: Value,
    /// A lower bound on the objective over all plans the job's rules allow, in the same terms.
    bound: Value,
    /// `(value - bound) / value`, 0 when the value is 0.
    gap: f64,
    /// Whether no plan can do better: `bound` equals `value`.
    proven: bool,
    /// Whether no plan as good as this has fewer joints.
    joints_proven: bool,
    /// Whether a limit or the user stopped the search.
    stopped: bool,
    /// Length of all boards used and left over, those from hand included.
    bought: Measure,
    /// Length of all pieces as they lie.
    laid: Measure,
    /// Length of all other pieces.
    extra: Measure,
    /// `1 - (laid + extra) / bought`.
    waste: f64,
}

/// The plan as a JSON answer.
pub fn json(job: &Job, plan: &Plan, cautions: &[Caution]) -> Answer<PlanAnswer> {
    let unit = job.unit;
    let at = |length| Measure::new(length, unit);
    let courses = plan.courses.iter().map(|course| Course {
        number: course.number,
        from: at(course.from),
        to: at(course.to),
        width: at(course.width),
        ripped: course.ripped,
        runs: course
            .runs
            .iter()
            .map(|run| Run {
                from: at(run.from),
                to: at(run.to),
                pieces: run
                    .pieces
                    .iter()
                    .map(|piece| Piece {
                        id: piece.id.clone(),
                        from: at(piece.from),
                        to: at(piece.to),
                        length: at(piece.length),
                        board: piece.board,
                    })
                    .collect(),
            })
            .collect(),
    });
    let extras = plan.extras.iter().map(|piece| Extra {
        id: piece.id.clone(),
        label: job.extras[piece.extra].label.clone(),
        length: at(piece.length),
        board: piece.board,
    });
    let boards = plan.boards.iter().map(|board| Board {
        number: board.number,
        stock: board.stock + 1,
        length: at(board.length),
        price: Amount(board.price),
        on_hand: board.on_hand,
        pieces: board.pieces.clone(),
        strips: board.strips.clone(),
        offcut: at(board.offcut),
    });
    let answer = PlanAnswer {
        fastener: job.fasteners[plan.fastener].name.clone(),
        gap: at(plan.gap),
        mixed: job.courses.mixed.map(|mixed| Mixed {
            fastener: job.fasteners[mixed.fastener].name.clone(),
            gap: at(job.fasteners[mixed.fastener].gap.set),
            gaps: mixed.gaps,
        }),
        supports: plan.supports.iter().map(|&support| at(support)).collect(),
        courses: courses.collect(),
        extras: extras.collect(),
        left_over: (plan.left_over.iter())
            .map(|left| LeftOver {
                stock: left.stock + 1,
                length: at(job.stock[left.stock].length),
                count: left.count,
                price: Amount(left.price),
            })
            .collect(),
        boards: boards.collect(),
        totals: totals(plan, unit),
        cautions: Warning::list(cautions),
    };
    Answer::new("plan", unit, answer)
}

fn totals(plan: &Plan, unit: Unit) -> Totals {
    let totals = &plan.totals;
    let value = |value| Value::of(totals.objective, value, unit);
    Totals {
        boards: totals.boards,
        price: Amount(totals.price),
        joints: totals.joints,
        joints_at_most: plan.joints_at_most,
        doubled_joists: totals.doubled_joists,
        objective: objective(totals.objective),
        cost: Amount(totals.cost),
        value: value(totals.value),
        bound: value(totals.bound),
        gap: gap(totals.value, totals.bound),
        proven: totals.proven,
        joints_proven: totals.joints_proven,
        stopped: totals.stopped,
        bought: Measure::new(totals.bought, unit),
        laid: Measure::new(totals.laid, unit),
        extra: Measure::new(totals.extra, unit),
        waste: waste(totals.laid + totals.extra, totals.bought),
    }
}
