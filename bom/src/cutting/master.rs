//! The linear program over patterns: take fractions of patterns so that every
//! item is cut often enough, at the least cost.

use super::problem::{Pattern, Range};
use super::simplex::{Column, Simplex, TOLERANCE};

/// What it costs, in units of the dearest bar, to leave an item uncut.
pub(super) const MISSING: f64 = 4.0;

/// Amounts are shifted by unequal amounts of this size, which keeps the
/// simplex from standing still where many bases describe the same plan.
const SHIFT: f64 = 1e-5;
/// Pivots for every row after which a move has taken too long.
const MOVE: usize = 3;

#[derive(Debug)]
pub(super) struct Master {
    simplex: Simplex,
    rows: Vec<Row>,
    /// The row of every item, and the rows of every bar, if they have one.
    items: Vec<Option<usize>>,
    most: Vec<Option<usize>>,
    least: Vec<Option<usize>>,
    /// The pattern of every column; slacks have none.
    patterns: Vec<Option<usize>>,
    /// Where the patterns begin that were not offered yet.
    pub(super) offered: usize,
}

#[derive(Debug, Clone, Copy)]
struct Row {
    side: Side,
    amount: i64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    /// At least so many pieces of an item.
    Item,
    /// At most so many bars of a kind.
    Most,
    /// At least so many bars of a kind.
    Least,
}

impl Master {
    /// The program for a demand, with a row for each limit that can matter or,
    /// if the range is to move later, for every limit.
    pub(super) fn new(demand: &[i64], range: &Range, moves: bool) -> Self {
        let pieces: i64 = demand.iter().sum();
        let mut rows: Vec<Row> = Vec::new();
        let mut add = |wanted: bool, side: Side, amount: i64| {
            wanted.then(|| {
                rows.push(Row { side, amount });
                rows.len() - 1
            })
        };
        let items = demand
            .iter()
            .map(|count| add(*count > 0, Side::Item, *count))
            .collect();
        let most = range
            .most
            .iter()
            .map(|most| add(moves || *most < pieces, Side::Most, *most))
            .collect();
        let least = range
            .least
            .iter()
            .map(|least| add(moves || *least > 0, Side::Least, *least))
            .collect();
        let mut columns = Vec::new();
        let mut basis = Vec::new();
        // Every row has two slacks, of which the one on the wrong side is
        // dear; the basis begins with the one that is positive.
        for (row, Row { side, .. }) in rows.iter().enumerate() {
            let (lack, spare) = match side {
                Side::Item | Side::Least => (MISSING, 0.0),
                Side::Most => (0.0, MISSING),
            };
            let negative = shifted(&rows, row) < 0.0;
            basis.push(columns.len() + usize::from(negative));
            columns.extend([(lack, 1.0), (spare, -1.0)].map(|(cost, sign)| Column {
                cost,
                entries: vec![(row, sign)],
            }));
        }
        let wanted = (0..rows.len()).map(|row| shifted(&rows, row)).collect();
        Self {
            patterns: vec![None; columns.len()],
            simplex: Simplex::new(wanted, columns, basis),
            rows,
            items,
            most,
            least,
            offered: 0,
        }
    }

    /// Moves to another range of bars; false if that takes too long.
    pub(super) fn move_to(&mut self, range: &Range) -> bool {
        let most = self.most.iter().zip(&range.most);
        let least = self.least.iter().zip(&range.least);
        for (row, amount) in most.chain(least) {
            if let Some(row) = row {
                self.rows[*row].amount = *amount;
            }
        }
        let wanted = (0..self.rows.len()).map(|row| shifted(&self.rows, row));
        self.simplex
            .move_to(wanted.collect(), MOVE * self.rows.len())
    }

    /// Offers one more pattern; `cost` is in units of the dearest bar.
    pub(super) fn offer(&mut self, pattern: &Pattern, index: usize, cost: f64) {
        let items = pattern
            .cuts
            .iter()
            .filter_map(|(item, count)| Some((self.items[*item]?, *count as f64)));
        let bar = [&self.most, &self.least]
            .into_iter()
            .filter_map(|rows| Some((rows[pattern.bar]?, 1.0)));
        let entries = items.chain(bar).collect();
        self.simplex.offer(Column { cost, entries });
        self.patterns.push(Some(index));
        self.offered = index + 1;
    }

    /// The cheapest plan with the patterns offered; false if it was not found.
    pub(super) fn optimise(&mut self) -> bool {
        self.simplex.optimise()
    }

    /// The patterns of the plan, and how often each is taken.
    pub(super) fn taken(&self) -> Vec<(usize, f64)> {
        let wanted: Vec<f64> = self.rows.iter().map(|row| row.amount as f64).collect();
        let levels = self.simplex.solution(&wanted);
        let basis = self.simplex.basis().iter().zip(levels);
        let mut taken: Vec<(usize, f64)> = basis
            .filter(|(_, level)| *level > TOLERANCE)
            .filter_map(|(column, level)| Some((self.patterns[*column]?, level)))
            .collect();
        taken.sort_unstable_by_key(|(pattern, _)| *pattern);
        taken
    }

    /// What one more piece of an item costs.
    pub(super) fn item_price(&self, item: usize) -> f64 {
        self.items[item].map_or(0.0, |row| self.simplex.price(row))
    }

    /// What a bar costs beyond its price because of the limits on its kind.
    pub(super) fn surcharge(&self, bar: usize) -> f64 {
        [self.most[bar], self.least[bar]]
            .into_iter()
            .flatten()
            .map(|row| -self.simplex.price(row))
            .sum()
    }
}

/// The amount of a row, moved a little to the loose side of a limit, so that
/// plans stay possible.
fn shifted(rows: &[Row], row: usize) -> f64 {
    // Multiples of the golden section modulo 1 never come near each other.
    let spread = (row as f64 * 0.618_033_988_749_894_9).fract();
    let Row { side, amount } = rows[row];
    let side = if side == Side::Least { -1.0 } else { 1.0 };
    amount as f64 + side * SHIFT * (1.0 + spread)
}
