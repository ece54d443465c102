//! The problem in plain integers, as every solver here sees it.

/// Pieces of one size that are wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Item {
    /// Length and kerf together.
    pub(super) size: i64,
    pub(super) count: i64,
}

/// Sticks of one kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Bar {
    /// Length and one kerf together, for the last piece may finish flush.
    pub(super) room: i64,
    pub(super) cost: i64,
    pub(super) limit: i64,
}

/// One way to cut a bar: items in ascending order, each with how many.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Pattern {
    pub(super) bar: usize,
    pub(super) cuts: Vec<(usize, i64)>,
}

/// Patterns and how often each is cut.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Cutting {
    pub(super) patterns: Vec<(Pattern, i64)>,
    pub(super) cost: i64,
}

/// What is wanted, largest first, and the bars, shortest first. At least one
/// bar without limit holds the largest item, so that there always is a plan.
#[derive(Debug, Clone)]
pub(super) struct Problem {
    pub(super) items: Vec<Item>,
    pub(super) bars: Vec<Bar>,
}

/// How many bars of each kind a plan may take.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Range {
    pub(super) least: Vec<i64>,
    pub(super) most: Vec<i64>,
}

impl Problem {
    pub(super) fn demand(&self) -> Vec<i64> {
        self.items.iter().map(|item| item.count).collect()
    }

    pub(super) fn pieces(&self) -> i64 {
        self.items.iter().map(|item| item.count).sum()
    }

    /// No more bars of a kind than there are, or than there are pieces.
    pub(super) fn range(&self) -> Range {
        let pieces = self.pieces();
        Range {
            least: vec![0; self.bars.len()],
            most: self.bars.iter().map(|bar| bar.limit.min(pieces)).collect(),
        }
    }
}

impl Cutting {
    /// Adds `times` cuts of a pattern.
    pub(super) fn push(&mut self, problem: &Problem, pattern: Pattern, times: i64) {
        self.cost += problem.bars[pattern.bar].cost * times;
        self.patterns.push((pattern, times));
    }

    /// The same patterns, sorted and gathered.
    pub(super) fn gathered(mut self) -> Self {
        self.patterns.sort_unstable();
        self.patterns.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                kept.1 += next.1;
            }
            same
        });
        self
    }
}
