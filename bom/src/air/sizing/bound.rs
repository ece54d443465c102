//! What the rest of the tree costs at least, beside a part that is settled.
//!
//! Only one case is looked at, a group of them or all of them taken leniently as
//! one, so that what a subtree costs depends on a single pressure. Going up, every pipe gets the least cost of its
//! subtree for each pressure above it; going down, the least cost of all the
//! rest for each pressure that is left for it there. Long lists are thinned to
//! the lenient side.

use super::grouped::Grouped;
use super::problem::{Problem, Tie};

/// (pressure, cost): from this pressure up the subtree costs this. Pressures
/// rise, costs fall.
type Falling = Vec<(f64, f64)>;

/// (pressure, cost): to have this pressure the rest costs this. Both rise.
type Rising = Vec<(f64, f64)>;

/// Lower bounds for what stands beside a subtree.
#[derive(Debug)]
pub(super) struct Rest {
    /// The problem with the one case.
    one: Grouped,
    /// Per pipe, then per choice of its parent: what its subtree costs.
    offers: Vec<Vec<Falling>>,
    /// Per pipe, then per choice of it: what everything else costs.
    rest: Vec<Vec<Rising>>,
    /// What the whole costs at least; none if it cannot be done.
    pub(super) whole: Option<f64>,
}

impl Rest {
    /// From the problem with one case, which is lenient; `points` is how long the
    /// lists may be.
    pub(super) fn new(
        problem: &Problem,
        (children, open, largest): (&[Vec<usize>], &[Vec<usize>], &[usize]),
        one: Grouped,
        points: usize,
    ) -> Self {
        let count = problem.pipes.len();
        let most = one.most(problem, largest);
        let mut rest = Self {
            one,
            offers: vec![Vec::new(); count],
            rest: vec![Vec::new(); count],
            whole: Some(0.0),
        };
        let mut roots = Vec::new();
        for (at, pipe) in problem.pipes.iter().enumerate().rev() {
            let mut fronts = vec![Falling::new(); pipe.choices.len()];
            for &choice in &open[at] {
                let mut front = vec![(rest.one.least(at)[0], 0.0)];
                for &child in &children[at] {
                    front = sum(&front, &rest.offers[child][choice]);
                }
                let (loss, cost) = (rest.one.loss(at, choice)[0], pipe.choices[choice].cost);
                front
                    .iter_mut()
                    .for_each(|point| *point = (point.0 + loss, point.1 + cost));
                front.retain(|point| point.0 <= most[at][0]);
                fronts[choice] = thin_falling(front, points);
            }
            match pipe.parent {
                Some(parent) => rest.offers[at] = offers(problem, at, parent, &fronts),
                None => {
                    let ends = fronts.iter().filter_map(|front| front.last());
                    let least = ends.map(|point| point.1).reduce(f64::min);
                    rest.whole = rest.whole.zip(least).map(|(a, b)| a + b);
                    roots.push((at, least.unwrap_or(f64::INFINITY)));
                }
            }
        }
        for (at, least) in roots {
            let others = rest.whole.map_or(f64::INFINITY, |whole| whole - least);
            rest.rest[at] =
                vec![vec![(rest.one.source[0], others)]; problem.pipes[at].choices.len()];
        }
        for (at, children) in children.iter().enumerate() {
            rest.hand_down(problem, children, open, at, points);
        }
        rest
    }

