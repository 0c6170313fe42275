//! A plan for people: the answer, boards by length, what is known of joints and
//! waste, the cut list, and how the courses are laid.

use crate::caution::Caution;
use crate::deck::Surface;
use crate::job::Job;
use crate::length::Length;
use crate::plan::{Objective, Plan};
use crate::report::json::waste;
use crate::report::terms::{counted, grouped, how_good, numbers, percent, plan_noun};
use crate::report::{Column, Page, Table, Terms};

use super::group::{AlikeCourses, alike_boards, alike_courses};

/// The answer in one sentence: boards, money, and how good it is known to be.
pub fn answer(plan: &Plan, terms: &Terms) -> String {
    let totals = &plan.totals;
    let boards = counted(u64::from(totals.boards), "board");
    let on_hand = plan.boards.iter().filter(|board| board.on_hand).count() as u64;
    let boards = match on_hand {
        0 => boards,
        _ => format!("{boards} ({} from hand)", grouped(on_hand)),
    };
    let left_over = plan.left_over.iter().map(|left| u64::from(left.count));
    let boards = match left_over.sum() {
        0 => boards,
        left => format!("{boards} and {} left over", grouped(left)),
    };
    let price = terms.money(totals.price);
    let joints = counted(u64::from(totals.joints), "joint");
    let what = match totals.objective {
        Objective::Cost if totals.cost == totals.price => format!("{boards} for {price}"),
        Objective::Cost => format!(
            "{boards} for {price}, {} with joints priced in",
            terms.money(totals.cost)
        ),
        Objective::Joints => format!("{joints} with {boards} for {price}"),
        Objective::Waste => format!(
            "{boards} of {} in all for {price}",
            terms.length(totals.bought)
        ),
    };
    let stopped = if totals.stopped {
        "Stopped early: "
    } else {
        ""
    };
    let good = how_good(
        totals.objective,
        totals.value,
        totals.bound,
        &plan_noun(plan),
    );
    format!("{stopped}{what}; {good}.")
}

/// The whole plan on a page.
pub fn text(
    job: &Job,
    surface: &Surface,
    plan: &Plan,
    cautions: &[Caution],
    terms: &Terms,
    page: &mut Page,
) {
    page.answer(&answer(plan, terms));
    facts(job, surface, plan, terms, page);
    page.space();
    page.table(&boards(job, plan, terms));
    page.heading("Cut list, equal boards together, pieces in saw order");
    page.table(&cuts(job, plan, terms));
    page.heading(
        "Courses from the first edge, pieces from the left, joints measured from the frame's left",
    );
    page.table(&courses(plan, terms));
    if !plan.extras.is_empty() {
        page.heading("Other pieces from the same boards");
        page.table(&extras(job, plan, terms));
    }
    allowances(job, terms, page);
    page.cautions(cautions);
}

fn facts(job: &Job, surface: &Surface, plan: &Plan, terms: &Terms, page: &mut Page) {
    let totals = &plan.totals;
    page.line(&format!(
        "{}: {} of {} laid with {}, on {}.",
        job.title,
        counted(plan.courses.len() as u64, "course"),
        terms.length(surface.run()),
        terms.laid_with(job, plan),
        counted(plan.supports.len() as u64, "support"),
    ));
    page.line(&joints(plan));
    let extra = match totals.extra {
        Length::ZERO => String::new(),
        extra => format!(" and {} of other pieces", terms.length(extra)),
    };
    page.line(&format!(
        "Waste {}: {} of boards for {} laid{extra}.",
        percent(waste(totals.laid + totals.extra, totals.bought)),
        terms.length(totals.bought),
        terms.length(totals.laid),
    ));
}

fn joints(plan: &Plan) -> String {
    let totals = &plan.totals;
    if totals.joints == 0 {
        return "No joints.".to_string();
    }
    let joints = format!(
        "{} on {}",
        counted(u64::from(totals.joints), "joint"),
        counted(u64::from(totals.doubled_joists), "support"),
    );
    let same = match totals.objective {
        Objective::Joints => return format!("{joints}."),
        Objective::Cost => "of this cost",
        Objective::Waste => "of this length of boards",
    };
    match totals.joints_proven {
        true => format!("{joints}; no plan {same} has fewer."),
        false => format!("{joints}; that a plan {same} has fewer is not ruled out."),
    }
}

