//! Which suppliers to buy from: every set of those that charge something, the
//! cheapest way for each line by a set, and within a set the ways that reach a
//! sum from which an order costs less ([`super::reach`]).

use super::reach::{Relaxed, Search};
use super::terms::Charge;

/// Suppliers that charge something, of which every set is tried.
pub(super) const EXACT: usize = 6;

/// Partial choices that are looked at in all sets together.
const WORK: usize = 600_000;

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
        // The bounds of all sets first: with the choices that they lead to, few
        // sets are left to be gone through.
        let mut open: Vec<(Search, Relaxed)> = Vec::new();
        let mut given_up = None;
        for plain in &plain {
            if plain.found.bound < best.total {
                match self.relaxed(plain.set, &mut best) {
                    Some(relaxed) => open.push(relaxed),
                    None => given_up = given_up.into_iter().chain([plain.found.bound]).min(),
                }
            }
        }
        open.sort_by_key(|(_, relaxed)| relaxed.bound);
        let mut work = WORK;
        for (search, relaxed) in &open {
            let lost = self.through(search, relaxed, &mut work, &mut best);
            given_up = given_up.into_iter().chain(lost).min();
        }
        best.bound = given_up.map_or(best.total, |lost| lost.min(best.total));
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
        let mut found = best.found;
        if let Some((search, relaxed)) = self.relaxed(best.set, &mut found) {
            let mut work = WORK;
            self.through(&search, &relaxed, &mut work, &mut found);
        }
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

    /// The bound of a set, and the best bettered by the choices that it leads
    /// to; none where the sums of its orders do not matter.
    fn relaxed(&self, set: Set, best: &mut Found) -> Option<(Search, Relaxed)> {
        let ways = self.lines.iter().zip(&self.sets);
        let ways = ways.map(|(ways, sets)| {
            let within = (0..ways.len()).filter(|at| sets[*at] & !set == 0);
            within.map(|at| (at, &ways[at])).collect()
        });
        let suppliers = self.charges.iter().enumerate();
        let of_set = suppliers.filter(|(supplier, _)| set & (1 << supplier) != 0);
        let search = Search::new(&ways.collect::<Vec<_>>(), &of_set.collect::<Vec<_>>())?;
        let relaxed = search.relax(&mut |choice| self.take(choice, best));
        Some((search, relaxed))
    }

    /// Betters the best by all choices of a set, and gives what none of those
    /// that were given up is below.
    fn through(
        &self,
        search: &Search,
        relaxed: &Relaxed,
        work: &mut usize,
        best: &mut Found,
    ) -> Option<i128> {
        if relaxed.bound >= best.total {
            return None;
        }
        let through = search.through(relaxed, best.total, work);
        if let Some(choice) = through.choice {
            self.take(choice, best);
        }
        through.given_up
    }

    fn take(&self, choice: Vec<usize>, best: &mut Found) {
        let total = total(self.lines, self.charges, &choice);
        if total < best.total {
            best.choice = choice;
            best.total = total;
        }
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

#[cfg(test)]
mod tests {
    use super::{Charge, EXACT, Found, Way, solve};

    /// Three lines at 5.00 from the first seller, or at 4.50 from one of the
    /// others each; every seller brings for 10.00.
    fn found(sellers: usize) -> Found {
        let way = |seller: usize, cost: i128| Way {
            cost,
            goods: (0..sellers)
                .map(|one| if one == seller { cost } else { 0 })
                .collect(),
        };
        let lines = (1..=3).map(|line| vec![way(line, 450), way(0, 500)]);
        let charge = Charge {
            delivery: 1_000,
            ..Charge::default()
        };
        solve(&lines.collect::<Vec<_>>(), &vec![charge; sellers]).unwrap()
    }

    #[test]
    fn more_suppliers_go_by_rule_and_say_the_gap() {
        let exact = found(EXACT);
        assert_eq!((exact.total, exact.bound), (2_500, 2_500));
        let by_rule = found(EXACT + 1);
        assert_eq!(by_rule.choice, exact.choice);
        assert_eq!((by_rule.total, by_rule.bound), (2_500, 1_350));
    }

    #[test]
    fn no_lines_cost_nothing() {
        let found = solve(&[], &[Charge::default()]).unwrap();
        assert_eq!((found.total, found.bound), (0, 0));
    }
}
