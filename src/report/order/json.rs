//! An order for programs. The keys are stable; new ones may be added.

use schemars::JsonSchema;
use serde::Serialize;

use super::base::BaseAnswer;
use super::fascia::{FasciaAnswer, fascia};
use super::frame::{FrameAnswer, frame};
use super::sums::{self, BudgetAnswer, DeliveryAnswer, SumsAnswer};
use crate::job::Job;
use crate::length::Unit;
use crate::order::{Needed, Order};
use crate::plan::Plan;
use crate::report::json::{Amount, Answer, Measure, Value, Warning, gap, objective};
use crate::report::terms::square;

/// What to buy for a plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct OrderAnswer {
    /// The fastener the courses are laid with.
    fastener: String,
    /// Its gap.
    gap: Measure,
    /// What is bought.
    lines: Vec<OrderLine>,
    /// The sum of the lines' prices, before tax.
    total: Amount,
    /// What the order comes to with what is set aside, delivery, tax and labour.
    sums: SumsAnswer,
    /// How that stands to what may be spent; null where the job does not say.
    budget: Option<BudgetAnswer>,
    /// The deliveries of a job done in stages.
    deliveries: Vec<DeliveryAnswer>,
    /// What the plan's own boards cost, spares left out.
    boards_price: Amount,
    /// Boards of the plan that lie there already.
    on_hand: u64,
    /// The board area used against the area laid.
    area: Areas,
    /// Other pieces that are cut from the plan's boards.
    extras: Vec<Extra>,
    /// The job's stairs as they come out.
    stairs: Vec<super::stairs::OneFlight>,
    /// What the surface and other pieces plus ten per cent, in boards of the longest length, would buy.
    rule_of_thumb: Option<Thumb>,
    /// The frame and how its lumber is cut; null where the job describes none.
    frame: Option<FrameAnswer>,
    /// The fascia and how its boards are cut; null where the job describes none.
    fascia: Option<FasciaAnswer>,
    /// What the deck stands on; null where the job does not say.
    base: Option<BaseAnswer>,
    /// The guard; null where the job describes none.
    guard: Option<super::guard::GuardAnswer>,
    /// The deck held against the tables that the job names; empty where it names none.
    codes: Vec<super::codes::Compared>,
    /// The plan the order is for, and how good it is known to be.
    plan: Standing,
    /// What a deck takes that no line counts.
    not_counted: Vec<String>,
    /// What a person should look at.
    cautions: Vec<Warning>,
}

/// One line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OrderLine {
    /// `boards`, `fasteners`, `frame`, `base`, `stairs`, `fascia`, `guard` or `other`.
    group: &'static str,
    /// What it is.
    item: String,
    /// What `count` counts: `board`, `piece`, `pack`, `box`, `stick`, `roll`, `can` or `tube`, and of goods added by hand whatever they are sold by.
    unit: &'static str,
    /// Pieces in a pack, or as many as a box sold by weight holds at least; null for what is
    /// no pack.
    pack: Option<u32>,
    /// What a box sold by weight weighs, in pounds where the unit is inches, else in
    /// kilograms; null for what is not.
    pack_weight: Option<f64>,
    /// The exact count, length or volume, before spares and packs; 0 for spare boards,
    /// and for further packs of what the line before needs.
    needed: Need,
    /// Of the need, what lies there already.
    on_hand: u64,
    /// What is bought, in `unit`.
    count: u64,
    /// The price of one unit; null where none is known.
    price_each: Option<Amount>,
    /// The price of the line; null where none is known.
    price: Option<Amount>,
}

/// A count, a length in the answer's unit, or a volume: cubic feet where the unit is
/// inches, else cubic metres.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
enum Need {
    Count(u64),
    Length(Measure),
    Volume(f64),
}

