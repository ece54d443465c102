//! How long a cut plan takes.

use bom::cutting::{Demand, Plan, Stock, plan};
use bom::quantity::Length;
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

/// SplitMix64: the same jobs on every machine.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (mixed ^ (mixed >> 31)) % end
    }
}

/// Pieces of so many lengths, in whole millimetres from 280 to 3480.
fn demand(seed: u64, pieces: u64, kinds: u64) -> Vec<Demand> {
    let mut dice = Dice(seed);
    let mut demand: Vec<Demand> = (0..kinds)
        .map(|_| Demand {
            length: Length::from_mm(280 + i64::try_from(dice.below(3201)).unwrap_or(0)),
            count: 1,
        })
        .collect();
    for _ in kinds..pieces {
        let kind = usize::try_from(dice.below(kinds)).unwrap_or(0);
        demand[kind].count += 1;
    }
    demand
}

fn cut(demand: &[Demand]) -> Option<Plan> {
    let stick = |millimetres, cost| Stock {
        length: Length::from_mm(millimetres),
        cost,
        available: None,
    };
    let stock = [stick(4000, 2750), stick(6000, 3980)];
    plan(demand, &stock, Length::from_mm(3)).ok()
}

#[divan::bench(args = [(20, 20), (60, 60), (300, 40), (300, 300), (100_000, 300)], sample_count = 5)]
fn pieces_of_kinds(bencher: Bencher<'_, '_>, (pieces, kinds): (u64, u64)) {
    let demand = demand(7, pieces, kinds);
    bencher.bench_local(|| cut(black_box(&demand)));
}

/// Ten shop jobs of 20 to 60 pieces.
#[divan::bench(sample_count = 20)]
fn ten_shop_jobs(bencher: Bencher<'_, '_>) {
    let jobs: Vec<Vec<Demand>> = (0..10)
        .map(|seed| {
            let pieces = 20 + Dice(seed).below(41);
            demand(seed, pieces, pieces)
        })
        .collect();
    bencher.bench_local(|| {
        jobs.iter()
            .filter_map(|job| cut(black_box(job)))
            .filter(Plan::proven)
            .count()
    });
}
