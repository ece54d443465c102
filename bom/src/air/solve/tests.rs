//! Hand cases, and properties over generated circuits.

use super::{
    Circuit, Draw, Edge, Element, Failure, Known, Pipe, Solution, Source, Unusable, solve,
    solve_like,
};
use crate::quantity::Temperature;
use proptest::prelude::{Strategy, any, prop_assert, proptest};

/// 7 bar over the atmosphere.
const FULL: f64 = 801_325.0;

fn pipe(from: usize, to: usize, bore: f64, length: f64) -> Edge {
    let pipe = Pipe {
        bore,
        roughness: 4.57e-5,
        length,
        k: 0.0,
    };
    Edge {
        from,
        to,
        element: Element::Pipe(pipe),
    }
}

fn device(from: usize, to: usize, r: f64) -> Edge {
    Edge {
        from,
        to,
        element: Element::Loss { r },
    }
}

fn circuit(nodes: usize, edges: Vec<Edge>, draws: &[(usize, f64)]) -> Circuit {
    Circuit {
        nodes,
        edges,
        sources: vec![Source {
            node: 0,
            pressure: FULL,
        }],
        draws: draws
            .iter()
            .map(|(node, kg_per_s)| Draw {
                node: *node,
                kg_per_s: *kg_per_s,
            })
            .collect(),
        temperature: Temperature::from_celsius(20),
    }
}

fn pressure(solution: &Solution, node: usize) -> f64 {
    solution.pressures[node].unwrap()
}

fn near(found: f64, wanted: f64, part: f64) {
    assert!(
        (found - wanted).abs() <= part * wanted.abs(),
        "{found} is not {wanted}"
    );
}

#[test]
fn one_pipe_is_the_formula() {
    let mut one = circuit(2, vec![pipe(0, 1, 0.020_93, 30.48)], &[(1, 0.05)]);
    let solution = solve(&one).unwrap();
    let (p1, p2) = (FULL, pressure(&solution, 1));
    let area = std::f64::consts::FRAC_PI_4 * 0.020_93 * 0.020_93;
    let speed = solution.speed(&one, 0).unwrap();
    near(speed * p2 / (287.05 * 293.15) * area, 0.05, 1e-12);
    near(solution.mach(&one, 0).unwrap(), speed / 343.2, 1e-3);
    // Re 167,740, relative roughness 0.0021835: Colebrook gives 0.024966.
    let right = 0.024_966 * 30.48 / 0.020_93 + 2.0 * (p1 / p2).ln();
    let left = (p1 * p1 - p2 * p2) / (287.05 * 293.15) * (area / 0.05_f64).powi(2);
    near(left, right, 2e-5);
    one.edges[0] = pipe(1, 0, 0.020_93, 30.48);
    let turned = solve(&one).unwrap();
    near(turned.flows[0], -0.05, 1e-15);
    near(pressure(&turned, 1), p2, 1e-15);
}

#[test]
fn two_equal_pipes_share_and_two_unequal_lose_the_same() {
    let both = vec![pipe(0, 1, 0.02, 30.0), pipe(0, 1, 0.02, 30.0)];
    let solution = solve(&circuit(2, both, &[(1, 0.06)])).unwrap();
    near(solution.flows[0], 0.03, 1e-12);
    let one = circuit(2, vec![pipe(0, 1, 0.02, 30.0)], &[(1, 0.03)]);
    let alone = pressure(&solve(&one).unwrap(), 1);
    near(pressure(&solution, 1), alone, 1e-11);

    // r1 m1² = r2 m2²: the flows are as 2 to 1.
    let unequal = vec![device(0, 1, 1e13), device(1, 0, 4e13)];
    let solution = solve(&circuit(2, unequal, &[(1, 0.03)])).unwrap();
    near(solution.flows[0], 0.02, 1e-12);
    near(solution.flows[1], -0.01, 1e-12);
}

#[test]
fn a_ring_feeds_its_far_end_from_both_sides() {
    let ring = vec![
        pipe(0, 1, 0.0266, 20.0),
        pipe(1, 2, 0.0266, 20.0),
        pipe(2, 3, 0.0266, 20.0),
        pipe(3, 0, 0.0266, 20.0),
        pipe(2, 4, 0.0158, 3.0),
    ];
    let solution = solve(&circuit(5, ring, &[(4, 0.05)])).unwrap();
    for (edge, wanted) in [(0, 0.025), (1, 0.025), (2, -0.025), (3, -0.025), (4, 0.05)] {
        near(solution.flows[edge], wanted, 1e-10);
    }
    near(pressure(&solution, 1), pressure(&solution, 3), 1e-12);
    let half = circuit(2, vec![pipe(0, 1, 0.0266, 40.0)], &[(1, 0.025)]);
    near(
        pressure(&solution, 2),
        pressure(&solve(&half).unwrap(), 1),
        1e-9,
    );
}

