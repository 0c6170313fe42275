//! What an order comes to, all in: the rows under its list, the budget, the
//! deliveries and the time, for people and for programs.

use schemars::JsonSchema;
use serde::Serialize;

use crate::job::Job;
use crate::length::{Length, Unit};
use crate::money::Money;
use crate::order::{Group, Order};
use crate::report::json::Amount;
use crate::report::terms::{share, square};
use crate::report::{Column, Page, Table, Terms};

/// A time in hours with one decimal, or in minutes below one hour.
pub fn time(hundredths: u64) -> String {
    match hundredths {
        0..6_000 => format!("{} min", hundredths.div_ceil(100)),
        _ => format!("{:.1} h", hundredths as f64 / 6_000.0),
    }
}

/// Whether anything comes on top of the goods.
fn on_top(order: &Order) -> bool {
    order.sums.all != order.sums.goods
}

/// What the money at the head of the answer is: `before tax`, `all in`.
pub(super) fn standing(order: &Order) -> (Money, &'static str) {
    match on_top(order) {
        true => (order.sums.all, "all in"),
        false => (order.total, "before tax"),
    }
}

/// What comes on top of the goods, each with its money, in words.
pub(super) fn beside_goods(job: &Job, order: &Order) -> Vec<(String, Money)> {
    let rules = &job.order;
    let sums = &order.sums;
    let brought = match order.deliveries.len() {
        0 | 1 => "delivery".to_owned(),
        times => format!("delivery, {times} times"),
    };
    let labour = match order.labour {
        Some(labour) => format!("labour, {} of fastening", time(labour.time)),
        None => "labour".to_owned(),
    };
    [
        (
            format!("contingency, {}", share(rules.contingency)),
            sums.contingency,
        ),
        (brought, sums.delivery),
        (format!("tax, {}", share(rules.tax)), sums.tax),
        (labour, sums.labour),
    ]
    .into_iter()
    .filter(|(_, money)| *money != Money::ZERO)
    .collect()
}

/// The rows under the order's list.
pub(super) fn rows(job: &Job, order: &Order, terms: &Terms, table: &mut Table) {
    let mut row = |name: &str, money: Money| {
        table.row([name, "", "", "", "", &terms.money(money)]);
    };
    if !on_top(order) {
        row("total before tax", order.total);
        return;
    }
    row("goods", order.sums.goods);
    for (name, money) in beside_goods(job, order) {
        row(&name, money);
    }
    row("all in", order.sums.all);
}

/// The price of a square foot or metre of deck, half a cent rounded up.
fn by_area(order: &Order, unit: Unit) -> Option<Money> {
    let side = match unit {
        Unit::Inch => Length::from_feet(1),
        Unit::Millimetre => Length::from_mm(1_000),
    };
    let side = i128::from(side.units()) * i128::from(side.units());
    if order.surface <= 0 {
        return None;
    }
    let (money, _) = standing(order);
    let over = i128::from(money.cents()).checked_mul(side)?;
    let cents = (2 * over + order.surface).div_euclid(2 * order.surface);
    i64::try_from(cents).ok().map(Money::from_cents)
}

/// The price by area, the time, the budget and the deliveries.
pub(super) fn text(order: &Order, terms: &Terms, page: &mut Page) {
    if let Some(each) = by_area(order, terms.unit) {
        let (_, name) = square(order.surface, terms.unit);
        let (_, standing) = standing(order);
        page.line(&format!(
            "That is {} a {} of deck {standing}.",
            terms.money(each),
            match name {
                "sq ft" => "square foot",
                _ => "square metre",
            }
        ));
    }
    if let Some(labour) = order.labour.filter(|labour| labour.price.is_none()) {
        page.line(&format!(
            "Fastening the boards takes {}.",
            time(labour.time)
        ));
    }
    budget(order, terms, page);
    if order.deliveries.is_empty() {
        return;
    }
    let mut table = Table::new([
        Column::left("delivery").wrapping(),
        Column::left("when").wrapping(),
        Column::left("brings").wrapping(),
        Column::right("goods"),
        Column::right("delivery"),
    ]);
    for delivery in &order.deliveries {
        table.row([
            delivery.name.clone(),
            delivery.when.clone().unwrap_or_default(),
            named(&delivery.groups),
            terms.money(delivery.goods),
            match delivery.delivery {
                Money::ZERO => String::new(),
                money => terms.money(money),
            },
        ]);
    }
    page.space();
    page.table(&table);
}

fn named(groups: &[Group]) -> String {
    let names: Vec<&str> = groups.iter().map(|group| group.name()).collect();
    names.join(", ")
}

