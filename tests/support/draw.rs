//! A stream of choices. From a seed it is endless and always the same; from a
//! property test's list it shrinks, each choice towards the simplest, which
//! every generator puts first.

use proptest::prelude::*;

/// Choices drawn one by one.
pub struct Draw {
    listed: std::vec::IntoIter<u32>,
    state: Option<u64>,
}

impl Draw {
    /// Endless choices from a seed.
    pub fn seeded(seed: u64) -> Draw {
        Draw {
            listed: Vec::new().into_iter(),
            state: Some(seed),
        }
    }

    /// These choices and then only simplest ones.
    pub fn listed(choices: Vec<u32>) -> Draw {
        Draw {
            listed: choices.into_iter(),
            state: None,
        }
    }

    fn next(&mut self) -> u32 {
        if let Some(choice) = self.listed.next() {
            return choice;
        }
        let Some(state) = &mut self.state else {
            return 0;
        };
        // SplitMix64, as published by Steele, Lea and Flood (2014).
        *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = *state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 32) as u32
    }

    /// A number from 0 to below `limit`.
    pub fn below(&mut self, limit: u32) -> u32 {
        ((u64::from(self.next()) * u64::from(limit)) >> 32) as u32
    }

    /// A number from `least` to `most`, both included.
    pub fn between(&mut self, least: i64, most: i64) -> i64 {
        let span = u32::try_from(most - least + 1).expect("an ascending range");
        least + i64::from(self.below(span))
    }

    /// True in so many of a hundred cases; false is simplest.
    pub fn chance(&mut self, percent: u32) -> bool {
        self.below(100) >= 100 - percent
    }

    /// One of the options.
    pub fn pick<T: Clone>(&mut self, options: &[T]) -> T {
        options[self.below(options.len() as u32) as usize].clone()
    }
}

/// Property-test values made by a generator from shrinking choices.
pub fn strategy<T: std::fmt::Debug>(
    make: impl Fn(&mut Draw) -> T + Clone,
) -> impl Strategy<Value = T> {
    proptest::collection::vec(any::<u32>(), 100)
        .prop_map(move |choices| make(&mut Draw::listed(choices)))
}