    fn hand_down(
        &mut self,
        problem: &Problem,
        children: &[usize],
        open: &[Vec<usize>],
        at: usize,
        points: usize,
    ) {
        let pipe = &problem.pipes[at];
        let mut below = vec![vec![Rising::new(); pipe.choices.len()]; children.len()];
        for &choice in &open[at] {
            for &(pressure, cost) in &self.rest[at][choice] {
                let left = pressure - self.one.loss(at, choice)[0];
                if left < self.one.least(at)[0] {
                    continue;
                }
                let costs: Vec<f64> = children
                    .iter()
                    .map(|&child| falling(&self.offers[child][choice], left))
                    .collect();
                let dear = costs.iter().filter(|cost| cost.is_infinite()).count();
                let sum: f64 = costs.iter().filter(|cost| cost.is_finite()).sum();
                let own = cost + pipe.choices[choice].cost;
                // More pressure can make the others cheaper, so what is handed
                // down rises in pressure only; `cheapest` mends that.
                for (below, &cost) in below.iter_mut().zip(&costs) {
                    match (dear, cost.is_infinite()) {
                        (0, _) => below[choice].push((left, own + sum - cost)),
                        (1, true) => below[choice].push((left, own + sum)),
                        _ => {}
                    }
                }
            }
        }
        for (below, &child) in below.iter().zip(children) {
            let mine = &problem.pipes[child];
            let ranks: Vec<u8> = pipe.choices.iter().map(|choice| choice.rank).collect();
            let mut next = ranks.len();
            let mut heard = Rising::new();
            let mut lists = vec![Rising::new(); mine.choices.len()];
            for (choice, list) in lists.iter_mut().enumerate().rev() {
                let rank = mine.choices[choice].rank;
                match mine.tie {
                    Tie::Same => {
                        if let Ok(same) = ranks.binary_search(&rank) {
                            *list = cheapest(&below[same], &[]);
                        }
                    }
                    Tie::Free | Tie::AtMost => {
                        while next > 0 && mine.tie.allows(rank, ranks[next - 1]) {
                            next -= 1;
                            heard = thin_rising(cheapest(&heard, &below[next]), points);
                        }
                        list.clone_from(&heard);
                    }
                }
            }
            self.rest[child] = lists;
        }
    }

    /// What everything else costs, if a pipe with this choice wants this
    /// pressure above it; ∞ if it cannot be had.
    pub(super) fn beside(&self, pipe: usize, choice: usize, wanted: f64) -> f64 {
        rising(&self.rest[pipe][choice], wanted)
    }

    /// The same below the pipe, once some of its children are settled: entry i
    /// is for the children up to the i-th. It counts the pipe.
    pub(super) fn partly(
        &self,
        problem: &Problem,
        children: &[usize],
        pipe: usize,
        choice: usize,
    ) -> Vec<Partly> {
        let loss = self.one.loss(pipe, choice)[0];
        let mut points: Rising = self.rest[pipe][choice].clone();
        let cost = problem.pipes[pipe].choices[choice].cost;
        points
            .iter_mut()
            .for_each(|point| *point = (point.0 - loss, point.1 + cost));
        let mut lists = Vec::with_capacity(children.len());
        for &child in children.iter().rev() {
            lists.push(Partly(points.clone()));
            for point in &mut points {
                point.1 += falling(&self.offers[child][choice], point.0);
            }
            // What is left costs more with less pressure: the cheapest of those
            // that leave enough counts.
            points = cheapest(&points, &[]);
        }
        lists.reverse();
        lists
    }
}

/// What is left to pay below a pipe.
#[derive(Debug)]
pub(super) struct Partly(Rising);

impl Partly {
    /// If this pressure is wanted there; ∞ if it cannot be had.
    pub(super) fn cost(&self, wanted: f64) -> f64 {
        rising(&self.0, wanted)
    }
}

fn falling(front: &[(f64, f64)], pressure: f64) -> f64 {
    let after = front.partition_point(|point| point.0 <= pressure);
    after.checked_sub(1).map_or(f64::INFINITY, |at| front[at].1)
}

fn rising(list: &[(f64, f64)], wanted: f64) -> f64 {
    let at = list.partition_point(|point| point.0 < wanted);
    list.get(at).map_or(f64::INFINITY, |point| point.1)
}

