//! The best plan and the best cut list by 0/1 models in a general-purpose
//! solver. Its answers are checked in whole numbers and count only then.

use good_lp::{
    Expression, ProblemVariables, ResolutionError, Solution, SolverModel, Variable, WithTimeLimit,
    constraint, microlp, variable, variables,
};
use lastcourse::plan::Objective;

use super::boards::{Kind, Source};
use super::{Best, Instance, Outcome};

/// Columns beyond which a model is not tried.
const MOST_COLUMNS: usize = 1_500;
/// Seconds for one model; it is a second opinion, and most need a few milliseconds.
const SECONDS: f64 = 0.4;

/// One way to fill a board.
struct Filling {
    source: usize,
    counts: Vec<u8>,
}

/// The best value of an instance; its cost and joints are not looked for
/// beyond that and are those of the plan found.
pub fn solve(instance: &Instance, objective: Objective) -> Outcome {
    let most: Vec<u8> = (0..instance.kinds.len())
        .map(|kind| {
            (0..instance.courses)
                .map(|course| {
                    let needs = instance
                        .patterns
                        .iter()
                        .map(|p| instance.needs(p, course)[kind]);
                    needs.max().unwrap_or(0)
                })
                .sum::<u8>()
                + instance.extra[kind]
        })
        .collect();
    let Some(fillings) = fillings(&instance.kinds, &instance.sources, &most) else {
        return Outcome::TooLarge;
    };
    let mut vars = variables!();
    let laid: Vec<Vec<Variable>> = (0..instance.courses)
        .map(|_| vars.add_vector(variable().binary(), instance.patterns.len()))
        .collect();
    let boards = board_variables(&mut vars, instance, &fillings, &most);
    let mut places: Vec<i64> = instance
        .patterns
        .iter()
        .flat_map(|p| p.joints.clone())
        .collect();
    places.sort_unstable();
    places.dedup();
    let doubled = vars.add_vector(variable().binary(), places.len());

    // Boards that are paid: as many as are used, or whole bundles of them.
    let bundles: Vec<Option<Variable>> = (instance.sources.iter())
        .map(|source| (source.bundle > 1).then(|| vars.add(variable().integer().min(0).max(255))))
        .collect();

    let joints: Expression = laid
        .iter()
        .flat_map(|course| course.iter().zip(&instance.patterns))
        .map(|(&var, pattern)| pattern.joints.len() as f64 * var)
        .sum();
    let total = |weigh: &dyn Fn(&Source) -> i64| -> Expression {
        let singly = |filling: &Filling| bundles[filling.source].is_none();
        let single: Expression = (fillings.iter().zip(&boards))
            .filter(|(filling, _)| singly(filling))
            .map(|(filling, &var)| weigh(&instance.sources[filling.source]) as f64 * var)
            .sum();
        let whole: Expression = (instance.sources.iter().zip(&bundles))
            .filter_map(|(source, var)| {
                let bundle = weigh(source) * i64::from(source.bundle);
                Some(bundle as f64 * (*var)?)
            })
            .sum();
        single + whole
    };
    let goal = match objective {
        Objective::Cost => {
            total(&|source| source.price)
                + instance.joint_price as f64 * joints.clone()
                + doubled
                    .iter()
                    .map(|&var| instance.doubled_price as f64 * var)
                    .sum::<Expression>()
        }
        Objective::Joints => joints.clone(),
        // In units of 1/64 in or 0.1 mm the numbers stay small; all are whole.
        Objective::Waste => total(&|source| source.length / 25),
    };
    let mut model = vars.minimise(goal).using(microlp).with_time_limit(SECONDS);
    for course in &laid {
        model = model.with(constraint!(course.iter().sum::<Expression>() == 1));
    }
    for course in 0..instance.courses {
        for apart in 1..=instance
            .same_joist_after
            .max(1)
            .min(instance.courses - 1 - course)
        {
            for (a, one) in instance.patterns.iter().enumerate() {
                // All patterns of the other course that this one rules out.
                let barred: Vec<Variable> = instance
                    .patterns
                    .iter()
                    .enumerate()
                    .filter(|(_, other)| !instance.compatible(one, other, apart))
                    .map(|(b, _)| laid[course + apart][b])
                    .collect();
                if !barred.is_empty() {
                    let row: Expression = barred.into_iter().sum();
                    model = model.with(constraint!(row + laid[course][a] <= 1));
                }
            }
        }
    }
    let round = instance.repeat.unwrap_or(usize::MAX);
    for course in round.min(instance.courses)..instance.courses {
        for (&here, &before) in laid[course].iter().zip(&laid[course - round]) {
            model = model.with(constraint!(here == before));
        }
    }
    for kind in 0..instance.kinds.len() {
        let cut: Expression = fillings
            .iter()
            .zip(&boards)
            .map(|(filling, &var)| f64::from(filling.counts[kind]) * var)
            .sum();
        let mut needed = Expression::from(0);
        for (course, laid) in laid.iter().enumerate() {
            for (pattern, &var) in instance.patterns.iter().zip(laid) {
                needed += f64::from(instance.needs(pattern, course)[kind]) * var;
            }
        }
        model = model.with(constraint!(cut - needed >= f64::from(instance.extra[kind])));
    }
    for row in limit_rows(&instance.sources, &fillings, &boards) {
        model = model.with(row);
    }
    for (index, var) in bundles.iter().enumerate() {
        if let Some(var) = *var {
            let used: Expression = (fillings.iter().zip(&boards))
                .filter(|(filling, _)| filling.source == index)
                .map(|(_, &var)| Expression::from(var))
                .sum();
            let bundle = f64::from(instance.sources[index].bundle);
            model = model.with(constraint!(used <= bundle * var));
        }
    }
    if instance.doubled_price > 0 {
        for laid in &laid {
            for (at, &doubled) in places.iter().zip(&doubled) {
                let here: Expression = laid
                    .iter()
                    .zip(&instance.patterns)
                    .filter(|(_, pattern)| pattern.joints.contains(at))
                    .map(|(&var, _)| Expression::from(var))
                    .sum();
                model = model.with(constraint!(here <= doubled));
            }
        }
    }
    match model.solve() {
        Err(ResolutionError::Infeasible) => Outcome::Impossible,
        Err(_) => Outcome::TooLarge,
        Ok(answer) if !matches!(answer.status(), good_lp::solvers::SolutionStatus::Optimal) => {
            Outcome::TooLarge
        }
        Ok(answer) => {
            let chosen: Vec<usize> = laid
                .iter()
                .map(|course| {
                    course
                        .iter()
                        .position(|&var| answer.value(var) > 0.5)
                        .expect("one")
                })
                .collect();
            let used: Vec<u64> = boards
                .iter()
                .map(|&var| answer.value(var).round() as u64)
                .collect();
            Outcome::Best(checked(instance, objective, &chosen, &fillings, &used))
        }
    }
}

