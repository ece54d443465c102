use super::{Assembly, Hold, Stage, Step, assembly};
use crate::library::Library;
use crate::source::Source;

const MILLRACE: &str = include_str!("../../../catalogs-demo/millrace.toml");
const TWO_TANKS: &str = include_str!("../../../tests/cases/two-compressors/job.toml");
const VALVES: &str = include_str!("../../../tests/cases/ring-valves/job.toml");

fn order(job: &str) -> Assembly {
    let library = Library::shipped().unwrap();
    let (plan, findings) = crate::plan(&Source::new("job", job), &library);
    let plan = plan.unwrap_or_else(|| panic!("{findings:#?}"));
    assembly(&plan.job, &plan.network, &library, &plan.takeoff)
}

fn steps(assembly: &Assembly, stage: Stage) -> Vec<&Step> {
    let groups = assembly.groups.iter();
    let of_it = groups.filter(|group| group.stage == stage);
    of_it.flat_map(|group| &group.steps).collect()
}

fn titles(assembly: &Assembly, stage: Stage) -> Vec<&str> {
    let steps = steps(assembly, stage).into_iter();
    steps.map(|step| step.title.as_str()).collect()
}

// The walk goes round by the north and stops at straight 12, which has the union;
// what is left is laid back from the entry.
#[test]
fn the_main_is_laid_from_the_tank_both_ways_round_to_the_union() {
    let order = order(MILLRACE);
    let main = steps(&order, Stage::Main);
    let labels: Vec<String> = main
        .iter()
        .map(|step| step.pieces[0].piece.label())
        .collect();
    assert_eq!(
        labels.join(" "),
        "1.1 2.1 3.1 4.1 5.1 6.1 7.1 8.1 9.1 10.1 11.1 14.1 13.1"
    );
    assert_eq!(main[0].hold, Hold::Start);
    assert!(
        main[1..]
            .iter()
            .all(|step| matches!(step.hold, Hold::Onto(_)))
    );
    assert_eq!(
        main[1].title,
        "2.1 from leg 1, a corner to leg 1, its end entry"
    );
    assert_eq!(
        main[1].how,
        [
            "Screw in 2.1.",
            "On its end: tee 3/4in, looking north and south."
        ]
    );
    assert_eq!(main[1].joint_count(), 2);
}

// To the middle of the union: 1.31 - 0.5625 for the tee, 21 ft of pipe, half of
// the union's 2.0 - 2 x 0.5625.
#[test]
fn a_ring_is_closed_by_its_union() {
    let order = order(MILLRACE);
    let rings = steps(&order, Stage::Rings);
    let [ring] = rings[..] else {
        panic!("one ring");
    };
    assert_eq!(
        ring.title,
        "Close the ring: the union, 21'-1 3/16\" from leg 5 (south wall), at assembly, between 12.1 and 12.2"
    );
    assert_eq!(
        ring.how[..2],
        [
            "Screw 12.1 into the tee at leg 5 (south wall), at assembly, with one half of the union on its end.",
            "Into the tee at leg 5 (south wall), at door: 12.2, with the other half on its end.",
        ]
    );
    assert_eq!(ring.joint_count(), 4);
}

#[test]
fn a_ring_with_valves_that_come_out_is_closed_at_one_of_them() {
    assert_eq!(
        titles(&order(VALVES), Stage::Rings),
        ["Close the ring: the union at valve second"]
    );
}

#[test]
fn feet_that_are_the_same_are_made_together() {
    let order = order(MILLRACE);
    assert_eq!(
        titles(&order, Stage::Bench),
        [
            "Foot of a two-sided drop: make 4, for bench, router, press and assembly",
            "Foot of a paint drop: make 1, for spray",
            "Foot of a reel drop: make 1, for door",
        ]
    );
    let foot = steps(&order, Stage::Bench)[0];
    assert_eq!(foot.joint_count(), 4 * 17);
    assert_eq!(
        foot.how[2],
        "Side 2: close nipple 3/4in, then ball valve 3/4in, then bushing 3/4in x 1/2in, then close nipple 1/2in, then filter 1/2in, then close nipple 1/2in, then regulator 1/2in, then bushing 1/2in x 1/4in, then quick coupler 1/4in."
    );
}

fn remarks(order: &Assembly) -> Vec<&str> {
    let steps = order.groups.iter().flat_map(|group| &group.steps);
    let remarks = steps.flat_map(|step| &step.remarks);
    remarks.map(String::as_str).collect()
}

// The left tank has a hose, the right one none: the main begins at the right one.
#[test]
fn the_main_begins_at_the_tank_that_must_come_first() {
    let order = order(TWO_TANKS);
    assert_eq!(
        titles(&order, Stage::Main)[..2],
        [
            "Begin at the tank right",
            "4.1 from the check at right to leg 2, a corner"
        ]
    );
    assert_eq!(remarks(&order), Vec::<&str>::new());
}

#[test]
fn a_tank_that_cannot_be_joined_without_a_union_is_told() {
    let both = TWO_TANKS.replace(", \"hose 24in\"", "");
    assert_ne!(both, TWO_TANKS);
    assert_eq!(
        remarks(&order(&both)),
        [
            "The main and the tank right both stand and no union is counted between them: it could only be made up with one. Ask for it with a union among what connects the tank."
        ]
    );
}

// No hose and no union: pipe is screwed into the valve at the tank, and the main
// goes on from there.
#[test]
fn a_main_without_hose_begins_at_the_tank() {
    let hard = MILLRACE.replace("[\"valve\", \"hose 24in\"]", "[\"valve\"]");
    let order = order(&hard);
    let main = titles(&order, Stage::Main);
    assert_eq!(main[0], "Begin at the tank compressor");
    assert_eq!(
        main[1],
        "1.1 from the valve at compressor to leg 1, a corner"
    );
    assert_eq!(titles(&order, Stage::Connect), ["Drain low"]);
    let first = steps(&order, Stage::Main)[1];
    assert_eq!(
        first.how[0],
        "First, on what stands there: bushing 1in x 3/4in."
    );
}
