//! What to buy for a plan: boards by length, clips or screws by count, spares
//! and packs, and the money; beside it what the usual rule of thumb would have
//! bought. It knows counts and prices; where boards lie and how they are cut
//! was settled by [`crate::plan`], and how the list is written is left to
//! [`crate::report`].
//!
//! Each kind of goods is counted by its own module into [`Line`]s of its own
//! [`Group`]; frame, base and fascia are listed as not counted where a job says
//! nothing of them.

mod base;
mod boards;
mod choice;
mod connections;
mod fascia;
mod fasteners;
mod frame;
mod goods;
mod guard;
mod items;
mod listed;
mod lumber;
mod notes;
mod packs;
mod sawn;
mod stairs;
mod sums;
mod types;

use connections::Connections;

pub use choice::{Choice, Difference, Made};
pub use stairs::flights;
pub use sums::{Budget, Delivery, Labour, Saving, Sums};
pub use types::{
    Area, FasciaCut, Framing, Group, Line, LumberCut, Needed, Order, OrderError, RuleOfThumb, Trade,
};

use crate::codes;
use crate::deck::Surface;
use crate::job::Job;
use crate::plan::Plan;
use crate::watch::Watch;

/// What to buy for a plan of this job on this surface.
///
/// Boards and money of the plan itself are taken from it unchanged; spare
/// boards stand in lines of their own. Lumber of the frame is cut here, which
/// the watch may stop.
///
/// # Errors
/// When the frame cannot be made of the lumber that can be had, or when it was
/// stopped before that was known.
pub fn order(
    job: &Job,
    surface: &Surface,
    plan: &Plan,
    watch: &dyn Watch,
) -> Result<Order, OrderError> {
    let framing = match &job.frame {
        Some(rules) => Some(frame::framing(job, rules, plan, watch)?),
        None => None,
    };
    let fascia = match &job.fascia {
        Some(rules) => Some(fascia::cut(job, rules, &plan.supports, watch)?),
        None => None,
    };
    let dressed = job.fascia.as_ref().zip(fascia.as_ref());
    let framed = || job.frame.as_ref().zip(framing.as_ref());
    let skeleton = framing.as_ref().map(|framing| &framing.skeleton);
    let base = base::counted(job, &plan.supports, skeleton)?;
    let compared = codes::compare(job, plan, skeleton, base.laid_out.as_ref());
    let guard = crate::guard::guard(job);
    let connections = framed().map(|(rules, framing)| {
        let at_posts = base::nails(job, base.laid_out.as_ref());
        Connections::of(job, rules, &framing.skeleton, at_posts)
    });
    let jointed = || framed().zip(connections.as_ref());
    let bought = boards::bought(job, plan);
    let (spares, mut cautions) = boards::spares(job, plan);
    let (stairs, said) = stairs::lines(job)?;
    cautions.extend(said);
    let fasteners = fasteners::fasteners(job, surface, plan);
    let mut lines: Vec<Line> = bought
        .into_iter()
        .chain(spares)
        .chain(fasteners.lines)
        .chain(
            jointed().map_or(Vec::new(), |((rules, framing), connections)| {
                frame::lines(job, rules, framing, connections)
            }),
        )
        .chain(base.lines)
        .chain(stairs)
        .chain(dressed.map_or(Vec::new(), |(rules, cut)| fascia::lines(job, rules, cut)))
        .chain(guard::lines(job, guard.as_ref()))
        .chain(items::lines(job))
        .collect();
    if let Some((rules, framing)) = framed() {
        cautions.extend(frame::cautions(job, rules, framing));
    }
    cautions.extend(base.cautions);
    cautions.extend(guard::cautions(job));
    cautions.extend(codes::cautions(&compared, job.unit));
    // What was added by hand stands last in its group.
    lines.sort_by_key(|line| line.group);
    cautions.extend(listed::prices(job, &mut lines));
    let labour = (fasteners.time > 0).then(|| sums::Labour::new(job, fasteners.time));
    cautions.extend(notes::cautions(job, plan));
    Ok(Order {
        total: lines.iter().filter_map(|line| line.price).sum(),
        sums: sums::all(job, &lines, labour),
        labour,
        budget: sums::budget(job, &lines, labour),
        deliveries: sums::deliveries(job, &lines),
        surface: i128::from(surface.width.units()) * i128::from(surface.run().units()),
        boards_price: plan.totals.price,
        on_hand: plan.boards.iter().filter(|board| board.on_hand).count() as u64,
        area: boards::area(job, plan),
        rule_of_thumb: boards::rule_of_thumb(job, surface),
        not_counted: notes::not_counted(job, plan, jointed(), base.laid_out.as_ref()),
        framing,
        fascia,
        base: base.laid_out,
        guard,
        compared,
        cautions,
        lines,
    })
}
