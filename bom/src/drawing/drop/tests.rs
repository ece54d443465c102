use super::built::{Built, built};
use super::group::groups;
use super::ink::Item;
use super::listed::Listed;
use super::low::Drains;
use super::supply::Supply;
use crate::Plan;
use crate::drawing::tags::tags;
use crate::drawing::{Area, At, Field, Layer, Scene, Shape, collisions, drop};
use crate::library::Library;
use crate::network::Owner;
use crate::source::Source;
use crate::takeoff::{Because, Why};
use std::collections::BTreeSet;

const JOBS: [&str; 6] = [
    include_str!("../../../../catalogs-demo/millrace.toml"),
    include_str!("../../../../catalogs-demo/annex.toml"),
    include_str!("../../../../catalogs-demo/garage.toml"),
    include_str!("../../../../tests/drawing/ring-of-twenty.toml"),
    include_str!("../../../../tests/drawing/two-levels.toml"),
    include_str!("../../../../tests/drawing/hall-of-a-hundred.toml"),
];

/// Every job in its own system, and the first in all others.
fn plans(library: &Library) -> Vec<Plan> {
    let read = |job: &str, system| {
        let (plan, found) = crate::plan_by(&Source::new("job", job), library, system, None);
        plan.unwrap_or_else(|| panic!("{found:#?}"))
    };
    let mut plans: Vec<Plan> = JOBS.iter().map(|job| read(job, None)).collect();
    for (number, system) in library.systems().iter().enumerate() {
        if system.carries_main {
            plans.push(read(JOBS[0], Some(number)));
        }
    }
    plans
}

/// Every detail: its list, and what is built so.
fn details(scene: &Scene<'_>) -> Vec<(Listed, Vec<Built>)> {
    let (plan, library) = (scene.plan, scene.library);
    let drops = groups(plan).into_iter().map(|group| {
        let listed = group.listed(scene).unwrap();
        let members = group.members.into_iter();
        (listed, members.map(|(_, built)| built).collect())
    });
    let supplies = Supply::all(scene).into_iter();
    let supplies = supplies.map(|supply| (supply.listed(scene, 0.0), vec![supply.built]));
    let drains = Drains::all(plan, library, &tags(plan)).into_iter();
    let drains = drains.map(|drains| {
        let listed = drains.listed(scene, 0.0);
        let members = drains.members.into_iter();
        (listed, members.map(|(_, built, _)| built).collect())
    });
    drops.chain(supplies).chain(drains).collect()
}

fn scene<'a>(plan: &'a Plan, library: &'a Library) -> Scene<'a> {
    Scene {
        plan,
        library,
        field: Field::COMMON,
    }
}

/// The lists of all details, as often as each is built, with what the main takes, are
/// the take-off.
#[test]
fn the_parts_of_all_details_and_of_the_main_are_the_take_off() {
    let library = Library::shipped().unwrap();
    for plan in plans(&library) {
        let details = details(&scene(&plan, &library));
        let of_main = |because: &&Because| {
            matches!(because.why, Why::Spare | Why::Seals)
                || matches!(
                    plan.network.node(because.at.place).origin.owner,
                    Owner::Leg(_)
                )
        };
        for (number, line) in plan.takeoff.lines.iter().enumerate() {
            let mut counted = line.because.iter().filter(of_main).count();
            for (Listed { items, list, .. }, members) in &details {
                let row = items.iter().position(|item| *item == Item::Part(number));
                let quantity = row.map(|row| list.rows[row].cells[3].parse::<usize>());
                counted += match quantity {
                    Some(Ok(each)) => each * members.len(),
                    _ => {
                        let own = members.iter().flat_map(|one| &one.parts);
                        own.filter(|part| part.line == number).count()
                    }
                };
            }
            assert_eq!(
                counted as u64, line.quantity,
                "{} {}",
                line.words, line.key.size
            );
        }
    }
}

#[test]
fn joints_and_pieces_belong_to_one_detail_or_to_the_main() {
    let library = Library::shipped().unwrap();
    for plan in plans(&library) {
        let details = details(&scene(&plan, &library)).into_iter();
        let details: Vec<Built> = details.flat_map(|(_, members)| members).collect();
        let is_main = |at| matches!(plan.network.node(at).origin.owner, Owner::Leg(_));
        for (number, joints) in plan.takeoff.joints.iter().enumerate() {
            let own = details.iter().flat_map(|one| &one.joints);
            let own: u64 = own
                .filter(|(line, _)| *line == number)
                .map(|(_, count)| count)
                .sum();
            let main = joints.places.iter().filter(|at| is_main(at.place)).count() as u64;
            assert_eq!(own + main, joints.count, "{}", joints.size);
        }
        let mut labels: Vec<String> = details
            .iter()
            .flat_map(|one| one.pieces.iter().chain(&one.down))
            .map(|cut| cut.piece.label())
            .collect();
        let all = plan.takeoff.pipe.iter().flat_map(|pipe| &pipe.pieces);
        let main = all.clone().filter(|piece| {
            let owner = |at| plan.network.node(at).origin.owner;
            matches!(owner(piece.from).max(owner(piece.to)), Owner::Leg(_))
        });
        labels.extend(main.map(crate::takeoff::Piece::label));
        labels.sort_unstable();
        let mut all: Vec<String> = all.map(crate::takeoff::Piece::label).collect();
        all.sort_unstable();
        assert_eq!(labels, all);
    }
}

