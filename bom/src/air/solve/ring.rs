//! A core: rings, and everything between several sources. Newton's method on
//! squared pressures and flows at once (the global gradient method of Todini and
//! Pilati, 1988), with the step shortened where it would overshoot.

use super::law::Law;
use super::sparse::Laplacian;

/// An edge of a core.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reach {
    /// Places of its ends among the core's nodes.
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) law: Law,
}

/// A core with places for its nodes.
#[derive(Debug)]
pub(super) struct Ring {
    /// kg/s that leaves at each node.
    pub(super) loads: Vec<f64>,
    /// The squared pressure at each node, Pa²; zero where it is asked for.
    pub(super) known: Vec<f64>,
    pub(super) edges: Vec<Reach>,
}

/// What solves a core.
#[derive(Debug)]
pub(super) struct Settled {
    /// Squared pressures of the nodes. They may be below zero, if the flows do
    /// not get through.
    pub(super) squares: Vec<f64>,
    /// kg/s along the edges.
    pub(super) flows: Vec<f64>,
    pub(super) steps: usize,
    /// Whether the last step was small enough.
    pub(super) settled: bool,
}

/// A step is the last if no edge misses its law by more than this part of the
/// largest loss in the core; one more is then taken.
const CLOSE: f64 = 1e-10;
const MOST_STEPS: usize = 100;

/// What of the highest squared pressure is lost in its last figures, and no
/// miss: a core without any resistance has no loss to measure it by.
const ROUNDING: f64 = 1e-15;

/// The steepest edge is at most so many times as steep as the flattest: a
/// stagnant edge of square law would have no slope at all.
const SLOPES: f64 = 1e12;

/// The least pressure, as a part of the highest, that logarithms are taken of
/// on the way.
const LEAST_SQUARE: f64 = 1e-6;

/// The state between two steps.
struct State<'a> {
    ring: &'a Ring,
    /// Squared pressures less the highest known one: small differences keep
    /// their figures.
    heads: Vec<f64>,
    highest: f64,
    flows: Vec<f64>,
    logs: Vec<f64>,
}

impl Ring {
    /// None if the figures are beyond what numbers hold.
    pub(super) fn solve(&self) -> Option<Settled> {
        let highest = self.known.iter().copied().fold(0.0, f64::max);
        let mut state = State {
            ring: self,
            heads: self.known.iter().map(|known| known - highest).collect(),
            highest,
            flows: vec![0.0; self.edges.len()],
            logs: vec![0.0; self.edges.len()],
        };
        let mut unknowns = vec![None; self.known.len()];
        let mut size = 0;
        for (place, known) in self.known.iter().enumerate() {
            if *known <= 0.0 {
                unknowns[place] = Some(size);
                size += 1;
                state.heads[place] = 0.0;
            }
        }
        let ends: Vec<_> = self
            .edges
            .iter()
            .map(|edge| [unknowns[edge.from], unknowns[edge.to]])
            .collect();
        let mut laplacian = if size > 0 {
            Some(Laplacian::new(size, &ends)?)
        } else {
            None
        };
        let mut settled = false;
        let mut steps = 0;
        while steps < MOST_STEPS {
            let (losses, mut slopes) = if steps == 0 {
                (vec![0.0; self.edges.len()], self.first_slopes())
            } else {
                state.losses()
            };
            let allowed = CLOSE * largest(&losses) + ROUNDING * highest;
            let close = steps > 0 && state.miss(&losses) <= allowed;
            let flattest = largest(&slopes) / SLOPES;
            for slope in &mut slopes {
                *slope = slope.max(flattest).max(f64::MIN_POSITIVE);
            }
            state.step(&losses, &slopes, &unknowns, &ends, laplacian.as_mut())?;
            steps += 1;
            if close {
                settled = true;
                break;
            }
        }
        state.balance();
        Some(Settled {
            squares: state.heads.iter().map(|head| head + highest).collect(),
            flows: state.flows,
            steps,
            settled,
        })
    }

    /// What each edge would lose per kg/s at a share of all the air.
    fn first_slopes(&self) -> Vec<f64> {
        let all: f64 = self.loads.iter().map(|load| load.abs()).sum();
        let share = all.max(1e-3) / 2.0;
        let secant = |edge: &Reach| edge.law.loss(share, 0.0).0 / share;
        self.edges.iter().map(secant).collect()
    }
}

fn largest(values: &[f64]) -> f64 {
    values
        .iter()
        .fold(0.0, |most, value| f64::max(most, value.abs()))
}

