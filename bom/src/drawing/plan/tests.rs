use super::crossing::crossings;
use super::level::levels;
use super::ways::{falling, flowing, flows};
use super::{Scene, plan};
use crate::Plan;
use crate::drawing::{At, Field, Mark, Shape};
use crate::job::Wall;
use crate::library::Library;
use crate::network::{LinkId, NodeId};
use crate::quantity::Length;
use crate::source::Source;
use std::collections::BTreeMap;

const MILLRACE: &str = include_str!("../../../../catalogs-demo/millrace.toml");
const ANNEX: &str = include_str!("../../../../catalogs-demo/annex.toml");
const GARAGE: &str = include_str!("../../../../catalogs-demo/garage.toml");
const TWO_LEVELS: &str = include_str!("../../../../tests/drawing/two-levels.toml");
const RING: &str = include_str!("../../../../tests/drawing/ring-of-twenty.toml");

fn planned(job: &str) -> (Plan, Library) {
    let library = Library::shipped().unwrap();
    let (plan, findings) = crate::plan(&Source::new("job", job), &library);
    (plan.unwrap_or_else(|| panic!("{findings:#?}")), library)
}

fn marks(plan_of: &Plan, library: &Library) -> Vec<Mark> {
    let scene = Scene {
        plan: plan_of,
        library,
        field: Field::COMMON,
    };
    plan(&scene)
        .into_iter()
        .flat_map(|sheet| sheet.marks)
        .collect()
}

fn feet(feet: i64) -> Length {
    Length::from_feet(feet)
}

// The tank stands 4-0 west of the west wall and 16-0 north of the south-west corner.
#[test]
fn legs_along_walls_say_where_a_room_is() {
    let (plan, _) = planned(MILLRACE);
    let rooms = &plan.network.walls;
    let [shop] = &rooms[..] else {
        panic!("{rooms:?}")
    };
    let inside = shop.inside;
    assert!(shop.known && shop.agreed);
    assert_eq!((inside.west, inside.south), (feet(4), -feet(16)));
    assert_eq!((inside.east, inside.north), (feet(52), feet(16)));
    let links: Vec<LinkId> = plan.network.links().map(|(id, ..)| id).collect();
    let found = crossings(&plan, rooms, &links);
    let [only] = &found[..] else {
        panic!("{found:?}")
    };
    assert_eq!(only.wall, Wall::West);
    assert_eq!((only.at.east, only.at.north), (feet(4), Length::ZERO));
}

// Each leg alone says it; with none of them the room is drawn round its pipe, the tank
// included: 4-0 of pipe too much for the room, so 2-0 outside on either side.
#[test]
fn every_wall_places_the_same_room_and_none_centres_it() {
    let walls_of = ["north", "east", "south"].map(|wall| format!("along = \"{wall} wall\"\n"));
    for kept in 0..3 {
        let mut job = MILLRACE.to_owned();
        for (number, line) in walls_of.iter().enumerate() {
            if number != kept {
                job = job.replace(line, "");
            }
        }
        let rooms = planned(&job).0.network.walls;
        assert_eq!(
            (rooms[0].inside.west, rooms[0].inside.south),
            (feet(4), -feet(16)),
            "{kept}"
        );
    }
    let none = walls_of
        .iter()
        .fold(MILLRACE.to_owned(), |job, line| job.replace(line, ""));
    let rooms = planned(&none).0.network.walls;
    assert!(!rooms[0].known);
    assert_eq!(
        (rooms[0].inside.west, rooms[0].inside.south),
        (feet(2), -feet(16))
    );
    // 21-6 of pipe in 24-0 of room.
    let rooms = planned(GARAGE).0.network.walls;
    assert_eq!(rooms[0].inside.west, -Length::from_64ths(15 * 64));
    assert_eq!(rooms[0].inside.south, -feet(10));
}

