//! The rating walk over the demo's ring, with black iron's rows and with those
//! of a soldered copper system beside it.

use super::zones::rated;
use super::{Conditions, Item, Rating, Shown, Tube, Zones, findings};
use crate::library::Library;
use crate::quantity::{AirFlow, Pressure, Temperature};
use crate::source::Source;
use crate::system::{Joint, SizeRow, System};

const STEEL: &str = r#"
[[rating]]
item = "pipe"
words = "pipe, threaded"
rule = "threaded-steel"
stress_psi = [[400, 6800]]
corrosion = "0.025in"
source = "ASHRAE steel pipe data table"

[[rating]]
item = "pipe"
words = "pipe, threaded, by nipple tables"
rule = "stated"
sizes = ["1/2in", "1/2in"]
psi = [[100, 1515]]
view = "shown"
source = "nipple table"

[[rating]]
item = "fitting"
words = "malleable iron fittings, class 150"
rule = "stated"
psi = [[150, 300], [200, 265], [250, 225], [300, 185], [350, 150]]
source = "ASME B16.3"
"#;

const COPPER: &str = r#"
[[rating]]
item = "pipe"
words = "drawn tube"
rule = "drawn-tube"
stress_psi = [[250, 10300]]
source = "Copper Tube Handbook"

[[rating]]
item = "fitting"
words = "wrought fittings"
rule = "stated"
psi = [[250, 500]]
source = "example"

[[rating]]
item = "joint"
words = "soldered, 95-5"
rule = "stated"
sizes = ["1/8in", "1in"]
psi = [[100, 1090], [150, 625], [200, 505], [250, 270]]
alloy = "95-5"
source = "Copper Tube Handbook"

[[rating]]
item = "joint"
words = "soldered, 50-50"
rule = "stated"
sizes = ["1/8in", "1in"]
psi = [[100, 200], [150, 150], [200, 100], [250, 85]]
alloy = "50-50"
source = "Copper Tube Handbook"
"#;

/// A system of four sizes under the demo's name, so that its count is judged
/// by these rows.
fn system(joint: &str, ratings: &str) -> System {
    let sizes = [
        ("1/4in", "0.54in", "0.088in", 18.0),
        ("1/2in", "0.84in", "0.109in", 14.0),
        ("3/4in", "1.05in", "0.113in", 14.0),
        ("1in", "1.315in", "0.133in", 11.5),
    ];
    let pipe = sizes.map(|(size, outside, wall, threads)| {
        format!(
            "{{ size = \"{size}\", outside = \"{outside}\", wall = \"{wall}\", \
             threads_per_inch = {threads:.1}, wall_tolerance = \"0.004in\", \
             outside_tolerance = \"0.001in\", mass_lb_per_ft = 1.0, source = \"test\" }}"
        )
    });
    let fitting = sizes.map(|(size, ..)| {
        format!(
            "{{ size = \"{size}\", centre_to_end = \"1in\", centre_to_end_45 = \"1in\", \
             coupling = \"1in\", make_up = \"0.5in\", union = \"2in\", \
             close_nipple = \"1in\", source = \"test\" }}"
        )
    });
    let support = sizes
        .map(|(size, ..)| format!("{{ size = \"{size}\", level = \"8ft\", source = \"test\" }}"));
    let [pipe, fitting, support] = [pipe, fitting, support].map(|rows| rows.join(",\n"));
    let joined = match joint {
        "threaded" => {
            "nipples = [\"2in\"]\nready = [\"18in\"]\nready_within = \"1/4in\"\n\
             tape_turns = 3\ntape_roll = \"12m\""
        }
        _ => "threads = \"brass\"\nalloy = \"95-5\"",
    };
    let text = format!(
        r#"
        name = "black-iron"
        title = "Test pipe"
        material = "test"
        shelf = "test"
        metal = "black steel"
        joint = "{joint}"
        services = "air"
        stick = "21ft"
        kerf = "0mm"
        upright_spacing = "10ft"
        upright_free = "5ft"
        roughness = {{ mm = 0.05, source = "test" }}
        growth = {{ per_million_per_f = 6.5, source = "test" }}
        {joined}
        pipe = [{pipe}]
        fitting = [{fitting}]
        support = [{support}]
        {ratings}
        "#
    );
    System::read(&text).unwrap()
}

fn demo(system: System, conditions: &Conditions) -> Zones {
    let library = Library::shipped().unwrap();
    let job = include_str!("../../../catalogs-demo/millrace.toml");
    let mut plan = crate::plan(&Source::new("job", job), &library).0.unwrap();
    for joints in &mut plan.takeoff.joints {
        joints.joint = system.joint;
    }
    rated(
        &plan.network,
        &plan.takeoff,
        &library,
        &[system],
        conditions,
    )
}

