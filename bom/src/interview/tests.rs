//! The interview without a terminal.

use super::{Answers, Interview, Stage, TOPICS};
use crate::library::Library;
use crate::quantity::Units;
use crate::source::Source;
use crate::survey::write;
use crate::{Plan, finding};
use proptest::collection::vec;
use proptest::prelude::{ProptestConfig, Strategy, any};
use proptest::sample::select;
use proptest::test_runner::RngSeed;

fn library() -> Library {
    Library::shipped().unwrap()
}

/// The interview after lines that are all taken.
fn after<'a>(library: &'a Library, lines: &[&str]) -> Interview<'a> {
    let mut interview = Interview::new(library);
    for line in lines {
        let reply = interview.say(line);
        assert_eq!(reply.told, Vec::<String>::new(), "`{line}`");
    }
    interview
}

/// The job of these answers.
fn job(answers: &Answers, library: &Library) -> String {
    write(&answers.survey("Shop", library))
}

fn planned(text: &str, library: &Library) -> Plan {
    let (plan, findings) = crate::plan(&Source::new("job.toml", text), library);
    assert!(!finding::stops(&findings), "{findings:#?}\n{text}");
    plan.unwrap_or_else(|| panic!("{text}"))
}

/// The ways and marks of its legs, a line each.
fn legs(answers: &Answers, library: &Library) -> Vec<String> {
    let legs = answers.survey("Shop", library).legs.into_iter();
    legs.map(|leg| {
        let go: Vec<String> = leg
            .go
            .iter()
            .map(|(way, length)| format!("{} {length}", way.word()))
            .collect();
        let marks: Vec<String> = leg
            .marks
            .iter()
            .map(|mark| {
                let back = if mark.from_end { " back" } else { "" };
                format!("{} {}{back}", mark.name, mark.reading)
            })
            .collect();
        format!(
            "{}>{} {}: {}",
            leg.from.unwrap_or_default(),
            leg.to.unwrap_or_default(),
            go.join(", "),
            marks.join(", ")
        )
    })
    .collect()
}

/// Millrace Joinery (invented), as its owner would tell it.
const MILLRACE: [&str; 29] = [
    "feet",
    "south",
    "48-0 x 32-0 x 14-0",
    "west 16-0 outside 4-0",
    "3-6, 1in",
    "24 cfm, 140-175 psi, 80 gal",
    "11-0",
    "none",
    "ring",
    // The west wall has none; then north, east and south.
    "",
    "bench 10-0",
    "router 30-6",
    "",
    "spray 6-0",
    "press 10-0 right",
    "",
    "assembly 14-0",
    "door 12-0 right",
    "",
    "4-0",
    "orbital sander",
    "blow gun",
    "hvlp spray gun",
    "clamp station, clamp station",
    "sander, clamp station, finish nailer, stapler",
    "tyre inflator",
    "3",
    "38 F",
    "",
];

#[test]
fn a_ring_is_the_one_of_the_demo() {
    let library = library();
    let mut interview = after(&library, &MILLRACE);
    interview.say("east 16-0");
    interview.say("iron");
    let last = interview.say("contractor");
    assert_eq!((last.told, last.stage), (vec![], Stage::Finished));
    let answers = interview.answers();
    assert_eq!(answers.confirm, Vec::<String>::new());
    assert_eq!(
        legs(&answers, &library),
        [
            "compressor>entry up 7-6, east 4-0: ",
            "entry> north 16-0: ",
            "> east 48-0: bench 10-0, router 30-6",
            "> south 32-0: spray 6-0, low 16-0, press 10-0 back",
            "> west 48-0: assembly 14-0, door 12-0 back",
            ">entry north 16-0: ",
        ]
    );
    let plan = planned(&job(&answers, &library), &library);
    let demo = include_str!("../../../catalogs-demo/millrace.toml");
    let demo = planned(demo, &library);
    assert_eq!(plan.summary.main_length, demo.summary.main_length);
    assert_eq!(plan.summary.rings, 1);
    assert_eq!(plan.takeoff.drains, demo.takeoff.drains);
    let names = |plan: &Plan| -> Vec<String> {
        let outlets = plan.summary.outlets.iter();
        outlets.map(|outlet| outlet.name.clone()).collect()
    };
    assert_eq!(names(&plan), names(&demo));
    let paint = plan
        .job
        .outlets
        .iter()
        .filter(|outlet| outlet.quality.is_some());
    let paint: Vec<&str> = paint.map(|outlet| outlet.name.value.as_str()).collect();
    assert_eq!(paint, ["spray"]);
}

