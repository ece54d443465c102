//! How long the flows of large circuits take.

use bom::air::solve::{Circuit, Draw, Edge, Element, Pipe, Source, solve};
use bom::quantity::Temperature;
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

fn pipe(from: usize, to: usize, bore: f64, length: f64) -> Edge {
    let pipe = Pipe {
        bore,
        roughness: 4.57e-5,
        length,
        k: 0.9,
    };
    Edge {
        from,
        to,
        element: Element::Pipe(pipe),
    }
}

fn circuit(nodes: usize, edges: Vec<Edge>, drawing: impl Iterator<Item = usize>) -> Circuit {
    Circuit {
        nodes,
        edges,
        sources: vec![Source {
            node: 0,
            pressure: 801_325.0,
        }],
        draws: drawing
            .map(|node| Draw {
                node,
                kg_per_s: 1e-5,
            })
            .collect(),
        temperature: Temperature::from_celsius(20),
    }
}

/// Each node of a binary tree draws, and its pipes are as wide as that asks.
#[divan::bench(args = [10_000], sample_count = 20)]
fn tree_of_draws(bencher: Bencher<'_, '_>, draws: u32) {
    let edges = (1..=draws)
        .map(|node| {
            let below = f64::from(draws) / f64::from(node);
            let bore = 0.02 + 0.01 * below.sqrt();
            pipe(to_usize((node - 1) / 2), to_usize(node), bore, 5.0)
        })
        .collect();
    let nodes = to_usize(draws) + 1;
    let tree = circuit(nodes, edges, 1..nodes);
    bencher.bench_local(|| solve(black_box(&tree)).is_ok());
}

/// Two mains of half the nodes, with a rung at every one.
#[divan::bench(args = [1_000, 10_000, 100_000], sample_count = 5)]
fn ladder_of_rings(bencher: Bencher<'_, '_>, nodes: usize) {
    let rungs = nodes / 2;
    let mut edges = Vec::new();
    for rung in 0..rungs {
        edges.push(pipe(2 * rung, 2 * rung + 1, 0.0266, 3.0));
        if rung + 1 < rungs {
            edges.push(pipe(2 * rung, 2 * rung + 2, 0.6, 5.0));
            edges.push(pipe(2 * rung + 1, 2 * rung + 3, 0.4, 5.0));
        }
    }
    let ladder = circuit(nodes, edges, (1..nodes).step_by(7));
    bencher.bench_local(|| solve(black_box(&ladder)).is_ok());
}

/// Every node has four neighbours.
#[divan::bench(args = [100, 300], sample_count = 3)]
fn grid(bencher: Bencher<'_, '_>, side: usize) {
    let mut edges = Vec::new();
    for row in 0..side {
        for column in 0..side {
            let at = row * side + column;
            if column + 1 < side {
                edges.push(pipe(at, at + 1, 0.1, 5.0));
            }
            if row + 1 < side {
                edges.push(pipe(at, at + side, 0.1, 5.0));
            }
        }
    }
    let grid = circuit(side * side, edges, (1..side * side).step_by(11));
    bencher.bench_local(|| solve(black_box(&grid)).is_ok());
}

fn to_usize(number: u32) -> usize {
    usize::try_from(number).unwrap_or(0)
}
