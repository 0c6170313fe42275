//! What is alike in a plan, joined: boards sawn alike, and courses laid alike.

use std::collections::HashMap;

use crate::length::Length;
use crate::plan::{Plan, PlannedBoard, PlannedCourse, PlannedPiece};

/// Boards sawn alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct AlikeBoards<'a> {
    pub numbers: Vec<u32>,
    pub first: &'a PlannedBoard,
    /// Lengths as cut in saw order; of each strip where the board is split.
    pub cuts: Vec<Vec<Length>>,
}

/// Where each piece of a plan lies, by its id.
pub(super) fn places(plan: &Plan) -> HashMap<&str, (&PlannedCourse, &PlannedPiece)> {
    let mut places = HashMap::new();
    for course in &plan.courses {
        for piece in course.runs.iter().flat_map(|run| &run.pieces) {
            places.insert(piece.id.as_str(), (course, piece));
        }
    }
    places
}

/// The plan's boards, those sawn alike joined, in the order of their first one.
pub(super) fn alike_boards(plan: &Plan) -> Vec<AlikeBoards<'_>> {
    let places = places(plan);
    let lengths = |ids: &Vec<String>| -> Vec<Length> {
        let known = ids.iter().filter_map(|id| places.get(id.as_str()));
        known.map(|(_, piece)| piece.length).collect()
    };
    let mut known = HashMap::new();
    let mut groups: Vec<AlikeBoards<'_>> = Vec::new();
    for board in &plan.boards {
        let cuts: Vec<Vec<Length>> = match &board.strips {
            None => vec![lengths(&board.pieces)],
            Some(strips) => strips.iter().map(lengths).collect(),
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
pub(super) struct AlikeCourses {
    pub numbers: Vec<u32>,
    /// The width they are ripped to, if they are.
    pub ripped_to: Option<Length>,
    /// The pieces from the left, run by run.
    pub runs: Vec<Vec<Laid>>,
}

/// A piece's place and the length it is cut to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Laid {
    pub from: Length,
    pub to: Length,
    pub length: Length,
}

/// The plan's courses, those laid alike joined, in the order of their first one.
pub(super) fn alike_courses(plan: &Plan) -> Vec<AlikeCourses> {
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
