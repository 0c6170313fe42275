//! Decks by chance, 8 to 60 ft each way, with every rule of joints and supply
//! varied: harder than most that are built.

use lastcourse::job::{Edge, Finish, Job, Joists, Stock};
use lastcourse::length::Length;
use lastcourse::money::Money;

use super::draw::Draw;

/// So many decks, the same every time; supports that carry joints have a price
/// in one of five if `doubled`.
pub fn decks(count: usize, doubled: bool) -> Vec<(String, Job)> {
    let mut draw = Draw(11);
    (0..count).map(|_| one(&mut draw, doubled)).collect()
}

fn one(draw: &mut Draw, doubled: bool) -> (String, Job) {
    let inches = Length::from_inches;
    let eighth = Length::from_64ths(8);
    let side = |draw: &mut Draw| inches(draw.between(8 * 12, 60 * 12 + 11));
    let along = side(draw) + eighth * draw.between(0, 7);
    let across = side(draw);
    let mut job = super::deck(along, across, &[]);
    let open = Edge::open(inches(1));
    job.edges.first = open.clone();
    job.edges.last = open.clone();
    job.edges.left = open.clone();
    job.edges.right = open;
    let mut feet = vec![8, 10, 12, 14, 16, 18, 20];
    for _ in 0..feet.len() as i64 - draw.between(1, 6) {
        feet.remove(draw.between(0, feet.len() as i64 - 1) as usize);
    }
    job.stock = feet
        .iter()
        .map(|&feet| {
            let price = Money::from_cents(feet * draw.between(180, 280));
            let mut stock = Stock::bought(Length::from_feet(feet), price);
            if draw.between(0, 9) == 0 {
                stock.available = Some(draw.between(5, 60) as u32);
            }
            if draw.between(0, 9) == 0 {
                stock.on_hand = draw.between(1, 8) as u32;
            }
            stock
        })
        .collect();
    let spacing = draw.pick(&[12, 16, 24]);
    job.joists = Joists::Spaced {
        spacing: inches(spacing),
        first: inches(draw.between(spacing / 2, spacing)),
        thickness: Length::from_64ths(96),
    };
    let joints = &mut job.joints;
    joints.stagger = inches(draw.pick(&[0, 12, 16, 24, 24, 24, 32, 48]));
    joints.same_joist_after = draw.pick(&[0, 1, 1, 1, 2, 2, 3]);
    joints.bearing = draw.pick(&[2, 3, 3, 4]);
    if draw.between(0, 2) == 0 {
        joints.shortest_piece = inches(draw.between(24, 60));
    }
    if draw.between(0, 1) == 0 {
        joints.price = Money::from_cents(draw.between(0, 300));
    }
    if draw.between(0, 2) == 0 {
        joints.end_gap = eighth;
    }
    let price = draw.between(100, 2000);
    if draw.between(0, 4) == 0 && doubled {
        joints.doubled_joist_price = Money::from_cents(price);
    }
    if draw.between(0, 3) == 0 {
        job.cutting.end_trim = Length::from_64ths(32);
    }
    if draw.between(0, 2) == 0 {
        job.cutting.split_rips = true;
        job.courses.finish = draw.pick(&[
            Finish::RipLast,
            Finish::Balanced,
            Finish::Shared,
            Finish::RipFirst,
        ]);
    }
    let rules = &job.joints;
    let name = format!(
        "{} x {} in, joists {spacing} in, stagger {} in, same joist after {}, boards {feet:?} ft",
        along.inches(),
        across.inches(),
        rules.stagger.inches(),
        rules.same_joist_after,
    );
    (name, job)
}
