//! Cases in groups by how heavy they are.

use super::grouped::{Grouped, Way};
use super::problem::Problem;

/// Weights that are apart by less than this share of them are equal.
const EQUAL: f64 = 1e-9;

/// The cases, parted.
#[derive(Debug)]
pub(super) struct Groups {
    /// What each case takes more than the outside flow in the first pipe that
    /// it is inside of.
    weight: Vec<f64>,
    /// The cases of each group; the groups rise in weight.
    groups: Vec<Vec<usize>>,
}

impl Groups {
    /// The heaviest cases, and all others: by the heaviest most sizes are settled.
    pub(super) fn new(problem: &Problem) -> Self {
        let mut weight = vec![None; problem.source.len()];
        for pipe in &problem.pipes {
            let choice = &pipe.choices[0];
            for (&case, loss) in pipe.inside.iter().zip(&choice.inside) {
                weight[case].get_or_insert(loss - choice.outside);
            }
        }
        let highest = problem.source.iter().copied().fold(0.0, f64::max);
        let weigh = weight.iter().zip(&problem.source);
        let weight: Vec<f64> = weigh
            .map(|(weight, source)| weight.unwrap_or(0.0) + (highest - source))
            .collect();
        let mut all: Vec<usize> = (0..weight.len()).collect();
        all.sort_by(|&a, &b| weight[a].total_cmp(&weight[b]).then(a.cmp(&b)));
        let split = all
            .last()
            .map_or(0, |&heaviest| lighter(&all, &weight, heaviest));
        let heaviest = all.split_off(split);
        let mut groups = vec![all, heaviest];
        groups.retain(|group| !group.is_empty());
        Self { weight, groups }
    }

    /// How many groups there are.
    pub(super) fn count(&self) -> usize {
        self.groups.len()
    }

    /// The problem with a case for each group.
    pub(super) fn grouped(&self, problem: &Problem, way: Way) -> Grouped {
        let mut group = vec![0; self.weight.len()];
        for (at, cases) in self.groups.iter().enumerate() {
            cases.iter().for_each(|&case| group[case] = at);
        }
        Grouped::new(problem, &group, self.groups.len(), way)
    }

    /// Parts the group of this case: the lighter ones from those as heavy or
    /// heavier, or the case from the others if none is lighter. The group and the one
    /// behind it are the two; none if the case is alone.
    pub(super) fn part(&mut self, case: usize) -> Option<usize> {
        let at = self.groups.iter().position(|group| group.contains(&case))?;
        if self.groups[at].len() == 1 {
            return None;
        }
        let group = &mut self.groups[at];
        let mut split = lighter(group, &self.weight, case);
        if split == 0 {
            // The weights of the rest are no lower, so the order stays.
            group.retain(|&other| other != case);
            group.insert(0, case);
            split = 1;
        }
        let heavier = group.split_off(split);
        self.groups.insert(at + 1, heavier);
        Some(at)
    }
}

/// How many of a group, which rises in weight, are lighter than one of its cases.
fn lighter(group: &[usize], weight: &[f64], case: usize) -> usize {
    let least = weight[case] - EQUAL * weight[case].abs();
    group.partition_point(|&other| weight[other] < least)
}
