//! What comes on top of the goods, what may be spent, and the deliveries: a
//! group comes with one of them.

use crate::job::document::{OrderTable, StageTable};
use crate::job::items::{Group, Item};
use crate::job::model::{OrderRules, Percent, Stage};
use crate::job::problem::Place;
use crate::job::reading::Reading;
use crate::job::values::Several;

/// The rules of the order, with the goods added by hand.
pub fn order(
    table: &OrderTable,
    items: Option<Vec<Item>>,
    reading: &mut Reading,
) -> Option<OrderRules> {
    let stages = match table.stage.option()? {
        None => Some(Vec::new()),
        Some(Several(tables)) => stages(tables, reading),
    };
    if table.delivery.is_absent() && table.delivery_taxed.get().is_some_and(|taxed| taxed.0) {
        reading.caution(
            table.delivery_taxed.place(),
            "delivery is taxed, and no price of it is given",
            "say what a delivery costs: `delivery = 95.00`",
        );
    }
    let usual = OrderRules::default();
    Some(OrderRules {
        spare: table.spare.or(usual.spare)?,
        items: items?,
        contingency: table.contingency.or(Percent::default())?,
        delivery: super::goods::money(&table.delivery)?,
        delivery_taxed: table.delivery_taxed.or(false)?,
        tax: table.tax.or(Percent::default())?,
        hour: super::goods::money(&table.hour)?,
        budget: super::goods::money(&table.budget)?,
        stages: stages?,
    })
}

fn stages(tables: &[(StageTable, Place)], reading: &mut Reading) -> Option<Vec<Stage>> {
    let mut known: Vec<(Group, &Place)> = Vec::new();
    for (table, _) in tables {
        let Some(groups) = table.groups.get() else {
            continue;
        };
        if groups.0.is_empty() {
            let help = "name what it brings: [\"frame\", \"base\"]";
            reading.error(table.groups.place(), "this delivery brings nothing", help);
        }
        for (group, place) in &groups.0 {
            match known.iter().find(|(other, _)| other == group) {
                Some((_, first)) => {
                    let message = format!("`{}` comes with two deliveries", group.name());
                    reading
                        .error(place.clone(), message, "take it out of one of them")
                        .also(Some((*first).clone()), "the first one");
                }
                None => known.push((*group, place)),
            }
        }
    }
    let stages = tables.iter().map(|(table, _)| {
        Some(Stage {
            name: table.name.get()?.0.clone(),
            groups: (table.groups.get()?.0.iter())
                .map(|(group, _)| *group)
                .collect(),
            when: table.when.option()?.map(|when| when.0.clone()),
        })
    });
    stages.collect()
}
