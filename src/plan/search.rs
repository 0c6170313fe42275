//! The search for the lightest plan: the relaxation over blocks of neighbouring
//! courses gives the bound, families of joints give plans, and the integer
//! program over the blocks closes what is left between them.

use std::collections::VecDeque;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::direct::direct;
use super::families::{Colours, Family, dive};
use super::finite::{Answer, Work, close, without};
use super::master::{Class, Filling, Master};
use super::model::Model;
use super::order::order;
use super::proof::proof;
use super::repeat;
use super::round::round;
use super::types::Proof;
use crate::job::JointRules;
use crate::joints::{Block, Place, Takes};
use crate::program::branch::Limits;

/// Steps of a block's graph beyond which narrower blocks are used.
pub(crate) const MOST_STEPS: usize = 300_000;
/// So few courses are planned as one block.
const MOST_AT_ONCE: usize = 5;

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
    /// The prices that prove what the relaxation gives of the bound.
    pub proof: Option<Proof>,
}

/// How much work is spent, in counts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Budget {
    /// Steps of a search for an order of courses.
    pub order: u32,
    /// Other answers tried where one could not be put in order.
    pub others: usize,
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
        order: 3_000,
        others: 24,
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
        order: 400,
        others: 3,
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
    let unreachable = model.conceivable.saturating_add(1);
    let count = model.materials.len();
    if count == 0 && !model.extra.is_empty() {
        return direct(model, Vec::new(), budget.closing, stop, tell, &|_| {
            Vec::new()
        });
    }
    if count == 0 {
        // A single ripped course that is left out: nothing is laid.
        let best = Laid {
            weight: 0,
            courses: Vec::new(),
            boards: Vec::new(),
        };
        return Searched {
            best: Some(best),
            bound: 0,
            proof: None,
        };
    }
    if let Some(round) = repeat::round_of(rules, count) {
        return repeat::search(model, rules, round, budget, stop, tell);
    }
    let width = (rules.same_joist_after as usize + 1)
        .max(2)
        .min(count.max(1));
    let nothing = Searched {
        best: None,
        bound: unreachable,
        proof: None,
    };
    let room = model.run.joints.len() as i64 * model.most_on_support;
    let crowded = |joints: usize| joints as i64 * count as i64 > room;
    if model.run.fewest_joints().is_none_or(crowded) {
        return nothing;
    }
    let Some(classes) = classes(model, rules, width) else {
        return nothing;
    };
    let mut root = Master::new(model, classes, &model.extra, &[]);
    root.solve(model.conceivable, i64::MAX, stop);
    let Some(prices) = &root.prices else {
        return nothing;
    };
    let bound = model.lift(prices.bound());
    let proof = root
        .classes
        .first()
        .map(|class| proof(model, prices, class.materials.len()));
    let mut state = State {
        model,
        rules,
        budget,
        stop,
        tell,
        best: None,
        bound,
    };
    if bound <= model.conceivable {
        tell(None, bound);
        state.by_order(&root);
        state.by_families(&root);
    }
    Searched {
        bound: state
            .bound
            .min(state.weight())
            .max(bound.min(state.weight())),
        best: state.best,
        proof,
    }
}

/// The search so far.
struct State<'a> {
    model: &'a Model,
    rules: &'a JointRules,
    budget: Budget,
    stop: &'a dyn Fn() -> bool,
    tell: &'a Tell<'a>,
    best: Option<Laid>,
    bound: i64,
}

