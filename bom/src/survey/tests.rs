//! What is written is read again, whatever somebody typed.

use super::{Drain, DropKind, Leg, Mark, Outlet, Room, Supply, Survey, Tool, Valve, write};
use crate::finding::Finding;
use crate::job::{self, Direction, Job};
use crate::library::Library;
use crate::quantity::{Length, Units};
use crate::source::Source;
use proptest::collection::{btree_set, vec};
use proptest::prelude::{ProptestConfig, Strategy, any};
use proptest::test_runner::RngSeed;
use std::sync::LazyLock;

fn read(text: &str) -> (Option<Job>, Vec<Finding>) {
    static LIBRARY: LazyLock<Library> = LazyLock::new(|| Library::shipped().unwrap());
    job::read(&Source::new("job.toml", text), &LIBRARY)
}

/// The job of a survey in which nothing is wrong.
fn read_whole(survey: &Survey) -> Job {
    let text = write(survey);
    let (job, findings) = read(&text);
    assert_eq!(findings, [], "{text}");
    let job = job.unwrap_or_else(|| panic!("no job: {text}"));
    assert!(job.complete, "{text}");
    job
}

fn text(text: &str) -> Option<String> {
    Some(text.to_owned())
}

/// A shop with one leg along its north wall, on which everything stands.
fn shop(names: &[String], words: &[String]) -> Survey {
    let word = |at: usize| words.get(at).cloned();
    let marks = names[2..].iter().zip(1..).map(|(name, feet)| Mark {
        name: name.clone(),
        reading: format!("{}-0", 3 * feet),
        from_end: false,
    });
    Survey {
        remarks: words.to_vec(),
        title: text("Shop"),
        customer: word(0),
        revision: word(1),
        people: Some(2),
        altitude: text("650ft"),
        rooms: vec![Room {
            name: names[1].clone(),
            size: Some(("60-0".to_owned(), "30-0".to_owned())),
            eave: text("14-0"),
            coldest: text("38 F"),
            hottest: text("90 F"),
        }],
        supplies: vec![Supply {
            name: names[0].clone(),
            remark: word(2),
            free_air: text("24 cfm"),
            height: text("3-6"),
            ..Supply::default()
        }],
        legs: vec![
            Leg {
                from: Some(names[0].clone()),
                go: vec![(Direction::Up, "7-6".to_owned())],
                ..Leg::default()
            },
            Leg {
                name: word(0),
                remark: word(1),
                along: text("north wall"),
                room: Some(names[1].clone()),
                go: vec![(Direction::East, "60-0".to_owned())],
                marks: marks.collect(),
                ..Leg::default()
            },
        ],
        drains: vec![Drain {
            name: names[2].clone(),
            falls_on: true,
            ..Drain::default()
        }],
        valves: vec![Valve {
            name: names[3].clone(),
            ..Valve::default()
        }],
        drops: vec![DropKind {
            name: names[1].clone(),
            remark: word(2),
            sides: vec![vec!["valve".to_owned(), "coupler".to_owned()]],
            ..DropKind::default()
        }],
        outlets: names[4..]
            .iter()
            .enumerate()
            .map(|(at, name)| Outlet {
                name: name.clone(),
                remark: word(at),
                drop: (at % 2 == 0).then(|| names[1].clone()),
                height: text("4-0"),
                paint: at == 1,
                tools: vec![Tool {
                    air: text("14 cfm"),
                    note: word(at),
                    ..Tool::default()
                }],
            })
            .collect(),
        ..Survey::default()
    }
}

