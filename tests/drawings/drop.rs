//! Details and cut sheets of generated shops: nothing touches, nothing is left out.

use crate::support::{Form, forms, same_cases, shops};
use bom::Plan;
use bom::drawing::{Area, At, Field, Layer, Scene, Shape, Sheet, collisions, drop};
use bom::library::Library;
use bom::source::Source;
use jiff::civil::date;
use pricing::cut_sheet::{CutSheet, Heading, cut_sheet};
use pricing::drawing::cut;
use proptest::prelude::{prop_assert, prop_assert_eq, proptest};
use std::collections::BTreeSet;

fn planned(job: &str, library: &Library) -> Plan {
    let (plan, findings) = bom::plan(&Source::new("job", job), library);
    plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"))
}

fn cut_of(plan: &Plan) -> CutSheet {
    let heading = Heading {
        title: String::new(),
        revision: String::new(),
        fingerprint: String::new(),
        date: date(2026, 11, 2),
        units: plan.summary.units,
    };
    let place = |node| plan.network.place(node);
    cut_sheet(
        heading,
        &plan.takeoff,
        None,
        Default::default(),
        None,
        &place,
    )
    .unwrap()
}

/// What a sheet that is handed out must be.
fn sound(sheet: &Sheet, field: Field) -> Result<(), String> {
    let found = collisions(sheet);
    if !found.is_empty() {
        return Err(format!("{}: {found:#?}", sheet.id));
    }
    let paper = Area::of(At::default(), At::new(field.width, field.height));
    let shapes = sheet.marks.iter().flat_map(|mark| &mark.shapes);
    for area in shapes.filter_map(Shape::area) {
        if !paper.holds(&area) {
            return Err(format!("{}: {area:?} is off the sheet", sheet.id));
        }
    }
    let mut ids = BTreeSet::new();
    let named = sheet.marks.iter().filter_map(|mark| mark.id.as_ref());
    match named.into_iter().find(|id| !ids.insert(*id)) {
        Some(id) => Err(format!("{}: two marks are {id}", sheet.id)),
        None => Ok(()),
    }
}

proptest! {
    #![proptest_config(same_cases(60))]

    #[test]
    fn details_of_any_shop_are_readable_and_name_every_outlet_once(
        shop in shops(1..14), form in forms()
    ) {
        let library = Library::shipped().unwrap();
        let plan = planned(&shop.job(form), &library);
        let scene = Scene { plan: &plan, library: &library, field: Field::COMMON };
        let sheets = drop(&scene);
        let mut rows = Vec::new();
        for sheet in &sheets {
            prop_assert_eq!(sound(sheet, Field::COMMON), Ok(()));
            rows.extend(sheet.marks.iter().filter_map(|mark| mark.id.clone()));
        }
        let mut wanted: Vec<String> = (1..=plan.summary.outlets.len())
            .map(|number| format!("outlet-{number}"))
            .chain((1..=plan.summary.drains.len()).map(|number| format!("drain-D{number}")))
            .collect();
        wanted.sort();
        rows.sort();
        prop_assert_eq!(rows, wanted);
    }

    #[test]
    fn cut_sheets_of_any_shop_are_readable_and_draw_every_piece(
        shop in shops(1..14), metric in proptest::bool::ANY
    ) {
        let library = Library::shipped().unwrap();
        let form = Form { metric, ..Form::default() };
        let sheet = cut_of(&planned(&shop.job(form), &library));
        let sheets = cut(&sheet, Field::COMMON);
        let sticks: usize = sheet.sections.iter().map(|section| section.sticks.len()).sum();
        let mut drawn = 0;
        for sheet in &sheets {
            prop_assert_eq!(sound(sheet, Field::COMMON), Ok(()));
            let parts = sheet.marks.iter().filter(|mark| mark.layer == Layer::Part);
            drawn += parts.count();
        }
        prop_assert_eq!(drawn, sticks);
        let said: Vec<&str> = sheets.iter().flat_map(Sheet::texts).map(|text| text.words.as_str()).collect();
        let words: BTreeSet<&str> = said.iter().flat_map(|text| text.split([' ', ',', ';'])).collect();
        for section in &sheet.sections {
            for piece in section.sticks.iter().flat_map(|stick| &stick.pieces) {
                prop_assert!(words.contains(piece.label.as_str()), "{}", piece.label);
            }
        }
    }
}
