//! The base's lines: blocks or the concrete of footings, connectors of posts,
//! stone, fabric and edging; posts are cut with the frame's lumber. Where the
//! supports stand was laid out by [`crate::base`]. It compares what the job
//! states with what the job states, and designs nothing.

use super::goods::{afford, bought, in_bulk, lapped, line, rolls};
use super::{Group, Line, Needed, OrderError, Trade, notes};
use crate::base::{Base, Under, concrete, ground, lay, stone};
use crate::caution::Caution;
use crate::frame::{Part, Piece, Skeleton};
use crate::job::base::{BaseRules, Outline, SupportKind};
use crate::job::items::SoldBy;
use crate::job::{Edge, Edition, Job};
use crate::length::{Length, Unit};

/// Low joists of 2x6 are commonly carried every five feet at least.
const LOW_JOIST: Length = Length::from_64ths(352);
const LOW_SPACING: Length = Length::from_inches(60);
/// The smallest footings of the code's table, the side of a square one and the diameter of a round
/// one, and how thick they are at least (IRC 2018, Table R507.3.1, from memory).
const LEAST_FOOTING: [Length; 2] = [Length::from_inches(12), Length::from_inches(14)];
const LEAST_THICK: Length = Length::from_inches(6);
/// Blocks commonly stand on so much crushed stone, 2 to 3 in or 50 to 75 mm (common practice, no
/// source).
fn usual_stone(unit: Unit) -> [Length; 2] {
    match unit {
        Unit::Inch => [2, 3].map(Length::from_inches),
        Unit::Millimetre => [50, 75].map(Length::from_mm),
    }
}

/// A base counted.
#[derive(Default)]
pub(super) struct Counted {
    /// Where its supports stand; absent where a job describes no base.
    pub(super) laid_out: Option<Base>,
    /// What it takes.
    pub(super) lines: Vec<Line>,
    /// What to look at.
    pub(super) cautions: Vec<Caution>,
}

/// Lays out and counts a job's base, if it describes one.
pub(super) fn counted(
    job: &Job,
    joists: &[Length],
    frame: Option<&Skeleton>,
) -> Result<Counted, OrderError> {
    let Some(rules) = &job.base else {
        return Ok(Counted::default());
    };
    let base = lay(job, rules, joists, frame);
    Ok(Counted {
        lines: lines(job, rules, &base)?,
        cautions: cautions(job, rules, &base),
        laid_out: Some(base),
    })
}

/// Nails or screws that the posts' connectors ask for.
pub(super) fn nails(job: &Job, base: Option<&Base>) -> u64 {
    let Some((rules, base)) = job.base.as_ref().zip(base) else {
        return 0;
    };
    let connectors = [&rules.post_base, &rules.post_cap].into_iter().flatten();
    connectors
        .map(|one| u64::from(one.nails) * base.count())
        .sum()
}

/// Posts, to be cut with the frame's lumber: all alike, or as high as each beam's
/// or each one is to be.
pub(super) fn posts(
    job: &Job,
    joists: &[Length],
    frame: &Skeleton,
) -> Result<Vec<Piece>, OrderError> {
    let Some((rules, post)) =
        (job.base.as_ref()).and_then(|rules| Some((rules, rules.post.as_ref()?)))
    else {
        return Ok(Vec::new());
    };
    let base = lay(job, rules, joists, Some(frame));
    let [beams, in_each] = base.rows();
    let heights = &post.heights;
    let each = match heights.len() as u64 {
        1 => beams * in_each,
        given if given == beams => in_each,
        given if given == beams * in_each => 1,
        given => {
            return Err(OrderError::Impossible {
                message: format!(
                    "the job gives {given} heights of posts, and {} posts stand under {beams} \
                     beams, {in_each} under each",
                    beams * in_each
                ),
                help: "give `base.post.heights` one for each beam from the first edge, or one for \
                       each post, those of a beam together from the left"
                    .to_owned(),
            });
        }
    };
    let mut pieces: Vec<Piece> = Vec::new();
    for &length in heights.iter().filter(|_| each > 0) {
        match pieces.iter_mut().find(|piece| piece.length == length) {
            Some(piece) => piece.count += each,
            None => pieces.push(Piece {
                part: Part::Post,
                size: post.size,
                length,
                count: each,
            }),
        }
    }
    Ok(pieces)
}

