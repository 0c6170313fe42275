//! Blocks taken apart into steps and put together again: no block within a cost
//! loses a step, and what goes in comes out.

use std::collections::BTreeMap;

use lastcourse::deck::{supports, surface};
use lastcourse::joints::{Block, Link, Run, Takes};

use crate::support::draw::Draw;
use crate::support::jobs::{Size, job};
use crate::walks::chance;

fn counted(rows: impl IntoIterator<Item = (u16, i64)>) -> BTreeMap<u16, i64> {
    let mut counts = BTreeMap::new();
    for (row, n) in rows {
        *counts.entry(row).or_insert(0) += n;
    }
    counts
}

#[test]
fn steps_of_blocks_come_together_as_blocks() {
    let (mut apart, mut together, mut left_out) = (0, 0, 0);
    for seed in 34_000..34_200 {
        let mut draw = Draw::seeded(seed);
        let job = job(&mut draw, Size::Tiny);
        let Some(longest) = job.stock.iter().map(|s| s.length).max() else {
            continue;
        };
        let Ok(surface) = surface(&job) else { continue };
        let Ok(run) = Run::new(&job, &surface, &supports(&job), longest) else {
            continue;
        };
        let materials = [0, 1];
        let block = Block::new(&run, &job.joints, &materials, 100_000).expect("a small block");
        let Some(block) = block else { continue };
        let costs = chance(&mut draw, &run);
        let least = block.least(&costs, None).expect("a way");
        let most = least + draw.between(0, 300);
        // What costs less than something is found as among all.
        let cheaper = |below: i64| {
            let mut found = block.cheapest(&costs, None, 8, below);
            found.retain(|found| found.0 < most);
            found
        };
        assert_eq!(cheaper(most), cheaper(i64::MAX), "seed {seed}");
        let links = block.links(&costs, None, most).expect("single courses");
        left_out += usize::from(links.len() < block.size());
        // Every block within the cost is made of them.
        let within = block.within(&costs, None, most, true, 20_000);
        for (takes, path) in within.into_iter().flatten() {
            let known = |row: u16| links.iter().any(|link| link.row == row);
            assert!(takes.rows.iter().all(|&row| known(row)), "seed {seed}");
            let joints = path.iter().flatten();
            let met = |joint: u16| links.iter().any(|link| link.joint == joint);
            assert!(joints.into_iter().all(|&joint| met(joint)), "seed {seed}");
            apart += 1;
        }
        // Some ways through, several times each, and what they take.
        let mut counts: Vec<(Link, i64)> = links.iter().map(|&link| (link, 0)).collect();
        let mut ended = 0;
        for _ in 0..draw.between(1, 5) {
            let times = draw.between(1, 4);
            let mut at = 0;
            while at != block.last() {
                let on: Vec<usize> = (0..links.len()).filter(|&i| links[i].from == at).collect();
                let i = on[draw.below(on.len() as u32) as usize];
                counts[i].1 += times;
                at = links[i].to;
            }
            ended += times;
        }
        let blocks = block.of_links(&counts);
        assert_eq!(
            blocks.iter().map(|b| b.1).sum::<i64>(),
            ended,
            "seed {seed}"
        );
        let taken = blocks.iter().flat_map(|(path, n)| {
            let takes = Takes::of(path, &run, &materials, false);
            takes.rows.into_iter().map(move |row| (row, *n))
        });
        let meant = counts.iter().filter(|c| c.1 > 0);
        let meant = counted(meant.map(|(link, n)| (link.row, *n)));
        assert_eq!(counted(taken), meant, "seed {seed}");
        for (path, _) in &blocks {
            for (&a, &b) in path[0]
                .iter()
                .flat_map(|a| path[1].iter().map(move |b| (a, b)))
            {
                assert!(
                    run.compatible(&job.joints, a, b, 1),
                    "seed {seed}: {path:?}"
                );
            }
            together += 1;
        }
    }
    assert!(
        apart > 100 && together > 100 && left_out > 20,
        "{apart} {together} {left_out}"
    );
}
