//! How much water, how dry the air is, and where it freezes.

use super::SHOP;
use crate::Plan;
use crate::library::Library;
use crate::source::Source;
use crate::water::{FreezingKind, failure};

fn plan(job: &str) -> Plan {
    let library = Library::shipped().unwrap();
    let (plan, findings) = crate::plan(&Source::new("job", job), &library);
    plan.unwrap_or_else(|| panic!("{findings:#?}"))
}

/// SHOP with more said of its air, and in rooms.
fn shop(air: &str, rooms: &str) -> Plan {
    let job = SHOP.replace("cut_out = \"140 psi\"", air);
    plan(&job.replace("[supply", &format!("{rooms}\n[supply")))
}

// Published: 500 scfm of 75 F and 75 % bring 90 US gal in 24 h; cooled to 100 F
// at 100 psig 57 of them fall out, and 29 more in a dryer of 38 F (a trade page
// of rounded figures); 1 m3 of 20 C and 70 % gives 0.0064 kg at 40 C and 8 bar
// (an engineering page, rounded inputs). The figures here are psychrolib's for
// ideal gases, within 0.2 %: intake, humidity, flow, hours, cut-in, discharge;
// kg taken in (0 where not stated) and kg in the tank.
#[test]
fn the_tank_keeps_back_what_psychrolib_says() {
    for (air, taken_in, in_tank) in [
        ("75 F|75 %|500 cfm|24|100 psi|100 F", 330.739, 207.608),
        ("75 F|75 %|500 cfm|24|100 psi|38 F", 330.739, 316.261),
        ("25 C|60 %|500 l/min|8|8 bar|35 C", 0.0, 2.2269),
        ("35 C|80 %|3000 l/min|24|7 bar|40 C", 0.0, 109.4066),
        ("5 C|50 %|3000 l/min|24|7 bar|25 C", 0.0, 1.1996),
    ] {
        let cells: Vec<&str> = air.split('|').collect();
        let amounts = shop(&format!(
            "intake = \"{}\"\nhumidity = \"{}\"\nfree_air = \"{}\"\nrunning = \"{} h\"\ncut_in = \"{}\"\ncut_out = \"140 psi\"\ndischarge = \"{}\"",
            cells[0], cells[1], cells[2], cells[3], cells[4], cells[5],
        ), "").amounts.unwrap();
        let tank = amounts.mean.in_tank;
        assert!((tank / in_tank - 1.0).abs() < 2e-3, "{air}: {tank}");
        let brought = amounts.mean.taken_in;
        assert!(
            taken_in == 0.0 || (brought / taken_in - 1.0).abs() < 2e-3,
            "{air}: {brought}"
        );
    }
}

// Saturation pressures: psychrolib's and IAPWS's figures, Pa, within 0.1 %.
#[test]
fn saturation_is_as_published() {
    use crate::air::moisture::saturation;
    for (celsius, published) in [
        (0.01, 611.655),
        (3.0, 758.081),
        (10.0, 1_228.199),
        (20.0, 2_339.318),
        (25.0, 3_169.929),
        (30.0, 4_246.971),
        (35.0, 5_629.016),
        (40.0, 7_384.938),
        (50.0, 12_351.946),
    ] {
        let ours = saturation(celsius + 273.15);
        assert!((ours / published - 1.0).abs() < 1e-3, "{celsius}: {ours}");
    }
}

const TWO_ROOMS: &str = r#"
[room.shop]
size = "60-0 x 40-0"
coldest = "50 F"
hottest = "90 F"
[room.outdoors]
coldest = "-4 F"
hottest = "104 F"
"#;

/// SHOP whose last leg, with the low drain, stands outdoors.
fn out_of_doors(air: &str) -> String {
    SHOP.replace("cut_out = \"140 psi\"", air)
        .replace("[supply", &format!("{TWO_ROOMS}\n[supply"))
        .replace(
            "go    = \"east 0-6\"",
            "go    = \"east 0-6\"\nroom = \"outdoors\"",
        )
}

// The bench's drain stands in the shop, the low one outdoors; level pipe that
// runs from one into the other freezes too.
#[test]
fn water_freezes_where_its_room_does() {
    let said = |job: &str| -> Vec<String> {
        let freezing = plan(job).freezing;
        let said = freezing.iter().map(|one| {
            let what = match &one.kind {
                FreezingKind::Drain(name) => format!("drain {name}"),
                FreezingKind::LowPoint => "low point".to_owned(),
                FreezingKind::Level(_) => "level".to_owned(),
            };
            format!(
                "{what} in {} at {}",
                one.room,
                one.coldest.show(crate::quantity::Units::Feet)
            )
        });
        said.collect()
    };
    let job = out_of_doors("");
    assert_eq!(said(&job), ["drain low in outdoors at -4 F"]);
    let level = job.replace("1in per 10ft", "level");
    let all = said(&level);
    // The leg in the shop that ends where the cold one begins does not.
    let stretches = all.iter().filter(|one| one.starts_with("level"));
    assert_eq!(stretches.count(), 1, "{all:?}");
    assert!(
        all.contains(&"level in outdoors at -4 F".to_owned()),
        "{all:?}"
    );
    let warm = job.replace("-4 F", "33 F");
    assert!(said(&warm).is_empty());
    let edge = job.replace("-4 F", "32 F");
    assert_eq!(said(&edge), ["drain low in outdoors at 32 F"]);
}