fn lines(job: &Job, rules: &BaseRules, base: &Base) -> Result<Vec<Line>, OrderError> {
    let mut lines = Vec::new();
    let (support, count) = (&rules.support, base.count());
    // Footings are poured; what else they take is bought where it has a price.
    if support.kind == SupportKind::Block || support.goods.pack.price.is_some() {
        lines.extend(bought(Group::Base, &support.goods, count));
    }
    if let Some((footing, bag)) =
        (rules.footing.as_ref()).and_then(|it| it.bag.as_ref().map(|bag| (it, bag)))
    {
        let needed = concrete(footing) * count;
        let item = format!("{}, {}", bag.name, bag.yields.show(job.unit));
        let unit = SoldBy::new("bag", "bags");
        lines.extend(in_bulk(
            Group::Base,
            item,
            unit,
            bag.yields,
            bag.price,
            needed,
        )?);
    }
    for connector in [&rules.post_base, &rules.post_cap].into_iter().flatten() {
        lines.extend(bought(Group::Base, &connector.goods, count));
    }
    if let Some(gravel) = &rules.gravel {
        let portion = &gravel.portion;
        let depth = gravel.depth.show(job.unit);
        let [_, needed] = stone(job, gravel);
        lines.extend(in_bulk(
            Group::Base,
            format!("{}, {depth} deep", gravel.name),
            portion.unit,
            portion.volume,
            portion.price,
            needed,
        )?);
    }
    let covered = ground(job, beyond(rules));
    if let Some(fabric) = &rules.fabric {
        let strips = |[length, across]: [Length; 2]| {
            let count = lapped(across, fabric.width, fabric.overlap);
            let strips = (0..count).map(move |_| length);
            rolls(Group::Base, "fabric under the base", fabric, strips)
        };
        let [along, across] = covered;
        let ways = [strips([along, across]), strips([across, along])];
        let fewest = |line: &Line| (line.count, length(line.needed));
        lines.extend(ways.into_iter().flatten().min_by_key(fewest));
    }
    if let Some(edging) = &rules.edging {
        let around = open_sides(job, covered);
        if around > Length::ZERO {
            let line = line(
                Group::Base,
                format!("edging, {}", edging.length.show(job.unit)),
                Trade::Piece,
                Needed::Length(around),
                lapped(around, edging.length, edging.overlap),
            );
            lines.push(afford(line, edging.price)?);
        }
    }
    Ok(lines)
}

fn length(needed: Needed) -> Length {
    match needed {
        Needed::Length(length) => length,
        _ => Length::ZERO,
    }
}

/// How far the ground is covered past the frame.
fn beyond(rules: &BaseRules) -> Length {
    let gravel = rules.gravel.as_ref();
    gravel.map_or(Length::ZERO, |gravel| gravel.beyond)
}

/// What is open around the covered ground.
fn open_sides(job: &Job, [along, across]: [Length; 2]) -> Length {
    let edges = &job.edges;
    let sides = [
        (&edges.first, along),
        (&edges.last, along),
        (&edges.left, across),
        (&edges.right, across),
    ];
    let open = sides
        .iter()
        .filter(|(edge, _)| matches!(edge, Edge::Open { .. }));
    open.map(|(_, side)| *side).sum()
}

/// What of a base the job's figures do not reach.
pub(super) fn not_counted(job: &Job, rules: &BaseRules, base: &Base) -> Vec<String> {
    let mut left_out = Vec::new();
    let mut unless = |counted: bool, what: &str| {
        if !counted {
            left_out.push(what.to_owned());
        }
    };
    let beyond = |what: &str| notes::beyond(job, Group::Base, what);
    let posts = rules.post.is_some();
    match rules.support.kind {
        SupportKind::Block => unless(rules.gravel.is_some(), "what blocks stand on"),
        SupportKind::Footing => {
            let form = rules.support.goods.pack.price.is_some();
            unless(form, "forms of the footings");
            unless(false, "digging and reinforcement of the footings");
            unless(
                posts || base.under != Under::Beams,
                "posts between footings and beams",
            );
        }
    }
    if posts {
        unless(rules.post_base.is_some(), "post bases");
        unless(rules.post_cap.is_some(), "post caps");
        let connectors = [&rules.post_base, &rules.post_cap].into_iter().flatten();
        // What is nailed to a post may still be bolted to what it stands on.
        match connectors.clone().count() == 2 && connectors.clone().all(|one| one.nails > 0) {
            true => unless(false, &beyond("anchors of post bases")),
            false => unless(false, &beyond("nails, screws and bolts of posts")),
        }
    }
    if rules.support.kind == SupportKind::Footing {
        match &rules.footing {
            Some(footing) if footing.bag.is_none() => {
                let volume = concrete(footing) * base.count();
                let what = format!("concrete of the footings, {}", volume.show(job.unit));
                unless(false, &what);
            }
            Some(_) => {}
            None => unless(false, "concrete of the footings"),
        }
    }
    left_out
}

/// What to look at before a base is dug and ordered.
fn cautions(job: &Job, rules: &BaseRules, base: &Base) -> Vec<Caution> {
    let mut found = Vec::new();
    found.extend(overloaded(job, rules, base));
    found.extend(too_small(job, rules, base));
    found.extend(below_the_table(job, rules));
    found.extend(far_apart(job, rules, base));
    found.extend(thin_stone(job, rules));
    found.push(Caution::new(
        "supports of the base are counted by the distances in the job, and loads are added up by \
         area; it is not designed",
        "how deep frost goes, what the ground bears, and what size, distance and fixing that asks \
         for is laid down by the local building code; where it asks for one, a licensed engineer \
         decides",
    ));
    found
}