/// Two subtrees below one place.
fn sum(a: &Falling, b: &Falling) -> Falling {
    let (Some(first), Some(second)) = (a.first(), b.first()) else {
        return Falling::new();
    };
    let mut points = vec![(first.0.max(second.0), 0.0)];
    let (mut i, mut j) = (0, 0);
    loop {
        let next = |list: &Falling, at: usize| list.get(at).map_or(f64::INFINITY, |point| point.0);
        let here = points.last().map_or(f64::NEG_INFINITY, |point| point.0);
        while next(a, i + 1) <= here {
            i += 1;
        }
        while next(b, j + 1) <= here {
            j += 1;
        }
        if let Some(point) = points.last_mut() {
            point.1 = a[i].1 + b[j].1;
        }
        let further = next(a, i + 1).min(next(b, j + 1));
        if further.is_infinite() {
            return points;
        }
        points.push((further, 0.0));
    }
}

/// The cheaper of two subtrees at each pressure.
fn lower(a: &Falling, b: &Falling) -> Falling {
    let mut points: Falling = Vec::with_capacity(a.len() + b.len());
    let (mut a, mut b) = (a.iter().peekable(), b.iter().peekable());
    loop {
        let first = match (a.peek(), b.peek()) {
            (Some(x), Some(y)) => x.0 < y.0 || (x.0.total_cmp(&y.0).is_eq() && x.1 <= y.1),
            (one, _) => one.is_some(),
        };
        let Some(&point) = (if first { a.next() } else { b.next() }) else {
            return points;
        };
        if points.last().is_none_or(|last| point.1 < last.1) {
            points.push(point);
        }
    }
}

/// The cheaper of two rests for each pressure that is wanted.
fn cheapest(a: &[(f64, f64)], b: &[(f64, f64)]) -> Rising {
    let mut points: Rising = Vec::with_capacity(a.len() + b.len());
    let (mut a, mut b) = (a.iter().rev().peekable(), b.iter().rev().peekable());
    loop {
        let first = match (a.peek(), b.peek()) {
            (Some(x), Some(y)) => x.0 > y.0 || (x.0.total_cmp(&y.0).is_eq() && x.1 <= y.1),
            (one, _) => one.is_some(),
        };
        let Some(&point) = (if first { a.next() } else { b.next() }) else {
            points.reverse();
            return points;
        };
        if point.1 < points.last().map_or(f64::INFINITY, |last| last.1) {
            points.push(point);
        }
    }
}

fn offers(problem: &Problem, child: usize, parent: usize, fronts: &[Falling]) -> Vec<Falling> {
    let pipe = &problem.pipes[child];
    let mut next = 0;
    let mut heard = Falling::new();
    let mut offers = Vec::with_capacity(problem.pipes[parent].choices.len());
    for above in &problem.pipes[parent].choices {
        if pipe.tie == Tie::Same {
            heard.clear();
            next = pipe
                .choices
                .partition_point(|choice| choice.rank < above.rank);
        }
        while next < fronts.len() && pipe.tie.allows(pipe.choices[next].rank, above.rank) {
            heard = lower(&heard, &fronts[next]);
            next += 1;
        }
        offers.push(heard.clone());
    }
    offers
}

/// Joins points that cost nearly the same: the lower pressure at the lower cost.
fn thin_falling(front: Falling, points: usize) -> Falling {
    let (Some(first), Some(last), true) = (front.first(), front.last(), front.len() > points)
    else {
        return front;
    };
    let step = (first.1 - last.1) / f64::from(u32::try_from(points).unwrap_or(u32::MAX));
    let mut thin: Falling = Vec::with_capacity(points + 1);
    let mut top = f64::INFINITY;
    for point in front {
        match thin.last_mut() {
            Some(last) if top - point.1 < step => last.1 = point.1,
            _ => {
                top = point.1;
                thin.push(point);
            }
        }
    }
    thin
}

/// Joins points that cost nearly the same: the higher pressure at the lower cost.
fn thin_rising(list: Rising, points: usize) -> Rising {
    let (Some(first), Some(last), true) = (list.first(), list.last(), list.len() > points) else {
        return list;
    };
    let step = (last.1 - first.1) / f64::from(u32::try_from(points).unwrap_or(u32::MAX));
    let mut thin: Rising = Vec::with_capacity(points + 1);
    for point in list {
        match thin.last_mut() {
            Some(last) if point.1 - last.1 < step => last.0 = point.0,
            _ => thin.push(point),
        }
    }
    thin
}
