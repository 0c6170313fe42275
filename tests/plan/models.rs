//! The reference models against each other, so that what the program is
//! measured by is itself measured.

use crate::support::draw::Draw;
use crate::support::jobs::{Size, job};
use crate::support::reference::boards::{Boards, Kind, sources_of};
use crate::support::reference::{Instance, Outcome, brute, milp};
use lastcourse::plan::Objective;

#[test]
fn enumeration_and_the_solver_agree_on_plans() {
    let (mut both, mut impossible) = (0, 0);
    for seed in 0..300 {
        let job = job(&mut Draw::seeded(seed), Size::Tiny);
        let Some(instance) = Instance::new(&job, 0, 40) else {
            continue;
        };
        let objective = [Objective::Cost, Objective::Joints, Objective::Waste][seed as usize % 3];
        let one = brute::solve(&instance, objective);
        let other = milp::solve(&instance, objective);
        match (one, other) {
            (Outcome::TooLarge, _) | (_, Outcome::TooLarge) => {}
            (Outcome::Best(one), Outcome::Best(other)) => {
                assert_eq!(one.value, other.value, "seed {seed}");
                assert!(one <= other, "seed {seed}: {one:?} {other:?}");
                both += 1;
            }
            (one, other) => {
                assert_eq!(one, other, "seed {seed}");
                impossible += 1;
            }
        }
    }
    assert!(both > 50 && impossible > 10, "{both} {impossible}");
}

#[test]
fn enumeration_and_the_solver_agree_on_cuts() {
    let mut both = 0;
    for seed in 0..200 {
        let problem = crate::support::cuts::problem(&mut Draw::seeded(seed), 5, 12);
        let mut kinds: Vec<(Kind, u8)> = problem
            .pieces
            .iter()
            .map(|piece| {
                let kind = Kind {
                    length: piece.length.units(),
                    split: false,
                };
                (kind, piece.count as u8)
            })
            .collect();
        kinds.sort_unstable();
        kinds.reverse();
        let (kinds, counts): (Vec<Kind>, Vec<u8>) = kinds.into_iter().unzip();
        let sources = sources_of(&problem);
        let one = Boards::new(&kinds, &sources, |source| (source.price, 0), 200_000).least(&counts);
        let other = milp::cut(&kinds, &sources, &counts);
        if let (Ok(one), Some(other)) = (one, other) {
            assert_eq!(one.map(|taken| taken.0), other, "seed {seed}");
            both += 1;
        }
    }
    assert!(both > 100, "{both}");
}