#[test]
fn rooms_above_each_other_have_sheets_of_their_own() {
    let (plan_of, _) = planned(TWO_LEVELS);
    let levels = levels(&plan_of);
    let names: Vec<&str> = levels.iter().map(|level| level.name.as_str()).collect();
    assert_eq!(names, ["workshop", "loft"]);
    let links: usize = levels.iter().map(|level| level.links.len()).sum();
    let main = plan_of.network.links().filter(|(.., link)| link.is_main());
    assert_eq!(links, main.count());
    for level in &levels {
        assert_eq!(level.beyond.len(), 1, "{}", level.name);
    }
}

/// The way that the middle of a sign's other corners has to its first.
fn points(mark: &Mark) -> At {
    let Some(Shape::Path { points, .. }) = mark.shapes.first() else {
        panic!("{mark:?}");
    };
    let middle = points[1].towards(points[2], 0.5);
    At::new(points[0].x - middle.x, points[0].y - middle.y)
}

fn signs(marks: &[Mark], word: &str) -> BTreeMap<usize, At> {
    let named = marks.iter().filter_map(|mark| {
        let id = mark.id.as_deref()?;
        let number = id.strip_prefix(word)?.parse().ok()?;
        Some((number, points(mark)))
    });
    named.collect()
}

/// How many links a place is from the nearest tank, each counted by its length.
fn far(plan: &Plan, place: NodeId) -> Length {
    let mut best: BTreeMap<NodeId, Length> =
        plan.network.ports().map(|id| (id, Length::ZERO)).collect();
    loop {
        let before = best.clone();
        for (_, from, to, link) in plan.network.links() {
            for (a, b) in [(from, to), (to, from)] {
                if let Some(far) = before.get(&a) {
                    let far = *far + link.pipe.unwrap_or_default();
                    let known = best.entry(b).or_insert(far);
                    *known = far.min(*known);
                }
            }
        }
        if before == best {
            return best[&place];
        }
    }
}

#[test]
fn arrows_point_away_from_the_tank_and_falls_to_the_lower_end() {
    for job in [MILLRACE, ANNEX, GARAGE, RING] {
        let (plan, library) = planned(job);
        let level = levels(&plan).remove(0);
        let marks = marks(&plan, &library);
        let flows = flows(&plan);
        let (arrows, slopes) = (signs(&marks, "flow-"), signs(&marks, "fall-"));
        assert!(!arrows.is_empty() && !slopes.is_empty());
        let along = |from: NodeId, to: NodeId, sign: At| {
            let [a, b] = [from, to].map(|id| plan.network.node(id).at);
            let (east, north) = ((b.east - a.east).mm(), (b.north - a.north).mm());
            let share = (east * sign.x - north * sign.y) / east.hypot(north);
            assert!(share > 1.0, "{sign:?} {a:?} {b:?}");
        };
        let flowing = level
            .straights
            .iter()
            .flat_map(|one| flowing(&plan, &flows, one));
        for (stretch, number) in flowing.zip(1_usize..) {
            assert!(far(&plan, stretch.first) < far(&plan, stretch.last));
            if let Some(sign) = arrows.get(&number) {
                along(stretch.first, stretch.last, *sign);
            }
        }
        let falling = level.straights.iter().flat_map(|one| falling(&plan, one));
        for (stretch, number) in falling.zip(1_usize..) {
            let height = |id: NodeId| plan.network.node(id).at.up;
            assert!(height(stretch.first) > height(stretch.last));
            if let Some(sign) = slopes.get(&number) {
                along(stretch.first, stretch.last, *sign);
            }
        }
    }
}

#[test]
fn a_wall_is_as_long_as_the_scale_says() {
    let (plan, library) = planned(MILLRACE);
    let marks = marks(&plan, &library);
    let room = marks
        .iter()
        .find(|mark| mark.id.as_deref() == Some("room-1"));
    let inside = room.and_then(|room| room.shapes[0].area()).unwrap();
    // 3/32 in = 1 ft.
    assert!((inside.width() * 128.0 - 48.0 * 304.8).abs() < 1e-6);
    assert!((inside.height() * 128.0 - 32.0 * 304.8).abs() < 1e-6);
}
