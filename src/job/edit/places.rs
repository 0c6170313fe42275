//! Where the values of an edited file were typed: in the file as it was, or in
//! the option that changed them.

use super::Made;
use super::path::Step;
use crate::job::problem::Place;
use crate::job::tree::{Node, Value};

/// Makes the places of an edited file's tree point at the file as it was
/// typed, and those of changed values at the options that changed them.
pub fn point_back(edited: &mut Node, typed: &Node, made: &[Made]) {
    as_typed(edited, Some(typed));
    for change in made {
        changed(edited, &change.steps, change);
    }
}

/// Makes what one change put there point at its option.
fn changed(node: &mut Node, steps: &[Step], change: &Made) {
    if node.place.source == NEW {
        node.place = change.place.clone();
    }
    let Some((step, rest)) = steps.split_first() else {
        if let Some(value) = &change.value {
            *node = value.clone();
        }
        return;
    };
    match (&mut node.value, step) {
        (Value::Table(entries), Step::Name(name)) => {
            let entry = entries.iter_mut().find(|(key, _)| key.name == *name);
            if let Some((key, node)) = entry {
                if key.place.source == NEW {
                    key.place = change.place.clone();
                }
                changed(node, rest, change);
            }
        }
        (Value::List(nodes), Step::Place(number)) => {
            if let Some(node) = nodes.get_mut(*number) {
                changed(node, rest, change);
            }
        }
        _ => {}
    }
}

/// The source of what stands in no text yet.
const NEW: usize = usize::MAX;

/// Makes a tree point where the same things stand in another one.
fn as_typed(edited: &mut Node, typed: Option<&Node>) {
    let nowhere = Place {
        source: NEW,
        span: 0..0,
    };
    edited.place = typed.map_or(nowhere.clone(), |typed| typed.place.clone());
    let known = typed.map(|typed| &typed.value);
    match (&mut edited.value, known) {
        (Value::Table(entries), known) => {
            for (key, node) in entries {
                let same = match known {
                    Some(Value::Table(known)) => known.iter().find(|(old, _)| old.name == key.name),
                    _ => None,
                };
                key.place = same.map_or(nowhere.clone(), |(old, _)| old.place.clone());
                as_typed(node, same.map(|(_, node)| node));
            }
        }
        (Value::List(nodes), known) => {
            for (number, node) in nodes.iter_mut().enumerate() {
                let same = match known {
                    Some(Value::List(known)) => known.get(number),
                    _ => None,
                };
                as_typed(node, same);
            }
        }
        _ => {}
    }
}
