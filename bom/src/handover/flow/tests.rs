//! Which outlets are read, and why.

use super::{chosen, length, parts, ways};
use crate::handover::tests::{context_of, planned, text_of};

const MILLRACE: &str = include_str!("../../../../catalogs-demo/millrace.toml");
const RING: &str = include_str!("../../../../tests/drawing/ring-of-twenty.toml");
const HALL: &str = include_str!("../../../../tests/drawing/hall-of-a-hundred.toml");
const METRIC: &str = include_str!("../../../../tests/cases/metric/job.toml");
const TWO: &str = include_str!("../../../../tests/cases/two-compressors/job.toml");

fn read(job: &str) -> Vec<(String, &'static str)> {
    let (plan, library) = planned(job);
    let context = context_of(&plan, &library);
    let read = chosen(&plan, &context.air).into_iter();
    read.map(|one| (plan.network.drops[one.outlet].name.clone(), one.why))
        .collect()
}

// The demo's ring, by hand: the door is worst off, on the south side; the air comes to the
// spray corner by the north side, 16 + 48 + 6 ft of it, which the door does not see.
#[test]
fn the_second_is_not_beside_the_first() {
    let demo = read(MILLRACE);
    assert_eq!(demo[0], ("door".to_owned(), "worst off"));
    assert_eq!(demo[1], ("spray".to_owned(), "most pipe of its own"));
    // Two of the hall's rows, and two sides of the ring.
    let hall = read(HALL);
    assert_ne!(hall[0].0[..1], hall[1].0[..1], "{hall:?}");
}

#[test]
fn no_other_outlet_with_a_tool_has_more_pipe_of_its_own() {
    for job in [MILLRACE, RING] {
        let (plan, library) = planned(job);
        let context = context_of(&plan, &library);
        let (ways, read) = (ways(&plan), chosen(&plan, &context.air));
        let own = |outlet: usize| {
            let own = ways[outlet].difference(&ways[read[0].outlet]);
            length(&plan, &own.copied().collect())
        };
        let tools = context.air.demand.tools.iter();
        let most = tools.map(|tool| own(tool.outlet)).max().unwrap();
        assert_eq!(own(read[1].outlet), most);
        let spare = |tool: Option<usize>| context.air.tools[tool.unwrap()].to_spare.unwrap().kpa();
        let worst = context.air.tools.iter().filter_map(|tool| tool.to_spare);
        let worst = worst
            .map(crate::quantity::Pressure::kpa)
            .fold(f64::INFINITY, f64::min);
        assert!((spare(read[0].tool) - worst).abs() < 1e-9);
    }
}

#[test]
fn without_tools_the_farthest_are_read_and_nothing_is_expected() {
    let metric = read(METRIC);
    assert_eq!(metric.len(), 2);
    assert_eq!(metric[0].1, "farthest from the tank");
    let one = read(TWO);
    assert_eq!(one, [("bench".to_owned(), "farthest from the tank")]);
    let (plan, library) = planned(TWO);
    let said = text_of(&parts(&context_of(&plan, &library)));
    assert!(
        said.contains("1 bench | farthest from the tank | what usually hangs there | not known"),
        "{said}"
    );
    assert!(said.contains("the job names no tools"), "{said}");
}