/// The least that a cutting problem's boards cost.
pub fn cut(kinds: &[Kind], sources: &[Source], counts: &[u8]) -> Option<Option<i64>> {
    let fillings = fillings(kinds, sources, counts)?;
    let mut vars = variables!();
    let all: u32 = counts.iter().map(|&count| u32::from(count)).sum();
    let boards = vars.add_vector(
        variable().integer().min(0).max(f64::from(all)),
        fillings.len(),
    );
    // What is paid: bundles, of one board where they are sold singly.
    let bundles = vars.add_vector(
        variable().integer().min(0).max(f64::from(all)),
        sources.len(),
    );
    let goal: Expression = (sources.iter().zip(&bundles))
        .map(|(source, &var)| (source.price * i64::from(source.bundle)) as f64 * var)
        .sum();
    let mut model = vars.minimise(goal).using(microlp).with_time_limit(SECONDS);
    for (kind, &count) in counts.iter().enumerate() {
        let cut: Expression = fillings
            .iter()
            .zip(&boards)
            .map(|(filling, &var)| f64::from(filling.counts[kind]) * var)
            .sum();
        model = model.with(constraint!(cut >= f64::from(count)));
    }
    for row in limit_rows(sources, &fillings, &boards) {
        model = model.with(row);
    }
    for (index, source) in sources.iter().enumerate() {
        let used: Expression = fillings
            .iter()
            .zip(&boards)
            .filter(|(filling, _)| filling.source == index)
            .map(|(_, &var)| Expression::from(var))
            .sum();
        model = model.with(constraint!(
            used <= f64::from(source.bundle) * bundles[index]
        ));
    }
    match model.solve() {
        Err(ResolutionError::Infeasible) => Some(None),
        Err(_) => None,
        Ok(answer) if !matches!(answer.status(), good_lp::solvers::SolutionStatus::Optimal) => None,
        Ok(answer) => {
            let used: Vec<u64> = boards
                .iter()
                .map(|&var| answer.value(var).round() as u64)
                .collect();
            assert_supply(sources, &fillings, &used, counts);
            let price = sources.iter().enumerate().map(|(index, source)| {
                let of_source = fillings.iter().zip(&used);
                let of_source = of_source.filter(|(filling, _)| filling.source == index);
                let used: u64 = of_source.map(|(_, used)| used).sum();
                source.price * used.next_multiple_of(source.bundle.into()) as i64
            });
            Some(Some(price.sum()))
        }
    }
}

fn board_variables(
    vars: &mut ProblemVariables,
    instance: &Instance,
    fillings: &[Filling],
    most: &[u8],
) -> Vec<Variable> {
    let all: u32 = most.iter().map(|&count| u32::from(count)).sum();
    fillings
        .iter()
        .map(|filling| {
            let limit = instance.sources[filling.source].limit;
            let most = limit.map_or(all, |limit| limit.min(u64::from(all)) as u32);
            vars.add(variable().integer().min(0).max(f64::from(most)))
        })
        .collect()
}

