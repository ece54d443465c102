//! The linear program over patterns: take fractions of patterns so that every
//! item is cut often enough, at the least cost.
//!
//! Revised primal simplex with the inverse of the basis kept whole. The demands
//! are shifted by tiny unequal amounts, which keeps it from standing still
//! where many bases describe the same plan. Nothing here is exact and nothing
//! needs to be: its prices become a bound only in [`super::relax`].

use super::problem::{Pattern, Range};

/// What it costs, in units of the dearest bar, to leave an item uncut.
pub(super) const MISSING: f64 = 4.0;

const TOLERANCE: f64 = 1e-9;
/// The least number worth dividing by.
const PIVOT: f64 = 1e-7;
const SHIFT: f64 = 1e-5;
/// Pivots after which the inverse is worked out afresh.
const FRESH: usize = 300;
const PIVOTS: usize = 20_000;
/// Pivots for every row after which a move has taken too long.
const MOVE: usize = 3;

#[derive(Debug, Clone, Default)]
pub(super) struct Master {
    /// The right-hand side of every row, as it is and shifted.
    wanted: Vec<f64>,
    shifted: Vec<f64>,
    sides: Vec<Side>,
    /// Row by row.
    inverse: Vec<f64>,
    prices: Vec<f64>,
    levels: Vec<f64>,
    basis: Vec<usize>,
    columns: Vec<Column>,
    /// The row of every item and the rows of every bar, if they have one.
    item_rows: Vec<Option<usize>>,
    most_rows: Vec<Option<usize>>,
    least_rows: Vec<Option<usize>>,
    pivots: usize,
    /// Pivots since the last refresh.
    stale: usize,
    /// Where the patterns begin that were not offered yet.
    pub(super) offered: usize,
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

#[derive(Debug, Clone)]
struct Column {
    cost: f64,
    entries: Vec<(usize, f64)>,
    pattern: Option<usize>,
}

impl Master {
    /// The program for a demand, with a row for each limit that can matter or,
    /// where the range is to be narrowed later, for every limit.
    pub(super) fn new(demand: &[i64], range: &Range, narrows: bool) -> Self {
        let pieces: i64 = demand.iter().sum();
        let mut master = Self::default();
        master.item_rows = demand
            .iter()
            .map(|count| (*count > 0).then(|| master.row(*count, Side::Item)))
            .collect();
        master.most_rows = range
            .most
            .iter()
            .map(|most| (narrows || *most < pieces).then(|| master.row(*most, Side::Most)))
            .collect();
        master.least_rows = range
            .least
            .iter()
            .map(|least| (narrows || *least > 0).then(|| master.row(*least, Side::Least)))
            .collect();
        let rows = master.wanted.len();
        master.inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            let column = &master.columns[master.basis[row]];
            let sign = column.entries[0].1;
            master.inverse[row * rows + row] = sign;
            master.prices.push(column.cost * sign);
        }
        master.levels = master.basic(&master.shifted);
        master
    }

    /// A new row with its two slacks, of which the one on the wrong side is
    /// dear; the basis begins with the one that is positive.
    fn row(&mut self, amount: i64, side: Side) -> usize {
        let row = self.wanted.len();
        self.wanted.push(amount as f64);
        self.sides.push(side);
        self.shifted.push(self.shift(row));
        let (lack, spare) = match side {
            Side::Item | Side::Least => (MISSING, 0.0),
            Side::Most => (0.0, MISSING),
        };
        self.basis
            .push(self.columns.len() + usize::from(self.shifted[row] < 0.0));
        for (cost, sign) in [(lack, 1.0), (spare, -1.0)] {
            self.columns.push(Column {
                cost,
                entries: vec![(row, sign)],
                pattern: None,
            });
        }
        row
    }

    /// The amount of a row, moved a little to the loose side, so that plans
    /// stay possible.
    fn shift(&self, row: usize) -> f64 {
        // Multiples of the golden section modulo 1 never come near each other.
        let spread = (row as f64 * 0.618_033_988_749_894_9).fract();
        let side = if self.sides[row] == Side::Least {
            -1.0
        } else {
            1.0
        };
        self.wanted[row] + side * SHIFT * (1.0 + spread)
    }

