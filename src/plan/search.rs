//! The search for the lightest plan: the relaxation over blocks of neighbouring
//! courses gives the bound, families of joints give plans, and the integer
//! program over the blocks closes what is left between them.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::families::{Colours, Family, dive};
use super::finite::{Answer, Work, close};
use super::master::{Class, Filling, Master};
use super::model::Model;
use super::round::round;
use crate::job::JointRules;
use crate::joints::{Block, Place};
use crate::program::branch::Limits;

/// Steps of a block's graph beyond which narrower blocks are used.
const MOST_STEPS: usize = 300_000;

/// Courses with their joints, and the boards their pieces come from.
#[derive(Debug, Clone)]
pub(crate) struct Laid {
    /// What it weighs.
    pub weight: i64,
    /// The joints of each course, in order.
    pub courses: Vec<Vec<Place>>,
    /// Boards: kind, filling, how many; they hold at least what is needed.
    pub boards: Vec<(usize, Filling, i64)>,
}

/// What the search found.
pub(crate) struct Searched {
    /// The lightest plan, if any.
    pub best: Option<Laid>,
    /// No plan weighs less; more than conceivable when there is none.
    pub bound: i64,
}

/// How much work is spent, in counts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Budget {
    /// Families tried at most.
    pub families: usize,
    /// For the plans of a family.
    pub family: Work,
    /// For closing over blocks.
    pub closing: Work,
}

impl Budget {
    /// For a plan that should be proven best.
    pub(crate) const FULL: Budget = Budget {
        families: 12,
        family: Work {
            columns: 60_000,
            limits: Limits {
                nodes: 600,
                work: 1_500,
            },
        },
        closing: Work {
            columns: 60_000,
            limits: Limits {
                nodes: 3_000,
                work: 6_000,
            },
        },
    };
    /// For tables of many plans.
    pub(crate) const QUICK: Budget = Budget {
        families: 2,
        family: Work {
            columns: 20_000,
            limits: Limits {
                nodes: 60,
                work: 150,
            },
        },
        closing: Work {
            columns: 20_000,
            limits: Limits {
                nodes: 100,
                work: 200,
            },
        },
    };
}

/// Told of every better plan and bound.
pub(crate) type Tell<'a> = dyn Fn(Option<&Laid>, i64) + 'a;

/// Searches for the lightest plan of a model.
pub(crate) fn search(
    model: &Model,
    rules: &JointRules,
    budget: Budget,
    stop: &dyn Fn() -> bool,
    tell: &Tell,
) -> Searched {
    let count = model.materials.len();
    let period = (rules.same_joist_after as usize + 1)
        .max(2)
        .min(count.max(1));
    let colours = Colours {
        period,
        cyclic: count > period,
        rules,
        joints: &model.run.joints,
    };
    let nothing = Searched {
        best: None,
        bound: model.conceivable.saturating_add(1),
    };
    let Some(classes) = classes(model, rules, period) else {
        return nothing;
    };
    let mut root = Master::new(model, classes, &vec![0; model.rows], &[]);
    root.solve(model.conceivable, i64::MAX, stop);
    let Some(prices) = &root.prices else {
        return nothing;
    };
    let mut bound = model.lift(prices.bound());
    if bound > model.conceivable {
        return Searched { best: None, bound };
    }
    tell(None, bound);
    let mut best: Option<Laid> = None;
    let coloured = if root.classes.iter().all(|c| c.materials.len() <= period)
        && root.classes[0].materials.len() == period.min(count)
    {
        None
    } else {
        // Blocks narrower than the colours' period say nothing of colours.
        let single = singles(model, rules, period, None);
        let mut master = Master::new(model, single, &vec![0; model.rows], &[]);
        master.solve(model.conceivable, i64::MAX, stop);
        Some(master)
    };
    let guide = coloured.as_ref().unwrap_or(&root);
    let mut tried: Vec<Family> = Vec::new();
    for turn in 0..budget.families {
        let weight = best
            .as_ref()
            .map_or(model.conceivable.saturating_add(1), |b| b.weight);
        if bound >= weight || stop() {
            break;
        }
        let Some(family) = dive(guide, &colours, turn, model.conceivable, stop) else {
            continue;
        };
        if tried.contains(&family) {
            continue;
        }
        if let Some(laid) = of_family(model, rules, &family, weight, budget.family, stop) {
            best = Some(laid);
            tell(best.as_ref(), bound);
        }
        tried.push(family);
        // What blocks cannot beat need not be tried again.
        if turn == 1 || (turn == 0 && best.is_some()) {
            let weight = best
                .as_ref()
                .map_or(model.conceivable.saturating_add(1), |b| b.weight);
            bound = closed(
                &root,
                weight,
                model.weights.unit,
                bound,
                budget.closing,
                stop,
            );
            tell(best.as_ref(), bound);
        }
    }
    let weight = best
        .as_ref()
        .map_or(model.conceivable.saturating_add(1), |b| b.weight);
    if bound < weight && !stop() && best.is_some() {
        bound = closed(
            &root,
            weight,
            model.weights.unit,
            bound,
            budget.closing,
            stop,
        );
        tell(best.as_ref(), bound);
    }
    Searched {
        bound: bound.min(weight),
        best,
    }
}

