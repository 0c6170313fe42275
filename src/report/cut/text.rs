//! A cut list for people: the answer, the boards to buy, and how each is cut.

use super::totals;
use crate::cutlist::CutList;
use crate::length::Length;
use crate::plan::Objective;
use crate::report::json::waste;
use crate::report::terms::{counted, grouped, how_good, percent};
use crate::report::{Column, Page, Table, Terms};
use crate::stock::CutPlan;

/// The answer in one sentence.
pub fn answer(list: &CutList, plan: &CutPlan, terms: &Terms) -> String {
    let totals = totals(list, plan);
    let boards = counted(totals.boards, "board");
    let boards = match totals.left_over {
        0 => boards,
        left => format!("{boards} and {} left over", grouped(left)),
    };
    let what = match totals.objective {
        Objective::Cost => format!("{boards} for {}", terms.money(plan.cost)),
        _ => format!("{boards}, {} in all", terms.length(totals.bought)),
    };
    let good = how_good(totals.objective, totals.value, totals.bound, "cut list");
    let stopped = if plan.stopped { "Stopped early: " } else { "" };
    format!("{stopped}{what}; {good}.")
}

/// The whole cut list on a page.
pub fn text(list: &CutList, plan: &CutPlan, terms: &Terms, page: &mut Page) {
    let totals = totals(list, plan);
    page.answer(&answer(list, plan, terms));
    let pieces: u64 = list.problem.pieces.iter().map(|piece| piece.count).sum();
    page.line(&format!(
        "{} of {} together, from {} of boards: waste {}.",
        counted(pieces, "piece"),
        terms.length(totals.laid),
        terms.length(totals.bought),
        percent(waste(totals.laid, totals.bought)),
    ));
    page.line(&saw(list, terms));
    if list.by_length.is_some() {
        page.line("No prices were given, so the length bought is what was minimised.");
    }
    for (place, stock) in list.problem.stock.iter().enumerate() {
        let bought = plan.bought(place);
        if stock.bundle > 1 && bought > 0 {
            page.line(&format!(
                "{} of {} are bought in {} of {}.",
                counted(bought, "board"),
                terms.length(stock.length),
                counted(bought / stock.bundle, "bundle"),
                grouped(stock.bundle),
            ));
        }
    }
    page.space();
    page.table(&boards(list, plan, terms));
    page.heading("Cut list, equal boards together, pieces in saw order");
    page.table(&cuts(list, plan, terms, "boards"));
}

fn saw(list: &CutList, terms: &Terms) -> String {
    let kerf = match list.problem.kerf {
        Length::ZERO => "Saw cuts take nothing".to_string(),
        kerf => format!("Each saw cut takes {}", terms.length(kerf)),
    };
    match list.problem.end_trim {
        Length::ZERO => format!("{kerf}."),
        trim => format!(
            "{kerf}, and {} is trimmed off each end of a board.",
            terms.length(trim)
        ),
    }
}

fn boards(list: &CutList, plan: &CutPlan, terms: &Terms) -> Table {
    let mut table = Table::new([
        Column::right("boards"),
        Column::length("length"),
        Column::right("each"),
        Column::right("together"),
    ]);
    for (place, stock) in list.problem.stock.iter().enumerate() {
        let alike = plan.boards.iter().filter(|board| board.stock == place);
        let count: u64 = alike.map(|board| board.count).sum();
        if count == 0 {
            continue;
        }
        let (each, together) = match (list.by_length, stock.price) {
            (None, Some(price)) => (terms.money(price), terms.money(price * count as i64)),
            _ => (String::new(), String::new()),
        };
        table.row([grouped(count), terms.length(stock.length), each, together]);
    }
    for left in &plan.left_over {
        table.row([
            grouped(left.count),
            terms.length(list.problem.stock[left.stock].length),
            "left over".to_string(),
            match list.by_length {
                None => terms.money(left.price),
                Some(_) => String::new(),
            },
        ]);
    }
    table
}

/// How each board is cut; what the boards are called.
pub(in crate::report) fn cuts(
    list: &CutList,
    plan: &CutPlan,
    terms: &Terms,
    called: &str,
) -> Table {
    let mut table = Table::new([
        Column::right(called),
        Column::length("of"),
        Column::left("pieces").wrapping(),
        Column::length("offcut"),
    ]);
    for board in &plan.boards {
        let alike = board.pieces.chunk_by(|a, b| a == b);
        let pieces: Vec<String> = alike
            .map(|alike| {
                let length = terms.length(list.problem.pieces[alike[0]].length);
                let name = match &list.labels[alike[0]] {
                    Some(label) => format!("{label} {length}"),
                    None => length,
                };
                match alike.len() {
                    1 => name,
                    count => format!("{count} × {name}"),
                }
            })
            .collect();
        table.row([
            grouped(board.count),
            terms.length(list.problem.stock[board.stock].length),
            pieces.join(", "),
            terms.length(board.offcut),
        ]);
    }
    table
}