#[test]
fn any_text_is_read_as_it_was_given() {
    let name = || vec(any::<char>(), 0..8).prop_map(String::from_iter);
    let config = ProptestConfig {
        cases: 64,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(51),
        ..ProptestConfig::default()
    };
    let shops = (btree_set(name(), 7), vec(name(), 3));
    proptest::proptest!(config, |((names, words) in shops)| {
        let names: Vec<String> = names.into_iter().collect();
        let job = read_whole(&shop(&names, &words));
        assert_eq!(job.customer, words[0].trim());
        assert_eq!(job.supplies[0].name.value, names[0]);
        assert_eq!(job.rooms[0].name.value, names[1]);
        assert_eq!(job.drains[0].name.value, names[2]);
        assert_eq!(job.valves[0].name.value, names[3]);
        let mut marks: Vec<&str> = job.legs[1].marks.iter().map(|mark| &*mark.name.value).collect();
        marks.sort_unstable();
        assert_eq!(marks, names[2..]);
        let outlets: Vec<&str> = job.outlets.iter().map(|outlet| &*outlet.name.value).collect();
        assert_eq!(outlets, names[4..]);
        let drop = |at: usize| &*job.drops[job.outlets[at].drop.unwrap()].name.value;
        assert_eq!([drop(0), drop(2)], [&*names[1], &*names[1]]);
        assert_eq!(job.outlets[0].tools[0].note.as_ref().unwrap().value, words[0]);
    });
}

#[test]
fn what_nobody_knows_yet_is_asked_for() {
    for (units, stand_in) in [
        (Units::Feet, Length::from_feet(10)),
        (Units::Metric, Length::from_mm(3_000)),
    ] {
        let survey = Survey {
            units,
            supplies: vec![Supply {
                name: "compressor".to_owned(),
                ..Supply::default()
            }],
            legs: vec![Leg {
                from: text("compressor"),
                along: text("north wall"),
                go: vec![(Direction::East, "?".to_owned())],
                marks: vec![Mark {
                    name: "bench".to_owned(),
                    reading: "?".to_owned(),
                    from_end: true,
                }],
                ..Leg::default()
            }],
            outlets: vec![Outlet {
                name: "bench".to_owned(),
                ..Outlet::default()
            }],
            ..Survey::default()
        };
        let written = write(&survey);
        let job = read_whole(&survey);
        assert_eq!(job.units, units);
        assert_eq!(job.title, "New air main");
        assert_eq!(job.legs[0].straights[0].value.length, stand_in);
        let asked: Vec<&str> = job.unmeasured.iter().map(|one| &*one.what).collect();
        assert_eq!(
            asked,
            [
                "the height of the port of compressor",
                "the height of the main",
                "leg 1, east",
                "where bench stands on leg 1",
                "the height of outlet bench"
            ]
        );
        assert_eq!(written.matches("to measure: ").count(), 6, "{written}");
        // A wall is checked against a room, and none has a size.
        assert!(!written.contains("along ="), "{written}");
    }
}

#[test]
fn the_usual_kinds_of_drops_can_be_built() {
    for (at, name) in [
        super::REGULATED,
        super::LINE,
        super::TWO_SIDED,
        super::PAINT,
    ]
    .into_iter()
    .enumerate()
    {
        let mut survey = shop(&["c", "r", "d", "v", "o"].map(str::to_owned), &[]);
        survey.drops.clear();
        survey.outlets[0].drop = text(name);
        let job = read_whole(&survey);
        assert_eq!(job.drops.len(), 1);
        assert_eq!(job.drops[0].name.value, name);
        assert_eq!(job.drops[0].sides.len(), if at == 2 { 2 } else { 1 });
    }
}

#[test]
fn keys_and_comments_stand_in_columns() {
    let written = write(&shop(
        &["tank", "hall", "low", "shut", "bench"].map(str::to_owned),
        &["say \"when\"\nnow".to_owned()],
    ));
    let part = |header: &str| {
        let from = written.find(header).unwrap();
        written[from..].split("\n\n").next().unwrap().to_owned()
    };
    assert_eq!(
        part("[supply.tank]"),
        r#"[supply.tank]
free_air = "24 cfm"
# cut_in   = "140 psi"            # from the compressor's plate: where it starts
# cut_out  = "175 psi"            # from the compressor's plate: where it stops
# relief   = "200 psi"            # from the compressor's plate: setting of the relief valve
# tank     = "80 gal"             # from the compressor's plate: what the tank holds
port     = "1in female"           # a stand-in: look at the tank's port
height   = "3-6"                  # the port above the floor
connect  = ["valve", "hose 24in"]  # from the tank to the pipe, in this order"#
    );
    assert_eq!(
        part("[outlet.bench]"),
        r#"[outlet.bench]                    # say "when" now
drop   = "hall"
height = "4-0"
tools  = [{ air = "14 cfm", note = "say \"when\"\nnow" }]
"#
    );
}