    /// Moves to another range of bars. The basis stays dual feasible, and
    /// pivots that keep it so bring it back to a plan. False if that takes
    /// too long.
    pub(super) fn move_to(&mut self, range: &Range) -> bool {
        let most = self.most_rows.iter().zip(&range.most);
        let least = self.least_rows.iter().zip(&range.least);
        for (row, amount) in most.chain(least) {
            if let Some(row) = row {
                self.wanted[*row] = *amount as f64;
            }
        }
        self.shifted = (0..self.wanted.len()).map(|row| self.shift(row)).collect();
        self.levels = self.basic(&self.shifted);
        self.pivots = 0;
        while self.pivots < MOVE * self.wanted.len() {
            if !self.pivot_dual() {
                self.pivots = 0;
                return true;
            }
        }
        false
    }

    /// Offers one more pattern; `cost` is in units of the dearest bar.
    pub(super) fn offer(&mut self, pattern: &Pattern, index: usize, cost: f64) {
        self.offered = index + 1;
        let items = pattern
            .cuts
            .iter()
            .filter_map(|(item, count)| Some((self.item_rows[*item]?, *count as f64)));
        let bar = [&self.most_rows, &self.least_rows]
            .into_iter()
            .filter_map(|rows| Some((rows[pattern.bar]?, 1.0)));
        let entries = items.chain(bar).collect();
        self.columns.push(Column {
            cost,
            entries,
            pattern: Some(index),
        });
    }

    /// Pivots until no offered pattern makes the plan cheaper; false if that
    /// takes too long.
    pub(super) fn optimise(&mut self) -> bool {
        while self.pivots < PIVOTS {
            let mut entering = None;
            let mut steepest = -TOLERANCE;
            for (index, column) in self.columns.iter().enumerate() {
                let reduced = self.reduced(column);
                if reduced < steepest {
                    steepest = reduced;
                    entering = Some(index);
                }
            }
            let Some(entering) = entering else {
                return true;
            };
            if !self.pivot(entering, steepest) {
                return false;
            }
        }
        false
    }

    fn reduced(&self, column: &Column) -> f64 {
        column
            .entries
            .iter()
            .fold(column.cost, |left, (row, amount)| {
                left - self.prices[*row] * amount
            })
    }

    /// The inverse times a column.
    fn change(&self, column: usize) -> Vec<f64> {
        let entries = &self.columns[column].entries;
        self.inverse
            .chunks_exact(self.wanted.len())
            .map(|line| entries.iter().map(|(at, amount)| line[*at] * amount).sum())
            .collect()
    }

    /// Brings a column into the basis; false if nothing would have to leave.
    fn pivot(&mut self, entering: usize, reduced: f64) -> bool {
        let change = self.change(entering);
        let level = |row: usize| self.levels[row].max(0.0);
        // Of the rows that run out first, the one with the largest divisor.
        let step = (0..change.len())
            .filter(|row| change[*row] > PIVOT)
            .map(|row| (level(row) + TOLERANCE) / change[row])
            .fold(f64::INFINITY, f64::min);
        let leaving = (0..change.len())
            .filter(|row| change[*row] > PIVOT && level(*row) / change[*row] <= step)
            .max_by(|a, b| change[*a].total_cmp(&change[*b]).then(b.cmp(a)));
        let Some(leaving) = leaving else { return false };
        self.levels[leaving] = level(leaving);
        self.exchange(entering, reduced, &change, leaving);
        true
    }

    /// Takes the row with the lowest negative level out of the basis; false if
    /// there is none.
    fn pivot_dual(&mut self) -> bool {
        let rows = self.wanted.len();
        let lowest = (0..rows).min_by(|a, b| self.levels[*a].total_cmp(&self.levels[*b]));
        let Some(leaving) = lowest.filter(|row| self.levels[*row] < -TOLERANCE) else {
            return false;
        };
        let line = &self.inverse[leaving * rows..(leaving + 1) * rows];
        let candidates: Vec<(usize, f64, f64)> = self
            .columns
            .iter()
            .enumerate()
            .filter_map(|(index, column)| {
                let along: f64 = column.entries.iter().map(|(at, by)| line[*at] * by).sum();
                (along < -PIVOT).then(|| (index, -along, self.reduced(column)))
            })
            .collect();
        // Of the columns that run out first, the one with the largest divisor.
        let step = candidates
            .iter()
            .map(|(_, along, reduced)| (reduced.max(0.0) + TOLERANCE) / along)
            .fold(f64::INFINITY, f64::min);
        let entering = candidates
            .into_iter()
            .filter(|(_, along, reduced)| reduced.max(0.0) / along <= step)
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
        let Some((entering, _, reduced)) = entering else {
            return false;
        };
        let change = self.change(entering);
        self.exchange(entering, reduced, &change, leaving);
        true
    }

