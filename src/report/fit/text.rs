//! Ways to finish for people: the best in a sentence, all of them in one table,
//! what they are ranked by, and how one is taken.

use crate::courses::Verdict;
use crate::fit::{Change, Ending, Kind, Priced, Ranking, Way};
use crate::job::{Finish, Job};
use crate::length::{Form, Length, Printer};
use crate::money::Money;
use crate::report::json::verdict;
use crate::report::terms::{chance, counted, numbers};
use crate::report::{Column, Page, Table, Terms};

/// All ways on a page; `command` is what was typed, without options.
pub fn text(
    job: &Job,
    ways: &[Priced],
    ranking: Ranking,
    command: &str,
    terms: &Terms,
    page: &mut Page,
) {
    let Some(best) = ways.first() else {
        return;
    };
    page.answer(&answer(job, best, terms));
    list(job, ways, terms, page);
    page.space();
    page.line(rule(ranking));
    if ways.iter().any(|way| way.way.chance.is_some()) {
        page.line(
            "\"Comes out\" is the chance that courses stay whole, or a rip no sliver, with the \
             tolerances the job gives.",
        );
    }
    if ways.iter().any(Priced::is_stopped) {
        page.space();
        page.line("Stopped early: the money is that of the best plans found until then.");
    }
    sureness(job, ways, page);
    problems(ways, page);
    if let Some((number, _)) = (1..)
        .zip(ways)
        .find(|(_, way)| way.way.kinds != [Kind::Leave])
    {
        page.next(&[
            (
                format!("To take way {number} to any command"),
                format!("{command} --choose {number}"),
            ),
            (
                "To write it into a job file of its own".to_string(),
                format!("{command} --choose {number} --write new.toml"),
            ),
        ]);
    }
}

fn answer(job: &Job, best: &Priced, terms: &Terms) -> String {
    let way = &best.way;
    let courses = counted(way.outcome.laid.max(0) as u64, "course");
    let ends = match way.outcome.verdict {
        Verdict::Full => format!("{courses} come out whole"),
        Verdict::Short if all_but_whole(way) => format!("{courses} come out whole"),
        Verdict::Short => format!(
            "{courses}, all whole, end {} short of the edge",
            terms.length(way.outcome.short_by)
        ),
        _ => format!("{courses}, {}", ripped(way, job.board.face, terms)),
    };
    let done = match way.kinds.as_slice() {
        [Kind::Leave] => "Leave it as it is".to_string(),
        [Kind::Balanced] => "Rip first and last course alike".to_string(),
        [Kind::Shared] => "Rip the last two courses alike".to_string(),
        [Kind::RipFirst] => "Rip the first course".to_string(),
        _ => format!("Bring {}", what(job, way)),
    };
    let with = match job.fasteners.len() {
        1 => String::new(),
        _ => format!(" with {}", job.fasteners[way.fastener].name),
    };
    let money = match (best.cost(), best.difference) {
        (Some(cost), Some(more)) if way.kinds != [Kind::Leave] => format!(
            ", for {}, {}",
            terms.money(cost),
            match more.cents() {
                0 => "the same as leaving it".to_string(),
                cents if cents < 0 =>
                    format!("{} less than leaving it", terms.money(Money::ZERO - more)),
                _ => format!("{} more than leaving it", terms.money(more)),
            }
        ),
        (Some(cost), _) => format!(", for {}", terms.money(cost)),
        _ => String::new(),
    };
    format!("{done}{with}: {ends}{money}.")
}

fn ripped(way: &Way, face: Length, terms: &Terms) -> String {
    let outcome = &way.outcome;
    let word = match outcome.verdict {
        Verdict::Sliver => "a sliver of",
        _ => "ripped to",
    };
    let (Some(first), Some(last)) = (outcome.first_width, outcome.last_width) else {
        return "none of them laid".to_string();
    };
    let (which, width) = match (first < face, last < face) {
        (true, true) if outcome.laid > 1 => ("the first and the last", last),
        (true, false) => ("the first", first),
        _ if outcome.rip != Some(last) => ("the last two", last),
        _ => ("the last", last),
    };
    format!("{which} {word} {}", terms.length(width))
}

/// Each way in a line of words and a line of figures.
fn list(job: &Job, ways: &[Priced], terms: &Terms, page: &mut Page) {
    let mut table = Table::new([
        Column::right("   courses"),
        Column::length("first"),
        Column::length("last"),
        Column::left("ends"),
        Column::right("boards"),
        Column::right("money"),
        Column::right("comes out"),
    ]);
    let brief = Printer::new(job.unit).form(Form::Short);
    for priced in ways {
        let outcome = &priced.way.outcome;
        let width = |width: Option<Length>| width.map(|w| brief.show(w)).unwrap_or_default();
        let [boards, money] = costs(priced, terms);
        table.row([
            outcome.laid.to_string(),
            width(outcome.first_width),
            width(outcome.last_width),
            match outcome.verdict {
                Verdict::Short if !all_but_whole(&priced.way) => {
                    format!("short {}", brief.show(outcome.short_by))
                }
                Verdict::Full | Verdict::Short => "whole".to_string(),
                ripped => verdict(ripped).to_string(),
            },
            boards,
            money,
            priced.way.chance.map(chance).unwrap_or_default(),
        ]);
    }
    // The table has a line for each way: nothing in it wraps.
    let figures = table.render(usize::MAX);
    let mut lines = figures.lines();
    let heads: Vec<&str> = lines.by_ref().take(2).collect();
    page.figure(&heads.join("\n"));
    for ((number, priced), line) in (1..).zip(ways).zip(lines) {
        page.hanging(&format!("{number:>3}  "), &named(job, &priced.way));
        page.figure(line);
    }
}