/// Up to the walls: a shop of 40 x 30 ft, the compressor 10 ft along its west wall.
const TREE: [&str; 8] = [
    "feet",
    "south",
    "40-0 x 30-0",
    "west 10-0",
    "3-0, 3/4in",
    "15 cfm",
    "10-0",
    "none",
];

/// The legs of a tree with these walls and outlets, all else as usual.
fn tree(walls: &str, outlets: &[&str]) -> Vec<String> {
    let library = library();
    let mut interview = after(&library, &TREE);
    assert_eq!(interview.say(walls).told, Vec::<String>::new());
    for outlet in outlets {
        assert_eq!(interview.say(outlet).told, Vec::<String>::new(), "{outlet}");
    }
    interview.finish();
    let answers = interview.answers();
    planned(&job(&answers, &library), &library);
    legs(&answers, &library)
}

#[test]
fn a_tree_goes_the_shorter_way_and_ends_behind_its_last_outlet() {
    assert_eq!(
        tree("north", &["", "bench 10-0", "saw 20-0", ""]),
        [
            "compressor>entry up 7-0: ",
            "entry> north 20-0: ",
            "> east 21-0: bench 10-0, saw 20-0, low 21-0",
        ]
    );
    // South is nearer by the left corner; it is read from there, the pipe comes from
    // the other end.
    assert_eq!(
        tree("south", &["", "bench 10-0", "saw 35-0", ""]),
        [
            "compressor>entry up 7-0: ",
            "entry> south 10-0: ",
            "> east 31-0: saw 5-0, bench 30-0, low 31-0",
        ]
    );
}

#[test]
fn walls_to_either_side_make_two_arms() {
    assert_eq!(
        tree(
            "north, south",
            &["saw 25-0", "", "bench 10-0", "", "press 30-0", ""]
        ),
        [
            "compressor>entry up 7-0: ",
            "entry> north 20-0: saw 15-0",
            "> east 11-0: bench 10-0, low 11-0",
            "entry> south 10-0: ",
            "> east 11-0: press 10-0, low-2 11-0",
        ]
    );
    // Outlets on both sides of the compressor on its own wall.
    assert_eq!(
        tree("west", &["left 4-0", "far 25-0", ""]),
        [
            "compressor>entry up 7-0: ",
            "entry> north 16-0: far 15-0, low 16-0",
            "entry> south 7-0: left 6-0, low-2 7-0",
        ]
    );
}

#[test]
fn water_may_run_back_to_the_tank() {
    let library = library();
    let mut interview = after(&library, &TREE);
    for line in ["west", "saw 25-0", "", "", "", "", "", "", "tank"] {
        assert_eq!(interview.say(line).told, Vec::<String>::new(), "{line}");
    }
    interview.finish();
    let answers = interview.answers();
    let text = job(&answers, &library);
    assert!(text.contains("fall   = \"1in per 10ft back\""), "{text}");
    let plan = planned(&text, &library);
    assert_eq!(plan.summary.drains.len(), 0);
    assert_eq!(legs(&answers, &library)[1], "entry> north 15-0: saw 15-0");
}

#[test]
fn nothing_known_is_a_job_with_all_of_it_to_confirm() {
    let library = library();
    let mut interview = Interview::new(&library);
    interview.finish();
    assert_eq!(interview.question(), None);
    let answers = interview.answers();
    let plan = planned(&job(&answers, &library), &library);
    let what = plan.job.unmeasured.iter().map(|one| one.what.as_str());
    let what: Vec<&str> = what.collect();
    assert_eq!(
        what,
        [
            "the height of the port of compressor",
            "the height of the main",
            "leg 1, up",
            "leg 2, north",
            "where outlet-1 stands on leg 2",
            "where low stands on leg 2",
        ]
    );
    assert_eq!(answers.to_confirm(&library).len(), 6);
}