fn limit_rows(
    sources: &[Source],
    fillings: &[Filling],
    boards: &[Variable],
) -> Vec<good_lp::Constraint> {
    sources
        .iter()
        .enumerate()
        .filter_map(|(index, source)| {
            let limit = source.limit?;
            let used: Expression = fillings
                .iter()
                .zip(boards)
                .filter(|(filling, _)| filling.source == index)
                .map(|(_, &var)| Expression::from(var))
                .sum();
            Some(constraint!(used <= limit.min(100_000) as f64))
        })
        .collect()
}

/// Every filling of every source that leaves room for no more of the pieces
/// that can be needed, or nothing when there are too many.
fn fillings(kinds: &[Kind], sources: &[Source], most: &[u8]) -> Option<Vec<Filling>> {
    let mut found = Vec::new();
    for (index, source) in sources.iter().enumerate() {
        let mut counts = vec![0; kinds.len()];
        let mut strips = Vec::new();
        if !each(
            kinds,
            source,
            most,
            0,
            source.room,
            false,
            &mut counts,
            &mut strips,
        ) {
            return None;
        }
        let mut first = Vec::new();
        if kinds.iter().any(|kind| kind.split) {
            if !each(
                kinds,
                source,
                most,
                0,
                source.room,
                true,
                &mut counts,
                &mut first,
            ) {
                return None;
            }
            for one in &first {
                for other in &first {
                    strips.push(one.iter().zip(other).map(|(a, b)| a + b).collect());
                }
            }
        }
        strips.sort_unstable();
        strips.dedup();
        found.extend(strips.into_iter().map(|counts| Filling {
            source: index,
            counts,
        }));
        if found.len() > MOST_COLUMNS {
            return None;
        }
    }
    Some(found)
}

#[allow(clippy::too_many_arguments, reason = "a recursion over the kinds")]
fn each(
    kinds: &[Kind],
    source: &Source,
    most: &[u8],
    from: usize,
    room: i64,
    strip: bool,
    counts: &mut Vec<u8>,
    found: &mut Vec<Vec<u8>>,
) -> bool {
    let usable = |index: usize| !strip || kinds[index].split;
    if from == kinds.len() {
        let full = (0..kinds.len()).all(|index| {
            !usable(index)
                || counts[index] == most[index]
                || kinds[index].length + source.kerf > room
        });
        if full && counts.iter().any(|&count| count > 0) {
            found.push(counts.clone());
        }
        return found.len() <= MOST_COLUMNS;
    }
    let cut = kinds[from].length + source.kerf;
    let mut rest = room;
    loop {
        if !each(kinds, source, most, from + 1, rest, strip, counts, found) {
            return false;
        }
        if !usable(from) || counts[from] == most[from] || cut > rest {
            break;
        }
        counts[from] += 1;
        rest -= cut;
    }
    counts[from] = 0;
    true
}

/// The figures of the solver's plan, every rule checked in whole numbers.
fn checked(
    instance: &Instance,
    objective: Objective,
    chosen: &[usize],
    fillings: &[Filling],
    used: &[u64],
) -> Best {
    let mut needs = instance.extra.clone();
    let mut doubled: Vec<i64> = Vec::new();
    let mut joints = 0;
    for (course, &index) in chosen.iter().enumerate() {
        let pattern = &instance.patterns[index];
        for (sum, more) in needs.iter_mut().zip(instance.needs(pattern, course)) {
            *sum += more;
        }
        joints += pattern.joints.len() as i64;
        doubled.extend(&pattern.joints);
        for (back, &earlier) in chosen[..course].iter().rev().enumerate() {
            assert!(
                instance.compatible(pattern, &instance.patterns[earlier], back + 1),
                "the solver's plan breaks a rule"
            );
        }
    }
    doubled.sort_unstable();
    doubled.dedup();
    assert_supply(&instance.sources, fillings, used, &needs);
    let sum = |weigh: fn(&Source) -> i64| -> i64 {
        let paid = instance.sources.iter().enumerate().map(|(index, source)| {
            let of = |(filling, _): &(&Filling, &u64)| filling.source == index;
            let used: u64 = fillings.iter().zip(used).filter(of).map(|(_, &n)| n).sum();
            weigh(source) * used.next_multiple_of(source.bundle.into()) as i64
        });
        paid.sum()
    };
    let taken = (sum(|source| source.length), sum(|source| source.price));
    instance.figures(objective, taken, joints, doubled.len() as i64)
}

fn assert_supply(sources: &[Source], fillings: &[Filling], used: &[u64], needs: &[u8]) {
    for (kind, &needed) in needs.iter().enumerate() {
        let cut: u64 = fillings
            .iter()
            .zip(used)
            .map(|(filling, &used)| u64::from(filling.counts[kind]) * used)
            .sum();
        assert!(cut >= u64::from(needed), "the solver cuts too few pieces");
    }
    for (index, source) in sources.iter().enumerate() {
        let taken: u64 = fillings
            .iter()
            .zip(used)
            .filter(|(filling, _)| filling.source == index)
            .map(|(_, &used)| used)
            .sum();
        assert!(
            source.limit.is_none_or(|limit| taken <= limit),
            "too many boards"
        );
    }
}
