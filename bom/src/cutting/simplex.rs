//! Linear programs: the least cost of columns that sum up to the wanted
//! amounts of all rows.
//!
//! Revised simplex with the inverse of the basis kept whole. Nothing here is
//! exact, and nothing needs to be: see `prices`.

use super::inverse::inverted;

/// What counts as nothing.
pub(super) const TOLERANCE: f64 = 1e-9;
/// The least number worth dividing by.
const PIVOT: f64 = 1e-7;
/// Pivots after which the inverse is worked out afresh.
const FRESH: usize = 300;
/// Pivots that one program may take: so many, and so many numbers changed.
const PIVOTS: usize = 20_000;
const CHANGES: usize = 2_000_000_000;

#[derive(Debug, Clone)]
pub(super) struct Simplex {
    wanted: Vec<f64>,
    columns: Vec<Column>,
    /// The column that stands for each row, and how often it is taken.
    basis: Vec<usize>,
    levels: Vec<f64>,
    /// What one more of each row costs.
    prices: Vec<f64>,
    /// Row by row.
    inverse: Vec<f64>,
    /// Pivots so far, and those since the inverse was fresh.
    pivots: usize,
    stale: usize,
}

/// A column: what it costs, and the amounts it has in rows.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub(super) cost: f64,
    pub(super) entries: Vec<(usize, f64)>,
}

impl Simplex {
    /// A program whose basis has for each row a column with 1 or -1 in this
    /// row alone.
    pub(super) fn new(wanted: Vec<f64>, columns: Vec<Column>, basis: Vec<usize>) -> Self {
        let rows = wanted.len();
        let mut inverse = vec![0.0; rows * rows];
        let mut prices = Vec::with_capacity(rows);
        for (row, column) in basis.iter().enumerate() {
            let column = &columns[*column];
            let sign = column.entries.first().map_or(1.0, |(_, sign)| *sign);
            inverse[row * rows + row] = sign;
            prices.push(column.cost * sign);
        }
        let mut simplex = Self {
            levels: Vec::new(),
            wanted,
            columns,
            basis,
            prices,
            inverse,
            pivots: 0,
            stale: 0,
        };
        simplex.levels = simplex.solution(&simplex.wanted);
        simplex
    }

    pub(super) fn offer(&mut self, column: Column) {
        self.columns.push(column);
    }

    pub(super) fn price(&self, row: usize) -> f64 {
        self.prices[row]
    }

    pub(super) fn basis(&self) -> &[usize] {
        &self.basis
    }

    /// How often the columns of the basis are taken for other amounts.
    pub(super) fn solution(&self, wanted: &[f64]) -> Vec<f64> {
        self.inverse
            .chunks_exact(wanted.len().max(1))
            .map(|line| line.iter().zip(wanted).map(|(a, b)| a * b).sum())
            .collect()
    }

    /// Goes over to other amounts. The basis of the best plan keeps its prices,
    /// and pivots that let no column save anything make it a plan again. False
    /// if that takes more than `most` pivots.
    pub(super) fn move_to(&mut self, wanted: Vec<f64>, most: usize) -> bool {
        self.levels = self.solution(&wanted);
        self.wanted = wanted;
        self.pivots = 0;
        while self.pivots < most {
            if !self.pivot_dual() {
                self.pivots = 0;
                return true;
            }
        }
        false
    }

    /// Pivots until no column makes the plan cheaper; false if that
    /// takes too long.
    pub(super) fn optimise(&mut self) -> bool {
        let squares = self.wanted.len() * self.wanted.len();
        while self.pivots < PIVOTS.min(CHANGES / squares.max(1)) {
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
        self.levels = self.solution(&self.wanted);
        self.prices = vec![0.0; rows];
        for (line, index) in self.inverse.chunks_exact(rows).zip(&self.basis) {
            let cost = self.columns[*index].cost;
            for (price, value) in self.prices.iter_mut().zip(line) {
                *price += cost * value;
            }
        }
    }
}