// More water comes on the hottest day, less on the coldest; the mean is that of
// the rooms' mean temperatures.
#[test]
fn the_hottest_day_brings_most() {
    let amounts = plan(&out_of_doors("free_air = \"30 cfm\""))
        .amounts
        .unwrap();
    let (cold, hot) = (amounts.coldest.unwrap(), amounts.hottest.unwrap());
    assert!(cold.taken_in < amounts.mean.taken_in && amounts.mean.taken_in < hot.taken_in);
    // The same shop at its mean of 70 F, and outdoors at 50 F.
    let even = out_of_doors("free_air = \"30 cfm\"")
        .replace(
            "coldest = \"50 F\"\nhottest = \"90 F\"",
            "coldest = \"70 F\"\nhottest = \"70 F\"",
        )
        .replace("\"-4 F\"", "\"50 F\"")
        .replace("\"104 F\"", "\"50 F\"");
    let even = plan(&even).amounts.unwrap().mean;
    assert_eq!(even.at_ends, amounts.mean.at_ends);
    // Without rooms the same is assumed of all of it.
    let none = shop("free_air = \"30 cfm\"", "").amounts.unwrap();
    assert!(none.coldest.is_none() && none.hottest.is_none());
    assert!(
        none.assumptions.contains(
            &"The air around the pipe is at 70 F (common practice, no source).".to_owned()
        )
    );
}

// 1 500 m are 0.8345 of the air's pressure: as much less air and, at the same
// vapour, as much more of it held under 100 psi.
#[test]
fn thin_air_brings_as_much_vapour_and_leaves_more_of_it_out() {
    let air = "free_air = \"30 cfm\"\nintake = \"75 F\"";
    let sea = shop(air, "").amounts.unwrap().mean;
    let high = shop(air, "[site]\naltitude = \"1500m\"")
        .amounts
        .unwrap()
        .mean;
    assert!((high.taken_in / sea.taken_in - 1.0).abs() < 1e-9);
    assert!(high.in_tank > sea.in_tank);
    let stream = |rooms| shop(air, rooms).stream.unwrap().kg_per_s();
    let ratio = stream("[site]\naltitude = \"1500m\"") / stream("");
    assert!((ratio - 0.8345).abs() < 1e-4, "{ratio}");
}

// By hand: 100 F in the tank, and a long way at 40 F: the air arrives at its
// dew point. From a tank at 20 F its dew point stays below.
#[test]
fn air_arrives_at_its_dew_point_or_dry() {
    let room = "[room.shop]\nsize = \"60-0 x 40-0\"\ncoldest = \"40 F\"\nhottest = \"40 F\"";
    let arrival = |air: &str| shop(air, room).amounts.unwrap().arrivals.remove(0);
    let wet = arrival("free_air = \"0.2 cfm\"\ndischarge = \"100 F\"");
    assert!(wet.saturated, "{wet:?}");
    assert!((wet.air.fahrenheit() - 40.0).abs() < 0.1, "{wet:?}");
    let dry = arrival("free_air = \"0.2 cfm\"\ndischarge = \"20 F\"");
    assert!(!dry.saturated);
    assert!(
        (dry.dew_point.unwrap().fahrenheit() - 20.0).abs() < 0.1,
        "{dry:?}"
    );
    assert!((dry.air.fahrenheit() - 40.0).abs() < 0.1, "{dry:?}");
}

// Behind a dryer nothing is known of the air.
#[test]
fn a_dryer_keeps_its_dew_point_to_itself() {
    let job = SHOP
        .replace("cut_out = \"140 psi\"", "free_air = \"12 cfm\"")
        .replace("[\"valve\", \"hose", "[\"valve\", \"dryer 3/4in\", \"hose");
    let amounts = plan(&job).amounts.unwrap();
    assert!(amounts.arrivals.is_empty());
    let said = amounts.assumptions.iter();
    assert!(said.last().unwrap().contains("dryer"));
}

#[test]
fn a_map_that_loses_pipe_is_refused() {
    let mut map = plan(SHOP).water;
    assert!(failure(&map).is_none());
    map.all += crate::quantity::Length::from_nm(1);
    assert_eq!(failure(&map).unwrap().rule, "proof-failed");
}
