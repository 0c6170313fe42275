//! Cuts: rows that every whole answer meets and the present basis does not. Multiples of
//! the rows are suggested by the basis, in floats, and counted in whole parts; two ways
//! to round what they add up to are beside this. Which cuts to keep is decided by the
//! search.

pub(super) mod mixed;
pub(super) mod whole;

/// Multipliers are counted in parts of this.
const PARTS: i64 = 1 << 30;
/// Parts this near to a whole number are taken for it.
const NOISE: i64 = 64;
/// What lines of the basis are taken times.
const FACTORS: [f64; 4] = [1.0, -1.0, 2.0, 3.0];

/// What is left of a line's numbers, taken so many times, beside whole ones, in parts.
fn multipliers(line: &[f64], factor: f64) -> Vec<i64> {
    let multiplier = |u: &f64| {
        let u = u * factor;
        let part = ((u - u.floor()) * PARTS as f64).round() as i64;
        let whole = !(NOISE..=PARTS - NOISE).contains(&part);
        if whole { 0 } else { part }
    };
    line.iter().map(multiplier).collect()
}

/// What a way to round makes of lines of the basis, each taken several times, and what it
/// is violated by; most violated first.
fn tried<T>(
    lines: &[Vec<f64>],
    mut way: impl FnMut(&[f64], f64) -> Option<(f64, T)>,
) -> Vec<(f64, T)> {
    let mut found = Vec::new();
    for line in lines {
        found.extend(FACTORS.iter().filter_map(|&factor| way(line, factor)));
    }
    found.sort_by(|a: &(f64, T), b| b.0.total_cmp(&a.0));
    found
}