/// Every item: what, psi, temperature.
fn listed(zones: &Zones) -> Vec<String> {
    let items = zones.zones[0].items.iter();
    items
        .map(|item| {
            let psi = item
                .psi
                .map_or("nothing".to_owned(), |psi| format!("{psi:.1}"));
            format!(
                "{} {psi} at {:.1} F",
                item.what,
                item.temperature.fahrenheit()
            )
        })
        .collect()
}

fn relief(text: &str) -> Conditions {
    Conditions {
        relief: Some(Pressure::parse(text).unwrap()),
        free_air: Some(AirFlow::parse("24 cfm").unwrap()),
        ..Conditions::default()
    }
}

const fn f(degrees: i32) -> Option<Temperature> {
    Some(Temperature::from_fahrenheit(degrees))
}

// 216.7 psi: 2 × 6800 × (0.875 × 0.113 − 0.025 − 0.8/14) / 1.05. The door's
// drop is 43.6 ft of 3/4 in pipe away by the shorter side of the ring: 1.114 m2,
// so the air is at 100 + 50 e^(−10 × 1.114 / (0.01364 × 1006)) = 138.1 F.
#[test]
fn the_demo_is_listed_weakest_first() {
    let zones = demo(system("threaded", STEEL), &relief("200 psi"));
    assert_eq!(
        listed(&zones),
        [
            "test pipe 1/2in 214.2 at 137.9 F",
            "test pipe 3/4in 216.7 at 150.0 F",
            "test pipe 1in 225.6 at 150.0 F",
            "filter 250.0 at 137.6 F",
            "regulator 250.0 at 137.6 F",
            "test fitting 1/4in 300.0 at 137.6 F",
            "test fitting 3/8in 300.0 at 138.1 F",
            "test fitting 1/2in 300.0 at 137.9 F",
            "test fitting 3/4in 300.0 at 150.0 F",
            "test fitting 1in 300.0 at 150.0 F",
            "hose 300.0 at 150.0 F",
            "coupler 300.0 at 138.1 F",
            "drain valve 400.0 at 137.9 F",
            "valve 600.0 at 150.0 F",
        ]
    );
    let [zone] = &zones.zones[..] else { panic!() };
    assert_eq!(zone.name, "under the relief valve of compressor");
    assert_eq!(zone.limit_words, "the relief valve opens at 200 psi");
    let weakest = &zone.items[0];
    assert!((weakest.margin_psi.unwrap() - 14.2).abs() < 0.05);
    assert_eq!(weakest.place_words, "outlet door, drip leg (line 122)");
    assert_eq!(weakest.source, "ASHRAE steel pipe data table");
    assert_eq!(
        weakest.shown,
        [Shown {
            words: "pipe, threaded, by nipple tables".to_owned(),
            psi: 1515.0,
            only_to: f(100),
            source: "nipple table".to_owned(),
        }]
    );
    assert_eq!(
        zones.assumptions,
        [
            "the air around the pipe is at 100 F (common practice, no source)",
            "the air leaves the tank at 150 F (common practice, no source)",
            "the air cools on its way as in bare pipe that loses 10 W/(m2 K) (handbook figure, from memory), as full of water as it can be",
            "what stands behind a regulator is judged at the full pressure: a regulator can fail open",
        ]
    );
    assert_eq!(findings(&zones), []);
}

#[test]
fn what_carries_less_than_the_relief_is_named() {
    let zones = demo(system("threaded", STEEL), &relief("215 psi"));
    let found = findings(&zones);
    let [finding] = &found[..] else {
        panic!("{found:#?}")
    };
    assert_eq!(finding.rule, "rated-below-relief");
    assert_eq!(
        finding.message,
        "test pipe 1/2in (pipe, threaded) may carry 214.2 psi at 137.9 F, and the relief valve opens at 215 psi"
    );
    assert_eq!(finding.labels[0].text, "outlet door, drip leg (line 122)");
    assert_eq!(
        finding.help,
        "use there what may carry 215 psi or more, or a relief valve that opens at 214.2 psi or \
         less and a cut-out pressure below it (ASHRAE steel pipe data table)"
    );
    // A figure that is exactly the setting is enough.
    let equal = demo(system("threaded", STEEL), &relief("250 psi"));
    let named: Vec<_> = findings(&equal)
        .into_iter()
        .map(|finding| finding.message)
        .collect();
    assert_eq!(named.len(), 3, "{named:#?}");
    assert!(named.iter().all(|message| message.contains(" pipe ")));
}