#[test]
fn an_edge_across_equal_pressures_stands_still() {
    for across in [pipe(1, 3, 0.0266, 5.0), device(1, 3, 1e12)] {
        let bridge = vec![
            pipe(0, 1, 0.02, 20.0),
            pipe(1, 2, 0.02, 20.0),
            pipe(0, 3, 0.02, 20.0),
            pipe(3, 2, 0.02, 20.0),
            across,
        ];
        let solution = solve(&circuit(4, bridge, &[(2, 0.04)])).unwrap();
        assert!(solution.flows[4].abs() < 1e-8, "{:?}", solution.flows);
        near(solution.flows[0], 0.02, 1e-6);
        assert!(solution.steps < 30, "{}", solution.steps);
    }
}

#[test]
fn two_sources_share_and_the_stronger_gives_more() {
    let line = vec![pipe(0, 1, 0.02, 30.0), pipe(1, 2, 0.02, 30.0)];
    let mut two = circuit(3, line, &[(1, 0.06)]);
    two.sources.push(Source {
        node: 2,
        pressure: FULL,
    });
    let solution = solve(&two).unwrap();
    near(solution.flows[0], 0.03, 1e-12);
    near(solution.flows[1], -0.03, 1e-12);
    two.sources[1].pressure = FULL - 20_000.0;
    let solution = solve(&two).unwrap();
    assert!(solution.flows[0] > 0.03 && solution.flows[0] < 0.06);
    near(solution.flows[0] - solution.flows[1], 0.06, 1e-14);
    assert!(solution.miss < 1e-3 && solution.imbalance < 1e-15);
    // Nothing drawn: the stronger feeds the weaker.
    two.draws.clear();
    let solution = solve(&two).unwrap();
    near(solution.flows[0], solution.flows[1], 1e-14);
    assert!(solution.flows[0] > 0.0);
}

#[test]
fn what_does_not_get_through_is_said() {
    let one = circuit(
        3,
        vec![pipe(0, 1, 0.05, 1.0), pipe(1, 2, 0.005, 30.0)],
        &[(2, 0.05)],
    );
    let Err(Failure::Choked {
        edge,
        kg_per_s,
        most_kg_per_s,
        inlet,
    }) = solve(&one)
    else {
        panic!("choked");
    };
    assert_eq!(edge, 1);
    near(kg_per_s, 0.05, 1e-15);
    assert!(most_kg_per_s > 0.001 && most_kg_per_s < 0.01);
    near(inlet, FULL, 1e-3);
    let mut ring = one;
    ring.edges.push(pipe(2, 0, 0.005, 30.0));
    let choked = solve(&ring).unwrap_err();
    assert!(matches!(choked, Failure::Choked { .. }), "{choked:?}");
    assert!(choked.to_string().contains("would have to carry"));
}

#[test]
fn a_dead_part_is_no_number_and_a_drawing_one_is_named() {
    let mut shut = circuit(
        4,
        vec![pipe(0, 1, 0.02, 1.0), pipe(2, 3, 0.02, 1.0)],
        &[(1, 0.01)],
    );
    let solution = solve(&shut).unwrap();
    assert_eq!(solution.pressures[2..], [None, None]);
    assert_eq!(solution.speed(&shut, 1), None);
    shut.draws.push(Draw {
        node: 3,
        kg_per_s: 0.01,
    });
    assert_eq!(solve(&shut), Err(Failure::Isolated { nodes: vec![3] }));
}