/// Every number of a list stands on its drawing, and no other; every outlet and drain
/// has its row; nothing touches.
#[test]
fn numbers_on_the_drawing_are_the_rows_of_the_list() {
    let library = Library::shipped().unwrap();
    for plan in plans(&library) {
        let sheets = drop(&scene(&plan, &library));
        let groups = groups(&plan);
        let mut drawn = groups
            .iter()
            .map(|group| group.listed(&scene(&plan, &library)));
        let mut rows: Vec<String> = Vec::new();
        for sheet in &sheets {
            assert_eq!(collisions(sheet), [], "{} {}", plan.job.title, sheet.id);
            rows.extend(sheet.marks.iter().filter_map(|mark| mark.id.clone()));
            if sheet.id.matches('-').count() != 1 || !sheet.id.starts_with("drop") {
                continue;
            }
            let labels = sheet.marks.iter().filter(|mark| mark.layer == Layer::Label);
            let numbers: BTreeSet<usize> = labels
                .flat_map(|mark| &mark.shapes)
                .filter_map(|shape| match shape {
                    Shape::Text(text) => text.words.parse().ok(),
                    Shape::Path { .. } | Shape::Disc { .. } => None,
                })
                .collect();
            let count = drawn.next().unwrap().unwrap().items.len();
            assert_eq!(numbers, (1..=count).collect(), "{}", sheet.title);
        }
        let outlets = plan.summary.outlets.iter();
        let mut wanted: Vec<String> = outlets
            .map(|outlet| format!("outlet-{}", outlet.number))
            .chain(
                tags(&plan)
                    .drains
                    .iter()
                    .map(|(_, tag, _)| format!("drain-{tag}")),
            )
            .collect();
        wanted.sort_unstable();
        rows.sort_unstable();
        assert_eq!(rows, wanted);
    }
}

/// Sides and connections that are longer than the sheet stand in rows.
#[test]
fn long_sides_and_connections_go_on_below() {
    let library = Library::shipped().unwrap();
    let long = |devices: &str| format!("[\"valve\", {}\"coupler\"]", devices.repeat(7));
    let sides = long("\"union\", \"valve\", ");
    let job = JOBS[0].replace("[\"valve\", \"coupler\"]", &sides).replace(
        "[\"valve\", \"hose 24in\"]",
        &long("\"check\", \"union\", ").replace("coupler", "valve"),
    );
    let (plan, found) = crate::plan(&Source::new("job", job), &library);
    let plan = plan.unwrap_or_else(|| panic!("{found:#?}"));
    let sheets = drop(&scene(&plan, &library));
    let mut below = 0;
    for sheet in &sheets {
        assert_eq!(collisions(sheet), [], "{}", sheet.id);
        let paper = Area::of(At::default(), At::new(sheet.width, sheet.height));
        let shapes = sheet.marks.iter().flat_map(|mark| &mark.shapes);
        assert!(
            shapes
                .filter_map(Shape::area)
                .all(|area| paper.holds(&area)),
            "{}",
            sheet.id
        );
        below += sheet
            .texts()
            .filter(|text| text.words == "goes on below")
            .count();
    }
    assert!(below >= 3, "{below}");
}

/// The demo's paint drop, by hand: from the main's tee up, over, down, and out.
#[test]
fn the_paint_drop_of_the_demo_is_built_of_these() {
    let library = Library::shipped().unwrap();
    let plan = crate::plan(&Source::new("job", JOBS[0]), &library)
        .0
        .unwrap();
    let groups = groups(&plan);
    let sizes: Vec<usize> = groups.iter().map(|group| group.members.len()).collect();
    assert_eq!(sizes, [4, 1, 1]);
    let list = groups[1].listed(&scene(&plan, &library)).unwrap().list;
    let rows: Vec<String> = list.rows.iter().map(|row| row.cells.join(" | ")).collect();
    assert_eq!(
        rows,
        [
            "1 | black iron elbow 90 female | 3/4in | 2",
            "2 | black iron nipple | 3/4in x 4-1/2in | 2",
            "3 | black iron tee female | 3/4in | main",
            "4 | black iron pipe threaded both ends, down pipe | 3/4in x 5'-7 1/4\" | 1",
            "5 | wall bracket at the drop foot | 3/4in | 1",
            "6 | black iron close nipple | 3/4in | 1",
            "7 | ball valve full port female | 3/4in | 1",
            "8 | black iron hex bushing male x female | 3/4in x 1/2in | 1",
            "9 | black iron close nipple | 1/2in | 3",
            "10 | air filter female | 1/2in | 1",
            "11 | air regulator with gauge female | 1/2in | 1",
            "12 | black iron hex bushing male x female | 1/2in x 3/8in | 1",
            "13 | quick coupler male thread | 3/8in | 1",
            "14 | tool-side plug for the couplers |  | 1",
            "15 | black iron tee female | 3/4in | 1",
            "16 | black iron nipple | 3/4in x 7in | 1",
            "17 | black iron reducing coupling female | 3/4in x 1/2in | 1",
            "18 | drain ball valve female | 1/2in | 1",
        ]
    );
    let owner = groups[1].members[0].1.owner;
    let (drop, one) = &groups[1].members[0];
    let again = built(&plan, owner, drop.take_off_at, Some(drop.foot_at));
    assert_eq!(again.parts, one.parts);
    assert_eq!(
        super::words::joints(&plan, one),
        "10 at 3/4in, 7 at 1/2in, 1 at 3/8in threaded"
    );
}
