//! What a set of sheets says besides its drawings: what it comes to, cautions,
//! the cut list, the laying list and the order, as plain words and rows before
//! a page or paper gives them a place.

use super::Subject;
use super::fitted::NO_BREAK;
use crate::caution::Caution;
use crate::length::Length;
use crate::order::Order;
use crate::report::plan::group::{extras, places};
use crate::report::terms::counted;
use crate::report::{self, Table};

/// A part with a heading of its own.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Section {
    /// Its heading.
    pub title: String,
    /// What is to be found first.
    pub answer: Option<String>,
    /// Sentences, a paragraph each.
    pub said: Vec<String>,
    /// What is to be heeded.
    pub cautions: Vec<String>,
    /// A list.
    pub listing: Option<Listing>,
    /// What is said below it.
    pub below: Option<String>,
}

/// Rows under heads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listing {
    /// What each row is, where its first cell is to be ticked off.
    pub tick: Option<&'static str>,
    /// The heads of the columns, and whether a column lines up on its right.
    pub heads: Vec<(String, bool)>,
    /// The rows; one without any words parts those above from those below.
    pub rows: Vec<Vec<String>>,
}

impl Listing {
    fn new(tick: &'static str, heads: &[&str]) -> Listing {
        Listing {
            tick: Some(tick),
            heads: heads
                .iter()
                .map(|head| ((*head).to_owned(), false))
                .collect(),
            rows: Vec::new(),
        }
    }

    fn of(table: &Table) -> Listing {
        Listing {
            tick: None,
            heads: table
                .heads()
                .map(str::to_owned)
                .zip(table.rights())
                .collect(),
            rows: table.rows().to_vec(),
        }
    }
}

/// A length that no line ends in.
fn unbroken(subject: &Subject<'_>, length: Length) -> String {
    let words = subject.terms.length(length);
    words.replace(' ', &NO_BREAK.to_string())
}

/// What it comes to; its heading is the job's.
pub fn summary(subject: &Subject<'_>, order: &Order) -> Section {
    let Subject {
        job, plan, terms, ..
    } = subject;
    let last = match plan.courses.last() {
        Some(last) if last.ripped => format!(
            "Course {} is the last, ripped to {}.",
            last.number,
            terms.length(last.width)
        ),
        Some(last) => format!("Course {} is the last and whole.", last.number),
        None => "There is no course.".to_owned(),
    };
    let facts = format!(
        "{last} {} with {}, laid with {}.",
        counted(plan.courses.len() as u64, "course"),
        counted(u64::from(plan.totals.joints), "joint"),
        terms.laid_with(job, plan)
    );
    let mut said: Vec<String> = subject.date.map(str::to_owned).into_iter().collect();
    said.push(facts);
    said.push(report::order::answer(job, order, terms));
    Section {
        title: job.title.clone(),
        answer: Some(report::plan::answer(plan, terms)),
        said,
        ..Section::default()
    }
}

/// A caution in sentences.
pub fn said(caution: &Caution) -> String {
    let message = caution.message.trim_end_matches('.');
    let help = caution.help.trim_end_matches('.');
    format!("{}. {}.", report::capital(message), report::capital(help))
}

/// What is to be heeded.
pub fn cautions(order: &Order) -> Section {
    let mut cautions: Vec<String> = order.cautions.iter().map(said).collect();
    cautions.push(
        "This sheet says where boards go, not whether they hold: spans, footings, guards and \
         stairs follow the local code, and a licensed person decides."
            .to_owned(),
    );
    cautions.push(
        "Keep the guards on the saw, eyes and ears covered, and measure before every rip."
            .to_owned(),
    );
    Section {
        title: "Cautions".to_owned(),
        cautions,
        ..Section::default()
    }
}

/// Every board with its pieces.
pub fn cut_list(subject: &Subject<'_>) -> Section {
    let plan = subject.plan;
    let length = |length| unbroken(subject, length);
    let (places, extras) = (places(plan), extras(plan));
    let piece = |id: &String| match (places.get(id.as_str()), extras.get(id.as_str())) {
        (Some((course, piece)), _) => {
            let rip = match course.ripped {
                true => format!(", ripped to {}", length(course.width)),
                false => String::new(),
            };
            format!("{id}: {}{rip}", length(piece.length))
        }
        (None, Some(extra)) => format!("{id}: {}", length(extra.length)),
        (None, None) => id.clone(),
    };
    let list = |ids: &Vec<String>| ids.iter().map(piece).collect::<Vec<_>>().join("; ");
    let mut listing = Listing::new("board", &["board", "of", "pieces", "left over"]);
    for board in &plan.boards {
        let pieces = match &board.strips {
            None => list(&board.pieces),
            Some([one, two]) => format!("ripped in two: {} | {}", list(one), list(two)),
        };
        let hand = if board.on_hand { ", from hand" } else { "" };
        listing.rows.push(vec![
            board.number.to_string(),
            format!("{}{hand}", length(board.length)),
            pieces,
            length(board.offcut),
        ]);
    }
    Section {
        title: "Cut list, pieces in saw order".to_owned(),
        listing: Some(listing),
        ..Section::default()
    }
}

/// Every course with its pieces.
pub fn laying_list(subject: &Subject<'_>) -> Section {
    let plan = subject.plan;
    let length = |length| unbroken(subject, length);
    let heads = ["course", "width", "far edge", "pieces, each of its board"];
    let mut listing = Listing::new("course", &heads);
    for course in &plan.courses {
        let pieces = course.runs.iter().flat_map(|run| &run.pieces);
        let pieces: Vec<String> = pieces
            .map(|piece| {
                let long = length(piece.length);
                format!("{} of B{}: {long}", piece.id, piece.board)
            })
            .collect();
        let width = match course.ripped {
            true => format!("ripped to {}", length(course.width)),
            false => length(course.width),
        };
        listing.rows.push(vec![
            course.number.to_string(),
            width,
            length(course.to),
            pieces.join("; "),
        ]);
    }
    Section {
        title: "Laying list, from the first edge, pieces from the left".to_owned(),
        listing: Some(listing),
        ..Section::default()
    }
}

/// What to buy.
pub fn order(subject: &Subject<'_>, order: &Order) -> Section {
    let table = report::order::list(subject.job, order, subject.terms);
    Section {
        title: "What to buy".to_owned(),
        listing: Some(Listing::of(&table)),
        below: Some(format!("Not counted: {}.", order.not_counted.join("; "))),
        ..Section::default()
    }
}
