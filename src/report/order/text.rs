//! An order for people: the money, the list, what the usual rule would have
//! bought, what is left out, and who decides about safety.

use super::{base, codes, fascia, frame, guard, stairs, sums};
use crate::job::Job;
use crate::money::Money;
use crate::order::{Group, Line, Needed, Order, Trade};
use crate::plan::Plan;
use crate::report::terms::{bought, counted, grouped, how_good, percent, plan_noun};
use crate::report::{Column, Page, Table, Terms};

/// The answer in one sentence: the money, and what it is for.
pub fn answer(job: &Job, order: &Order, terms: &Terms) -> String {
    let mut parts = Vec::new();
    let boards: u64 = plan_boards(order).map(|line| line.count).sum();
    parts.push(format!(
        "{} for {}",
        counted(boards, "board"),
        terms.money(order.boards_price)
    ));
    let (spares, spent) = sum(order, is_spare);
    let beside = |line: &Line| line.group == Group::Boards && !is_board(line);
    let (_, other) = sum(order, beside);
    if other > Money::ZERO {
        parts.push(format!("goods with the boards for {}", terms.money(other)));
    }
    if spares > 0 {
        let spares = counted(spares, "spare board");
        parts.push(format!("{spares} for {}", terms.money(spent)));
    }
    let (_, spent) = sum(order, |line| line.group == Group::Fasteners);
    if spent > Money::ZERO {
        parts.push(format!("fasteners for {}", terms.money(spent)));
    }
    for (group, name) in [
        (Group::Frame, "the frame"),
        (Group::Base, "the base"),
        (Group::Stairs, "stairs"),
        (Group::Fascia, "fascia"),
        (Group::Guard, "the guard"),
        (Group::Other, "other goods"),
    ] {
        let (_, spent) = sum(order, |line| line.group == group);
        if spent > Money::ZERO {
            parts.push(format!("{name} for {}", terms.money(spent)));
        }
    }
    let unpriced = order.lines.iter().filter(|line| line.price.is_none());
    match unpriced.count() as u64 {
        0 => {}
        lines => parts.push(format!("{} without a price", counted(lines, "line"))),
    }
    for (what, money) in sums::beside_goods(job, order) {
        let what = what.split(',').next().unwrap_or_default();
        parts.push(format!("{} for {what}", terms.money(money)));
    }
    let (money, standing) = sums::standing(order);
    format!("{} {standing}: {}.", terms.money(money), parts.join(", "))
}

fn is_board(line: &Line) -> bool {
    line.group == Group::Boards && line.unit == Trade::Board
}

fn is_spare(line: &Line) -> bool {
    is_board(line) && line.needed == Needed::Count(0)
}

fn plan_boards(order: &Order) -> impl Iterator<Item = &Line> {
    let lines = order.lines.iter();
    lines.filter(|line| is_board(line) && !is_spare(line))
}

fn sum(order: &Order, of: impl Fn(&Line) -> bool) -> (u64, Money) {
    let lines = order.lines.iter().filter(|line| of(line));
    lines.fold((0, Money::ZERO), |(count, money), line| {
        (count + line.count, money + line.price.unwrap_or_default())
    })
}

/// The whole order on a page.
pub fn text(job: &Job, plan: &Plan, order: &Order, terms: &Terms, page: &mut Page) {
    page.answer(&answer(job, order, terms));
    let totals = &plan.totals;
    page.line(&format!(
        "{}: {} laid with {}; {}{}.",
        job.title,
        counted(plan.courses.len() as u64, "course"),
        terms.laid_with(job, plan),
        if totals.stopped {
            "the search was stopped early, "
        } else {
            ""
        },
        how_good(
            totals.objective,
            totals.value,
            totals.bound,
            &plan_noun(plan)
        ),
    ));
    page.space();
    page.table(&list(job, order, terms));
    page.space();
    sums::text(order, terms, page);
    page.space();
    waste(order, terms, page);
    extras(job, terms, page);
    stairs::text(job, page);
    frame::text(job, order, terms, page);
    base::text(job, order, terms, page);
    fascia::text(job, order, terms, page);
    guard::text(job, order, terms, page);
    codes::text(order, terms, page);
    page.space();
    page.line(&format!("Not counted: {}.", order.not_counted.join("; ")));
    page.cautions(&order.cautions);
}

/// The lines of an order and what they come to.
pub fn list(job: &Job, order: &Order, terms: &Terms) -> Table {
    let mut table = Table::new([
        Column::left("item").wrapping(),
        Column::right("needed"),
        Column::right("buy"),
        Column::left("").wrapping(),
        Column::right("each"),
        Column::right("together"),
    ]);
    let mut group = None;
    for line in &order.lines {
        if group.is_some_and(|group| group != line.group) {
            table.row([""]);
        }
        group = Some(line.group);
        let needed = match line.needed {
            _ if is_spare(line) => String::new(),
            Needed::Count(count) => grouped(count),
            Needed::Length(length) => terms.length(length),
            Needed::Volume(volume) => volume.show(terms.unit),
        };
        let price = match line.price {
            Some(price) => terms.money(price),
            None => "no price".to_string(),
        };
        table.row([
            line.item.clone(),
            needed,
            grouped(line.count),
            unit(line),
            line.price_each
                .map_or(String::new(), |each| terms.money(each)),
            price,
        ]);
    }
    table.row([""]);
    sums::rows(job, order, terms, &mut table);
    table
}

/// What is counted, and what of it need not be bought.
fn unit(line: &Line) -> String {
    let unit = bought(line.unit, line.count);
    match line.on_hand {
        0 => unit,
        on_hand => format!("{unit}, {} on hand", grouped(on_hand)),
    }
}

/// What else the boards give.
fn extras(job: &Job, terms: &Terms, page: &mut Page) {
    let pieces: Vec<String> = job
        .extras
        .iter()
        .map(|extra| {
            let count = grouped(u64::from(extra.count));
            format!("{count} × {} {}", terms.length(extra.length), extra.label)
        })
        .collect();
    if !pieces.is_empty() {
        page.line(&format!("The boards also give {}.", pieces.join(", ")));
    }
}

fn waste(order: &Order, terms: &Terms, page: &mut Page) {
    let area = &order.area;
    let used = match area.other {
        0 => format!(
            "cover {}: {} more than is laid",
            terms.area(area.laid),
            percent(area.over())
        ),
        other => format!(
            "cover {} and give {} of other pieces: {} more than is used",
            terms.area(area.laid),
            terms.area(other),
            percent(area.over())
        ),
    };
    page.line(&format!("Boards of {} {used}.", terms.area(area.bought)));
    let Some(rule) = &order.rule_of_thumb else {
        return;
    };
    let difference = rule.price - order.boards_price;
    let compared = match difference.cents() {
        0 => "the same money as the plan's boards".to_string(),
        more if more > 0 => format!("{} more than the plan's boards", terms.money(difference)),
        _ => format!(
            "{} less than the plan's boards, with nothing to say that they are enough",
            terms.money(Money::ZERO - difference)
        ),
    };
    page.line(&format!(
        "The usual rule, area plus ten per cent, would buy {} of {} for {}: {compared}.",
        counted(rule.boards, "board"),
        terms.length(rule.length),
        terms.money(rule.price),
    ));
}