#[test]
fn an_owner_buys_threads_and_a_door_turns_the_room() {
    let library = library();
    let mut interview = after(&library, &["metric", "west", "14.6m x 9.8m x 4m"]);
    interview.finish();
    let at_home = interview.answers();
    assert_eq!(at_home.units, Some(Units::Metric));
    let survey = at_home.survey("Shop", &library);
    // Who comes in from the west looks east: the width is north-south.
    let size = survey.rooms[0].size.clone().unwrap();
    assert_eq!(size, ("9800mm".to_owned(), "14600mm".to_owned()));
    assert_eq!(survey.main.threading, None);
    assert_eq!(survey.main.height.as_deref(), Some("3700mm"));
    // The left wall as one comes in is the north wall.
    assert_eq!(at_home.place.unwrap().wall, crate::job::Wall::North);

    // The last answer can be changed as long as nobody has gone on.
    assert_eq!(interview.say("back").stage, Stage::Asking);
    assert_eq!(interview.say("home").stage, Stage::Finished);
    let survey = interview.answers().survey("Shop", &library);
    assert_eq!(survey.main.threading.as_deref(), Some("bought"));
    planned(&write(&survey), &library);
}

#[test]
fn words_steer() {
    let library = library();
    let mut interview = Interview::new(&library);
    let text = |interview: &Interview<'_>| interview.question().unwrap().text;
    let first = text(&interview);
    assert_eq!(interview.say("back").told, ["This is the first question."]);
    assert_eq!(interview.say("again").told, ["This is the first question."]);
    let help = interview.say("HELP");
    assert_eq!(help.told.len(), 2);
    assert_eq!(help.stage, Stage::Asking);
    assert_eq!(text(&interview), first);
    assert!(!interview.has_begun());

    // What was said is offered again; Enter keeps it, skip takes the usual answer.
    interview.say("metric");
    interview.say("north");
    interview.say("back");
    assert_eq!(interview.question().unwrap().usual, "north");
    interview.say("");
    assert_eq!(interview.answers().door, Some(crate::job::Wall::North));
    interview.say("back");
    interview.say("skip");
    assert_eq!(interview.answers().door, Some(crate::job::Wall::South));
    assert_eq!(interview.question().unwrap().number, 3);

    // In the middle of a wall, again forgets the outlets and nothing before them.
    let mut interview = after(&library, &MILLRACE[..13]);
    interview.say("spray 6-0");
    assert_eq!(interview.answers().spots.len(), 3);
    interview.say("again");
    assert_eq!(interview.answers().spots.len(), 0);
    assert!(text(&interview).starts_with("West wall"));
    assert!(interview.answers().ring);
    // At the head of a topic it is the one before.
    interview.say("again");
    assert!(!interview.answers().ring);
    assert_eq!(interview.question().unwrap().usual, "west");

    assert_eq!(interview.say("Quit").stage, Stage::Left);
}

