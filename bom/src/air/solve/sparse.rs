//! The linear equations of a core: symmetric, positive definite and sparse.

use faer::linalg::solvers::SolveCore;
use faer::sparse::linalg::solvers::{Llt, SymbolicLlt};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{Conj, MatMut, Side};

/// The matrix of edges between unknown nodes, by its lower half. Its pattern
/// is worked out once, its figures anew for each step.
pub(super) struct Laplacian {
    columns: Vec<usize>,
    rows: Vec<usize>,
    values: Vec<f64>,
    /// Where each edge's two unknowns meet; none where one end is known.
    slots: Vec<Option<usize>>,
    symbolic: SymbolicLlt<usize>,
}

impl Laplacian {
    /// None if there is no memory for it.
    pub(super) fn new(size: usize, edges: &[[Option<usize>; 2]]) -> Option<Self> {
        let pair = |edge: &[Option<usize>; 2]| {
            let (a, b) = edge[0].zip(edge[1])?;
            Some((a.min(b), a.max(b)))
        };
        let mut entries: Vec<(usize, usize)> = (0..size).map(|node| (node, node)).collect();
        entries.extend(edges.iter().filter_map(pair));
        entries.sort_unstable();
        entries.dedup();
        let mut columns = vec![0; size + 1];
        for (column, _) in &entries {
            columns[column + 1] += 1;
        }
        for column in 0..size {
            columns[column + 1] += columns[column];
        }
        let slots = edges
            .iter()
            .map(|edge| entries.binary_search(&pair(edge)?).ok())
            .collect();
        let rows: Vec<usize> = entries.iter().map(|(_, row)| *row).collect();
        let pattern = SymbolicSparseColMatRef::new_checked(size, size, &columns, None, &rows);
        let symbolic = SymbolicLlt::try_new(pattern, Side::Lower).ok()?;
        Some(Self {
            values: vec![0.0; rows.len()],
            columns,
            rows,
            slots,
            symbolic,
        })
    }

    /// Solves for these weights of the edges, in place. None if the figures
    /// are beyond what numbers hold.
    pub(super) fn solve(
        &mut self,
        edges: &[[Option<usize>; 2]],
        weights: &[f64],
        right: &mut [f64],
    ) -> Option<()> {
        self.values.fill(0.0);
        for ((edge, weight), slot) in edges.iter().zip(weights).zip(&self.slots) {
            // A column begins with its diagonal.
            for end in edge.iter().flatten() {
                self.values[self.columns[*end]] += weight;
            }
            if let Some(slot) = slot {
                self.values[*slot] -= weight;
            }
        }
        let size = right.len();
        let pattern =
            SymbolicSparseColMatRef::new_checked(size, size, &self.columns, None, &self.rows);
        let matrix = SparseColMatRef::new(pattern, &self.values);
        let factor = Llt::try_new_with_symbolic(self.symbolic.clone(), matrix, Side::Lower).ok()?;
        let column = MatMut::from_column_major_slice_mut(&mut *right, size, 1);
        factor.solve_in_place_with_conj(Conj::No, column);
        right.iter().all(|value| value.is_finite()).then_some(())
    }
}