/// Whether what is short is no more than what a solved gap was rounded by.
fn all_but_whole(way: &Way) -> bool {
    way.outcome.short_by < Length::from_units(way.outcome.laid)
}

/// What a way is called: its kinds, its fastener, and what it changes.
fn named(job: &Job, way: &Way) -> String {
    let with = match job.fasteners.len() {
        1 => String::new(),
        _ => format!(", {}", job.fasteners[way.fastener].name),
    };
    match way.changes.as_slice() {
        [] => format!("{}{with}", way.kind()),
        _ => format!("{}{with}: {}", way.kind(), what(job, way)),
    }
}

/// What a way changes, in words.
fn what(job: &Job, way: &Way) -> String {
    let fine = |length: &Length| Printer::new(job.unit).to_64ths().show(*length);
    let change = |change: &Change| match change {
        Change::Overhang(side, to) => format!("{} overhang to {}", side.name(), fine(to)),
        // What no spacer is made for is said in decimals.
        Change::Gap(_, to) if !way.settable => {
            let unit = crate::report::json::unit(job.unit);
            format!("gap to ≈ {:.3} {unit}", to.in_unit(job.unit))
        }
        Change::Gap(_, to) => format!("gap to {}", fine(to)),
        Change::Across(to) => format!("frame across to {}", fine(to)),
        Change::Along(to) => format!("frame along to {}", fine(to)),
        Change::Finish(Finish::Balanced) => "first and last course alike".to_string(),
        Change::Finish(Finish::Shared) => "last two courses alike".to_string(),
        Change::Finish(Finish::RipFirst) => "the rip at the first edge".to_string(),
        Change::Finish(finish) => finish.name().to_string(),
        Change::Mixed(mixed) => format!(
            "last {} by {}",
            counted(u64::from(mixed.gaps), "gap"),
            job.fasteners[mixed.fastener].name
        ),
    };
    let mut parts: Vec<String> = way.changes.iter().map(change).collect();
    if let Some(joists) = way.joist_length {
        parts.push(format!("joists cut to {}", fine(&joists)));
    }
    parts.join(", ")
}

/// Boards and money: what leaving comes to, and what others take more.
fn costs(priced: &Priced, terms: &Terms) -> [String; 2] {
    let Some(totals) = priced.totals() else {
        return [String::new(), String::new()];
    };
    let leave = priced.way.kinds == [Kind::Leave];
    match (leave, priced.more_boards, priced.difference) {
        (false, Some(boards), Some(money)) => [
            format!("{boards:+}"),
            money.show_difference(&terms.currency),
        ],
        _ => [totals.boards.to_string(), terms.money(totals.cost)],
    }
}

fn rule(ranking: Ranking) -> &'static str {
    match ranking {
        Ranking::Disturbance => {
            "Ranked by how well the deck ends, then by how much is disturbed, then by cost; \
             --rank cost or robust puts that first. Boards and money stand against leaving it."
        }
        Ranking::Cost => {
            "Ranked by cost, then by how well the deck ends, then by how much is disturbed. \
             Boards and money stand against leaving it."
        }
        Ranking::Robust => {
            "Ranked by the chance that it comes out, then by how well the deck ends, then by \
             how much is disturbed. Boards and money stand against leaving it."
        }
    }
}

/// Says so where the first way may well not come out, and what is surer.
fn sureness(job: &Job, ways: &[Priced], page: &mut Page) {
    const SURE: f64 = 0.9;
    let Some((way, doubtful)) = ways
        .first()
        .and_then(|priced| Some((&priced.way, priced.way.chance?)))
        .filter(|(_, chance)| *chance < SURE)
    else {
        return;
    };
    page.space();
    page.line(&format!(
        "Way 1 comes out with a chance of {} only.",
        chance(doubtful)
    ));
    let ends_well = |priced: &&Priced| priced.way.ending <= Ending::HalfBoard;
    let mut sure = (1..).zip(ways).filter(|(_, priced)| ends_well(priced));
    if let Some((number, likely)) = sure.find_map(|(number, priced)| {
        let likely = priced.way.chance.filter(|chance| *chance >= SURE)?;
        Some((number, likely))
    }) {
        page.line(&format!(
            "Way {number} is the first that is surer: {}.",
            chance(likely)
        ));
    }
    let fastener = &job.fasteners[way.fastener];
    if fastener.trial.is_none() && fastener.uncertainty > Length::ZERO {
        page.line(&format!(
            "The gap of {} has not been measured; a dry run on the ground tells, as `forecast` \
             describes.",
            fastener.name
        ));
    }
}

/// Why ways have no price, each reason once.
fn problems(ways: &[Priced], page: &mut Page) {
    let mut said: Vec<(String, Vec<u32>)> = Vec::new();
    for (number, priced) in (1u32..).zip(ways) {
        let Some(problem) = priced.problem() else {
            continue;
        };
        match said.iter_mut().find(|(known, _)| *known == problem) {
            Some((_, numbers)) => numbers.push(number),
            None => said.push((problem, vec![number])),
        }
    }
    for (problem, without) in said {
        page.space();
        match without.len() == ways.len() {
            true => page.line(&format!("No prices: {problem}.")),
            false => page.line(&format!("No price for {}: {problem}.", numbers(&without))),
        }
    }
}
