//! The base behind an order: where supports stand, what the heaviest carries,
//! and how much stone lies below, in sentences and in numbers.

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::{Base, Under, stone};
use crate::job::Job;
use crate::job::base::{BaseRules, Outline};
use crate::length::{Length, Unit};
use crate::order::Order;
use crate::report::json::Measure;
use crate::report::terms::{counted, square};
use crate::report::{Page, Terms};
use crate::volume::Volume;

/// What the deck stands on.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct BaseAnswer {
    /// `block` or `footing`.
    kind: &'static str,
    /// What supports stand under: `beams` or `joists`.
    under: &'static str,
    /// How many there are.
    count: u64,
    /// The centres of all of them along, from the frame's left side: each with all of `across`.
    along: Vec<Measure>,
    /// Their centres across, from the frame's first edge.
    across: Vec<Measure>,
    /// The support that carries most; null where there is none.
    heaviest: Option<HeaviestAnswer>,
    /// Crushed stone below; null where there is none.
    stone: Option<StoneAnswer>,
}

/// The support that carries most.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct HeaviestAnswer {
    /// Its centre along.
    along: Measure,
    /// Its centre across.
    across: Measure,
    /// The area it carries, in square feet where the unit is inches, else in square metres.
    area: f64,
    /// What stands on that under the job's load, in pounds where the unit is inches, else in kilonewtons; null without a load.
    load: Option<f64>,
    /// What it is stated to carry, in the same; null where that is not stated.
    capacity: Option<f64>,
    /// The side it needs on the ground, or the diameter where footings are round; null where the job does not say what the ground bears.
    width_on_ground: Option<Measure>,
}

/// Crushed stone.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct StoneAnswer {
    /// How much there is once it is compacted, in cubic feet where the unit is inches, else in cubic metres.
    compacted: f64,
    /// How much loose stone gives that.
    loose: f64,
}

/// The base's keys.
pub(super) fn json(job: &Job, order: &Order) -> Option<BaseAnswer> {
    let (rules, base) = job.base.as_ref().zip(order.base.as_ref())?;
    let unit = job.unit;
    let at = |length: &Length| Measure::new(*length, unit);
    Some(BaseAnswer {
        kind: rules.support.kind.name(),
        under: under(base),
        count: base.count(),
        along: base.along.iter().map(at).collect(),
        across: base.across.iter().map(at).collect(),
        heaviest: base.heaviest().map(|(along, across, area)| HeaviestAnswer {
            along: at(&along),
            across: at(&across),
            area: square(area, unit).0 / 4.0,
            load: rules.load.map(|load| load.on(area).value(unit)),
            capacity: rules.support.capacity.map(|capacity| capacity.value(unit)),
            width_on_ground: base.on_the_ground(rules).as_ref().map(at),
        }),
        stone: rules.gravel.as_ref().map(|gravel| {
            let [compacted, loose] = stone(job, gravel).map(|volume| volume.value(unit));
            StoneAnswer { compacted, loose }
        }),
    })
}

fn under(base: &Base) -> &'static str {
    match base.under {
        Under::Beams => "beams",
        Under::Joists { .. } => "joists",
    }
}

/// The base on the order's page.
pub(super) fn text(job: &Job, order: &Order, terms: &Terms, page: &mut Page) {
    let Some((rules, base)) = job.base.as_ref().zip(order.base.as_ref()) else {
        return;
    };
    page.space();
    page.line(&standing(rules, base, terms));
    if let Some(carried) = carried(rules, base, terms) {
        page.line(&carried);
    }
    if let Some(gravel) = &rules.gravel {
        let [compacted, loose] = stone(job, gravel);
        let beyond = match gravel.beyond > Length::ZERO {
            true => format!(", {} past open edges", terms.length(gravel.beyond)),
            false => String::new(),
        };
        page.line(&format!(
            "Stone {} deep{beyond}: {} once it is compacted, {} loose.",
            terms.length(gravel.depth),
            both(compacted, terms),
            both(loose, terms),
        ));
    }
}

/// Where the supports stand: `Base: 12 blocks in 3 rows of 4 under beams, ...`.
fn standing(rules: &BaseRules, base: &Base, terms: &Terms) -> String {
    let kind = rules.support.kind.name();
    if base.count() == 0 {
        return format!("Base: no {kind}, since ledgers carry both ends of every joist.");
    }
    let [rows, each] = base.rows();
    let places = |places: &[Length]| {
        let places = places.iter().map(|&at| terms.length(at));
        places.collect::<Vec<_>>().join(", ")
    };
    format!(
        "Base: {} in {} of {each} under {}, centred {} along from the left side and {} across from \
         the first edge.",
        counted(base.count(), kind),
        counted(rows, "row"),
        under(base),
        places(&base.along),
        places(&base.across),
    )
}

/// What the heaviest support carries.
fn carried(rules: &BaseRules, base: &Base, terms: &Terms) -> Option<String> {
    let (along, across, area) = base.heaviest()?;
    let mut text = format!(
        "The {} at {} along, {} across carries most: {}",
        rules.support.kind.name(),
        terms.length(along),
        terms.length(across),
        area_up(area, terms.unit),
    );
    if let Some(load) = rules.load {
        let force = load.on(area).show(terms.unit);
        text += &format!(", {force} at {}", load.show(terms.unit));
    }
    if let Some(capacity) = rules.support.capacity {
        text += &format!(", of {} stated", capacity.show(terms.unit));
    }
    text += ".";
    if let Some((width, soil)) = base.on_the_ground(rules).zip(rules.soil) {
        let outline = rules.footing.as_ref().map(|footing| footing.outline);
        let shape = match outline {
            Some(Outline::Round(_)) => "across",
            _ => "square",
        };
        text += &format!(
            " On ground that bears {} that takes {} {shape}.",
            soil.show(terms.unit),
            terms.length(width.up_to_the_tape(terms.unit)),
        );
    }
    Some(text)
}

/// An area given in quarters of square units, rounded up to the hundredth.
fn area_up(quarters: i128, unit: Unit) -> String {
    let (side, name) = match unit {
        Unit::Inch => (Length::UNITS_PER_FOOT, "sq ft"),
        Unit::Millimetre => (Length::UNITS_PER_MM * 1000, "m²"),
    };
    let one = 4 * i128::from(side) * i128::from(side);
    let hundredths = (quarters * 100 + one - 1).div_euclid(one);
    format!("{}.{:02} {name}", hundredths / 100, hundredths % 100)
}

/// A volume as people read it, in cubic yards too where those are used.
fn both(volume: Volume, terms: &Terms) -> String {
    let shown = volume.show(terms.unit);
    match terms.unit {
        Unit::Inch => format!("{shown} ({})", volume.show_in(Volume::CUBIC_YARD, "cu yd")),
        Unit::Millimetre => shown,
    }
}
