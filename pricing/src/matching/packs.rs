//! Which packs cover a quantity at the least cost: a dynamic program over the
//! units still wanted, one row of the catalog after the other.

use std::collections::BTreeMap;

/// Units times rows; what is beyond is bought from one row, without mixing packs.
const STEPS: u64 = 4_000_000;

/// No sum of money is near this; it keeps every sum below in reach.
const BEYOND: u128 = 1 << 100;

/// A row of the catalog as it can be bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Row {
    /// Units in a pack, at least 1.
    pub(super) pack: u64,
    /// Price of a pack in the minor unit, above nought.
    pub(super) price: u64,
    /// Packs of it that must be bought if any is.
    pub(super) least: u64,
}

/// The least cost first, then the fewest rows.
type Worth = (u128, u32);

const NEVER: Worth = (u128::MAX, u32::MAX);

impl Row {
    /// A row of so many units to a pack, whose price holds from so many units up.
    pub(super) fn new(pack: u64, price: u64, from_quantity: u64) -> Self {
        let pack = pack.max(1);
        Self {
            pack,
            price,
            least: from_quantity.div_ceil(pack).max(1),
        }
    }

    fn cost(&self, packs: u64) -> u128 {
        (u128::from(packs) * u128::from(self.price)).min(BEYOND)
    }

    fn units(&self, packs: u64) -> u64 {
        packs.saturating_mul(self.pack)
    }
}

/// How many packs of each row are bought for so many units; none without rows.
/// Of several purchases that cost the same it is the one of fewest rows, and of
/// those the one of the first rows.
pub(super) fn cover(needed: u64, rows: &[Row]) -> Option<Vec<u64>> {
    let kept = undominated(rows);
    if kept.is_empty() {
        return None;
    }
    let mut packs = vec![0; rows.len()];
    let rows_kept = u64::try_from(kept.len()).unwrap_or(u64::MAX);
    if needed.saturating_mul(rows_kept) > STEPS {
        let alone = |at: &usize| rows[*at].least.max(needed.div_ceil(rows[*at].pack));
        let best = kept.into_iter().min_by_key(|at| rows[*at].cost(alone(at)));
        if let Some(at) = best {
            packs[at] = alone(&at);
        }
        return Some(packs);
    }
    let mut left = usize::try_from(needed).ok()?;
    let mut best: Vec<Worth> = vec![NEVER; left + 1];
    best[0] = (0, 0);
    let mut taken: Vec<Vec<u64>> = Vec::new();
    for at in &kept {
        taken.push(with_row(&mut best, &rows[*at]));
    }
    for (at, taken) in kept.iter().zip(&taken).rev() {
        packs[*at] = taken[left];
        left = less(left, rows[*at].units(taken[left]));
    }
    Some(packs)
}

/// Lets a row be bought as well, and gives how many packs of it are bought for
/// each number of units.
fn with_row(best: &mut [Worth], row: &Row) -> Vec<u64> {
    let mut with = vec![NEVER; best.len()];
    let mut packs = vec![0; best.len()];
    for units in 1..best.len() {
        let begun = best[less(units, row.units(row.least))];
        if begun != NEVER {
            with[units] = (begun.0 + row.cost(row.least), begun.1 + 1);
            packs[units] = row.least;
        }
        let before = less(units, row.pack);
        if with[before] != NEVER {
            let more = (with[before].0 + row.cost(1), with[before].1);
            if more < with[units] {
                with[units] = more;
                packs[units] = packs[before] + 1;
            }
        }
    }
    for (units, packs) in packs.iter_mut().enumerate() {
        if with[units] < best[units] {
            best[units] = with[units];
        } else {
            *packs = 0;
        }
    }
    packs
}

fn less(units: usize, by: u64) -> usize {
    usize::try_from(by).map_or(0, |by| units.saturating_sub(by))
}

/// The rows, in their order, that no row of as many units to a pack beats: at
/// no higher a price, from no larger a quantity.
fn undominated(rows: &[Row]) -> Vec<usize> {
    let mut by_pack: BTreeMap<u64, Vec<usize>> = BTreeMap::new();
    for (at, row) in rows.iter().enumerate() {
        by_pack.entry(row.pack).or_default().push(at);
    }
    let mut kept = Vec::new();
    for mut alike in by_pack.into_values() {
        alike.sort_by_key(|at| (rows[*at].price, rows[*at].least, *at));
        let mut least = None;
        for at in alike {
            if least.is_none_or(|least| rows[at].least < least) {
                least = Some(rows[at].least);
                kept.push(at);
            }
        }
    }
    kept.sort_unstable();
    kept
}

