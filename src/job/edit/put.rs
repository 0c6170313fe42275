//! Puts values into a TOML document and takes fields out, leaving everything
//! round them as it is.

use toml_edit::{Array, InlineTable, Item, Table, TableLike, Value as Written};

use super::path::{Step, nth};
use crate::job::tree::{Node, Value};

/// Whether there is a table at the end of the steps.
pub fn is_table(file: &Table, steps: &[Step]) -> bool {
    let mut item: Option<&Item> = None;
    let mut here: Option<&dyn TableLike> = Some(file);
    for step in steps {
        match step {
            Step::Name(name) => {
                item = here.and_then(|table| table.get(name));
                here = item.and_then(Item::as_table_like);
            }
            Step::Place(number) => here = nth(item, *number),
        }
    }
    here.is_some()
}

/// Takes out the trial of a fastener whose gap the steps lead to, since a
/// trial would count before the gap. Says whether there was one.
pub fn without_trial(file: &mut Table, steps: &[Step]) -> bool {
    let [
        Step::Name(list),
        Step::Place(number),
        Step::Name(field),
        rest @ ..,
    ] = steps
    else {
        return false;
    };
    let sets_gap = field == "gap"
        && matches!(rest, [] | [Step::Name(_)])
        && !matches!(rest, [Step::Name(name)] if name != "set");
    if !sets_gap {
        return false;
    }
    let trial = match file.get_mut(list) {
        Some(Item::ArrayOfTables(tables)) => tables
            .get_mut(*number)
            .and_then(|table| table.remove("trial")),
        Some(Item::Value(Written::Array(values))) => values
            .get_mut(*number)
            .and_then(Written::as_inline_table_mut)
            .and_then(|table| table.remove("trial"))
            .map(Item::Value),
        _ => None,
    };
    trial.is_some()
}

/// Puts a value at the end of the steps, or takes out what is there. Tables on
/// the way are made where they are missing.
pub fn put(table: &mut dyn TableLike, steps: &[Step], value: Option<&Node>) -> Result<(), String> {
    let [Step::Name(name), rest @ ..] = steps else {
        return Err("the path ends too early".to_owned());
    };
    if rest.is_empty() {
        match value {
            Some(value) => replace(table, name, written(value)),
            None => drop(table.remove(name)),
        }
        return Ok(());
    }
    if value.is_none() && !table.contains_key(name) {
        return Ok(());
    }
    let item = table.entry(name).or_insert_with(|| match rest {
        [Step::Place(_), ..] => Item::ArrayOfTables(toml_edit::ArrayOfTables::new()),
        [_] => Item::Table(Table::new()),
        _ => {
            // Only a way to further tables: it needs no heading of its own.
            let mut way = Table::new();
            way.set_implicit(true);
            Item::Table(way)
        }
    });
    let refused = || format!("`{name}` is not a table in the file");
    match rest {
        [Step::Place(number), rest @ ..] => match item {
            Item::ArrayOfTables(tables) => {
                if *number == tables.len() {
                    tables.push(Table::new());
                }
                put(tables.get_mut(*number).ok_or_else(refused)?, rest, value)
            }
            Item::Value(Written::Array(values)) => {
                if *number == values.len() {
                    values.push(InlineTable::new());
                }
                let table = values
                    .get_mut(*number)
                    .and_then(Written::as_inline_table_mut);
                put(table.ok_or_else(refused)?, rest, value)
            }
            _ => Err(refused()),
        },
        _ => {
            // A length that gets a range: what it was is what it is set to.
            if let Item::Value(plain) = item
                && !plain.is_inline_table()
            {
                let mut range = InlineTable::new();
                let decor = plain.decor().clone();
                let mut set = plain.clone();
                set.decor_mut().clear();
                range.insert("set", set);
                *plain = Written::InlineTable(range);
                *plain.decor_mut() = decor;
            }
            put(item.as_table_like_mut().ok_or_else(refused)?, rest, value)
        }
    }
}

/// Puts a value under a name, in the old one's place and with its comment.
fn replace(table: &mut dyn TableLike, name: &str, mut new: Written) {
    if let Some(Item::Value(old)) = table.get_mut(name) {
        *new.decor_mut() = old.decor().clone();
        *old = new;
        return;
    }
    table.insert(name, Item::Value(new));
}

/// A value as TOML writes it.
fn written(node: &Node) -> Written {
    match &node.value {
        Value::Text(text) => Written::from(text.as_str()),
        Value::Flag(flag) => Written::from(*flag),
        Value::Integer(text) | Value::Decimal(text) | Value::Moment(text) => text
            .parse()
            .unwrap_or_else(|_| Written::from(text.as_str())),
        Value::List(nodes) => Written::Array(nodes.iter().map(written).collect::<Array>()),
        Value::Table(entries) => Written::InlineTable(
            entries
                .iter()
                .map(|(key, node)| (key.name.as_str(), written(node)))
                .collect::<InlineTable>(),
        ),
    }
}
