//! Which suppliers to buy from: every set of those that charge something, the
//! cheapest way for each line by a set, and within a set the ways that reach a
//! sum from which an order costs less ([`super::reach`]).

use super::reach::Search;
use super::terms::Charge;

/// Suppliers that charge something, of which every set is tried.
pub(super) const EXACT: usize = 6;

/// One way to buy a line: the cheapest by some of its offers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Way {
    /// What it costs, in the minor unit.
    pub(super) cost: i128,
    /// How much of it goes to each supplier that has terms.
    pub(super) goods: Vec<i128>,
}

/// A set of suppliers that have terms, a bit each.
pub(super) type Set = u64;

impl Way {
    pub(super) fn set(&self) -> Set {
        let used = self
            .goods
            .iter()
            .enumerate()
            .filter(|(_, goods)| **goods > 0);
        used.fold(0, |set, (supplier, _)| set | 1 << supplier)
    }
}

/// What was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Found {
    /// The way of each line.
    pub(super) choice: Vec<usize>,
    /// What everything costs.
    pub(super) total: i128,
    /// No choice costs less.
    pub(super) bound: i128,
}

/// What a choice costs with the charges of those who get an order.
pub(super) fn total(lines: &[Vec<Way>], charges: &[Charge], choice: &[usize]) -> i128 {
    let chosen = || lines.iter().zip(choice).map(|(ways, at)| &ways[*at]);
    let goods: i128 = chosen().map(|way| way.cost).sum();
    let charged = charges.iter().enumerate().map(|(supplier, charge)| {
        match chosen().map(|way| way.goods[supplier]).sum() {
            0 => 0,
            ordered => charge.beyond(ordered),
        }
    });
    goods + charged.sum::<i128>()
}

/// The cheapest choice of a way for each line; none if a line has no way.
pub(super) fn solve(lines: &[Vec<Way>], charges: &[Charge]) -> Option<Found> {
    let problem = Problem {
        lines,
        charges,
        sets: lines
            .iter()
            .map(|ways| ways.iter().map(Way::set).collect())
            .collect(),
    };
    let bits = |chosen: &dyn Fn(&Charge) -> bool| {
        let bits = charges
            .iter()
            .enumerate()
            .filter(|(_, charge)| chosen(charge));
        bits.map(|(supplier, _)| 1 << supplier)
            .collect::<Vec<Set>>()
    };
    let always = bits(&|charge| !charge.is_some()).into_iter().sum();
    let charging = bits(&Charge::is_some);
    if charging.len() <= EXACT {
        problem.of_all_sets(always, &charging)
    } else {
        problem.by_rule(always, &charging)
    }
}

struct Problem<'a> {
    lines: &'a [Vec<Way>],
    charges: &'a [Charge],
    sets: Vec<Vec<Set>>,
}

/// A set with its cheapest way for each line.
struct Plain {
    set: Set,
    found: Found,
}

impl Plain {
    /// The cheapest first, of few suppliers.
    fn rank(&self) -> (i128, u32, Set) {
        (self.found.total, self.set.count_ones(), self.set)
    }
}

impl Problem<'_> {
    fn of_all_sets(&self, always: Set, charging: &[Set]) -> Option<Found> {
        let mut plain: Vec<Plain> = subsets(charging)
            .filter_map(|set| self.plain(set | always))
            .collect();
        let mut best = plain.iter().min_by_key(|plain| plain.rank())?.found.clone();
        plain.sort_by_key(|plain| (plain.found.bound, plain.rank()));
        let mut bound = best.total;
        for plain in &plain {
            if plain.found.bound < best.total {
                bound = bound.min(self.within(plain, &mut best));
            }
        }
        best.bound = bound.min(best.total);
        Some(best)
    }

    /// Suppliers are left out and taken in again one by one while that saves
    /// something, from all of them and from each alone.
    fn by_rule(&self, always: Set, charging: &[Set]) -> Option<Found> {
        let all = always | charging.iter().sum::<Set>();
        let everyone = self.plain(all)?;
        let bound = everyone.found.choice.iter().zip(self.lines);
        let bound = bound.map(|(at, ways)| ways[*at].cost).sum();
        let alone = charging.iter().filter_map(|one| self.plain(always | one));
        let mut best = alone.chain([everyone]).min_by_key(Plain::rank)?;
        loop {
            let near = charging.iter().filter_map(|one| self.plain(best.set ^ one));
            match near.min_by_key(Plain::rank) {
                Some(nearer) if nearer.rank() < best.rank() => best = nearer,
                Some(_) | None => break,
            }
        }
        let mut found = best.found.clone();
        self.within(&best, &mut found);
        found.bound = bound;
        Some(found)
    }

    /// The cheapest way for each line by a set; none if one has none. Its bound
    /// holds for every choice that orders from the whole set.
    fn plain(&self, set: Set) -> Option<Plain> {
        let mut choice = Vec::with_capacity(self.lines.len());
        let mut bound = 0;
        let mut most = vec![0; self.charges.len()];
        for (ways, sets) in self.lines.iter().zip(&self.sets) {
            let within = || (0..ways.len()).filter(|at| sets[*at] & !set == 0);
            let cheapest = within().min_by_key(|at| ways[*at].cost)?;
            bound += ways[cheapest].cost;
            choice.push(cheapest);
            for (supplier, most) in most.iter_mut().enumerate() {
                *most += within().map(|at| ways[at].goods[supplier]).max()?;
            }
        }
        for (supplier, charge) in self.charges.iter().enumerate() {
            if set & (1 << supplier) != 0 {
                bound += charge.beyond(most[supplier]);
            }
        }
        let total = total(self.lines, self.charges, &choice);
        let found = Found {
            choice,
            total,
            bound,
        };
        Some(Plain { set, found })
    }

    /// Betters the best by the choices of one set, and gives what none of them
    /// is below.
    fn within(&self, plain: &Plain, best: &mut Found) -> i128 {
        let ways = self.lines.iter().zip(&self.sets);
        let ways = ways.map(|(ways, sets)| {
            let within = (0..ways.len()).filter(|at| sets[*at] & !plain.set == 0);
            within.map(|at| (at, &ways[at])).collect()
        });
        let suppliers = self.charges.iter().enumerate();
        let of_set = suppliers.filter(|(supplier, _)| plain.set & (1 << supplier) != 0);
        let search = Search::new(ways.collect(), of_set.collect());
        search.better(best, &|choice| total(self.lines, self.charges, choice))
    }
}

/// Every sum of some of these bits, the empty one first.
fn subsets(bits: &[Set]) -> impl Iterator<Item = Set> {
    (0..1_u64 << bits.len()).map(|chosen| {
        let chosen = bits
            .iter()
            .enumerate()
            .filter(|(at, _)| chosen & (1 << at) != 0);
        chosen.map(|(_, bit)| bit).sum()
    })
}