/// Raises the bound over blocks, first past the primary objective alone.
fn closed(
    root: &Master,
    weight: i64,
    unit: i64,
    bound: i64,
    work: Work,
    stop: &dyn Fn() -> bool,
) -> i64 {
    let primary = (weight / unit) * unit;
    let mut bound = bound;
    if bound < primary {
        bound = bound.max(close(root, primary, work, stop).bound);
    }
    if bound >= primary && bound < weight {
        bound = bound.max(close(root, weight, work, stop).bound);
    }
    bound
}

/// The blocks of a model's courses, as wide as the period if that is not too
/// wide; nothing when a course or two neighbours cannot be cut at all.
fn classes(model: &Model, rules: &JointRules, period: usize) -> Option<Vec<Class>> {
    let mut width = period;
    loop {
        match blocks(model, rules, width, period) {
            Ok(classes) => return classes,
            Err(_) if width > 1 => width = if width > 2 { 2 } else { 1 },
            Err(_) => return None,
        }
    }
}

fn blocks(
    model: &Model,
    rules: &JointRules,
    width: usize,
    period: usize,
) -> Result<Option<Vec<Class>>, crate::joints::TooLarge> {
    let mut classes: Vec<Class> = Vec::new();
    let mut graphs: FxHashMap<Vec<u16>, Arc<Block>> = FxHashMap::default();
    for (i, materials) in model.materials.chunks(width).enumerate() {
        let colours: Vec<usize> = (0..materials.len())
            .map(|c| (i * width + c) % period)
            .collect();
        if let Some(class) = classes
            .iter_mut()
            .find(|c| c.materials == materials && (c.colours == colours || width != period))
        {
            class.count += 1;
            continue;
        }
        let block = match graphs.get(materials) {
            Some(block) => block.clone(),
            None => match Block::new(&model.run, rules, materials, MOST_STEPS)? {
                Some(block) => Arc::new(block),
                None => return Ok(None),
            },
        };
        graphs.insert(materials.to_vec(), block.clone());
        classes.push(Class {
            block,
            materials: materials.to_vec(),
            colours,
            count: 1,
            allowed: None,
        });
    }
    Ok(Some(classes))
}

/// Single courses by colour and material, with a family's joints if there is one.
fn singles(
    model: &Model,
    rules: &JointRules,
    period: usize,
    family: Option<&Family>,
) -> Vec<Class> {
    let mut classes: Vec<Class> = Vec::new();
    let mut graphs: FxHashMap<u16, Arc<Block>> = FxHashMap::default();
    for (i, &material) in model.materials.iter().enumerate() {
        let colour = i % period;
        if let Some(class) = classes
            .iter_mut()
            .find(|c| c.materials == [material] && c.colours == [colour])
        {
            class.count += 1;
            continue;
        }
        let block = graphs.entry(material).or_insert_with(|| {
            let block = Block::new(&model.run, rules, &[material], usize::MAX);
            Arc::new(
                block
                    .ok()
                    .flatten()
                    .expect("a course that blocks hold can be cut"),
            )
        });
        classes.push(Class {
            block: block.clone(),
            materials: vec![material],
            colours: vec![colour],
            count: 1,
            allowed: family.map(|f| vec![f[colour].clone()]),
        });
    }
    classes
}

/// The lightest plan of a family below `weight`, if there is one.
fn of_family(
    model: &Model,
    rules: &JointRules,
    family: &Family,
    weight: i64,
    work: Work,
    stop: &dyn Fn() -> bool,
) -> Option<Laid> {
    let classes = singles(model, rules, family.len(), Some(family));
    let mut master = Master::new(model, classes, &vec![0; model.rows], &[]);
    master.solve(model.conceivable, weight - 1, stop);
    if master
        .prices
        .as_ref()
        .is_none_or(|p| model.lift(p.bound()) >= weight)
    {
        return None;
    }
    let rounded = round(&master, stop).filter(|answer| answer.weight < weight);
    let target = rounded.as_ref().map_or(weight, |answer| answer.weight);
    let better = close(&master, target, work, stop).better;
    let answer = better.or(rounded)?;
    Some(lay(model, &master, answer, family.len()))
}

/// Puts the single courses of an answer in order: each colour's in turn.
fn lay(model: &Model, master: &Master, answer: Answer, period: usize) -> Laid {
    let mut waiting: Vec<Vec<Vec<Place>>> = vec![Vec::new(); master.classes.len()];
    for (q, path, count) in &answer.blocks {
        for _ in 0..*count {
            waiting[*q].push(path[0].clone());
        }
    }
    for list in &mut waiting {
        list.sort_unstable();
        list.reverse();
    }
    let courses = model
        .materials
        .iter()
        .enumerate()
        .map(|(i, &material)| {
            let q = master
                .classes
                .iter()
                .position(|c| c.materials == [material] && c.colours == [i % period])
                .expect("every course has its class");
            waiting[q].pop().expect("an answer holds every course")
        })
        .collect();
    Laid {
        weight: answer.weight,
        courses,
        boards: answer.boards,
    }
}
