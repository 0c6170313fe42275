//! The tables of a code behind an order: what is within them in sentences, and
//! every comparison in numbers. What is over a table stands among the cautions.

use schemars::JsonSchema;
use serde::Serialize;

use crate::codes::{Amount, Finding, Outcome};
use crate::length::Unit;
use crate::order::Order;
use crate::report::json::Measure;
use crate::report::{Page, Terms};

/// A measure of the deck and the table it is compared with.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct Compared {
    /// What is compared: `joist-spacing` under the boards, `board-bearing` (joists under each length of board), `joist-span`, `joist-cantilever` or `beam-cantilever`.
    check: &'static str,
    /// `within` the table, `over` it (of a length) or `under` it (of a count), or `not-covered` by it.
    outcome: &'static str,
    /// The deck's measure.
    ours: Figure,
    /// The table's; null where it does not cover the case.
    limit: Option<Figure>,
    /// The edition; null for the job's own values.
    edition: Option<&'static str>,
    /// The table or section, or the job's own source; null where none is named.
    table: Option<String>,
    /// What the table stands on; null where that is not known.
    basis: Option<&'static str>,
    /// Whether the limit is quoted from memory.
    from_memory: bool,
    /// All of it in a sentence.
    text: String,
}

/// A length, or a count of joists.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
enum Figure {
    Length(Measure),
    Count(u32),
}

impl Figure {
    fn of(amount: Amount, unit: Unit) -> Figure {
        match amount {
            Amount::Length(length) => Figure::Length(Measure::new(length, unit)),
            Amount::Count(count) => Figure::Count(count),
        }
    }
}

/// Every comparison.
pub(super) fn json(order: &Order, unit: Unit) -> Vec<Compared> {
    let one = |finding: &Finding| Compared {
        check: finding.check.name(),
        outcome: finding.outcome.name(),
        ours: Figure::of(finding.ours, unit),
        limit: (finding.outcome.limit()).map(|limit| Figure::of(limit, unit)),
        edition: finding.rule.edition.map(|edition| edition.name()),
        table: finding.rule.table.clone(),
        basis: finding.rule.basis,
        from_memory: finding.rule.from_memory,
        text: finding.sentence(unit),
    };
    order.compared.iter().map(one).collect()
}

/// What is within its table.
pub(super) fn text(order: &Order, terms: &Terms, page: &mut Page) {
    let within = |finding: &&Finding| matches!(finding.outcome, Outcome::Within(_));
    let within: Vec<&Finding> = order.compared.iter().filter(within).collect();
    if within.is_empty() {
        return;
    }
    page.space();
    page.line("Compared with tables, which is no design:");
    for finding in within {
        page.hanging("- ", &format!("{}.", finding.sentence(terms.unit)));
    }
}