#[test]
fn a_bad_answer_is_explained_and_nothing_is_lost() {
    let library = library();
    let mut interview = Interview::new(&library);
    let refused = [
        ("yards", "`yards`: say feet or metric."),
        ("feet", ""),
        (
            "the big one",
            "`the big one` is no wall: say north, east, south or west.",
        ),
        ("n", ""),
        (
            "48",
            "`48`: two figures with an x between them are wanted, width x depth.",
        ),
        (
            "48.6 x 32-0",
            "a bare number is never a length: is it 48 ft 6 in, or 48.6 ft = 48'-7 3/16?; write it like 12-6, 12ft 6in, 150in, 3.81m or 3810mm",
        ),
        (
            "? x 32-0",
            "The room needs both figures: pace what you cannot measure, ~36-0.",
        ),
        ("48-0 by 32-0", ""),
        (
            "upstairs",
            "`upstairs`: begin with the wall (north (door), east (left), south (ahead), west (right)), then the distance.",
        ),
        (
            "left 40-0",
            "The east wall is 32-0 long, and the pipe needs a foot (300 mm) to either corner: where shall it come up?",
        ),
        ("left 16-0", ""),
        ("3-6, big", "`big` is no thread: write it like 3/4in."),
        ("3-6, 3/4\"", ""),
        (
            "24",
            "24 of what? Put its unit behind it: cfm, hp, psi, gal; l/s, kW, bar, l.",
        ),
        (
            "red",
            "`red`: figures with their units are wanted, like 24 cfm, 175 psi, 80 gal.",
        ),
        ("5 hp, 150 psi, 60 gallons", ""),
        (
            "2-0",
            "a height of 2'-0\" is not from 4'-11 1/16\" to 98'-5 1/8\"; is the unit right?",
        ),
        ("10-0", ""),
        ("no", ""),
        (
            "north, up",
            "`up` is no wall: north (door), east (left), south (ahead), west (right); or ring.",
        ),
        ("east", ""),
        (
            "bench",
            "A name and a distance are wanted, like bench 10-0; or ? for the distance.",
        ),
        (
            "bench 40-0",
            "The east wall is 32-0 long: leave 6 in (150 mm) between, or the fittings find no room.",
        ),
        (
            "entry 10-0",
            "`entry` is a name that the job needs itself: take another.",
        ),
        ("bench 10-0", ""),
        (
            "bench 20-0",
            "There is a bench already, on the east wall: take another name, like bench-2.",
        ),
        (
            "saw 10-3",
            "bench is at 10-0: leave 6 in (150 mm) between, or the fittings find no room.",
        ),
        (
            "saw 16-2",
            "The pipe from the compressor comes up at 16-0: leave 6 in (150 mm) between, or the fittings find no room.",
        ),
        ("", ""),
        (
            "9-6",
            "The pipe runs at 10-0, and the drop needs 2 ft (600 mm) below it.",
        ),
        ("", ""),
        (
            "all same",
            "This is the first outlet: say what is used there.",
        ),
        (
            "gun",
            "`gun` is not in the list of tools: did you mean impact gun, rivet gun, hvlp gun, hvlp spray gun? Or say what air it takes: gun 9 cfm",
        ),
        ("edge bander 9 cfm", ""),
        (
            "many",
            "`many` is no number of people: a whole number from 1 to 255 is wanted.",
        ),
        ("two", ""),
        ("90 C", "90 C is no winter: is the unit right, F or C?"),
        ("", ""),
        (
            "saw",
            "There is no outlet saw: there are bench. Or say none.",
        ),
        ("", ""),
        ("middle", "`middle`: say end or tank."),
        ("", ""),
        (
            "pvc",
            "PVC is refused for compressed air: PVC shatters when it bursts, and the air in it throws the sharp pieces. Use steel, copper or aluminium pipe that is rated for compressed air.",
        ),
        (
            "copper",
            "There are several: copper-l-soldered, copper-l-brazed, copper-l-pressed, copper-m-soldered. Which?",
        ),
        ("black iron, aluminum", ""),
        ("nobody", "`nobody`: say home, business or contractor."),
    ];
    let mut wrong = Vec::new();
    for (line, complaint) in refused {
        let before = interview.question();
        let told = interview.say(line).told.join(" ");
        if told != complaint {
            wrong.push(format!("{line}: {told}"));
        }
        assert_eq!(
            interview.question() == before,
            !complaint.is_empty(),
            "{line}"
        );
    }
    assert_eq!(wrong, Vec::<String>::new());
    assert_eq!(interview.say("me").stage, Stage::Finished);
    let answers = interview.answers();
    assert_eq!(
        answers.systems.clone().unwrap(),
        ["black-iron", "aluminium-push-fit"]
    );
    assert_eq!(
        answers.to_confirm(&library),
        [
            "the air that the compressor delivers: 15 cfm is 3 cfm a horsepower (common practice, no source)",
            "of the compressor: the pressure at which it starts",
        ]
    );
    planned(&job(&answers, &library), &library);
}

#[test]
fn what_is_kept_is_said_again() {
    let library = library();
    for count in 0..=MILLRACE.len() {
        let interview = after(&library, &MILLRACE[..count]);
        let kept = interview.kept("dripleg new my-shop.toml");
        let (resumed, wrong) = Interview::resumed(&library, &kept);
        assert_eq!(wrong, None, "{kept}");
        assert_eq!(resumed.question(), interview.question());
        assert_eq!(resumed.kept("dripleg new my-shop.toml"), kept);
    }
    let text = "# mine\nunits: metric\ndoor: upwards\nroom: 9m x 6m\n";
    let (resumed, wrong) = Interview::resumed(&library, text);
    assert_eq!(wrong.as_deref(), Some("door: upwards"));
    assert_eq!(resumed.answers().units, Some(Units::Metric));
    assert_eq!(resumed.question().unwrap().number, 2);
}

#[test]
fn questions_are_short_and_each_has_its_help() {
    let library = library();
    let mut interview = Interview::new(&library);
    let mut lines = MILLRACE.iter().chain(&["", "", "", ""]);
    while let Some(question) = interview.question() {
        let letters = question.text.chars().count();
        assert!(letters <= 160, "{letters}: {}", question.text);
        assert!(
            !question.usual.is_empty() || question.number == 9,
            "{}",
            question.text
        );
        let help = interview.say("help").told;
        assert!(help[0].chars().count() <= 360, "{}", help[0]);
        interview.say(lines.next().unwrap());
    }
    let mut names: Vec<&str> = TOPICS.iter().map(|topic| topic.name).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), TOPICS.len());
}

