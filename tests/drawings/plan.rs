//! The plan to scale: complete, readable, and the same however a shop is turned.

use crate::support::{Form, files, forms, read, root, same_cases, shops};
use bom::Plan;
use bom::drawing::{At, Field, Scene, Shape, Sheet, collisions, plan, tags};
use bom::library::Library;
use bom::source::Source;
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};
use std::collections::BTreeMap;

fn planned(job: &str) -> (Plan, Library) {
    let library = Library::shipped().unwrap();
    let (plan, findings) = bom::plan(&Source::new("job", job), &library);
    (
        plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}")),
        library,
    )
}

fn sheets(job: &str) -> Vec<Sheet> {
    let (planned, library) = planned(job);
    plan(&Scene {
        plan: &planned,
        library: &library,
        field: Field::COMMON,
    })
}

/// What is wrong with the sheets of a job, in words; nothing, it is hoped.
fn wrong(job: &str) -> Vec<String> {
    let sheets = sheets(job);
    let mut wrong = Vec::new();
    for sheet in &sheets {
        wrong.extend(
            collisions(sheet)
                .iter()
                .map(|one| format!("{}: {one:?}", sheet.id)),
        );
        let shapes = sheet.marks.iter().flat_map(|mark| &mark.shapes);
        for area in shapes.filter_map(Shape::area) {
            let paper = bom::drawing::Area::of(At::default(), At::new(sheet.width, sheet.height));
            if !paper.grown(1e-6).holds(&area) {
                wrong.push(format!("{}: outside at {area:?}", sheet.id));
            }
        }
    }
    let mut drawn: BTreeMap<String, usize> = BTreeMap::new();
    for mark in sheets.iter().flat_map(|sheet| &sheet.marks) {
        let Some(id) = &mark.id else { continue };
        if ["outlet-", "valve-", "drain-"]
            .iter()
            .any(|word| id.starts_with(word))
        {
            *drawn.entry(id.clone()).or_default() += 1;
            // The sign and what it is called.
            if !mark
                .shapes
                .iter()
                .any(|shape| matches!(shape, Shape::Text(_)))
            {
                wrong.push(format!("{id} has no label"));
            }
        }
    }
    let tags = tags(&planned(job).0);
    let outlets = tags
        .outlets
        .iter()
        .map(|(_, number, _)| format!("outlet-{number}"));
    let valves = tags.valves.iter().map(|(_, tag, _)| format!("valve-{tag}"));
    let drains = tags.drains.iter().map(|(_, tag, _)| format!("drain-{tag}"));
    let wanted: BTreeMap<String, usize> = outlets
        .chain(valves)
        .chain(drains)
        .map(|id| (id, 1))
        .collect();
    if drawn != wanted {
        wrong.push(format!("{drawn:?}, not {wanted:?}"));
    }
    wrong
}

#[test]
fn every_job_is_drawn_whole_and_can_be_read() {
    let demo = files("catalogs-demo", "toml").into_iter().map(read);
    let demo = demo.filter(|text| text.contains("[[leg]]"));
    let jobs = demo.chain(files("tests/drawing", "toml").into_iter().map(read));
    for job in jobs {
        assert_eq!(wrong(&job), Vec::<String>::new(), "{job}");
    }
}

