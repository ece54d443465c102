//! The most that one bar can be worth when every item has a price.

use super::problem::Item;

/// Steps after which a search settles for an estimate from above.
const STEPS: u32 = 500_000;

/// Items by price per length, the best first.
#[derive(Debug)]
pub(super) struct Knapsack {
    entries: Vec<Entry>,
}

#[derive(Debug, Clone, Copy)]
struct Entry {
    item: usize,
    size: i64,
    count: i64,
    price: i64,
    /// The smallest size and the highest price from here on.
    smallest: i64,
    highest: i64,
}

/// What came of filling one bar.
#[derive(Debug)]
pub(super) struct Fill {
    /// No fill is worth more than this.
    pub(super) worth: i64,
    /// Fills worth more than was asked, each more than the one before.
    pub(super) fills: Vec<Vec<(usize, i64)>>,
}

impl Knapsack {
    pub(super) fn new(items: &[Item], demand: &[i64], prices: &[i64]) -> Self {
        let mut entries: Vec<Entry> = items
            .iter()
            .enumerate()
            .filter(|(item, _)| demand[*item] > 0 && prices[*item] > 0)
            .map(|(item, Item { size, .. })| Entry {
                item,
                size: *size,
                count: demand[item],
                price: prices[item],
                smallest: *size,
                highest: prices[item],
            })
            .collect();
        entries.sort_unstable_by(|a, b| {
            let (left, right) = (product(a.price, b.size), product(b.price, a.size));
            right.cmp(&left).then(a.item.cmp(&b.item))
        });
        let (mut smallest, mut highest) = (i64::MAX, 0);
        for entry in entries.iter_mut().rev() {
            smallest = smallest.min(entry.size);
            highest = highest.max(entry.price);
            (entry.smallest, entry.highest) = (smallest, highest);
        }
        Self { entries }
    }

    /// The best fill of a bar that is worth more than `above`.
    pub(super) fn fill(&self, room: i64, above: i64) -> Fill {
        let mut search = Search {
            entries: &self.entries,
            chosen: Vec::new(),
            best: above,
            fills: Vec::new(),
            steps: STEPS,
        };
        search.descend(0, room, 0);
        let worth = if search.steps > 0 {
            search.best
        } else {
            self.estimate(room).max(search.best)
        };
        let mut fills = search.fills;
        for cuts in &mut fills {
            cuts.sort_unstable();
        }
        Fill { worth, fills }
    }

    /// What the room is worth if items could be cut into.
    fn estimate(&self, mut room: i64) -> i64 {
        let mut worth = 0;
        for entry in &self.entries {
            let whole = entry.count.min(room / entry.size);
            worth += whole * entry.price;
            room -= whole * entry.size;
            if whole < entry.count {
                let part = product(room, entry.price) / i128::from(entry.size);
                return worth + i64::try_from(part).unwrap_or(entry.price);
            }
        }
        worth
    }
}

struct Search<'a> {
    entries: &'a [Entry],
    chosen: Vec<(usize, i64)>,
    best: i64,
    fills: Vec<Vec<(usize, i64)>>,
    steps: u32,
}

impl Search<'_> {
    fn descend(&mut self, from: usize, room: i64, worth: i64) {
        if worth > self.best {
            self.best = worth;
            self.fills.push(self.chosen.clone());
        }
        for (index, entry) in self.entries.iter().enumerate().skip(from) {
            // Entries fall in price per length: if the whole room at this
            // price beats nothing, no later entry does. Nor do as many of the
            // dearest as there is room for the smallest.
            let missing = self.best + 1 - worth;
            if product(room, entry.price) < product(missing, entry.size)
                || product(room / entry.smallest, entry.highest) < i128::from(missing)
            {
                return;
            }
            for count in (1..=entry.count.min(room / entry.size)).rev() {
                if self.steps == 0 {
                    return;
                }
                self.steps -= 1;
                self.chosen.push((entry.item, count));
                self.descend(
                    index + 1,
                    room - count * entry.size,
                    worth + count * entry.price,
                );
                self.chosen.pop();
            }
        }
    }
}

fn product(a: i64, b: i64) -> i128 {
    i128::from(a) * i128::from(b)
}