#[cfg(test)]
mod tests {
    use super::{Row, STEPS, cover};

    /// Rows of units to a pack, price and the units from which it holds.
    fn bought(needed: u64, rows: &[(u64, u64, u64)]) -> Option<Vec<u64>> {
        let rows = rows.iter().map(|row| Row::new(row.0, row.1, row.2));
        cover(needed, &rows.collect::<Vec<_>>())
    }

    #[test]
    fn packs_are_mixed_where_that_is_cheapest() {
        // 13 elbows: a box of 10 and three, or two boxes where singles are dear.
        assert_eq!(bought(13, &[(1, 200, 1), (10, 1500, 1)]), Some(vec![3, 1]));
        assert_eq!(bought(13, &[(1, 600, 1), (10, 1500, 1)]), Some(vec![0, 2]));
        assert_eq!(bought(9, &[(1, 200, 1), (10, 1500, 1)]), Some(vec![0, 1]));
        assert_eq!(bought(7, &[(1, 200, 1), (10, 1500, 1)]), Some(vec![7, 0]));
        // Seven and five make twelve without a rest.
        assert_eq!(bought(12, &[(7, 700, 1), (5, 500, 1)]), Some(vec![1, 1]));
    }

    #[test]
    fn a_break_may_be_reached_by_buying_more() {
        assert_eq!(bought(11, &[(1, 400, 1), (1, 300, 12)]), Some(vec![0, 12]));
        assert_eq!(bought(8, &[(1, 400, 1), (1, 300, 12)]), Some(vec![8, 0]));
        assert_eq!(bought(3, &[(1, 300, 12)]), Some(vec![12]));
        // From 25 units a box of ten is three boxes.
        assert_eq!(bought(4, &[(10, 100, 25)]), Some(vec![3]));
    }

    #[test]
    fn equal_costs_go_to_few_rows_and_then_to_the_first() {
        assert_eq!(bought(2, &[(1, 400, 1), (1, 400, 1)]), Some(vec![2, 0]));
        assert_eq!(bought(3, &[(1, 100, 1), (2, 200, 1)]), Some(vec![3, 0]));
    }

    #[test]
    fn absurd_rows_end() {
        assert_eq!(bought(3, &[]), None);
        assert_eq!(bought(0, &[(1, 100, 5)]), Some(vec![0]));
        let most = u64::MAX;
        assert_eq!(
            bought(3, &[(most, most, most), (1, 1, 1)]),
            Some(vec![0, 3])
        );
        assert_eq!(bought(3, &[(1, most, most)]), Some(vec![most]));
        assert_eq!(bought(most, &[(7, most, 1)]), Some(vec![most.div_ceil(7)]));
        let many = STEPS;
        assert_eq!(
            bought(many, &[(1, 3, 1), (2, 5, 1)]),
            Some(vec![0, many.div_ceil(2)])
        );
    }

    /// Every mix of up to as many packs as there are units.
    #[test]
    fn no_mix_of_packs_is_cheaper() {
        let mut seed: u64 = 7;
        let mut next = |below: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (seed >> 33) % below
        };
        for _ in 0..300 {
            let needed = next(12) + 1;
            let rows: Vec<Row> = (0..=next(3))
                .map(|_| Row::new(next(6) + 1, next(400) + 1, next(9) + 1))
                .collect();
            let found = cover(needed, &rows).unwrap();
            let mut least = u128::MAX;
            let mut mixes: Vec<Vec<u64>> = vec![Vec::new()];
            for row in &rows {
                let most = row.least.max(needed);
                mixes = mixes
                    .into_iter()
                    .flat_map(|mix| {
                        let counts = std::iter::once(0).chain(row.least..=most);
                        counts.map(move |count| [mix.clone(), vec![count]].concat())
                    })
                    .collect();
            }
            let units =
                |mix: &[u64]| -> u64 { rows.iter().zip(mix).map(|(row, n)| row.units(*n)).sum() };
            let cost =
                |mix: &[u64]| -> u128 { rows.iter().zip(mix).map(|(row, n)| row.cost(*n)).sum() };
            for mix in &mixes {
                if units(mix) >= needed {
                    least = least.min(cost(mix));
                }
            }
            assert!(units(&found) >= needed);
            assert_eq!(cost(&found), least, "{needed} of {rows:?}");
        }
    }
}