/// A caution where a support carries more than is stated.
fn overloaded(job: &Job, rules: &BaseRules, base: &Base) -> Option<Caution> {
    let (load, capacity) = rules.load.zip(rules.support.capacity)?;
    let over = base
        .areas()
        .filter(|&area| load.on(area) > capacity)
        .count();
    if over == 0 {
        return None;
    }
    let (along, across, area) = base.heaviest()?;
    Some(Caution::new(
        format!(
            "{over} of {} supports carry more than the {} stated: the one at {} along, {} across \
             carries {}",
            base.count(),
            capacity.show(job.unit),
            along.show(job.unit),
            across.show(job.unit),
            load.on(area).show(job.unit),
        ),
        "put supports, or beams, nearer to each other, or take supports that are stated to carry \
         more",
    ))
}

/// A caution where footings are smaller than the ground asks for.
fn too_small(job: &Job, rules: &BaseRules, base: &Base) -> Option<Caution> {
    let footing = rules.footing.as_ref()?;
    let needed = base.on_the_ground(rules)?;
    let (Outline::Square(given) | Outline::Round(given)) = footing.outline;
    (given < needed).then(|| {
        Caution::new(
            format!(
                "footings are {} wide, and on ground that bears {} the one that carries most \
                 needs {}",
                given.show(job.unit),
                rules.soil.map_or(String::new(), |soil| soil.show(job.unit)),
                needed.up_to_the_tape(job.unit).show(job.unit),
            ),
            "make them wider, or put them nearer to each other",
        )
    })
}

/// A caution where footings are smaller than any that the code's table has.
fn below_the_table(job: &Job, rules: &BaseRules) -> Option<Caution> {
    let edition = job.codes.as_ref()?.edition?;
    let footing = rules
        .footing
        .as_ref()
        .filter(|_| edition != Edition::Dca6)?;
    let (given, least) = match footing.outline {
        Outline::Square(side) => (side, LEAST_FOOTING[0]),
        Outline::Round(diameter) => (diameter, LEAST_FOOTING[1]),
    };
    let small = given < least || footing.depth < LEAST_THICK;
    small.then(|| {
        let at = |length: Length| length.show(job.unit);
        Caution::new(
            format!(
                "footings are {} wide and {} thick, and the code's table begins at {} and {} (IRC \
                 2018, Table R507.3.1, quoted from memory)",
                at(given),
                at(footing.depth),
                at(least),
                at(LEAST_THICK)
            ),
            "make them as large as the local code asks for",
        )
    })
}

/// A caution where blocks stand on less stone than is common.
fn thin_stone(job: &Job, rules: &BaseRules) -> Option<Caution> {
    let gravel = rules.gravel.as_ref()?;
    let blocks = rules.support.kind == SupportKind::Block;
    let [least, most] = usual_stone(job.unit);
    (blocks && gravel.depth < least).then(|| {
        let at = |depth: Length| depth.show(job.unit);
        Caution::new(
            format!("blocks stand on stone only {} deep", at(gravel.depth)),
            format!(
                "{} to {} of crushed stone is common under blocks (common practice, no source)",
                at(least),
                at(most)
            ),
        )
    })
}

/// Cautions about distances.
fn far_apart(job: &Job, rules: &BaseRules, base: &Base) -> Vec<Caution> {
    let mut found = Vec::new();
    let Under::Joists { between } = base.under else {
        return found;
    };
    if let Some((widest, wanted)) = base.widest_row().zip(rules.row_spacing)
        && widest > wanted
    {
        found.push(Caution::new(
            format!(
                "two rows of supports are {} apart, more than the {} asked for: no joist lies \
                 between",
                widest.show(job.unit),
                wanted.show(job.unit)
            ),
            "put joists nearer to each other, or say what the rows may be apart",
        ));
    }
    if between > 0 {
        let (joists, have) = match between {
            1 => ("joist".to_owned(), "has"),
            _ => ("joists".to_owned(), "have"),
        };
        found.push(Caution::new(
            format!("{between} {joists} between the rows {have} no support of their own"),
            "the rims they end at then carry them as beams do; whether they may is for the local \
             code or whoever designed the frame",
        ));
    }
    let joist = job.frame.as_ref().map(|frame| &job.lumber[frame.joist]);
    let apart = base.across.windows(2).map(|pair| pair[1] - pair[0]).max();
    if let (Some(joist), Some(apart)) = (joist, apart)
        && joist.depth <= LOW_JOIST
        && apart > LOW_SPACING
    {
        found.push(Caution::new(
            format!(
                "joists of {} are carried only every {}",
                joist.size,
                apart.show(job.unit)
            ),
            format!(
                "commonly such joists are carried every {} at least; the local code's table of \
                 spans decides",
                LOW_SPACING.show(job.unit)
            ),
        ));
    }
    found
}
