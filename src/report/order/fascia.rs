//! The fascia behind an order: each edge's length and splices in a sentence,
//! and the cut list of its boards, for people and for programs.

use schemars::JsonSchema;
use serde::Serialize;

use super::frame::cut_list;
use crate::cutlist::CutList;
use crate::frame::Face;
use crate::job::{Corners, FasciaRules, Job, Side};
use crate::length::Length;
use crate::order::{FasciaCut, Order};
use crate::report::cut::{self, CutAnswer};
use crate::report::json::Measure;
use crate::report::terms::counted;
use crate::report::{Page, Terms};

/// The fascia.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct FasciaAnswer {
    /// How two fascias meet at a corner: `mitred` or `butted`.
    corners: &'static str,
    /// The fascia of each edge that has one.
    edges: Vec<EdgeAnswer>,
    /// How its boards are cut; a stock's number is its place among its lengths.
    cut_list: CutAnswer,
}

/// The fascia of one edge.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct EdgeAnswer {
    /// The edge: `first`, `last`, `left` or `right`.
    edge: &'static str,
    /// Its whole length, over the long points of its mitres.
    length: Measure,
    /// Its pieces in order.
    pieces: Vec<PieceAnswer>,
    /// Where pieces meet: along from the frame's left side, or across from its first edge.
    splices: Vec<Measure>,
}

/// One piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct PieceAnswer {
    /// The length it is cut to, over the long point of a mitre or scarf.
    length: Measure,
    /// Whether it is the short piece that turns a corner.
    #[serde(rename = "return")]
    turns: bool,
}

/// The fascia's keys.
pub(super) fn fascia(job: &Job, order: &Order) -> Option<FasciaAnswer> {
    let (rules, fascia) = job.fascia.as_ref().zip(order.fascia.as_ref())?;
    let at = |length| Measure::new(length, job.unit);
    let edge = |face: &Face| EdgeAnswer {
        edge: face.side.name(),
        length: at(face.length),
        pieces: (face.pieces.iter())
            .map(|piece| PieceAnswer {
                length: at(piece.length),
                turns: piece.turns,
            })
            .collect(),
        splices: face.splices.iter().map(|&splice| at(splice)).collect(),
    };
    Some(FasciaAnswer {
        corners: corners(rules),
        edges: fascia.faces.iter().map(edge).collect(),
        cut_list: cut::whole(&list(job, fascia), &fascia.plan),
    })
}

fn corners(rules: &FasciaRules) -> &'static str {
    match rules.corners {
        Corners::Mitred => "mitred",
        Corners::Butted => "butted",
    }
}

/// The cutting problem as a bare cut list.
fn list(job: &Job, fascia: &FasciaCut) -> CutList {
    CutList {
        unit: job.unit,
        problem: fascia.problem.clone(),
        labels: fascia.labels.iter().cloned().map(Some).collect(),
        by_length: None,
    }
}

/// The fascia on the order's page.
pub(super) fn text(job: &Job, order: &Order, terms: &Terms, page: &mut Page) {
    let Some((rules, fascia)) = job.fascia.as_ref().zip(order.fascia.as_ref()) else {
        return;
    };
    page.space();
    page.line(&sentence(job, rules, &fascia.faces, terms));
    let list = list(job, fascia);
    cut_list("Fascia cut", "board", &list, &fascia.plan, terms, page);
}

/// What it is: `Fascia: last edge 31 ft 7-1/2 in, spliced at 16 ft, ...`.
fn sentence(job: &Job, rules: &FasciaRules, faces: &[Face], terms: &Terms) -> String {
    let edges = faces.iter().map(|face| {
        let name = face.side.name();
        let length = terms.length(face.length);
        let splices: Vec<String> = face.splices.iter().map(|&at| terms.length(at)).collect();
        match splices.as_slice() {
            [] => format!("{name} edge {length}"),
            splices => format!("{name} edge {length}, spliced at {}", splices.join(", ")),
        }
    });
    let mut text = format!("Fascia: {}", edges.collect::<Vec<_>>().join("; "));
    let meets = |side: &Side| {
        let ends = side.ends().into_iter();
        ends.filter(|&end| job.edges.fascia(end) > Length::ZERO)
            .count()
    };
    if rules.sides.iter().map(meets).sum::<usize>() > 0 {
        text.push_str(match rules.corners {
            Corners::Mitred => "; mitred at the corners and measured over the long points",
            Corners::Butted => "; butted at the corners",
        });
    }
    let turns = faces.iter().flat_map(|face| &face.pieces);
    let turns = turns.filter(|piece| piece.turns).count() as u64;
    if turns > 0 {
        text.push_str(&format!(", {} among it", counted(turns, "return")));
    }
    if let Some((size, depth)) = behind(job).filter(|_| rules.height.is_none()) {
        let (size, depth) = (size.as_str(), terms.length(depth));
        text.push_str(&format!(
            "; boards {depth} high cover the {size} behind them"
        ));
    }
    text.push('.');
    text
}

/// The deepest lumber behind a fascia, by its size and depth.
fn behind(job: &Job) -> Option<(&String, Length)> {
    let frame = job.frame.as_ref()?;
    let sizes = [frame.rim, frame.joist].map(|size| &job.lumber[size]);
    let deepest = sizes.into_iter().max_by_key(|lumber| lumber.depth)?;
    Some((&deepest.size, deepest.depth))
}
