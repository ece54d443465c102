//! How long the sizes of a tree take.

use bom::air::sizing::{Choice, Need, Outcome, Pipe, Problem, Tie, solve};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

/// SplitMix64: the same trees on every machine.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: u32) -> u32 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        u32::try_from((mixed ^ (mixed >> 31)) % u64::from(end)).unwrap_or(0)
    }
}

/// Inside of Schedule 40 pipe from 1/2 to 3 in, in, and what a foot of it costs.
const SIZES: [(f64, f64); 8] = [
    (0.622, 2.1),
    (0.824, 2.5),
    (1.049, 3.6),
    (1.38, 4.9),
    (1.61, 5.9),
    (2.067, 7.9),
    (2.469, 12.6),
    (3.068, 16.4),
];

/// What a tool takes at full flow, cfm.
const TOOLS: [f64; 8] = [4.0, 8.0, 12.0, 16.0, 20.0, 25.0, 30.0, 40.0];

/// A shop that is being laid out.
struct Shop {
    pipes: Vec<(Option<usize>, Tie, f64)>,
    /// Pipe and full flow of each tool.
    tools: Vec<(usize, f64)>,
}

impl Shop {
    /// A main of so many legs with tees, and a tool on a drop at each.
    fn main(
        &mut self,
        dice: &mut Dice,
        mut last: Option<usize>,
        legs: u32,
        tees: u32,
        other: bool,
    ) {
        for _ in 0..legs {
            for tee in 0..tees {
                let tie = match tee {
                    0 => Tie::AtMost,
                    _ => Tie::Same,
                };
                self.pipes.push((last, tie, f64::from(5 + dice.below(10))));
                let main = self.pipes.len() - 1;
                last = Some(main);
                self.pipes
                    .push((last, Tie::AtMost, f64::from(10 + dice.below(30))));
                let full = match other {
                    true => 4.0 + f64::from(dice.below(3_600)) / 100.0,
                    false => TOOLS[usize::try_from(dice.below(8)).unwrap_or(0)],
                };
                self.tools.push((self.pipes.len() - 1, full));
            }
        }
    }

    /// Each tool in turn at full flow, the others at a share of it.
    fn problem(&self, share: f64, drop: f64) -> Problem {
        let mut inside: Vec<Vec<usize>> = vec![Vec::new(); self.pipes.len()];
        let mut mean = vec![0.0; self.pipes.len()];
        for (case, &(end, full)) in self.tools.iter().enumerate() {
            let mut at = Some(end);
            while let Some(pipe) = at {
                inside[pipe].push(case);
                mean[pipe] += share * full;
                at = self.pipes[pipe].0;
            }
        }
        // The trade's rule of thumb, 450 q^1.85 L / (d^5 p) bar with l/s, m, mm and
        // bar, from memory; as a difference of squares that is 900 q^1.85 L / d^5.
        let loss = |flow: f64, feet: f64, bore: f64| {
            900.0 * (flow * 0.472).powf(1.85) * feet * 0.3048 / (bore * 25.4).powi(5)
        };
        let pipes = self.pipes.iter().zip(inside).zip(&mean);
        let pipes = pipes.map(|((&(parent, tie, feet), inside), &mean)| {
            let choice = |(rank, &(bore, price)): (u8, &(f64, f64))| Choice {
                rank,
                cost: price * feet,
                outside: loss(mean, feet, bore),
                inside: inside
                    .iter()
                    .map(|&case| loss(mean + (1.0 - share) * self.tools[case].1, feet, bore))
                    .collect(),
            };
            let choices = (0..).zip(&SIZES).map(choice).collect();
            Pipe {
                parent,
                tie,
                inside,
                choices,
            }
        });
        // 7 bar at the source; less than it at the tools by the drop, bar.
        let least = (8.0 - drop).powi(2);
        Problem {
            source: vec![64.0; self.tools.len()],
            pipes: pipes.collect(),
            needs: self
                .tools
                .iter()
                .map(|&(pipe, _)| Need {
                    pipe,
                    outside: least,
                    inside: vec![least],
                })
                .collect(),
        }
    }
}

/// A main of so many legs of ten tees; the flows of all tools differ if `other`.
fn tree(legs: u32, other: bool, drop: f64) -> Problem {
    let mut shop = Shop {
        pipes: Vec::new(),
        tools: Vec::new(),
    };
    shop.main(&mut Dice(7), None, legs, 10, other);
    shop.problem(0.2, drop)
}

fn solved(problem: &Problem) -> Option<(f64, f64, bool)> {
    match solve(problem) {
        Ok(Outcome::Best(best)) => Some((best.cost, best.bound, best.proven)),
        Ok(Outcome::Impossible(_)) | Err(_) => None,
    }
}

#[divan::bench(args = [0.3, 0.5, 1.0], sample_count = 5)]
fn two_hundred_outlets(bencher: Bencher<'_, '_>, drop: f64) {
    let problem = tree(20, false, drop);
    bencher.bench_local(|| solved(black_box(&problem)));
}

#[divan::bench(args = [0.5, 1.0], sample_count = 5)]
fn two_hundred_unlike_outlets(bencher: Bencher<'_, '_>, drop: f64) {
    let problem = tree(20, true, drop);
    bencher.bench_local(|| solved(black_box(&problem)));
}

/// A hall: mains of 200 outlets, hung one after the other on a header.
#[divan::bench(args = [2.0], sample_count = 1)]
fn ten_thousand_outlets(bencher: Bencher<'_, '_>, drop: f64) {
    let mut shop = Shop {
        pipes: Vec::new(),
        tools: Vec::new(),
    };
    let mut dice = Dice(7);
    let mut header = None;
    for _ in 0..50 {
        shop.pipes.push((header, Tie::AtMost, 0.5));
        header = Some(shop.pipes.len() - 1);
        shop.main(&mut dice, header, 20, 10, false);
    }
    let problem = shop.problem(0.02, drop);
    bencher.bench_local(|| solved(black_box(&problem)));
}
