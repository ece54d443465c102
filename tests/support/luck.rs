//! Chance that repeats.

/// A linear congruential generator (Knuth's MMIX constants): the same numbers
/// on every machine.
pub(super) struct Luck(pub(super) u64);

impl Luck {
    fn next(&mut self) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }

    pub(super) fn between(&mut self, least: u64, most: u64) -> u64 {
        least + self.next() % (most - least + 1)
    }

    pub(super) fn index(&mut self, count: usize) -> usize {
        let count = u64::try_from(count).unwrap_or(1).max(1);
        usize::try_from(self.next() % count).unwrap_or(0)
    }

    pub(super) fn coin(&mut self) -> bool {
        self.index(2) == 0
    }

    pub(super) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.index(last + 1));
        }
    }
}