impl State<'_> {
    /// The loss along each edge at these flows, and its slope.
    fn losses(&mut self) -> (Vec<f64>, Vec<f64>) {
        let least = LEAST_SQUARE * self.highest;
        let square = |place: usize| (self.heads[place] + self.highest).max(least);
        for (log, edge) in self.logs.iter_mut().zip(&self.ring.edges) {
            *log = (square(edge.from) / square(edge.to)).ln().abs();
        }
        self.losses_of(&self.flows)
    }

    fn losses_of(&self, flows: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let edges = self.ring.edges.iter().zip(flows).zip(&self.logs);
        edges
            .map(|((edge, flow), log)| {
                let (loss, slope) = edge.law.loss(*flow, *log);
                (loss.copysign(*flow), slope)
            })
            .unzip()
    }

    /// How much pressure there is for an edge.
    fn drop(&self, edge: &Reach) -> f64 {
        self.heads[edge.from] - self.heads[edge.to]
    }

    /// The largest miss of a law.
    fn miss(&self, losses: &[f64]) -> f64 {
        let edges = self.ring.edges.iter().zip(losses);
        edges.fold(0.0, |most, (edge, loss)| {
            f64::max(most, (self.drop(edge) - loss).abs())
        })
    }

    fn step(
        &mut self,
        losses: &[f64],
        slopes: &[f64],
        unknowns: &[Option<usize>],
        ends: &[[Option<usize>; 2]],
        laplacian: Option<&mut Laplacian>,
    ) -> Option<()> {
        let weights: Vec<f64> = slopes.iter().map(|slope| 1.0 / slope).collect();
        if let Some(laplacian) = laplacian {
            let mut right: Vec<f64> = unknowns
                .iter()
                .zip(&self.ring.loads)
                .filter(|(unknown, _)| unknown.is_some())
                .map(|(_, load)| -load)
                .collect();
            for (id, edge) in self.ring.edges.iter().enumerate() {
                let flow = self.flows[id] + weights[id] * (self.drop(edge) - losses[id]);
                if let Some(from) = ends[id][0] {
                    right[from] -= flow;
                }
                if let Some(to) = ends[id][1] {
                    right[to] += flow;
                }
            }
            laplacian.solve(ends, &weights, &mut right)?;
            for (head, unknown) in self.heads.iter_mut().zip(unknowns) {
                if let Some(unknown) = unknown {
                    *head += right[*unknown];
                }
            }
        }
        let edges = self.ring.edges.iter().enumerate();
        let change: Vec<f64> = edges
            .map(|(id, edge)| weights[id] * (self.drop(edge) - losses[id]))
            .collect();
        let part = self.part(&change, slopes);
        for (flow, change) in self.flows.iter_mut().zip(&change) {
            *flow += part * change;
        }
        Some(())
    }

    /// How much of the change to take. The flows that are sought make the sum
    /// of all losses along their growth least; the slope of that sum along the
    /// change must come nearer to zero.
    fn part(&self, change: &[f64], slopes: &[f64]) -> f64 {
        const MOST_TRIALS: usize = 30;
        let edges = || self.ring.edges.iter().zip(change);
        let driven: f64 = edges().map(|(edge, change)| self.drop(edge) * change).sum();
        let slope_at = |part: f64| {
            let flows = self.flows.iter().zip(change);
            let flows: Vec<f64> = flows.map(|(flow, change)| flow + part * change).collect();
            let (losses, _) = self.losses_of(&flows);
            let lost: f64 = losses.iter().zip(change).map(|(a, b)| a * b).sum();
            lost - driven
        };
        let start: f64 = change.iter().zip(slopes).map(|(c, s)| c * c * s).sum();
        // Rounding is all that is left of the slope near the end.
        if start <= 1e-14 * driven.abs() {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        let mut part = 1.0;
        for _ in 0..MOST_TRIALS {
            let slope = slope_at(part);
            if slope.abs() <= 0.5 * start || (slope < 0.0 && part >= 1.0) {
                break;
            }
            if slope > 0.0 {
                high = part;
            } else {
                low = part;
            }
            part = 0.5 * (low + high);
        }
        part
    }

    /// Rounding left the flows out of balance by a little: a tree of the
    /// flattest edges takes it up, where it changes the losses least.
    fn balance(&mut self) {
        let (_, slopes) = self.losses_of(&self.flows);
        let mut order: Vec<usize> = (0..slopes.len()).collect();
        order.sort_by(|a, b| slopes[*a].total_cmp(&slopes[*b]).then(a.cmp(b)));
        // All known nodes are one: what they give is not asked.
        let ground = self.ring.known.len();
        let place = |at: usize| {
            if self.ring.known[at] > 0.0 {
                ground
            } else {
                at
            }
        };
        let mut leaders: Vec<usize> = (0..=ground).collect();
        let mut tree: Vec<Vec<(usize, usize)>> = vec![Vec::new(); ground + 1];
        let mut missing = self.ring.loads.clone();
        missing.push(0.0);
        for id in order {
            let edge = &self.ring.edges[id];
            let (from, to) = (place(edge.from), place(edge.to));
            let (one, other) = (leader(&mut leaders, from), leader(&mut leaders, to));
            if one == other {
                missing[from] += self.flows[id];
                missing[to] -= self.flows[id];
            } else {
                leaders[one] = other;
                tree[from].push((id, to));
                tree[to].push((id, from));
            }
        }
        let mut reached = vec![(ground, None)];
        let mut next = 0;
        while let Some(&(at, by)) = reached.get(next) {
            next += 1;
            for (id, other) in &tree[at] {
                if by != Some((*id, *other)) {
                    reached.push((*other, Some((*id, at))));
                }
            }
        }
        for (at, by) in reached.into_iter().rev() {
            if let Some((id, above)) = by {
                let outward = place(self.ring.edges[id].to) == at;
                self.flows[id] = if outward { missing[at] } else { -missing[at] };
                missing[above] += missing[at];
            }
        }
    }
}

fn leader(leaders: &mut [usize], mut at: usize) -> usize {
    while leaders[at] != at {
        leaders[at] = leaders[leaders[at]];
        at = leaders[at];
    }
    at
}
