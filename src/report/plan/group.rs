//! What is alike in a plan, joined: boards sawn alike, and courses laid alike.

use std::collections::HashMap;

use crate::job::Job;
use crate::length::Length;
use crate::plan::{Plan, PlannedBoard, PlannedCourse, PlannedExtra, PlannedPiece};

/// Boards sawn alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct AlikeBoards<'a> {
    pub numbers: Vec<u32>,
    pub first: &'a PlannedBoard,
    /// What is cut in saw order; of each strip where the board is split.
    pub cuts: Vec<Vec<Cut<'a>>>,
}

/// A length as it is cut, and what it is called where it is no part of the deck.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct Cut<'a> {
    pub length: Length,
    pub label: Option<&'a str>,
}

/// Where each piece of a plan lies, by its id.
pub(crate) fn places(plan: &Plan) -> HashMap<&str, (&PlannedCourse, &PlannedPiece)> {
    let mut places = HashMap::new();
    for course in &plan.courses {
        for piece in course.runs.iter().flat_map(|run| &run.pieces) {
            places.insert(piece.id.as_str(), (course, piece));
        }
    }
    places
}

/// The other pieces of a plan, by their ids.
pub(crate) fn extras(plan: &Plan) -> HashMap<&str, &PlannedExtra> {
    let extras = plan.extras.iter();
    extras.map(|extra| (extra.id.as_str(), extra)).collect()
}

/// The plan's boards, those sawn alike joined, in the order of their first one.
pub(crate) fn alike_boards<'a>(job: &'a Job, plan: &'a Plan) -> Vec<AlikeBoards<'a>> {
    let places = places(plan);
    let extras = extras(plan);
    let cut = |id: &String| match (places.get(id.as_str()), extras.get(id.as_str())) {
        (Some((_, piece)), _) => Some(Cut {
            length: piece.length,
            label: None,
        }),
        (None, Some(extra)) => Some(Cut {
            length: extra.length,
            label: Some(job.extras[extra.extra].label.as_str()),
        }),
        (None, None) => None,
    };
    let cuts_of = |ids: &Vec<String>| -> Vec<Cut<'a>> { ids.iter().filter_map(cut).collect() };
    let mut known = HashMap::new();
    let mut groups: Vec<AlikeBoards<'_>> = Vec::new();
    for board in &plan.boards {
        let cuts: Vec<Vec<Cut<'a>>> = match &board.strips {
            None => vec![cuts_of(&board.pieces)],
            Some(strips) => strips.iter().map(cuts_of).collect(),
        };
        let key = (board.stock, board.on_hand, board.offcut, cuts.clone());
        let place = *known.entry(key).or_insert(groups.len());
        match groups.get_mut(place) {
            Some(group) => group.numbers.push(board.number),
            None => groups.push(AlikeBoards {
                numbers: vec![board.number],
                first: board,
                cuts,
            }),
        }
    }
    groups
}

/// Courses laid alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct AlikeCourses {
    pub numbers: Vec<u32>,
    /// The width they are ripped to, if they are.
    pub ripped_to: Option<Length>,
    /// The pieces from the left, run by run.
    pub runs: Vec<Vec<Laid>>,
}

/// A piece's place and the length it is cut to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct Laid {
    pub from: Length,
    pub to: Length,
    pub length: Length,
}

/// The plan's courses, those laid alike joined, in the order of their first one.
pub(crate) fn alike_courses(plan: &Plan) -> Vec<AlikeCourses> {
    let mut places = HashMap::new();
    let mut groups: Vec<AlikeCourses> = Vec::new();
    for course in &plan.courses {
        let laid = |piece: &PlannedPiece| Laid {
            from: piece.from,
            to: piece.to,
            length: piece.length,
        };
        let runs: Vec<Vec<Laid>> = course
            .runs
            .iter()
            .map(|run| run.pieces.iter().map(laid).collect())
            .collect();
        let ripped_to = course.ripped.then_some(course.width);
        let place = *places
            .entry((ripped_to, runs.clone()))
            .or_insert(groups.len());
        match groups.get_mut(place) {
            Some(group) => group.numbers.push(course.number),
            None => groups.push(AlikeCourses {
                numbers: vec![course.number],
                ripped_to,
                runs,
            }),
        }
    }
    groups
}
