//! The base: what carries the deck has something to stand under, what is
//! compared is given, and what is sold in bags says what a bag holds.

use super::framing::{lapping, optional, roll, size};
use super::goods::{bought, fixing, money};
use crate::job::base::tables::{
    BagTable, BaseTable, FootingTable, GravelTable, PostTable, SupportTable,
};
use crate::job::base::{
    Bag, BaseRules, Bulk, Footing, Gravel, Outline, Portion, Post, Step, Support, SupportKind,
};
use crate::job::document::Document;
use crate::job::framing::{FrameRules, Lumber};
use crate::job::model::Percent;
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading};
use crate::job::values::{Lengths, Load};
use crate::length::{Length, Unit};
use crate::load::Pressure;
use crate::money::Money;

/// Supports nearer to each other than this are a slip of the pen.
const NEAREST: Length = Length::from_mm(250);
/// A footing is no wider than this, and no deeper than twice as much.
const WIDEST_FOOTING: Length = Length::from_feet(10);
/// Stone is no deeper than this.
const DEEPEST_STONE: Length = Length::from_feet(4);
/// Stone reaches no further past the frame, and fabric is no narrower than a tenth of it.
const FURTHEST: Length = Length::from_feet(10);
/// No code asks a deck to carry more than this of live load or of dead.
const HEAVIEST: Pressure = Pressure::psf_100(50_000);

/// The base, if the job describes one.
pub fn base(
    document: &Document,
    lumber: Option<&[Lumber]>,
    frame: Option<&Option<FrameRules>>,
    reading: &mut Reading,
) -> Option<Option<BaseRules>> {
    if document.base.is_absent() {
        return Some(None);
    }
    let table = document.base.get()?;
    let support = support(table, reading);
    let usual = BaseRules::customary_inset(reading.unit);
    let inset: Option<Length> = table.inset.or(usual);
    if let (Some(support), Some(inset)) = (&support, inset)
        && inset > support.spacing
    {
        let message = format!(
            "supports are {} apart and start {} from the frame's edge",
            reading.show(support.spacing),
            reading.show(inset)
        );
        let help = "`base.inset` is at most `base.support.spacing`; look at their units";
        let place = (table.inset.place()).or_else(|| table.support.fields().spacing.place());
        reading.error(place, message, help);
    }
    let kind = support.as_ref().map(|support| support.kind);
    belongs(table, kind, reading);
    let beams = beams(table, frame, reading);
    let footing = optional(&table.footing, |footing| {
        let bag = optional(&table.bag, bag);
        self::footing(footing, bag?, reading)
    });
    let post = optional(&table.post, |table| post(table, lumber, reading));
    let gravel = optional(&table.gravel, |table| gravel(table, reading));
    let fabric = optional(&table.fabric, |table| {
        let roll = roll(table, "base.fabric", reading)?;
        let least = roll.roll.min(roll.width);
        if roll.width <= roll.overlap || least < Length::from_mm(300) {
            let message = format!(
                "fabric {} wide leaves nothing beside its laps of {}",
                reading.show(roll.width),
                reading.show(roll.overlap)
            );
            let help = "rolls are at least 1 ft wide and long, and wider than a lap; look at the \
                        units";
            reading.error(table.width.place(), message, help);
            return None;
        }
        Some(roll)
    });
    let edging = optional(&table.edging, |table| {
        lapping(table, "base.edging", reading)
    });
    let load = optional(&table.load, |load| {
        let live = stands(&load.live, "live", reading);
        let dead = stands(&load.dead, "dead", reading);
        Some(live?.and(dead?))
    });
    beams?;
    Some(Some(BaseRules {
        support: support?,
        inset: inset?,
        row_spacing: table.row_spacing.option()?.map(|spacing| spacing.0),
        load: load?,
        soil: table.soil.option()?.map(|soil| soil.0),
        footing: footing?,
        post: post?,
        post_base: optional(&table.post_base, |table| {
            fixing(table, "post base", reading)
        })?,
        post_cap: optional(&table.post_cap, |table| fixing(table, "post cap", reading))?,
        gravel: gravel?,
        fabric: fabric?,
        edging: edging?,
    }))
}

/// A load that a deck may be meant to carry.
fn stands(entry: &Entry<Load>, name: &str, reading: &mut Reading) -> Option<Pressure> {
    let load = entry.get()?.0;
    if load > HEAVIEST {
        let message = format!("`base.load.{name}` is {}", load.show(reading.unit));
        let help = format!(
            "it is at most {}; look at its unit",
            HEAVIEST.show(reading.unit)
        );
        reading.error(entry.place(), message, help);
        return None;
    }
    Some(load)
}