fn budget(order: &Order, terms: &Terms, page: &mut Page) {
    let Some(budget) = &order.budget else {
        return;
    };
    page.space();
    let most = terms.money(budget.most);
    if budget.over <= Money::ZERO {
        let left = terms.money(Money::ZERO - budget.over);
        page.line(&format!("Within the budget of {most}: {left} is left."));
        return;
    }
    let fits = match budget.fits.is_empty() {
        true => "it does not pay for the first step".to_owned(),
        false => format!(
            "it pays for {}, {} with what comes on top",
            named(&budget.fits),
            terms.money(budget.fits_for)
        ),
    };
    page.line(&format!(
        "Over the budget of {most} by {}: built from the ground up, {fits}.",
        terms.money(budget.over)
    ));
    let mut left = budget.over;
    for (place, saving) in budget.give_up.iter().enumerate() {
        left = left - saving.saves;
        let then = match (left <= Money::ZERO, place) {
            (true, 0) => "which is enough".to_owned(),
            (true, _) => "and with those before it that is enough".to_owned(),
            (false, _) => format!("{} over then", terms.money(left)),
        };
        let line = format!(
            "{}: saves {}, {then}",
            saving.what,
            terms.money(saving.saves)
        );
        page.hanging("  could be given up: ", &line);
        if left <= Money::ZERO {
            return;
        }
    }
    page.line(
        "A cheaper deck: `order --compare` prices other fasteners, sizes and boards, and `fit` \
         shows the sizes that waste least.",
    );
}

/// What an order comes to.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SumsAnswer {
    /// All lines that have a price.
    goods: Amount,
    /// Set aside for what nobody thought of.
    contingency: Amount,
    /// All deliveries.
    delivery: Amount,
    /// Tax on goods, contingency and, where it is taxed, delivery.
    tax: Amount,
    /// Labour; 0 where it is not paid.
    labour: Amount,
    /// All of these together.
    all_in: Amount,
    /// `all_in` for each square foot, or square metre where the unit is mm.
    by_area: Option<Amount>,
    /// Minutes it takes to fasten the boards; null where the job says nothing of time.
    minutes: Option<f64>,
}

/// What each group's goods come to.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct GroupSums {
    /// Deck boards.
    boards: Amount,
    /// Clips, screws and starters.
    fasteners: Amount,
    /// The frame.
    frame: Amount,
    /// Footings, blocks and what is under them.
    base: Amount,
    /// Stairs.
    stairs: Amount,
    /// Fascia.
    fascia: Amount,
    /// Guards.
    guard: Amount,
    /// Anything else.
    other: Amount,
}

/// What each group's goods come to, for programs.
pub fn group_sums(order: &Order) -> GroupSums {
    let of = |group| Amount(order.of_group(group));
    GroupSums {
        boards: of(Group::Boards),
        fasteners: of(Group::Fasteners),
        frame: of(Group::Frame),
        base: of(Group::Base),
        stairs: of(Group::Stairs),
        fascia: of(Group::Fascia),
        guard: of(Group::Guard),
        other: of(Group::Other),
    }
}

/// How an order stands to what may be spent.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct BudgetAnswer {
    /// The most that may be spent.
    most: Amount,
    /// What the order comes to beyond it; below 0 where something is left.
    over: Amount,
    /// The groups that can be paid, built from the ground up.
    fits: Vec<&'static str>,
    /// What those come to, all in.
    fits_for: Amount,
    /// What could be given up, first what is missed least.
    give_up: Vec<SavingAnswer>,
}

/// Something that could be given up.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct SavingAnswer {
    /// What it is.
    what: String,
    /// What the order would come to less, all in.
    saves: Amount,
}

/// One delivery.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct DeliveryAnswer {
    /// What it is called.
    name: String,
    /// When it is wanted, in the job's own words.
    when: Option<String>,
    /// The groups it brings.
    groups: Vec<&'static str>,
    /// What its goods come to.
    goods: Amount,
    /// What bringing them costs.
    delivery: Amount,
}

/// What an order comes to, for programs.
pub fn json(order: &Order, unit: Unit) -> SumsAnswer {
    let sums = &order.sums;
    SumsAnswer {
        goods: Amount(sums.goods),
        contingency: Amount(sums.contingency),
        delivery: Amount(sums.delivery),
        tax: Amount(sums.tax),
        labour: Amount(sums.labour),
        all_in: Amount(sums.all),
        by_area: by_area(order, unit).map(Amount),
        minutes: order.labour.map(|labour| labour.time as f64 / 100.0),
    }
}

pub(super) fn budget_json(order: &Order) -> Option<BudgetAnswer> {
    let budget = order.budget.as_ref()?;
    Some(BudgetAnswer {
        most: Amount(budget.most),
        over: Amount(budget.over),
        fits: budget.fits.iter().map(|group| group.name()).collect(),
        fits_for: Amount(budget.fits_for),
        give_up: (budget.give_up.iter())
            .map(|saving| SavingAnswer {
                what: saving.what.clone(),
                saves: Amount(saving.saves),
            })
            .collect(),
    })
}

pub(super) fn deliveries_json(order: &Order) -> Vec<DeliveryAnswer> {
    let each = order.deliveries.iter();
    each.map(|delivery| DeliveryAnswer {
        name: delivery.name.clone(),
        when: delivery.when.clone(),
        groups: delivery.groups.iter().map(|group| group.name()).collect(),
        goods: Amount(delivery.goods),
        delivery: Amount(delivery.delivery),
    })
    .collect()
}