// Leg 7 goes east and south across the shop, leg 8 north and east along the walls, where
// the new main runs as well: it is drawn beside that. Leg 9 is to come, with the booth.
#[test]
fn what_comes_out_and_what_comes_later_is_drawn_beside_the_main() {
    let sheets = sheets(&read(root().join("tests/drawing/re-pipe.toml")));
    let marks = sheets.iter().flat_map(|sheet| &sheet.marks);
    let beside = marks.clone().filter_map(|mark| {
        let id = mark.id.as_ref()?;
        let Some(Shape::Path { points, .. }) = mark.shapes.first() else {
            return None;
        };
        let number = id.strip_prefix("beside-")?;
        Some((number, mark.title.as_deref()?, points[0], mark.shapes.len()))
    });
    let beside: Vec<_> = beside.collect();
    let told: Vec<(&str, &str)> = beside
        .iter()
        .map(|(number, words, ..)| (*number, *words))
        .collect();
    assert_eq!(
        told,
        [
            ("1", "later: booth"),
            ("2", "out: leg 7"),
            ("3", "out: leg 7"),
            ("4", "out: leg 8"),
            ("5", "out: leg 8"),
        ]
    );
    // What comes out is crossed out: 30 ft at 1:128 are 71.4 mm, a cross each 6 mm.
    assert_eq!(beside[0].3, 1);
    assert_eq!(beside[1].3, 1 + 2 * 12);
    let main = |id: &str| {
        let mut marks = marks.clone();
        let mark = marks.find(|mark| mark.id.as_deref() == Some(id)).unwrap();
        match &mark.shapes[0] {
            Shape::Path { points, .. } => points[0],
            other => panic!("{other:?}"),
        }
    };
    // Leg 2 goes north on the west wall; leg 8 beside it, inside.
    let apart = beside[3].2.x - main("leg-2").x;
    assert!((apart - 2.4).abs() < 1e-6, "{apart}");
    let words: Vec<&str> = sheets
        .iter()
        .flat_map(Sheet::texts)
        .map(|text| text.words.as_str())
        .collect();
    for wanted in [
        "main that is taken out",
        "to come later, plugged now",
        "later: booth",
    ] {
        assert!(words.contains(&wanted), "{wanted}: {words:?}");
    }
}

/// The main's place at each outlet in millimetres of the shop, east and north of the
/// first outlet; none where the plan is split.
fn places(job: &str) -> Option<Vec<(f64, f64)>> {
    let sheets = sheets(job);
    let sheet = sheets.iter().find(|sheet| sheet.title == "Plan")?;
    let scale = sheet
        .texts()
        .find_map(|text| text.words.strip_prefix("Scale "))?;
    let per = scale.rsplit("1:").next()?.trim_end_matches(')');
    let per: f64 = per.parse().unwrap();
    let mut places = Vec::new();
    for number in 1.. {
        let id = format!("outlet-{number}");
        let mut marks = sheet.marks.iter();
        let Some(mark) = marks.find(|mark| mark.id.as_ref() == Some(&id)) else {
            break;
        };
        let at = match &mark.shapes[0] {
            Shape::Path {
                points,
                closed: false,
                ..
            } => points[0],
            sign => sign.area().unwrap().middle(),
        };
        places.push((at.x * per, -at.y * per));
    }
    let (east, north) = *places.first()?;
    Some(
        places
            .iter()
            .map(|place| (place.0 - east, place.1 - north))
            .collect(),
    )
}

proptest! {
    #![proptest_config(same_cases(60))]

    #[test]
    fn generated_shops_are_drawn_whole_and_can_be_read(shop in shops(1..20), form in forms()) {
        prop_assert_eq!(wrong(&shop.job(form)), Vec::<String>::new());
    }
}

proptest! {
    #![proptest_config(same_cases(48))]

    #[test]
    fn a_turned_or_mirrored_shop_is_turned_or_mirrored_on_the_plan(
        shop in shops(1..14), rotate in 0_u8..4, mirror in any::<bool>()
    ) {
        let plain = places(&shop.job(Form::default()));
        let turned = places(&shop.job(Form { rotate, mirror, ..Form::default() }));
        let (Some(plain), Some(turned)) = (plain, turned) else {
            return Ok(());
        };
        prop_assert_eq!(plain.len(), turned.len());
        for ((east, north), found) in plain.into_iter().zip(turned) {
            let mut wanted = (if mirror { -east } else { east }, north);
            for _ in 0..rotate {
                wanted = (-wanted.1, wanted.0);
            }
            prop_assert!((wanted.0 - found.0).abs() < 0.1 && (wanted.1 - found.1).abs() < 0.1,
                "{:?} {:?}", wanted, found);
        }
    }
}