/// A length of the interview's own units, from nothing to far too much.
fn length() -> impl Strategy<Value = String> {
    (0_u32..60, 0_u32..12, select(&["", "~"][..]))
        .prop_map(|(feet, inches, paced)| format!("{paced}{feet}-{inches}"))
}

fn script() -> impl Strategy<Value = Vec<String>> {
    const WALLS: [&str; 4] = ["north", "east", "south", "west"];
    let head = (
        select(&WALLS[..]),
        (12_u32..90, 12_u32..90),
        (
            select(&WALLS[..]),
            length(),
            select(&["", " outside", " outside 3-0"][..]),
        ),
        select(&["", "?, 1in", "2-6, 1/2in"][..]),
        select(&["", "5 hp", "40 cfm, 120-150 psi, 80 gal"][..]),
        select(&["", "12-0", "9-6"][..]),
    );
    let walls = select(
        &[
            "ring",
            "north",
            "east",
            "south",
            "west",
            "north south",
            "east west",
            "left right far",
        ][..],
    );
    let spots = vec((length(), any::<[bool; 3]>()), 0..9);
    let tail = (
        select(&["", "sander", "tyre inflator", "spray gun, blow gun"][..]),
        select(&["", "tank", "west", "east 5-0"][..]),
        select(
            &[
                "black iron",
                "copper-l-soldered",
                "aluminium",
                "stainless-10s-pressed",
            ][..],
        ),
        select(&["home", "contractor"][..]),
    );
    (head, walls, spots, tail).prop_map(|(head, walls, spots, tail)| {
        let (door, (width, depth), (wall, at, outside), port, plate, height) = head;
        let mut lines = vec![
            "feet".to_owned(),
            door.to_owned(),
            format!("{width}-0 x {depth}-0"),
            format!("{wall} {at}{outside}"),
        ];
        lines.extend([port, plate, height, "none", walls].map(str::to_owned));
        for (number, (at, [right, end, open])) in spots.into_iter().enumerate() {
            let right = if right { " right" } else { "" };
            let at = if open && number == 3 {
                "?".to_owned()
            } else {
                at
            };
            lines.push(format!("o{number} {at}{right}"));
            if end {
                lines.push(String::new());
            }
        }
        lines.push("END".to_owned());
        let (tool, low, pipe, who) = tail;
        lines.extend([tool, "all same", low, pipe, who].map(str::to_owned));
        lines
    })
}

#[test]
fn whatever_is_answered_can_be_built() {
    let library = library();
    let config = ProptestConfig {
        cases: 40,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(11),
        ..ProptestConfig::default()
    };
    proptest::proptest!(config, |(lines in script())| {
        let mut interview = Interview::new(&library);
        for line in &lines {
            // The remaining walls have no outlets; everything else is asked in order,
            // and what does not fit is refused and left as usual.
            let number = |interview: &Interview<'_>| interview.question().map(|one| one.number);
            if line == "END" {
                while number(&interview) == Some(9) {
                    interview.say("");
                }
                continue;
            }
            let before = number(&interview);
            if !interview.say(line).told.is_empty() && before != Some(9) {
                interview.say("skip");
            }
        }
        interview.finish();
        let answers = interview.answers();
        planned(&job(&answers, &library), &library);
    });
}

#[test]
fn no_line_is_too_odd() {
    let library = library();
    let config = ProptestConfig {
        cases: 30,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(12),
        ..ProptestConfig::default()
    };
    let line = proptest::string::string_regex("[-~?/'\"0-9a-z ,.xé°]{0,12}").unwrap();
    proptest::proptest!(config, |(lines in vec(line, 60))| {
        let mut interview = Interview::new(&library);
        for line in lines {
            let here = interview.question();
            let reply = interview.say(&line);
            if !reply.told.is_empty() && interview.question() == here {
                interview.say("skip");
            }
        }
        interview.finish();
        proptest::prop_assert!(interview.question().is_none());
        let (resumed, wrong) = Interview::resumed(&library, &interview.kept("x"));
        proptest::prop_assert_eq!(wrong, None);
        proptest::prop_assert!(resumed.question().is_none());
    });
}