fn support(table: &BaseTable, reading: &mut Reading) -> Option<Support> {
    let table: &SupportTable = table.support.get()?;
    let kind = table.kind.or(SupportKind::Block)?;
    let spacing = table.spacing.get()?.0;
    if spacing < NEAREST {
        let message = format!(
            "supports {} apart are nearer than any deck has them",
            reading.show(spacing)
        );
        let help =
            "write the greatest distance between two of them, such as \"5ft\", with its unit";
        reading.error(table.spacing.place(), message, help);
        return None;
    }
    let usual = match kind {
        SupportKind::Block => "deck block",
        SupportKind::Footing => "footing form",
    };
    Some(Support {
        goods: bought(
            &table.name,
            &table.pack,
            &table.pack_price,
            &table.spare,
            usual,
        )?,
        kind,
        spacing,
        capacity: table.capacity.option()?.map(|capacity| capacity.0),
    })
}

/// What is given belongs to something else that is given too.
fn belongs(table: &BaseTable, kind: Option<SupportKind>, reading: &mut Reading) {
    let support = table.support.fields();
    for (name, key) in [
        ("base.support.capacity", support.capacity.key()),
        ("base.soil", table.soil.key()),
    ] {
        let Some(key) = key.filter(|_| table.load.is_absent()) else {
            continue;
        };
        let message = format!("`{name}` is compared with a load, and the job gives none");
        let help = format!(
            "write what the local code asks decks to carry, `load = {{ live = {}, dead = {} }}`",
            usual_load(reading.unit)[0],
            usual_load(reading.unit)[1]
        );
        reading.error(key, message, help);
    }
    if let Some(key) = (table.footing.key()).filter(|_| kind == Some(SupportKind::Block)) {
        let message = "`base.footing` is poured, and the supports are blocks";
        let help = "write `kind = \"footing\"` under `support`, or take `footing` out";
        reading
            .error(key, message, help)
            .also(support.kind.place(), "here");
    }
    if let Some(key) = table.bag.key().filter(|_| table.footing.is_absent()) {
        let message = "`base.bag` is for the concrete of footings, and their size is not given";
        let help = "add `footing = { side = \"16in\", depth = \"10in\" }`, or take `bag` out";
        reading.error(key, message, help);
    }
    for (name, key) in [
        ("post_base", table.post_base.key()),
        ("post_cap", table.post_cap.key()),
    ] {
        let Some(key) = key.filter(|_| table.post.is_absent()) else {
            continue;
        };
        let message = format!("`base.{name}` belongs to posts, and there are none");
        let help =
            format!("add `post = {{ size = \"6x6\", height = \"3ft\" }}`, or take `{name}` out");
        reading.error(key, message, help);
    }
}

fn usual_load(unit: Unit) -> [&'static str; 2] {
    match unit {
        Unit::Inch => ["40", "10"],
        Unit::Millimetre => ["1.92", "0.48"],
    }
}

/// Posts need beams; rows of one's own do not go with them.
fn beams(
    table: &BaseTable,
    frame: Option<&Option<FrameRules>>,
    reading: &mut Reading,
) -> Option<()> {
    let beams = frame?.as_ref().is_some_and(|frame| frame.beam.is_some());
    if let Some(key) = table.post.key().filter(|_| !beams) {
        let message = "`base.post` stands under a beam, and the frame has none";
        let help = "add the beams, `beam = { size = \"2x10\", plies = 2, count = 1 }` under \
                    `[frame]`, or take `post` out";
        reading.error(key, message, help);
        return None;
    }
    if let Some(key) = table.row_spacing.key().filter(|_| beams) {
        let message = "`base.row_spacing` is not used: the frame has beams";
        let help = "rows of supports lie under the beams; take it out";
        reading.caution(key, message, help);
    }
    Some(())
}

/// Concrete in bags.
pub(super) fn bag(table: &BagTable) -> Option<Bag> {
    Some(Bag {
        name: table.name.or("bag of concrete".to_owned())?,
        yields: table.yields.get()?.0,
        price: money(&table.price)?,
    })
}

fn footing(table: &FootingTable, bag: Option<Bag>, reading: &mut Reading) -> Option<Footing> {
    let outline = match (&table.side, &table.diameter) {
        (Entry::Absent, Entry::Absent) => {
            let message = "the job does not say how wide footings are";
            let help = "write `side = \"16in\"` for square ones, or `diameter = \"16in\"`";
            reading.error(table.depth.place(), message, help);
            return None;
        }
        (side, Entry::Absent) => Outline::Square(side.get()?.0),
        (Entry::Absent, diameter) => Outline::Round(diameter.get()?.0),
        (side, diameter) => {
            let message = "`base.footing` has both `side` and `diameter`";
            reading
                .error(diameter.key(), message, "keep one of them")
                .also(side.key(), "the other one");
            return None;
        }
    };
    let (Outline::Square(across) | Outline::Round(across)) = outline;
    let depth = table.depth.get()?.0;
    if across > WIDEST_FOOTING || depth > WIDEST_FOOTING * 2 {
        let message = format!(
            "a footing {} wide and {} deep is larger than any deck has",
            reading.show(across),
            reading.show(depth)
        );
        let help = "footings are up to 10 ft wide and 20 ft deep; look at their units";
        let wide = table.side.place().or_else(|| table.diameter.place());
        let place = if across > WIDEST_FOOTING {
            wide
        } else {
            table.depth.place()
        };
        reading.error(place, message, help);
        return None;
    }
    Some(Footing {
        outline,
        depth,
        bag,
    })
}