#[test]
fn without_a_relief_setting_the_cut_out_is_taken() {
    let conditions = Conditions {
        cut_out: Some(Pressure::parse("200 psi").unwrap()),
        ambient: f(70),
        discharge: f(150),
        ..Conditions::default()
    };
    let zones = demo(system("threaded", STEEL), &conditions);
    assert_eq!(
        zones.zones[0].limit_words,
        "1.1 times the cut-out pressure of 200 psi is 220 psi"
    );
    assert_eq!(
        zones.assumptions[..2],
        [
            "no relief setting is stated: it is taken as 1.1 times the cut-out pressure, 220 psi (common practice, no source)",
            "no free air is stated: the air is as hot everywhere as at the tank",
        ]
    );
    assert_eq!(listed(&zones)[0], "test pipe 1/2in 214.2 at 150.0 F");
    assert_eq!(findings(&zones).len(), 2);

    let nothing = demo(system("threaded", STEEL), &Conditions::default());
    assert_eq!(nothing.zones[0].limit_psi, None);
    assert_eq!(nothing.zones[0].items[0].margin_psi, None);
    assert_eq!(
        nothing.assumptions[0],
        "neither a relief setting nor a cut-out pressure is stated: nothing could be compared with its rating"
    );
    assert_eq!(findings(&nothing), []);
}

#[test]
fn hot_air_takes_the_rating_away() {
    let hot = |degrees| Conditions {
        discharge: f(degrees),
        ..relief("180 psi")
    };
    let fitting = |degrees| {
        let zones = demo(system("threaded", STEEL), &hot(degrees));
        let listed = listed(&zones);
        let one = listed.iter().find(|item| item.contains("fitting 1in"));
        (one.unwrap().clone(), findings(&zones))
    };
    assert_eq!(
        fitting(260),
        ("test fitting 1in 185.0 at 260.0 F".to_owned(), Vec::new())
    );
    let (listed, found) = fitting(360);
    assert_eq!(listed, "test fitting 1in nothing at 360.0 F");
    assert_eq!(found[0].rule, "rated-below-relief");
    assert!(found.iter().any(|finding| {
        finding.message
            == "no published figure says what test fitting 1in (malleable iron fittings, class 150) may carry at 360 F"
    }));
    // Air that is colder than the room cannot keep idle pipe cold.
    let cold = demo(system("threaded", STEEL), &hot(50));
    assert!(listed_at(&cold, "at 100.0 F"));
}

fn listed_at(zones: &Zones, degrees: &str) -> bool {
    listed(zones).iter().all(|item| item.ends_with(degrees))
}

#[test]
fn a_joint_is_as_good_as_its_alloy() {
    let joints = |alloy: Option<&str>| {
        let conditions = Conditions {
            alloy: alloy.map(str::to_owned),
            ..relief("200 psi")
        };
        let zones = demo(system("soldered", COPPER), &conditions);
        let mut found = listed(&zones);
        found.retain(|item| item.contains("joint"));
        found.truncate(2);
        (found, findings(&zones).len())
    };
    let usual = (
        vec![
            "soldered joint 1/4in of test 625.0 at 137.6 F".to_owned(),
            "soldered joint 3/8in of test 625.0 at 138.1 F".to_owned(),
        ],
        0,
    );
    assert_eq!(joints(None), usual);
    assert_eq!(joints(Some("95-5")), usual);
    let (found, stopped) = joints(Some("50-50"));
    assert_eq!(found[0], "soldered joint 1/4in of test 150.0 at 137.6 F");
    assert_eq!(stopped, 5);
}

#[test]
fn nothing_is_safe_that_nobody_rates() {
    let zones = demo(system("threaded", ""), &relief("100 psi"));
    assert_eq!(listed(&zones)[0], "test pipe 1/2in nothing at 137.9 F");
    assert_eq!(findings(&zones).len(), 8);
}

#[test]
fn every_size_that_ships_is_rated() {
    let library = Library::shipped().unwrap();
    for system in library.systems() {
        let rated = |item: Item, row: &SizeRow| {
            let of_alloy = |rating: &&Rating| {
                rating.alloy.is_none() || rating.alloy.as_deref() == system.alloy.as_deref()
            };
            let mut ratings = system.ratings.iter().filter(of_alloy);
            ratings.any(|rating| {
                let psi = rating.at(row.size, &Tube::of(row), Temperature::from_fahrenheit(130));
                rating.item == item && !rating.shown && psi.is_some_and(|psi| psi > 0.0)
            })
        };
        for row in system.sizes() {
            let place = format!("{} {}", system.name, row.size);
            assert!(rated(Item::Pipe, row), "{place}: its pipe");
            let joined = rated(Item::Joint, row);
            assert!(joined || rated(Item::Fitting, row), "{place}: its fittings");
            let must = matches!(system.joint, Joint::Soldered | Joint::Brazed);
            assert!(joined || !must, "{place}: its joints");
        }
        for alloy in system
            .ratings
            .iter()
            .filter_map(|rating| rating.alloy.as_ref())
        {
            assert!(system.alloy.is_some(), "{}: {alloy}", system.name);
        }
    }
}
