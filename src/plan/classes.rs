//! Which courses are planned together: the blocks that a deck's courses are
//! divided into, and single courses by colour. It knows materials and widths;
//! what blocks cost is left to the relaxation.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::families::Family;
use super::master::Class;
use super::model::Model;
use crate::job::JointRules;
use crate::joints::{Block, Pieces, TooLarge};

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
            block: block.clone(),
            materials: vec![material],
            colours: vec![colour],
            count: 1,
            allowed: family.map(|f| vec![f[colour].clone()]),
        });
    }
    classes
}