fn post(table: &PostTable, lumber: Option<&[Lumber]>, reading: &mut Reading) -> Option<Post> {
    let size = size(&table.size, lumber, "base.post.size", reading);
    let heights = match (&table.height, &table.heights) {
        (height, Entry::Absent) if !height.is_absent() => vec![height.get()?.0],
        (Entry::Absent, heights) if !heights.is_absent() => several(heights, reading)?,
        (Entry::Absent, _) => {
            let message = "the job does not say how high the base's posts are";
            let help =
                "write `height = \"3ft\"`, or `heights = [\"3ft\", \"2ft 6in\"]` for each beam";
            reading.error(table.size.place(), message, help);
            return None;
        }
        (height, heights) => {
            let message = "`base.post` has both `height` and `heights`";
            reading
                .error(heights.key(), message, "keep one of them")
                .also(height.key(), "the other one");
            return None;
        }
    };
    Some(Post {
        size: size?,
        heights,
    })
}

/// Heights of posts, one or more, each above nothing.
fn several(heights: &Entry<Lengths>, reading: &mut Reading) -> Option<Vec<Length>> {
    let given = &heights.get()?.0;
    if given.is_empty() {
        let help = "write one for each beam, or `height = \"3ft\"` where all are alike";
        reading.error(heights.place(), "`base.post.heights` names no height", help);
        return None;
    }
    let mut whole = true;
    for (height, place) in given {
        if *height <= Length::ZERO {
            let message = format!("a post is {} high", reading.show(*height));
            let help = "write the length it is cut to, above 0";
            reading.error(place.clone(), message, help);
            whole = false;
        }
    }
    whole.then(|| given.iter().map(|(height, _)| *height).collect())
}

fn gravel(table: &GravelTable, reading: &mut Reading) -> Option<Gravel> {
    let depth = table.depth.get().map(|depth| depth.0);
    let beyond: Option<Length> = table.beyond.or(Length::ZERO);
    for (name, given, most, place) in [
        ("depth", depth, DEEPEST_STONE, table.depth.place()),
        ("beyond", beyond, FURTHEST, table.beyond.place()),
    ] {
        let Some(given) = given.filter(|given| *given > most) else {
            continue;
        };
        let message = format!("`base.gravel.{name}` is {}", reading.show(given));
        let help = format!("it is at most {}; look at its unit", reading.show(most));
        reading.error(place, message, help);
    }
    Some(Gravel {
        name: table.name.or("crushed stone".to_owned())?,
        portion: portion(table, reading)?,
        depth: depth.filter(|depth| *depth <= DEEPEST_STONE)?,
        beyond: beyond.filter(|beyond| *beyond <= FURTHEST)?,
        compaction: table.compaction.or(Percent::default())?,
    })
}

/// The least that is sold of the stone, and its price.
fn portion(table: &GravelTable, reading: &mut Reading) -> Option<Portion> {
    let usual = match reading.unit {
        Unit::Inch => Bulk::CubicYard,
        Unit::Millimetre => Bulk::CubicMetre,
    };
    let (sold_by, step) = (table.sold_by.or(usual)?, table.step.or(Step::Whole)?);
    let bags = sold_by == Bulk::Bag;
    let mut refuse = |place: Option<Place>, message: &str, help: &str| {
        reading.error(place, message, help);
    };
    match (bags, &table.bag) {
        (true, Entry::Absent) => refuse(
            table.sold_by.place(),
            "stone is sold by the bag, and the job does not say what a bag holds",
            "add `bag = \"0.5 cu ft\"` beside it",
        ),
        (false, bag) if !bag.is_absent() => refuse(
            bag.key(),
            "`base.gravel.bag` is given, and stone is not sold by the bag",
            "write `sold_by = \"bag\"`, or take `bag` out",
        ),
        _ => {}
    }
    if bags && step != Step::Whole {
        refuse(
            table.step.place(),
            "no part of a bag can be bought",
            "take `step` out",
        );
        return None;
    }
    let whole = match sold_by.volume() {
        Some(volume) => volume,
        None => table.bag.get()?.0,
    };
    let price = money(&table.price)?;
    let parts = i64::from(step.parts());
    Some(Portion {
        unit: sold_by.sold_by(step),
        volume: whole.part(step.parts()),
        // Half a cent is rounded up.
        price: price.map(|price| Money::from_cents((price.cents() * 2 + parts) / (2 * parts))),
    })
}
