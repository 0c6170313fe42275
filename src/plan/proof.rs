//! The relaxation's best prices as plain data, in lengths and places of the job
//! instead of the model's rows: what a certificate is written from.

use super::model::Model;
use super::prices::Prices;
use super::types::{PiecePrice, Proof};
use crate::stock::LimitPrice;

/// The prices of a relaxation whose blocks are so many courses wide.
pub(super) fn proof(model: &Model, prices: &Prices, block: usize) -> Proof {
    let run_lengths = model.run.lengths.len();
    let strip = |row: usize| {
        let material = row.checked_div(run_lengths).unwrap_or(0);
        let course = model.materials.iter().position(|&m| m as usize == material);
        let ripped = material > 0;
        Some(model.layout.courses[course.filter(|_| ripped)?].width())
    };
    let pieces = (0..model.rows)
        .filter(|&row| prices.path.row[row] > 0)
        .map(|row| PiecePrice {
            length: model.lengths[row],
            strip: strip(row),
            price: prices.path.row[row],
        })
        .collect();
    let limits = model
        .kinds
        .iter()
        .zip(&prices.limit)
        .filter(|(_, price)| **price > 0)
        .map(|(kind, &price)| LimitPrice {
            stock: kind.stock,
            on_hand: kind.on_hand,
            price,
        })
        .collect();
    let any_joint = model.weights.joint * prices.parts + prices.joint;
    let supports = model
        .run
        .joints
        .iter()
        .zip(&prices.path.joint[1..])
        .map(|(&at, price)| (at, price - any_joint))
        .filter(|(_, price)| *price > 0)
        .collect();
    Proof {
        unit: model.weights.unit,
        parts: prices.parts,
        block: block as u32,
        pieces,
        supports,
        limits,
        joint: any_joint,
        joints: model.joints_at_most.map(|most| (most as u32, prices.joint)),
    }
}
