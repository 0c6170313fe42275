//! Counts of boards and joints that no plan can do with, and prices that show
//! it. Which counts are asked about is left to whoever writes a proof.

use super::counts::Counts;
use super::master::Master;
use super::model::Model;
use super::proof::proof;
use super::search::first_classes;
use super::types::{Plan, Proof};
use crate::job::Job;
use crate::watch::Watch;

/// Prices by which no plan lighter than the bound has no more boards of any kind
/// (by stock, and whether those from hand are meant) and no more joints than so
/// many; nothing where there are none.
pub type Refute<'a> = dyn FnMut(&dyn Fn(usize, bool) -> i64, i64) -> Option<Proof> + 'a;

/// Lends what refutes counts of a job's plan; nothing where a plan's bound does
/// not come from blocks of its courses.
pub fn refuting<R>(
    job: &Job,
    plan: &Plan,
    watch: &dyn Watch,
    lend: impl FnOnce(&mut Refute) -> R,
) -> Option<R> {
    let block = plan.proof.as_ref()?.block as usize;
    let mut model = Model::new(job, plan.fastener, plan.totals.objective).ok()?;
    model.joints_at_most = plan.joints_at_most.map(i64::from);
    let model = &model;
    let stop = || watch.stop();
    let (width, classes) = first_classes(model, &job.joints, None, usize::MAX)?;
    if width != block {
        return None;
    }
    let mut root = Master::new(model, classes.clone(), &model.extra, &[]);
    root.solve(model.conceivable, i64::MAX, &stop);
    let columns = root.whole_columns();
    let all = Counts::all(model, model.conceivable);
    let blocks: Vec<i64> = classes.iter().map(|class| class.count).collect();
    let mut master = Master::counting(model, classes, &model.extra, &columns, all.clone());
    let target = plan.totals.bound;
    let target = match plan.totals.objective {
        super::Objective::Waste => target / model.length_step,
        _ => target,
    };
    let target = target
        .saturating_mul(model.weights.unit)
        .min(model.conceivable);
    let zeros = vec![0; model.run.joints.len()];
    Some(lend(&mut |boards, joints| {
        let mut counts = all.clone();
        counts.joints.1 = counts.joints.1.min(joints);
        for (k, kind) in model.kinds.iter().enumerate() {
            // Those of a kind that this one always stands for count as such.
            let of_stock = |place: usize, from_hand: bool| {
                let known = |k: &crate::stock::Kind| (k.stock, k.on_hand) == (place, from_hand);
                let stands = model.kinds.iter().position(known).or_else(|| {
                    let stock = &job.stock[place];
                    let usable = stock.length - job.cutting.end_trim * 2;
                    model.kinds.iter().position(|k| {
                        let price = stock.price.map(|price| price.cents());
                        let own = job.stock[k.stock].price.map(|price| price.cents());
                        let cheap = k.on_hand || own <= price;
                        k.limit.is_none() && k.bundle == 1 && k.usable >= usable && cheap
                    })
                });
                if stands == Some(k) {
                    boards(place, from_hand)
                } else {
                    0
                }
            };
            let places = (0..job.stock.len()).flat_map(|place| [(place, false), (place, true)]);
            let sum: i64 = places
                .map(|(place, from_hand)| of_stock(place, from_hand))
                .sum();
            let high = &mut counts.boards[k].1;
            *high = sum.min(kind.limit.unwrap_or(i64::MAX)).min(*high);
        }
        master.set(&model.extra, &blocks, &counts, Some(&zeros));
        master.solve(model.conceivable, target, &stop);
        let prices = master.prices.as_ref()?;
        Some(proof(model, prices, width))
    }))
}
