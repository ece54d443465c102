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
const SHIFT: f64 = 1e-6;
/// Pivots after which the inverse is worked out afresh.
const FRESH: usize = 2000;
const PIVOTS: usize = 20_000;

#[derive(Debug)]
pub(super) struct Master {
    rows: usize,
    wanted: Vec<f64>,
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
}

#[derive(Debug)]
struct Column {
    cost: f64,
    entries: Vec<(usize, f64)>,
    pattern: Option<usize>,
}

impl Master {
    pub(super) fn new(demand: &[i64], range: &Range) -> Self {
        let mut wanted = Vec::new();
        let mut columns = Vec::new();
        let mut basis = Vec::new();
        let mut row = |amount: i64, slack: f64| {
            let row = wanted.len();
            wanted.push(amount as f64);
            basis.push(columns.len());
            let entry = |sign: f64| vec![(row, sign)];
            columns.push(Column {
                cost: if slack < 0.0 { MISSING } else { 0.0 },
                entries: entry(1.0),
                pattern: None,
            });
            if slack < 0.0 {
                columns.push(Column {
                    cost: 0.0,
                    entries: entry(slack),
                    pattern: None,
                });
            }
            row
        };
        let item_rows = demand
            .iter()
            .map(|count| (*count > 0).then(|| row(*count, -1.0)))
            .collect();
        let pieces: i64 = demand.iter().sum();
        let most_rows = range
            .most
            .iter()
            .map(|most| (*most < pieces).then(|| row(*most, 1.0)))
            .collect();
        let least_rows = range
            .least
            .iter()
            .map(|least| (*least > 0).then(|| row(*least, -1.0)))
            .collect();
        let rows = wanted.len();
        let mut master = Self {
            rows,
            inverse: vec![0.0; rows * rows],
            prices: vec![0.0; rows],
            levels: vec![0.0; rows],
            wanted,
            basis,
            columns,
            item_rows,
            most_rows,
            least_rows,
            pivots: 0,
        };
        for row in 0..rows {
            master.inverse[row * rows + row] = 1.0;
            master.prices[row] = master.columns[master.basis[row]].cost;
            master.levels[row] = master.shifted(row);
        }
        master
    }

    /// Offers one more pattern; `cost` is in units of the dearest bar.
    pub(super) fn offer(&mut self, pattern: &Pattern, index: usize, cost: f64) {
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
            self.pivots += 1;
            if self.pivots.is_multiple_of(FRESH) {
                self.refresh();
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

    /// Brings a column into the basis; false if nothing would have to leave.
    fn pivot(&mut self, entering: usize, reduced: f64) -> bool {
        let rows = self.rows;
        let entries = &self.columns[entering].entries;
        let change: Vec<f64> = self
            .inverse
            .chunks_exact(rows)
            .map(|line| entries.iter().map(|(at, amount)| line[*at] * amount).sum())
            .collect();
        let mut leaving = None;
        let mut step = f64::INFINITY;
        for (row, change) in change.iter().enumerate() {
            if *change > PIVOT {
                step = step.min((self.levels[row].max(0.0) + TOLERANCE) / change);
            }
        }
        for (row, amount) in change.iter().enumerate() {
            let bound_to = *amount > PIVOT && self.levels[row].max(0.0) / amount <= step;
            if bound_to && leaving.is_none_or(|best: usize| *amount > change[best]) {
                leaving = Some(row);
            }
        }
        let Some(leaving) = leaving else { return false };
        let step = self.levels[leaving].max(0.0) / change[leaving];

        let pivot = change[leaving];
        let mut line: Vec<f64> = self.inverse[leaving * rows..(leaving + 1) * rows].to_vec();
        for value in &mut line {
            *value /= pivot;
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
        for (level, change) in self.levels.iter_mut().zip(&change) {
            *level -= change * step;
        }
        self.levels[leaving] = step;
        for (price, share) in self.prices.iter_mut().zip(&line) {
            *price += reduced * share;
        }
        self.basis[leaving] = entering;
        true
    }

    /// Inverts the basis anew, for each pivot leaves a trace of rounding.
    fn refresh(&mut self) {
        let rows = self.rows;
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
        self.levels = self.basic(|row| self.shifted(row));
        self.prices = vec![0.0; rows];
        for (line, index) in self.inverse.chunks_exact(rows).zip(&self.basis) {
            let cost = self.columns[*index].cost;
            for (price, value) in self.prices.iter_mut().zip(line) {
                *price += cost * value;
            }
        }
    }

    fn shifted(&self, row: usize) -> f64 {
        // Multiples of the golden section modulo 1 never come near each other.
        let spread = (row as f64 * 0.618_033_988_749_894_9).fract();
        // Towards the loose side of a limit, so that a plan stays possible.
        let side = if self.least_rows.contains(&Some(row)) {
            -1.0
        } else {
            1.0
        };
        self.wanted[row] + side * SHIFT * (1.0 + spread)
    }

    fn basic(&self, wanted: impl Fn(usize) -> f64) -> Vec<f64> {
        let wanted: Vec<f64> = (0..self.rows).map(wanted).collect();
        self.inverse
            .chunks_exact(self.rows.max(1))
            .map(|line| line.iter().zip(&wanted).map(|(a, b)| a * b).sum())
            .collect()
    }

    /// The patterns of the plan, and how often each is taken.
    pub(super) fn taken(&self) -> Vec<(usize, f64)> {
        let levels = self.basic(|row| self.wanted[row]);
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