impl State<'_> {
    /// What the best plan weighs; more than any plan while there is none.
    fn weight(&self) -> i64 {
        self.best
            .as_ref()
            .map_or(self.model.conceivable.saturating_add(1), |b| b.weight)
    }

    fn done(&self) -> bool {
        self.bound >= self.weight() || (self.stop)()
    }

    fn offer(&mut self, laid: Option<Laid>) {
        if let Some(laid) = laid
            && laid.weight < self.weight()
            && self.model.allows(&laid.courses)
        {
            self.best = Some(laid);
            (self.tell)(self.best.as_ref(), self.bound);
        }
    }

    /// Closes the gap over blocks, first to the next lower value of the primary
    /// objective, then among plans of equal value. Answers that can be put in
    /// order are plans.
    fn close(&mut self, root: &Master) {
        let unit = self.model.weights.unit;
        for _ in 0..4 {
            let weight = self.weight();
            let primary = if self.bound < weight / unit * unit {
                weight / unit * unit
            } else {
                weight
            };
            if self.done() {
                return;
            }
            let closed = close(root, primary, self.budget.closing, self.stop);
            self.bound = self.bound.max(closed.bound);
            let Some(answer) = closed.better else {
                if primary < weight && closed.bound >= primary {
                    continue;
                }
                return;
            };
            let laid = order(self.model, self.rules, root, &answer, self.budget.order)
                .or_else(|| self.other_order(root, answer));
            let Some(laid) = laid else { return };
            self.offer(Some(laid));
        }
    }

    /// A plan from other answers like one that could not be put in order, each
    /// doing without some of its blocks.
    fn other_order(&self, root: &Master, answer: Answer) -> Option<Laid> {
        let by_joint = self.model.weights.doubled > 0;
        let mut queue = VecDeque::from([(Vec::new(), answer)]);
        let mut left = self.budget.others;
        while let Some((banned, answer)) = queue.pop_front() {
            let mut blocks = answer.blocks;
            blocks.sort_by_key(|(_, _, count)| *count);
            for (q, path, _) in blocks {
                if left == 0 || (self.stop)() {
                    return None;
                }
                left -= 1;
                let class = &root.classes[q];
                let takes = Takes::of(&path, &self.model.run, &class.materials, by_joint);
                let mut banned: Vec<(usize, Takes)> = banned.clone();
                banned.push((q, takes));
                let cutoff = self.weight() - 1;
                let Some(other) = without(root, &banned, cutoff, self.budget.family, self.stop)
                else {
                    continue;
                };
                let laid = order(self.model, self.rules, root, &other, self.budget.order);
                if laid.is_some() {
                    return laid;
                }
                queue.push_back((banned, other));
            }
        }
        None
    }

    /// Plans from blocks put in order.
    fn by_order(&mut self, root: &Master) {
        if let Some(answer) = round(root, self.stop) {
            self.offer(order(
                self.model,
                self.rules,
                root,
                &answer,
                self.budget.order,
            ));
        }
        if self.best.is_some() {
            self.close(root);
        }
    }

    /// Plans from families of joints, with colours of several periods.
    fn by_families(&mut self, root: &Master) {
        let (model, rules, stop) = (self.model, self.rules, self.stop);
        let count = model.materials.len();
        let apart = self.rules.same_joist_after as usize + 1;
        // Four colours let opposite ones lie close, which three do not.
        let mut periods = vec![apart.max(2).next_multiple_of(2)];
        if apart > 2 && !apart.is_multiple_of(2) {
            periods.push(apart);
        }
        periods.iter_mut().for_each(|p| *p = (*p).min(count.max(1)));
        periods.dedup();
        let guides: Vec<(usize, Option<Master>)> = periods
            .into_iter()
            .map(|period| {
                (
                    period,
                    if self.done() {
                        None
                    } else {
                        guide(model, rules, period, stop)
                    },
                )
            })
            .collect();
        let mut tried: Vec<Family> = Vec::new();
        let mut closed = self.best.is_some();
        for turn in 0..self.budget.families {
            for (period, guide) in &guides {
                if self.done() {
                    return;
                }
                let Some(guide) = guide else { continue };
                let colours = Colours {
                    period: *period,
                    cyclic: count > *period,
                    rules,
                    run: &model.run,
                };
                let family = dive(guide, &colours, turn, model.conceivable, stop);
                let Some(family) = family else { continue };
                if !tried.contains(&family) {
                    self.offer(self.of_family(&family));
                    tried.push(family);
                }
            }
            if !closed && self.best.is_some() {
                self.close(root);
                closed = true;
            }
        }
    }

    /// The lightest plan of a family, if it is lighter than the best.
    fn of_family(&self, family: &Family) -> Option<Laid> {
        let (model, weight) = (self.model, self.weight());
        let classes = singles(model, self.rules, family.len(), Some(family));
        let mut master = Master::new(model, classes, &model.extra, &[]);
        master.solve(model.conceivable, weight - 1, self.stop);
        if master
            .prices
            .as_ref()
            .is_none_or(|p| model.lift(p.bound()) >= weight)
        {
            return None;
        }
        let rounded = round(&master, self.stop).filter(|answer| answer.weight < weight);
        let target = rounded.as_ref().map_or(weight, |answer| answer.weight);
        let better = close(&master, target, self.budget.family, self.stop).better;
        let answer = better.or(rounded)?;
        Some(lay(model, &master, answer, family.len()))
    }
}

/// A solved relaxation whose courses have the colours of a period.
fn guide<'a>(
    model: &'a Model,
    rules: &JointRules,
    period: usize,
    stop: &dyn Fn() -> bool,
) -> Option<Master<'a>> {
    let width = if period.is_multiple_of(2) { 2 } else { period };
    let classes = blocks(model, rules, width, period, MOST_STEPS)
        .or_else(|_| blocks(model, rules, 1, period, usize::MAX))
        .ok()??;
    let mut master = Master::new(model, classes, &model.extra, &[]);
    master.solve(model.conceivable, i64::MAX, stop);
    Some(master)
}

/// The blocks of a model's courses, as wide as asked if that is not too wide, or
/// all courses at once where they are few: then nothing is left to chance.
/// Nothing when a course or neighbours cannot be cut at all.
fn classes(model: &Model, rules: &JointRules, width: usize) -> Option<Vec<Class>> {
    let count = model.materials.len();
    let all = if count <= MOST_AT_ONCE { count } else { width };
    [all, width, width.min(2)]
        .into_iter()
        .find_map(|width| blocks(model, rules, width, width, MOST_STEPS).ok())
        .or_else(|| blocks(model, rules, 1, 1, usize::MAX).ok())
        .flatten()
}

/// Blocks of a width whose courses have the colours of a period.
fn blocks(
    model: &Model,
    rules: &JointRules,
    width: usize,
    period: usize,
    most: usize,
) -> Result<Option<Vec<Class>>, crate::joints::TooLarge> {
    let mut classes: Vec<Class> = Vec::new();
    let mut graphs: FxHashMap<Vec<u16>, Arc<Block>> = FxHashMap::default();
    for (i, materials) in model.materials.chunks(width).enumerate() {
        let colours: Vec<usize> = (0..materials.len())
            .map(|c| (i * width + c) % period)
            .collect();
        if let Some(class) = classes
            .iter_mut()
            .find(|c| c.materials == materials && c.colours == colours)
        {
            class.count += 1;
            continue;
        }
        let block = match graphs.get(materials) {
            Some(block) => block.clone(),
            None => match Block::new(&model.run, rules, materials, most)? {
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
