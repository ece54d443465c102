//! Lengths in classes, where there are too many different ones.

use super::problem::{Cutting, Item, Pattern, Problem};

/// The problem with lengths in classes.
#[derive(Debug)]
pub(super) struct Rough {
    /// Every class as long as its shortest.
    pub(super) low: Problem,
    /// Every class as long as its longest.
    pub(super) high: Problem,
    /// Where each class begins among the items.
    begins: Vec<usize>,
}

impl Rough {
    /// At most so many classes of neighbouring lengths, each of as many.
    pub(super) fn new(problem: &Problem, classes: usize) -> Self {
        let per_class = problem.items.len().div_ceil(classes.max(1)).max(1);
        let mut begins = Vec::new();
        let (mut low, mut high) = (Vec::new(), Vec::new());
        for (class, items) in problem.items.chunks(per_class).enumerate() {
            begins.push(class * per_class);
            let count = items.iter().map(|item| item.count).sum();
            let sizes = items.iter().map(|item| item.size);
            low.extend(sizes.clone().min().map(|size| Item { size, count }));
            high.extend(sizes.max().map(|size| Item { size, count }));
        }
        let bars = &problem.bars;
        let with = |items| Problem {
            items,
            bars: bars.clone(),
        };
        Self {
            low: with(low),
            high: with(high),
            begins,
        }
    }

    /// Hands out the real items of each class in place of the rounded ones.
    pub(super) fn handed_out(&self, problem: &Problem, cutting: &Cutting) -> Cutting {
        let mut next = self.begins.clone();
        let mut left = problem.demand();
        let mut result = Cutting::default();
        for (pattern, times) in &cutting.patterns {
            for _ in 0..*times {
                let mut cuts: Vec<(usize, i64)> = Vec::new();
                for (class, count) in &pattern.cuts {
                    for _ in 0..*count {
                        while left[next[*class]] == 0 {
                            next[*class] += 1;
                        }
                        let item = next[*class];
                        left[item] -= 1;
                        match cuts.last_mut() {
                            Some((last, count)) if *last == item => *count += 1,
                            _ => cuts.push((item, 1)),
                        }
                    }
                }
                let bar = pattern.bar;
                result.push(problem, Pattern { bar, cuts }, 1);
            }
        }
        result
    }
}