/// Boards by stock and money.
fn boards(job: &Job, plan: &Plan, terms: &Terms) -> Table {
    let mut table = Table::new([
        Column::right("boards"),
        Column::length("length"),
        Column::right("each"),
        Column::right("together"),
    ]);
    let mut kinds: Vec<(usize, bool, u64)> = Vec::new();
    for board in &plan.boards {
        let key = (board.stock, board.on_hand);
        match kinds.iter_mut().find(|kind| (kind.0, kind.1) == key) {
            Some(kind) => kind.2 += 1,
            None => kinds.push((board.stock, board.on_hand, 1)),
        }
    }
    for (stock, on_hand, count) in kinds {
        let mut alike = plan.boards.iter();
        let Some(board) = alike.find(|board| board.stock == stock && board.on_hand == on_hand)
        else {
            continue;
        };
        let (each, together) = match on_hand {
            true => ("from hand".to_string(), String::new()),
            false => (
                terms.money(board.price),
                terms.money(board.price * count as i64),
            ),
        };
        table.row([grouped(count), terms.length(board.length), each, together]);
    }
    for left in &plan.left_over {
        table.row([
            grouped(u64::from(left.count)),
            terms.length(job.stock[left.stock].length),
            "left over".to_string(),
            terms.money(left.price),
        ]);
    }
    table
}

fn cuts(job: &Job, plan: &Plan, terms: &Terms) -> Table {
    let mut table = Table::new([
        Column::right("boards"),
        Column::length("of"),
        Column::left(""),
        Column::left("pieces").wrapping(),
        Column::length("offcut"),
    ]);
    for alike in alike_boards(job, plan) {
        let pieces: Vec<String> = alike
            .cuts
            .iter()
            .map(|strip| {
                repeated(strip, |cut| match cut.label {
                    None => terms.length(cut.length),
                    Some(label) => format!("{} {label}", terms.length(cut.length)),
                })
            })
            .collect();
        let pieces = match &pieces[..] {
            [one, two] => format!("ripped in two: {one} | {two}"),
            _ => pieces.concat(),
        };
        table.row([
            grouped(alike.numbers.len() as u64),
            terms.length(alike.first.length),
            if alike.first.on_hand { "hand" } else { "" }.to_string(),
            pieces,
            terms.length(alike.first.offcut),
        ]);
    }
    table
}

/// Pieces in order, equal neighbours joined: `3 × 5 ft 4 in, 2 ft 8 in`.
fn repeated<T: PartialEq>(pieces: &[T], show: impl Fn(&T) -> String) -> String {
    let alike = pieces.chunk_by(|a, b| a == b);
    let parts: Vec<String> = alike
        .map(|alike| match alike {
            [one] => show(one),
            several => format!("{} × {}", several.len(), show(&several[0])),
        })
        .collect();
    parts.join(", ")
}

/// What is cut beside the courses, and from which boards.
fn extras(job: &Job, plan: &Plan, terms: &Terms) -> Table {
    let mut table = Table::new([
        Column::right("pieces"),
        Column::left("of"),
        Column::length("length"),
        Column::left("from boards").wrapping(),
    ]);
    for (place, extra) in job.extras.iter().enumerate() {
        let mut boards: Vec<u32> = plan
            .extras
            .iter()
            .filter(|piece| piece.extra == place)
            .map(|piece| piece.board)
            .collect();
        boards.sort_unstable();
        boards.dedup();
        table.row([
            grouped(u64::from(extra.count)),
            extra.label.clone(),
            terms.length(extra.length),
            numbers(&boards),
        ]);
    }
    table
}

fn courses(plan: &Plan, terms: &Terms) -> Table {
    let mut table = Table::new([
        Column::left("courses").wrapping(),
        Column::length("ripped to"),
        Column::left("pieces").wrapping(),
        Column::left("joints at").wrapping(),
    ]);
    for alike in alike_courses(plan) {
        let lengths: Vec<String> = alike
            .runs
            .iter()
            .map(|run| {
                let pieces: Vec<Length> = run.iter().map(|piece| piece.length).collect();
                repeated(&pieces, |length| terms.length(*length))
            })
            .collect();
        let joints: Vec<String> = joint_supports(plan, &alike)
            .into_iter()
            .map(|support| terms.length(support))
            .collect();
        table.row([
            numbers(&alike.numbers),
            alike
                .ripped_to
                .map_or(String::new(), |width| terms.length(width)),
            lengths.join(" | "),
            joints.join(", "),
        ]);
    }
    table
}

/// The supports under a course's joints, by their centres from the frame's left.
fn joint_supports(plan: &Plan, alike: &AlikeCourses) -> Vec<Length> {
    let mut found = Vec::new();
    for run in &alike.runs {
        for pair in run.windows(2) {
            let mut supports = plan.supports.iter();
            found.extend(supports.find(|&&s| pair[0].to <= s && s <= pair[1].from));
        }
    }
    found
}

fn allowances(job: &Job, terms: &Terms, page: &mut Page) {
    let left = job.edges.left.allowance();
    let right = job.edges.right.allowance();
    let edges = match (left > Length::ZERO, right > Length::ZERO) {
        (true, true) if left == right => vec![("at the left and at the right edge", left)],
        _ => vec![("at the left edge", left), ("at the right edge", right)],
    };
    for (place, allowance) in edges {
        if allowance > Length::ZERO {
            page.space();
            page.line(&format!(
                "Pieces {place} are cut {} longer than they lie; saw them off together in place.",
                terms.length(allowance)
            ));
        }
    }
}
