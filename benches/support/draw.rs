//! Numbers by chance that are the same on every machine.

/// SplitMix64, as published by Steele, Lea and Flood (2014).
pub struct Draw(pub u64);

impl Draw {
    /// A whole number from `least` to `most`, both among them.
    pub fn between(&mut self, least: i64, most: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let span = (most - least + 1) as u64;
        least + ((z ^ (z >> 31)) % span) as i64
    }

    /// One of some.
    pub fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.between(0, from.len() as i64 - 1) as usize]
    }
}