#[test]
fn figures_out_of_range_are_named() {
    let good = circuit(2, vec![pipe(0, 1, 0.02, 1.0)], &[(1, 0.01)]);
    let unusable = |change: &dyn Fn(&mut Circuit)| {
        let mut bad = good.clone();
        change(&mut bad);
        match solve(&bad) {
            Err(Failure::Unusable(what)) => what,
            other => panic!("{other:?}"),
        }
    };
    let edge = |edge| move |bad: &mut Circuit| bad.edges[0] = edge;
    for bad in [
        pipe(0, 0, 0.02, 1.0),
        pipe(0, 2, 0.02, 1.0),
        pipe(0, 1, f64::NAN, 1.0),
        pipe(0, 1, 0.02, -1.0),
        device(0, 1, f64::INFINITY),
    ] {
        assert_eq!(unusable(&edge(bad)), Unusable::Edge(0));
    }
    assert_eq!(
        unusable(&|bad| bad.sources[0].pressure = 0.0),
        Unusable::Source(0)
    );
    assert_eq!(
        unusable(&|bad| bad.sources.push(bad.sources[0])),
        Unusable::Source(1)
    );
    assert_eq!(
        unusable(&|bad| bad.draws[0].kg_per_s = f64::NAN),
        Unusable::Draw(0)
    );
    assert_eq!(
        unusable(&|bad| bad.temperature = Temperature::from_kelvin(5.0)),
        Unusable::Temperature
    );
}

/// Rounding must not grow where an edge has no length.
#[test]
fn edges_without_resistance_are_no_trouble() {
    let ring = vec![
        pipe(0, 1, 0.02, 0.0),
        pipe(1, 2, 0.02, 40.0),
        pipe(2, 3, 0.02, 0.0),
        device(3, 0, 0.0),
        device(0, 1, 0.0),
    ];
    let draws = [(1, 0.01), (2, 0.02), (3, 0.01)];
    let solution = solve(&circuit(4, ring, &draws)).unwrap();
    assert!(solution.imbalance < 1e-15);
    near(pressure(&solution, 3), FULL, 1e-3);
    assert!(pressure(&solution, 3) <= FULL);
}

/// A tree with chords: each node hangs on an earlier one.
fn circuits(chords: usize) -> impl Strategy<Value = Circuit> {
    let bores = [0.0158, 0.0209, 0.0266, 0.0351, 0.0409, 0.0525];
    let link = (any::<u16>(), 0..bores.len(), 1..600_u32, any::<bool>());
    let chord = (any::<u16>(), any::<u16>(), 0..bores.len(), 1..600_u32);
    let links = proptest::collection::vec((link, 0..40_u32), 1..40);
    let chords = proptest::collection::vec(chord, 0..=chords);
    (links, chords, 0..3_usize).prop_map(move |(links, chords, feeds)| {
        let nodes = links.len() + 1;
        let mut edges = Vec::new();
        let mut draws = Vec::new();
        for (place, ((above, bore, tenths, turned), draw)) in links.into_iter().enumerate() {
            let (node, above) = (place + 1, usize::from(above) % (place + 1));
            let (from, to) = if turned { (node, above) } else { (above, node) };
            edges.push(pipe(from, to, bores[bore], f64::from(tenths) / 10.0));
            draws.push((node, f64::from(draw) * 1e-5));
        }
        for (one, other, bore, tenths) in chords {
            let (one, other) = (usize::from(one) % nodes, usize::from(other) % nodes);
            if one != other {
                edges.push(pipe(one, other, bores[bore], f64::from(tenths) / 10.0));
            }
        }
        let mut made = circuit(nodes, edges, &draws);
        if !made.edges.is_empty() && nodes > 4 && made.edges.len() >= nodes {
            made.sources.extend((0..feeds).map(|feed| Source {
                node: nodes - 1 - feed,
                pressure: FULL - 500.0 * f64::from(u8::try_from(feed).unwrap()),
            }));
        }
        made
    })
}

