//! What follows from the layout: what parts hold, which valves part them, and what the
//! sheets of the demo say.

use super::*;
use crate::source::Source;
use std::collections::BTreeSet;

const MILLRACE: &str = include_str!("../../../catalogs-demo/millrace.toml");
const VALVES: &str = include_str!("../../../tests/cases/ring-valves/job.toml");
const RING: &str = include_str!("../../../tests/drawing/ring-of-twenty.toml");
const HEAD: &str = include_str!("../../../tests/three_ways/feet.head");
const FOUR: &str = include_str!("../../../tests/three_ways/valves.legs.toml");

pub(super) fn planned(job: &str) -> (Plan, Library) {
    let library = Library::shipped().unwrap();
    let (plan, findings) = crate::plan(&Source::new("job", job.to_owned()), &library);
    (plan.unwrap_or_else(|| panic!("{findings:?}")), library)
}

#[test]
fn parts_share_out_every_pipe_once() {
    for job in [MILLRACE, VALVES, RING] {
        let (plan, library) = planned(job);
        let parts = parts(&plan, &library);
        let mut pipe: Vec<_> = parts.iter().flat_map(|part| part.pipe.clone()).collect();
        let reached = pipe.len();
        pipe.sort_unstable();
        pipe.dedup();
        assert_eq!(pipe.len(), reached);
        let held = |links: &[crate::network::LinkId]| -> f64 {
            links
                .iter()
                .map(|link| litres(&plan.network, &library, *link))
                .sum()
        };
        let all: Vec<_> = plan.network.links().map(|(id, ..)| id).collect();
        let sum: f64 = parts.iter().map(|part| part.litres).sum();
        assert!(
            (sum - held(&all)).abs() < 1e-9 * sum,
            "{sum} {}",
            held(&all)
        );
        let mut outlets: Vec<usize> = parts.iter().flat_map(|part| part.outlets.clone()).collect();
        outlets.sort_unstable();
        let numbers: Vec<usize> = (1..=plan.summary.outlets.len()).collect();
        assert_eq!(outlets, numbers);
    }
}

// The demo's ring, by hand: 1 in main and what is 3/4 in by the bores of ASME B36.10M,
// 26.65 and 20.93 mm, from middle to middle.
#[test]
fn a_pipe_holds_its_bore_by_its_length() {
    let (plan, library) = planned(MILLRACE);
    let (link, ..) = plan
        .network
        .links()
        .find(|(.., link)| link.is_main() && link.pipe.is_some())
        .unwrap();
    let of = plan.network.link(link);
    let bore = library.systems()[of.system]
        .row(of.size)
        .unwrap()
        .bore()
        .mm();
    let wanted = std::f64::consts::FRAC_PI_4 * bore * bore * of.pipe.unwrap().mm() / 1e6;
    assert!((litres(&plan.network, &library, link) - wanted).abs() < 1e-9);
}

#[test]
fn shutting_by_halves_ends_at_every_part_once() {
    // A ring in four parts, two of which the gauge only sees past the others.
    let four = FOUR.replacen(
        "lower = \"37-0\"",
        "\"south valve\" = \"20-0\", lower = \"37-0\"",
        1,
    );
    let four = format!("{HEAD}{four}\n[valve.\"south valve\"]\n");
    let mut longest = 0;
    for job in [RING, VALVES, &four] {
        let (plan, library) = planned(job);
        let parts = parts(&plan, &library);
        let steps = search(&parts);
        longest = longest.max(steps.len());
        assert_eq!(steps.len(), parts.len() - 1);
        for part in &parts {
            let alone = |side: &Vec<String>| side == std::slice::from_ref(&part.letter);
            let ends = steps
                .iter()
                .filter(|step| alone(&step.falls) || alone(&step.stands));
            assert_eq!(ends.count(), 1, "{}", part.letter);
        }
        // In the whole network, with the valves of a step shut and all others open, the
        // gauge in the first part sees all pipe of one side and none of the other.
        let tags = tags(&plan);
        let place = |tag: &String| tags.valves.iter().find(|valve| valve.1 == *tag).unwrap().0;
        for step in &steps {
            let shut: Vec<_> = step.shut.iter().map(place).collect();
            let inside = parts[0]
                .pipe
                .iter()
                .flat_map(|link| plan.network.ends_of(*link));
            let inside = inside.filter(|end| !tags.valves.iter().any(|valve| valve.0 == *end));
            let seen = plan.network.reached(inside, &shut);
            for (side, sees) in [(&step.falls, true), (&step.stands, false)] {
                for part in parts.iter().filter(|part| side.contains(&part.letter)) {
                    for link in &part.pipe {
                        let ends = plan.network.ends_of(*link);
                        let reached = ends.iter().any(|end| seen[end.index()]);
                        assert_eq!(reached, sees, "{} {:?}", part.letter, step.shut);
                    }
                }
            }
        }
    }
    assert_eq!(longest, 3);
}

