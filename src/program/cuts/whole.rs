//! Chvátal-Gomory cuts, computed in whole numbers: non-negative multiples of
//! the rows are added up, the coefficients rounded up, then the right side. A
//! cut so made holds whatever the floats that suggested it were worth. Their small
//! numbers suit cutting patterns; other programs ask for more (`mixed`).

use rustc_hash::FxHashSet;

use super::super::ExtraRow;
use super::super::simplex::Simplex;
use super::{NOISE, PARTS, multipliers, tried};

/// The cuts that the present basis violates most, at most `most` of them.
/// `most_columns` bounds the sum of all columns in any answer of interest.
pub(crate) fn violated(simplex: &mut Simplex, most: usize, most_columns: i64) -> Vec<ExtraRow> {
    let values = simplex.values();
    let lines = simplex.fractional_rows(2 * most);
    let simplex = &*simplex;
    let mut known = FxHashSet::default();
    let found = tried(&lines, |line, factor| {
        let found = cut(simplex, line, factor, most_columns, &values)?;
        known.insert(found.1.entries.clone()).then_some(found)
    });
    found.into_iter().take(most).map(|(_, cut)| cut).collect()
}

fn cut(
    simplex: &Simplex,
    line: &[f64],
    factor: f64,
    most_columns: i64,
    values: &[(usize, f64)],
) -> Option<(f64, ExtraRow)> {
    let multipliers = multipliers(line, factor);
    let base = simplex.base_rows();
    let mut right: i128 = 0;
    for (i, &k) in multipliers.iter().enumerate() {
        right += i128::from(k) * i128::from(simplex.least(i));
    }
    right -= i128::from(most_columns) * i128::from(NOISE);
    let parts = i128::from(PARTS);
    let at_least = right.div_euclid(parts) + i128::from(right.rem_euclid(parts) != 0);
    if at_least - right.div_euclid(parts) == 0 || right.rem_euclid(parts) < parts / 1000 {
        return None;
    }
    let at_least = i64::try_from(at_least).ok()?;
    let columns = simplex.columns();
    let mut sums = vec![0i64; columns.len()];
    for &j in simplex.active() {
        sums[j as usize] = columns
            .entries(j as usize)
            .map(|(r, v)| multipliers[r] * i64::from(v))
            .sum();
    }
    for (i, row) in simplex.extra_rows().iter().enumerate() {
        let k = multipliers[base + i];
        if k != 0 {
            for &(j, v) in row.entries.iter() {
                sums[j as usize] += k * i64::from(v);
            }
        }
    }
    let coefficient = |sum: i64| -(-(sum - NOISE)).div_euclid(PARTS);
    let reached: f64 = values
        .iter()
        .map(|&(j, x)| coefficient(sums[j]) as f64 * x)
        .sum();
    let violation = at_least as f64 - reached;
    if violation < 1e-3 {
        return None;
    }
    let mut entries = Vec::new();
    let mut norm = 0.0;
    for &j in simplex.active() {
        let c = coefficient(sums[j as usize]);
        if c != 0 {
            if c.abs() > 10_000 {
                return None;
            }
            entries.push((j, c as i32));
        }
    }
    for &(j, x) in values {
        let c = coefficient(sums[j]) as f64;
        norm += c * c * x.min(1.0);
    }
    Some((
        violation / (1.0 + norm).sqrt(),
        ExtraRow::new(entries, at_least),
    ))
}