proptest! {
    #[test]
    fn flows_balance_and_pressure_falls_along_them(circuit in circuits(12)) {
        let solution = solve(&circuit).unwrap();
        let drawn: f64 = circuit.draws.iter().map(|draw| draw.kg_per_s).sum();
        let largest = solution.flows.iter().fold(drawn, |most, flow| most.max(flow.abs()));
        prop_assert!(solution.imbalance <= 1e-12 * largest, "{}", solution.imbalance);
        prop_assert!(solution.miss <= 1e-3, "{}", solution.miss);
        prop_assert!(solution.steps < 40, "{}", solution.steps);
        for (edge, flow) in circuit.edges.iter().zip(&solution.flows) {
            let fall = pressure(&solution, edge.from) - pressure(&solution, edge.to);
            prop_assert!(fall * flow.signum() >= -1e-3, "{fall} Pa at {flow} kg/s");
        }
    }

    #[test]
    fn what_is_left_of_another_circuit_changes_nothing(
        first in circuits(8),
        mut next in circuits(8),
    ) {
        let mut known = Known::default();
        solve_like(&first, &mut known).unwrap();
        prop_assert!(solve_like(&next, &mut known) == solve(&next));
        next.draws.iter_mut().step_by(2).for_each(|draw| draw.kg_per_s *= 0.5);
        prop_assert!(solve_like(&next, &mut known) == solve(&next));
        next.temperature = Temperature::from_celsius(40);
        prop_assert!(solve_like(&next, &mut known) == solve(&next));
    }

    #[test]
    fn the_same_circuit_in_another_order_is_the_same(circuit in circuits(6)) {
        let solution = solve(&circuit).unwrap();
        prop_assert!(solve(&circuit).unwrap() == solution);
        let mut other = circuit.clone();
        other.edges.reverse();
        for edge in &mut other.edges {
            (edge.from, edge.to) = (edge.to, edge.from);
        }
        let turned = solve(&other).unwrap();
        for (node, pressure) in solution.pressures.iter().enumerate() {
            let apart = pressure.unwrap() - turned.pressures[node].unwrap();
            prop_assert!(apart.abs() < 1e-3, "node {node}: {apart}");
        }
    }

    /// Whatever the figures: an answer in finite numbers, or why there is none.
    #[test]
    fn no_figures_break_the_solver(
        circuit in circuits(12),
        flow in 1e-9..1e4_f64,
        sizes in proptest::collection::vec((-3.0..1.0_f64, -6.0..6.0_f64), 8),
    ) {
        let mut wild = circuit;
        for (number, edge) in wild.edges.iter_mut().enumerate() {
            let (bore, length) = sizes[number % sizes.len()];
            if let Element::Pipe(pipe) = &mut edge.element {
                pipe.bore = 10_f64.powf(bore);
                pipe.roughness = pipe.bore / 30.0;
                pipe.length = 10_f64.powf(length);
            }
        }
        for draw in &mut wild.draws {
            draw.kg_per_s = (draw.kg_per_s * flow * 1e3).clamp(-1e4, 1e4);
        }
        match solve(&wild) {
            Ok(solution) => {
                prop_assert!(solution.flows.iter().all(|flow| flow.is_finite()));
                let pressures = solution.pressures.iter().flatten();
                prop_assert!(pressures.clone().all(|one| one.is_finite() && *one > 0.0));
            }
            Err(Failure::Choked { kg_per_s, most_kg_per_s, inlet, .. }) => {
                prop_assert!(kg_per_s.is_finite() && most_kg_per_s.is_finite() && inlet.is_finite());
            }
            // Bores of 1 mm and 10 m side by side may be too unlike.
            Err(other) => prop_assert!(matches!(other, Failure::Unsettled { .. }), "{other}"),
        }
    }

    /// True of trees only: in a ring, a wider pipe may draw air past a node
    /// and lower its pressure.
    #[test]
    fn a_wider_pipe_lowers_no_pressure_of_a_tree(circuit in circuits(0), which in any::<u16>()) {
        let before = solve(&circuit).unwrap();
        let mut wider = circuit;
        let edge = usize::from(which) % wider.edges.len();
        if let Element::Pipe(pipe) = &mut wider.edges[edge].element {
            pipe.bore *= 1.3;
        }
        let after = solve(&wider).unwrap();
        for (before, after) in before.pressures.iter().zip(&after.pressures) {
            prop_assert!(after.unwrap() >= before.unwrap() * (1.0 - 1e-13));
        }
    }

    /// With square losses alone the flows make the sum of r |m|³ least, so an edge
    /// that is shut never makes it less; it is the loss of all draws together,
    /// each weighed by its flow.
    #[test]
    fn shutting_an_edge_never_saves_pressure(circuit in circuits(5)) {
        let mut open = circuit;
        open.sources.truncate(1);
        for (number, edge) in open.edges.iter_mut().enumerate() {
            edge.element = Element::Loss { r: 1e12 * f64::from(u8::try_from(number % 7).unwrap() + 1) };
        }
        let lost = |circuit: &Circuit| -> f64 {
            let solution = solve(circuit).unwrap();
            let square = |node| pressure(&solution, node).powi(2);
            circuit.draws.iter().map(|draw| draw.kg_per_s * (square(0) - square(draw.node))).sum()
        };
        let before = lost(&open);
        if open.edges.len() >= open.nodes {
            open.edges.pop();
            prop_assert!(lost(&open) >= before * (1.0 - 1e-9) - 1e-3);
        }
    }
}
