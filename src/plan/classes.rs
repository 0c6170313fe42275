//! Which courses are planned together: the blocks that a deck's courses are
//! divided into, and single courses by colour. It knows materials and widths;
//! what blocks cost is left to the relaxation.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::class::{Class, Ways};
use super::families::Family;
use super::model::Model;
use crate::job::JointRules;
use crate::joints::{Block, Pieces, Slot, TooLarge, Walk};

/// How courses are divided into blocks.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Division<'a> {
    /// Courses of a block.
    pub width: usize,
    /// Colours come round again after so many courses.
    pub period: usize,
    /// The pieces that may be used; all when absent.
    pub only: Option<&'a Pieces>,
    /// Whether a block may lie again and again, its first course beside its last.
    pub cyclic: bool,
    /// Steps of a block's graph at most.
    pub most: usize,
}

impl Division<'_> {
    /// Blocks of a width, of all pieces.
    pub(crate) fn of(width: usize, most: usize) -> Division<'static> {
        Division {
            width,
            period: width,
            only: None,
            cyclic: false,
            most,
        }
    }
}

/// The blocks of a model's courses; nothing when a block cannot be cut at all.
///
/// # Errors
/// When the graph of a block would be too large.
pub(crate) fn blocks(
    model: &Model,
    rules: &JointRules,
    division: &Division,
) -> Result<Option<Vec<Class>>, TooLarge> {
    let mut classes: Vec<Class> = Vec::new();
    let mut graphs: FxHashMap<Vec<u16>, Arc<Block>> = FxHashMap::default();
    for (i, materials) in model.materials.chunks(division.width).enumerate() {
        let colours: Vec<usize> = (0..materials.len())
            .map(|c| (i * division.width + c) % division.period)
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
            None => {
                let cyclic = division.cyclic && materials.len() == division.width;
                let (run, only) = (&model.run, division.only);
                match Block::among(run, rules, materials, only, cyclic, division.most)? {
                    Some(block) => Arc::new(block),
                    None => return Ok(None),
                }
            }
        };
        graphs.insert(materials.to_vec(), block.clone());
        classes.push(Class {
            colours,
            ..Class::new(Ways::Block(block), materials.to_vec())
        });
    }
    Ok(Some(classes))
}

/// All windows of so many courses, which overlap, and the outermost courses so
/// often that every course counts as often as the others; nothing when a window
/// cannot be cut at all.
///
/// Read from either edge, a joint's support is as common in a window's first and
/// last courses as in any two that lie alike from its middle, but for the
/// outermost courses of the deck: these are the balances.
///
/// # Errors
/// When a graph would be too large, or the courses are too few.
pub(crate) fn windows(
    model: &Model,
    rules: &JointRules,
    width: usize,
    only: &Pieces,
    most: usize,
) -> Result<Option<Vec<Class>>, TooLarge> {
    let only = Some(only);
    let materials = &model.materials;
    let edge = width - 1;
    if materials.len() < 2 * edge {
        return Err(TooLarge);
    }
    let groups = 1..=(width - 1) / 2;
    let inner: Vec<Vec<i32>> = groups
        .clone()
        .map(|at| {
            let mut weights = vec![0; width];
            weights[0] += 1;
            weights[edge] += 1;
            weights[at] -= 1;
            weights[edge - at] -= 1;
            weights
        })
        .collect();
    let outer: Vec<Vec<i32>> = groups
        .map(|at| {
            let mut weights = Vec::new();
            for course in 0..edge {
                let mut weight = 0;
                weight -= i32::from(course < at);
                weight += i32::from(course >= edge - at);
                weights.push(weight);
                weights.resize(weights.len() + edge - 1 - course, 0);
            }
            weights
        })
        .collect();
    let mut classes: Vec<Class> = Vec::new();
    let mut add = |materials: Vec<u16>, balance: &Vec<Vec<i32>>, block: &dyn Fn(&[u16]) -> _| {
        let known = |c: &&mut Class| c.materials == materials && c.balance == *balance;
        if let Some(class) = classes.iter_mut().find(known) {
            class.count += 1;
            return Ok(true);
        }
        let Some(block): Option<Block> = block(&materials)? else {
            return Ok(false);
        };
        classes.push(Class {
            balance: balance.clone(),
            ..Class::new(Ways::Block(Arc::new(block)), materials)
        });
        Ok(true)
    };
    let run = &model.run;
    for window in materials.windows(width) {
        let block = |m: &[u16]| Block::among(run, rules, m, only, false, most);
        if !add(window.to_vec(), &inner, &block)? {
            return Ok(None);
        }
    }
    let first = materials[..edge].to_vec();
    let last: Vec<u16> = materials.iter().rev().take(edge).copied().collect();
    for outermost in [first, last] {
        let block = |_: &[u16]| Block::edge(run, rules, &outermost, only, most);
        let counted = outermost.iter().enumerate();
        let counted = counted.flat_map(|(at, &m)| std::iter::repeat_n(m, edge - at));
        if !add(counted.collect(), &outer, &block)? {
            return Ok(None);
        }
    }
    Ok(Some(classes))
}

/// All courses as one walk over what pieces are left and what blocks can hold;
/// nothing when there is none.
///
/// # Errors
/// When there are too many ways.
pub(crate) fn walks(
    model: &Model,
    rules: &JointRules,
    only: &Pieces,
    slots: &[Slot],
    most: usize,
) -> Result<Option<Vec<Class>>, TooLarge> {
    // A state is of fewer courses than there are.
    if rules.same_joist_after as usize >= model.materials.len() {
        return Err(TooLarge);
    }
    let most = most.min(10_000_000 / model.materials.len().max(1));
    let Some(walk) = Walk::within(&model.run, rules, only, slots, most)? else {
        return Ok(None);
    };
    let class = Class::walking(Arc::new(walk), &model.materials);
    Ok(Some(vec![class]))
}

/// Single courses by colour and material, with a family's joints if there is one.
pub(crate) fn singles(
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
            colours: vec![colour],
            allowed: family.map(|f| vec![f[colour].clone()]),
            ..Class::new(Ways::Block(block.clone()), vec![material])
        });
    }
    classes
}
