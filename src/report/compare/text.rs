//! Orders side by side for people: the cheapest in a sentence, a column for each
//! choice with its money by group, and below it what each choice changes.

use unicode_width::UnicodeWidthStr;

use super::{first, made, more};
use crate::job::Job;
use crate::money::Money;
use crate::order::{Choice, Difference, Group, Made, Trade};
use crate::report::order::time;
use crate::report::terms::{bought, counted, grouped};
use crate::report::{Column, Page, Table, Terms};

/// All choices on a page.
pub fn text(job: &Job, choices: &[Choice], terms: &Terms, page: &mut Page) {
    page.answer(&answer(choices, terms));
    page.line(&format!(
        "{}: {} side by side, each by the whole order.",
        job.title,
        counted(choices.len() as u64, "choice")
    ));
    tables(choices, terms, page);
    for choice in choices {
        page.space();
        details(choices, choice, terms, page);
    }
    if let Some(made) = first(choices) {
        page.cautions(&made.order.cautions);
    }
}

fn answer(choices: &[Choice], terms: &Terms) -> String {
    let priced = choices
        .iter()
        .filter_map(|choice| Some((choice, made(choice)?)));
    let Some((best, made)) = priced.min_by_key(|(_, made)| made.order.sums.all) else {
        return "None of these can be built.".to_owned();
    };
    let all = terms.money(made.order.sums.all);
    let less = Money::ZERO - more(choices, made);
    match choices
        .iter()
        .find_map(|choice| super::made(choice).map(|_| choice))
    {
        Some(first) if first.name != best.name && less > Money::ZERO => format!(
            "{} is cheapest at {all}, {} less than {}.",
            best.name,
            terms.money(less),
            first.name
        ),
        _ => format!("{} is cheapest at {all}.", best.name),
    }
}

/// How the courses of a choice end.
fn ending(made: &Made, terms: &Terms) -> String {
    let Some(last) = made.plan.courses.last() else {
        return String::new();
    };
    match last.ripped {
        true => terms.length(last.width),
        false => "whole".to_owned(),
    }
}

/// The choices as columns, as many in a table as the page is wide.
fn tables(choices: &[Choice], terms: &Terms, page: &mut Page) {
    let width = |choice: &Choice| choice.name.width().max(10) + 2;
    let mut rest = choices;
    while !rest.is_empty() {
        let mut left = page.width().saturating_sub(14);
        let fit = rest.iter().take_while(|choice| {
            let fits = width(choice) <= left;
            left = left.saturating_sub(width(choice));
            fits
        });
        let (now, later) = rest.split_at(fit.count().max(1));
        page.space();
        page.table(&table(choices, now, terms));
        rest = later;
    }
}

fn table(all: &[Choice], choices: &[Choice], terms: &Terms) -> Table {
    let heads = choices.iter().map(|choice| Column::right(&choice.name));
    let mut table = Table::new([Column::left("")].into_iter().chain(heads));
    let mut row = |name: &str, cell: &dyn Fn(&Made) -> Option<String>| {
        let cells: Vec<Option<String>> = choices
            .iter()
            .map(|choice| made(choice).and_then(cell))
            .collect();
        if cells.iter().any(Option::is_some) {
            let cells = cells.into_iter().map(Option::unwrap_or_default);
            table.row([name.to_owned()].into_iter().chain(cells));
        }
    };
    let some = |money: Money| (money != Money::ZERO).then(|| terms.money(money));
    row("courses", &|made| Some(made.plan.courses.len().to_string()));
    row("last course", &|made| Some(ending(made, terms)));
    for group in Group::ALL {
        row(group.name(), &|made| some(made.order.of_group(group)));
    }
    row("on top", &|made| {
        some(made.order.sums.all - made.order.sums.goods)
    });
    row("all in", &|made| Some(terms.money(made.order.sums.all)));
    row("more", &|made| {
        let more = more(all, made);
        (more != Money::ZERO).then(|| more.show_difference(&terms.currency))
    });
    row("time", &|made| {
        made.order.labour.map(|labour| time(labour.time))
    });
    table
}

/// What a choice changes, or why it cannot be had.
fn details(choices: &[Choice], choice: &Choice, terms: &Terms, page: &mut Page) {
    let made = match &choice.made {
        Ok(made) => made,
        Err(why) => {
            page.line(&format!("{}: {why}", choice.name));
            return;
        }
    };
    let mut said: Vec<String> = choice.notes.clone();
    let plan = &made.plan;
    if !plan.totals.proven {
        said.push("its boards are not proven to be the cheapest".to_owned());
    }
    let unpriced = made.order.lines.iter().filter(|line| line.price.is_none());
    match unpriced.count() as u64 {
        0 => {}
        lines => said.push(format!("{} without a price in it", counted(lines, "line"))),
    }
    if let Some(budget) = &made.order.budget {
        let over = budget.over;
        said.push(match over > Money::ZERO {
            true => format!("over the budget by {}", terms.money(over)),
            false => format!("{} of the budget left", terms.money(Money::ZERO - over)),
        });
    }
    if let Some(first) = first(choices).filter(|first| !std::ptr::eq(*first, made.as_ref())) {
        let differences = first.order.differences(&made.order);
        let words: Vec<String> = differences.iter().map(difference).collect();
        match words.is_empty() {
            true => said.push("the order is the same".to_owned()),
            false => said.push(words.join("; ")),
        }
    }
    if !choice.options.is_empty() {
        said.push(format!("`{}`", choice.options));
    }
    if !said.is_empty() {
        page.hanging(
            &format!("{}: ", choice.name),
            &format!("{}.", said.join(". ")),
        );
    }
}

/// `57 → 55 boards of 3 m`.
fn difference(difference: &Difference) -> String {
    let unit = match difference.unit {
        Trade::Box { weight, .. } => format!("boxes of {}", weight.sold()),
        unit => bought(unit, 0),
    };
    format!(
        "{}: {} instead of {} {unit}",
        difference.item,
        grouped(difference.to),
        grouped(difference.from)
    )
}
