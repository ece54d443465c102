use crate::library::Library;
use crate::source::Source;

/// What practice says of the good shop with a few words changed.
fn said(edits: &[(&str, &str)]) -> Vec<String> {
    let mut text = include_str!("../../../tests/practice/good-shop.toml").to_owned();
    for (old, new) in edits {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    let library = Library::shipped().unwrap();
    let (plan, findings) = crate::plan(&Source::new("job", text), &library);
    let practice = plan.map_or(findings, |plan| plan.practice);
    practice
        .into_iter()
        .map(|finding| format!("{}: {}", finding.rule, finding.message))
        .collect()
}

/// A second compressor that joins the good shop's main at its bench.
fn beside(keys: &str) -> Vec<String> {
    let supply =
        format!("[supply.spare]\nport = \"3/4in female\"\nheight = \"2-6\"\n{keys}\n[main]");
    let leg = "[[leg]]\nfrom = \"spare\"\ngo = [\"up 5-6\", \"north 3-0\"]\nto = \"spare-join\"\n\n[drain.low]";
    let said = said(&[
        ("[main]", supply.as_str()),
        ("marks = {", "marks = { spare-join = \"8-0\","),
        ("[drain.low]", leg),
    ]);
    let unequal = said
        .into_iter()
        .filter(|said| said.starts_with("supplies-of"));
    unequal.collect()
}

#[test]
fn a_check_valve_keeps_a_stronger_compressor_from_a_weaker_tank() {
    let open = "connect = [\"valve\", \"hose 18in\"]";
    let weaker = format!("relief = \"125 psi\"\n{open}");
    let rule = "supplies-of-unequal-rating: its";
    assert_eq!(
        beside(&weaker),
        [format!(
            "{rule} relief valve opens at 125 psi, but for `compressor` the relief valve opens at 150 psi, and nothing keeps that from this tank"
        )]
    );
    let none: [String; 0] = [];
    let equal = format!("relief = \"150 psi\"\n{open}");
    assert_eq!(beside(&equal), none);
    assert_eq!(beside(open), none);
    let checked = "relief = \"125 psi\"\nconnect = [\"valve\", \"check\", \"hose 18in\"]";
    assert_eq!(beside(checked), none);
}

/// Keys for the outlet `saw`, which stands last in the file.
const SAW: &str = "[outlet.saw]\n";
const SIDES: &str = r#"[["valve", "coupler"], ["valve", "filter", "regulator", "coupler"]]"#;
const CONNECT: &str = r#"["valve", "hose 18in"]"#;

fn saw(keys: &str) -> String {
    format!("{SAW}{keys}\n")
}

#[test]
fn a_tool_hangs_on_its_side_or_on_the_last_with_a_regulator() {
    let tool = |keys: &str| said(&[(SAW, &saw(keys))]);
    let none: [String; 0] = [];
    let over = "tool-over-pressure: sander works best at 90 psi and can get";
    let sander =
        |more: &str| format!("tools = [{{ tool = \"sander\", pressure = \"90 psi\"{more} }}]");
    assert_eq!(tool(&sander("")), none);
    assert_eq!(tool(&sander(", side = 2")), none);
    assert_eq!(tool(&sander(", side = 1")), [format!("{over} 140 psi")]);
    assert_eq!(
        tool(&format!("set = \"100 psi\"\n{}", sander(""))),
        [format!("{over} 100 psi")]
    );
    assert_eq!(
        tool(&format!("set = \"80 psi\"\n{}", sander(""))),
        ["pressure-below-need: sander needs 90 psi, and its regulator is set to 80 psi"]
    );
    // The line carries no more than a regulator at its head lets through.
    assert_eq!(
        said(&[
            (SAW, &saw(&sander(", side = 1"))),
            (CONNECT, r#"["valve", "hose 18in", "regulator set 90 psi"]"#),
        ])
        .len(),
        2
    );
}

#[test]
fn a_setting_above_the_cut_in_is_not_always_there() {
    let above = "pressure-below-need: the regulator is set to 120 psi, and the compressor starts again only at 110 psi";
    assert_eq!(said(&[(SAW, &saw("set = \"120 psi\""))]), [above]);
    let side = SIDES.replace("regulator", "regulator 1/2in set 120 psi");
    assert_eq!(said(&[(SIDES, &side)]), [above]);
    let side = SIDES.replace("regulator", "regulator set 100 psi");
    assert!(said(&[(SIDES, &side)]).is_empty());
}

#[test]
fn a_blow_gun_is_known_by_its_words() {
    let gun = |keys: &str| said(&[(SAW, &saw(&format!("tools = [{{ {keys} }}]")))]);
    assert_eq!(
        gun("tool = \"Blow-gun\""),
        [
            "blow-off: Blow-gun can get all the pressure that its side gives, and cleaning air must be below 30 psi"
        ]
    );
    assert!(gun("tool = \"blow gun\", pressure = \"25 psi\"").is_empty());
    // What a gun is sold for is no pressure to set a regulator to.
    assert_eq!(
        gun("tool = \"blow gun\", side = 1"),
        ["blow-off: blow gun can get 140 psi, and cleaning air must be below 30 psi"]
    );
    // The rule is below 30 psi, and 30 psi is not.
    assert_eq!(gun("tool = \"blow gun\", pressure = \"30 psi\"").len(), 1);
}

#[test]
fn a_filter_sees_vapour_where_nothing_has_cooled_the_air() {
    let hot = ("discharge = \"100 F\"", "discharge = \"150 F\"");
    let far = ("bench = \"13-0\"", "bench = \"12-0\"");
    let near: Vec<String> = said(&[hot, far])
        .into_iter()
        .filter(|one| one.starts_with("filter-near-hot-tank"))
        .collect();
    assert_eq!(near.len(), 1, "{near:?}");
    let filter = (CONNECT, r#"["valve", "hose 18in", "filter"]"#);
    assert!(said(&[hot, filter]).contains(
        &"filter-near-hot-tank: the filter is 1'-6\" from a tank that gives air at 150 F: the water is still vapour there".to_owned()
    ));
    let dried = (CONNECT, r#"["valve", "hose 18in", "dryer", "filter"]"#);
    let found = said(&[hot, dried]);
    assert!(
        !found.iter().any(|one| one.starts_with("filter-near-hot")),
        "{found:?}"
    );
}

#[test]
fn paint_wants_no_oil_and_no_zinc() {
    let paint = saw("quality = \"paint\"");
    let oil = (CONNECT, r#"["valve", "hose 18in", "lubricator"]"#);
    assert!(said(&[(SAW, &paint), oil]).contains(
        &"lubricator-before-paint: `saw` is for paint, and a lubricator stands on the head of the main"
            .to_owned()
    ));
    // The other side of the same foot may be oiled, if no paint is sprayed from it.
    let first = SIDES.replacen("\"coupler\"", "\"lubricator\", \"coupler\"", 1);
    let on_second = saw("quality = \"paint\"\ntools = [{ air = \"9 cfm\", side = 2 }]");
    assert!(said(&[(SAW, &on_second), (SIDES, &first)]).is_empty());
    assert_eq!(said(&[(SAW, &paint), (SIDES, &first)]).len(), 1);

    let zinc = ("system = \"black-iron\"", "system = \"galvanised\"");
    let no_filter = "galvanised-after-paint-filter: `saw` is for paint, and no filter stands behind the galvanised pipe";
    assert_eq!(said(&[(SAW, &paint), zinc]), [no_filter]);
    assert!(said(&[(SAW, &on_second), zinc]).is_empty());
    assert!(said(&[zinc]).is_empty());
}

#[test]
fn low_points_are_said_once_and_where_they_are() {
    let level = said(&[("fall   = \"1in per 10ft\"", "fall   = \"level\"")]);
    assert_eq!(
        level,
        ["level-main: 22'-0\" of main is level and holds its water"]
    );
    // Each leg of a level ring has its own, the closing one too.
    let library = Library::shipped().unwrap();
    let ring = include_str!("../../../tests/practice/ring-without-valves/good.toml");
    let text = ring.replace("\"1in per 10ft\"", "\"level\"");
    let (plan, findings) = crate::plan(&Source::new("job", text.clone()), &library);
    let practice = plan.unwrap_or_else(|| panic!("{findings:#?}")).practice;
    let level = practice.iter().filter(|one| one.rule == "level-main");
    let of_legs: Vec<usize> = level.map(|one| one.place().start).collect();
    let legs: Vec<usize> = text.match_indices("[[leg]]").map(|(at, _)| at).collect();
    assert_eq!(of_legs, legs);
    let check = said(&[(CONNECT, r#"["valve", "check", "hose 18in"]"#)]);
    assert_eq!(
        check,
        [
            "low-point-without-drain: the water of 5'-6\" of pipe stands before the check valve, which lets nothing back to the tank, 2'-6\" above the floor"
        ]
    );
    let frozen = said(&[
        (CONNECT, r#"["valve", "check", "hose 18in"]"#),
        ("coldest = \"38 F\"", "coldest = \"32 F\""),
    ]);
    let frozen: Vec<&String> = frozen
        .iter()
        .filter(|one| one.starts_with("freezing-drain"))
        .collect();
    assert_eq!(frozen.len(), 4, "{frozen:?}");
    assert_eq!(
        frozen[0],
        "freezing-drain: the low point at the hose at compressor holds the water of 5'-6\" in `annex`, which gets as cold as 32 F"
    );
}

// A side at the end of the main takes all of its 27-6 but the riser's 5-6; with
// main beyond, what passes it there only may go down it.
#[test]
fn a_side_take_off_at_the_end_of_the_main_takes_its_water() {
    let side = ("take_off = \"top\"", "take_off = \"side\"");
    let wet = |edits: &[(&str, &str)]| {
        let mut all = said(edits);
        all.retain(|one| one.starts_with("wet-take-off: `saw`"));
        all
    };
    assert_eq!(
        wet(&[side]),
        [
            "wet-take-off: `saw` leaves the side of the main and is at risk from the water of 14'-6\" of pipe"
        ]
    );
    let at_end = [
        side,
        ("saw = \"20-0\", low = \"27-6\"", "saw = \"27-6\""),
        ("[drain.low]\ndrip_leg = \"8in\"\n", ""),
    ];
    assert_eq!(
        wet(&at_end),
        ["wet-take-off: `saw` leaves the side of the main and takes the water of 22'-0\" of pipe"]
    );
}

#[test]
fn an_outlet_is_within_reach_or_on_a_reel() {
    let bench = "[outlet.bench]\ndrop   = \"good\"\nheight = \"4-0\"";
    let at = |height: &str| said(&[(bench, &bench.replace("4-0", height))]);
    assert!(at("6-0").is_empty());
    assert!(at("1-6").is_empty());
    assert_eq!(
        at("1-5"),
        ["outlet-out-of-reach: `bench` stands 1'-5\" above the floor: near the floor"]
    );
    assert_eq!(
        at("6-1"),
        ["outlet-out-of-reach: `bench` stands 6'-1\" above the floor: above reach"]
    );
}

#[test]
fn a_ring_wants_two_line_valves() {
    let library = Library::shipped().unwrap();
    let ring = include_str!("../../../tests/practice/ring-without-valves/good.toml");
    let said = |edits: &[(&str, &str)]| {
        let mut text = ring.to_owned();
        for (old, new) in edits {
            assert!(text.contains(old), "{old}");
            text = text.replace(old, new);
        }
        let (plan, findings) = crate::plan(&Source::new("job", text), &library);
        let practice = plan.unwrap_or_else(|| panic!("{findings:#?}")).practice;
        let rings = practice
            .into_iter()
            .filter(|one| one.rule == "ring-without-valves");
        rings.map(|one| one.message).collect::<Vec<_>>()
    };
    assert!(said(&[]).is_empty());
    let no_east = [("east = \"2-0\", ", ""), ("[valve.east]\n", "")];
    assert_eq!(
        said(&no_east),
        [
            "`west` is the only line valve of its ring, and a stretch is shut off at both its ends: one leak still takes the air from the whole ring"
        ]
    );
    // A valve on the feed is none of the ring's.
    let on_feed = [
        ("east = \"2-0\", ", ""),
        ("marks = { west = \"8-0\" }\n", ""),
        ("[valve.east]\n", ""),
        (
            "to    = \"entry\"\n\n[[leg]]\nfrom",
            "marks = { west = \"7-0\" }\nto    = \"entry\"\n\n[[leg]]\nfrom",
        ),
    ];
    assert_eq!(
        said(&on_feed),
        ["a ring has no line valve: a leak in it can be shut off nowhere"]
    );
}

// 22-0 fall 2 1/5 in from 8-0, to 7'-9 13/16"; the drip leg of 7 3/4 in ends that
// much lower. What is asked for is rounded up.
#[test]
fn a_leg_says_how_much_higher_it_has_to_be() {
    let low = "low = \"27-6\" }";
    let clear = |height: &str| said(&[(low, &format!("{low}\nclear = \"{height}\""))]);
    assert!(clear("7-2").is_empty());
    let drip_leg = |high: &str, must: &str| {
        format!(
            "main-too-low: the drip leg of `low` is 7'-2 1/16\" above the floor, and {must} must stay clear: it would have to be {high} higher"
        )
    };
    assert_eq!(clear("7-9"), [drip_leg("7\"", "7'-9\"")]);
    assert_eq!(
        clear("7-10"),
        [
            "main-too-low: the main (`low`) is 7'-9 13/16\" above the floor, and 7'-10\" must stay clear: it would have to be 1/4\" higher".to_owned(),
            drip_leg("8\"", "7'-10\""),
        ]
    );
}

#[test]
fn a_leg_is_held_against_the_eave_of_its_room() {
    let eave = "eave    = \"10-0\"";
    let at = |height: &str| said(&[(eave, &format!("eave = \"{height}\""))]);
    let start = "main-above-eave: the main (leg 1, a corner) is 8'-0\" above the floor,";
    assert!(at("8-0 1/2").is_empty());
    assert_eq!(
        at("8-0"),
        [format!(
            "{start} level with the eave of `annex`: it has to be lower"
        )]
    );
    assert_eq!(
        at("7-6"),
        [format!(
            "{start} 6\" above the eave of `annex`: it has to be more than 6\" lower"
        )]
    );
    // Of several rooms it is held against the one that it names, or else against
    // the highest.
    let two = "[room.shed]\nsize = \"9-0 x 9-0\"\neave = \"7-0\"\n\n[supply.compressor]";
    let two = ("[supply.compressor]", two);
    assert!(said(&[two]).is_empty());
    let go = "go    = [\"up 5-6\"";
    let named = (go, &format!("room = \"shed\"\n{go}")[..]);
    assert_eq!(
        said(&[two, named]),
        [format!(
            "{start} 1'-0\" above the eave of `shed`: it has to be more than 1'-0\" lower"
        )]
    );
}