#[test]
fn sheets_are_written_that_are_wanted_and_no_others() {
    let (plan, library) = planned(MILLRACE);
    let all = handover(&plan, &library, Asked::default(), |_| true);
    let words: Vec<&str> = all.sheets.iter().map(|sheet| sheet.word).collect();
    assert_eq!(words, sheet_names());
    let one = handover(&plan, &library, Asked::default(), |word| word == "upkeep");
    assert_eq!(one.sheets.len(), 1);
    assert!(all.figures.stages.is_none());
}

fn text(sheet: &Sheet) -> String {
    text_of(&sheet.parts)
}

pub(super) fn context_of<'a>(plan: &'a Plan, library: &'a Library) -> Context<'a> {
    context(plan, library, Asked::default())
}

pub(super) fn text_of(parts: &[Part]) -> String {
    let words = |part: &Part| match part {
        Part::Heading(words) | Part::Note(words) | Part::Caution(words) => words.clone(),
        Part::Points(points) | Part::Boxes(points) => points.join("\n"),
        Part::Table { columns, rows } => {
            let heads: Vec<&str> = columns.iter().map(|column| column.0.as_str()).collect();
            let rows: Vec<String> = rows.iter().map(|row| row.join(" | ")).collect();
            format!("{}\n{}", heads.join(" | "), rows.join("\n"))
        }
        Part::Blanks(rows) => {
            let blanks = rows.iter().flatten();
            let blanks = blanks.map(|blank| format!("{}: {}", blank.label, blank.value));
            blanks.collect::<Vec<_>>().join("\n")
        }
        Part::Log(heads) => heads.join(" | "),
    };
    parts.iter().map(words).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_test_follows_the_rule_that_was_agreed_on_with_its_source() {
    let (plan, library) = planned(MILLRACE);
    let known = rules().unwrap();
    let before = |rule| {
        let asked = Asked {
            rule,
            ..Asked::default()
        };
        text(&handover(&plan, &library, asked, |word| word == "before").sheets[0])
    };
    let none = before(None);
    assert!(none.contains("The sources disagree"), "{none}");
    for rule in &known {
        assert!(none.contains(&rule.source));
        let said = before(Some(rule));
        assert!(said.contains(&rule.source) && !said.contains("The sources disagree"));
    }
    // 200 psi of the relief valve: 220 psi, its relief valve 242 psi.
    let said = before(known.iter().find(|rule| rule.name == "110-percent"));
    assert!(said.contains("Held at 220 psi"), "{said}");
    assert!(said.contains("no more than 242 psi"), "{said}");
    // What is rated for less is named: 1/2 in pipe carries 214 psi, 1 in pipe 226 psi.
    assert!(said.contains("black iron pipe 1/2in | "), "{said}");
    assert!(!said.contains("black iron pipe 1in | "), "{said}");
    // Every outlet is named among the ends to plug.
    for outlet in &plan.summary.outlets {
        assert!(said.contains(&format!("{} {}", outlet.number, outlet.name)));
    }
}

#[test]
fn the_card_has_every_drain_once_and_a_lubricator_only_where_one_hangs() {
    let (plan, library) = planned(MILLRACE);
    let card =
        text(&handover(&plan, &library, Asked::default(), |word| word == "upkeep").sheets[0]);
    let round = card.split("Every week").next().unwrap();
    for outlet in &plan.summary.outlets {
        let name = format!("{} {}", outlet.number, outlet.name);
        assert_eq!(round.matches(&name).count(), 1, "{name} in {card}");
    }
    assert_eq!(card.matches("D1 low").count(), 1);
    assert_eq!(card.matches("tank of compressor").count(), 1);
    assert!(!card.contains("ubricator"), "{card}");
}

// What is shut alone leaves all outlets live that the list does not name.
#[test]
fn shut_valves_leave_the_outlets_live_that_the_list_leaves_out() {
    let (plan, library) = planned(RING);
    let built = handover(&plan, &library, Asked::default(), |word| word == "as-built");
    let said = text(&built.sheets[0]);
    let tags = tags(&plan);
    for (at, tag, _) in &tags.valves {
        let without = plan.network.without_air(&[*at]);
        let drops = without.iter().map(|drop| &plan.network.drops[*drop].name);
        let without: BTreeSet<usize> = drops.map(|name| tags.outlet(name)).collect();
        let row = said
            .lines()
            .find(|line| line.starts_with(&format!("{tag} | ")));
        let last = row.unwrap().rsplit(" | ").next().unwrap();
        let runs = last.split(", ").filter(|run| *run != "none");
        let listed: BTreeSet<usize> = runs
            .flat_map(|run| {
                let (from, to) = run.split_once(" to ").unwrap_or((run, run));
                from.parse::<usize>().unwrap()..=to.parse().unwrap()
            })
            .collect();
        assert_eq!(listed, without, "{tag}");
    }
}