/// Areas in square feet where the unit is inches, else in square metres.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Areas {
    /// `sq ft` or `m²`.
    unit: &'static str,
    /// What the boards cover, gaps left out.
    laid: f64,
    /// The faces of all boards used.
    bought: f64,
    /// Other pieces cut from the same boards.
    other: f64,
    /// `bought / (laid + other) - 1`.
    over: f64,
}

/// Other pieces of one length.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Extra {
    /// What the job calls them.
    label: String,
    /// The length each is cut to.
    length: Measure,
    /// How many.
    count: u32,
}

/// The usual rule of thumb.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Thumb {
    /// The longest length sold.
    length: Measure,
    /// How many of them the rule buys.
    boards: u64,
    /// What one costs.
    price_each: Amount,
    /// What they cost.
    price: Amount,
}

/// How good the plan behind an order is known to be.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Standing {
    /// What was minimised first: `cost`, `joints` or `waste`.
    objective: &'static str,
    /// The plan's cost, joints priced in.
    cost: Amount,
    /// The objective's value.
    value: Value,
    /// A lower bound on it over all plans.
    bound: Value,
    /// `(value - bound) / value`.
    gap: f64,
    /// Whether no plan can do better.
    proven: bool,
    /// Whether a limit or the user stopped the search.
    stopped: bool,
}

/// The order as a JSON answer.
pub fn json(job: &Job, plan: &Plan, order: &Order) -> Answer<OrderAnswer> {
    let unit = job.unit;
    let at = |length| Measure::new(length, unit);
    let lines = order.lines.iter().map(|line| OrderLine {
        group: line.group.name(),
        item: line.item.clone(),
        unit: line.unit.name(),
        pack: line.unit.pack(),
        pack_weight: line.unit.weight().map(|weight| weight.weighs(unit)),
        needed: match line.needed {
            Needed::Count(count) => Need::Count(count),
            Needed::Length(length) => Need::Length(at(length)),
            Needed::Volume(volume) => Need::Volume(volume.value(unit)),
        },
        on_hand: line.on_hand,
        count: line.count,
        price_each: line.price_each.map(Amount),
        price: line.price.map(Amount),
    });
    let totals = &plan.totals;
    let value = |value| Value::of(totals.objective, value, unit);
    let answer = OrderAnswer {
        fastener: job.fasteners[plan.fastener].name.clone(),
        gap: at(plan.gap),
        lines: lines.collect(),
        total: Amount(order.total),
        sums: sums::json(order, unit),
        budget: sums::budget_json(order),
        deliveries: sums::deliveries_json(order),
        boards_price: Amount(order.boards_price),
        on_hand: order.on_hand,
        area: areas(order, unit),
        extras: (job.extras.iter())
            .map(|extra| Extra {
                label: extra.label.clone(),
                length: at(extra.length),
                count: extra.count,
            })
            .collect(),
        stairs: super::stairs::json(job),
        rule_of_thumb: order.rule_of_thumb.map(|rule| Thumb {
            length: at(rule.length),
            boards: rule.boards,
            price_each: Amount(rule.price_each),
            price: Amount(rule.price),
        }),
        frame: frame(job, order),
        fascia: fascia(job, order),
        base: super::base::json(job, order),
        guard: super::guard::json(job, order),
        codes: super::codes::json(order, unit),
        plan: Standing {
            objective: objective(totals.objective),
            cost: Amount(totals.cost),
            value: value(totals.value),
            bound: value(totals.bound),
            gap: gap(totals.value, totals.bound),
            proven: totals.proven,
            stopped: totals.stopped,
        },
        not_counted: order.not_counted.clone(),
        cautions: Warning::list(&order.cautions),
    };
    Answer::new("order", unit, answer)
}

fn areas(order: &Order, unit: Unit) -> Areas {
    let (laid, name) = square(order.area.laid, unit);
    let (bought, _) = square(order.area.bought, unit);
    let (other, _) = square(order.area.other, unit);
    Areas {
        unit: name,
        laid,
        other,
        bought,
        over: order.area.over(),
    }
}