    fn exchange(&mut self, entering: usize, reduced: f64, change: &[f64], leaving: usize) {
        let rows = self.wanted.len();
        let step = self.levels[leaving] / change[leaving];
        let mut line = self.inverse[leaving * rows..(leaving + 1) * rows].to_vec();
        for value in &mut line {
            *value /= change[leaving];
        }
        for (row, target) in self.inverse.chunks_exact_mut(rows).enumerate() {
            if row == leaving {
                target.copy_from_slice(&line);
            } else if change[row] != 0.0 {
                for (value, subtract) in target.iter_mut().zip(&line) {
                    *value -= change[row] * subtract;
                }
            }
        }
        for (level, change) in self.levels.iter_mut().zip(change) {
            *level -= change * step;
        }
        self.levels[leaving] = step;
        for (price, share) in self.prices.iter_mut().zip(&line) {
            *price += reduced * share;
        }
        self.basis[leaving] = entering;
        self.pivots += 1;
        self.stale += 1;
        if self.stale >= FRESH {
            self.refresh();
        }
    }

    /// Inverts the basis anew, for each pivot leaves a trace of rounding.
    fn refresh(&mut self) {
        self.stale = 0;
        let rows = self.wanted.len();
        let mut basis = vec![0.0; rows * rows];
        for (column, index) in self.basis.iter().enumerate() {
            for (row, amount) in &self.columns[*index].entries {
                basis[row * rows + column] = *amount;
            }
        }
        let Some(inverse) = inverted(basis, rows) else {
            return;
        };
        self.inverse = inverse;
        self.levels = self.basic(&self.shifted);
        self.prices = vec![0.0; rows];
        for (line, index) in self.inverse.chunks_exact(rows).zip(&self.basis) {
            let cost = self.columns[*index].cost;
            for (price, value) in self.prices.iter_mut().zip(line) {
                *price += cost * value;
            }
        }
    }

    fn basic(&self, wanted: &[f64]) -> Vec<f64> {
        self.inverse
            .chunks_exact(wanted.len().max(1))
            .map(|line| line.iter().zip(wanted).map(|(a, b)| a * b).sum())
            .collect()
    }

    /// The patterns of the plan, and how often each is taken.
    pub(super) fn taken(&self) -> Vec<(usize, f64)> {
        let levels = self.basic(&self.wanted);
        let mut taken: Vec<(usize, f64)> = self
            .basis
            .iter()
            .zip(levels)
            .filter(|(_, level)| *level > TOLERANCE)
            .filter_map(|(index, level)| Some((self.columns[*index].pattern?, level)))
            .collect();
        taken.sort_unstable_by_key(|(pattern, _)| *pattern);
        taken
    }

    /// What one more piece of an item costs.
    pub(super) fn item_price(&self, item: usize) -> f64 {
        self.item_rows[item].map_or(0.0, |row| self.prices[row])
    }

    /// What a bar costs beyond its price because of the limits on its kind.
    pub(super) fn surcharge(&self, bar: usize) -> f64 {
        [&self.most_rows, &self.least_rows]
            .into_iter()
            .filter_map(|rows| rows[bar])
            .map(|row| -self.prices[row])
            .sum()
    }
}

/// Gauss-Jordan with row exchange; none if the matrix is singular.
fn inverted(mut matrix: Vec<f64>, rows: usize) -> Option<Vec<f64>> {
    let mut inverse = vec![0.0; rows * rows];
    for row in 0..rows {
        inverse[row * rows + row] = 1.0;
    }
    for column in 0..rows {
        let size = |row: usize| matrix[row * rows + column].abs();
        let pivot = (column..rows).fold(
            column,
            |best, row| {
                if size(row) > size(best) { row } else { best }
            },
        );
        if size(pivot) < TOLERANCE {
            return None;
        }
        for at in 0..rows {
            matrix.swap(pivot * rows + at, column * rows + at);
            inverse.swap(pivot * rows + at, column * rows + at);
        }
        let factor = 1.0 / matrix[column * rows + column];
        for at in 0..rows {
            matrix[column * rows + at] *= factor;
            inverse[column * rows + at] *= factor;
        }
        let own = matrix[column * rows..(column + 1) * rows].to_vec();
        let own_inverse = inverse[column * rows..(column + 1) * rows].to_vec();
        for row in (0..rows).filter(|row| *row != column) {
            let factor = matrix[row * rows + column];
            if factor != 0.0 {
                for at in 0..rows {
                    matrix[row * rows + at] -= factor * own[at];
                    inverse[row * rows + at] -= factor * own_inverse[at];
                }
            }
        }
    }
    Some(inverse)
}
