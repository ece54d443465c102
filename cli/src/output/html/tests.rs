use super::page::base64;
use super::{Report, report};
use bom::air::answer::answer;
use bom::drawing::{DRAWINGS, Field, Scene, Sheet};
use bom::library::Library;
use bom::source::Source;
use jiff::civil::date;
use pricing::buying::Terms;
use pricing::catalog::Catalog;
use pricing::cut_sheet::{Heading, cut_sheet};
use pricing::money::Currency;
use pricing::shop::{By, Inputs, Spares};
use std::collections::BTreeMap;

const GARAGE: &str = include_str!("../../../../catalogs-demo/garage.toml");

/// The garage's page without prices, with its plan or without.
fn page(drawn: bool) -> String {
    let (library, source) = (Library::shipped().unwrap(), Source::new("job", GARAGE));
    let plan = bom::plan(&source, &library).0.unwrap();
    let (takeoff, day) = (&plan.takeoff, date(2026, 11, 2));
    let shop = Inputs {
        network: &plan.network,
        summary: &plan.summary,
        takeoff,
        library: &library,
        spares: &Spares::shipped().unwrap(),
        catalog: &Catalog::default(),
        terms: &Terms::default(),
        currency: Currency::parse("USD").unwrap(),
        by: By::Aisle,
        date: day,
        fingerprint: "4F2A-91C0",
    }
    .list()
    .unwrap();
    let heading = Heading {
        title: plan.summary.title.clone(),
        revision: plan.summary.revision.clone(),
        fingerprint: "4F2A-91C0".to_owned(),
        date: day,
        units: plan.summary.units,
    };
    let place = |node| plan.network.place(node);
    let cut = cut_sheet(heading, takeoff, None, BTreeMap::new(), None, &place).unwrap();
    let scene = Scene {
        plan: &plan,
        library: &library,
        field: Field::COMMON,
    };
    let drawings = DRAWINGS.iter().filter(|one| drawn && one.word == "plan");
    let drawings: Vec<Sheet> = drawings.flat_map(|one| (one.sheets)(&scene)).collect();
    let mut bytes = Vec::new();
    let made = Report {
        plan: &plan,
        source: &source,
        findings: &[],
        air: &answer(&plan.job, &plan.network, &library),
        takeoff,
        shop: &shop,
        priced: false,
        cut: &cut,
        drawings: &drawings,
    };
    report(&made, &mut bytes).unwrap();
    String::from_utf8(bytes).unwrap()
}

#[test]
fn an_outlet_leads_to_its_place_in_the_plan() {
    let bare = page(false);
    assert!(!bare.contains("#plan-outlet-1") && !bare.contains("id=\"drawings\""));
    let drawn = page(true);
    assert!(drawn.contains("<a href=\"#plan-outlet-1\">bench</a>"));
    assert_eq!(drawn.matches("id=\"plan-outlet-1\"").count(), 1);
    assert!(drawn.contains("<figcaption>Plan</figcaption>"));
}

#[test]
fn nothing_found_is_said() {
    let said = "Nothing is open: the layout can be built, and breaks no rule of good practice.";
    assert!(page(false).contains(said));
}

/// The examples of RFC 4648, section 10.
#[test]
fn base64_is_that_of_the_rfc() {
    for (text, coded) in [
        ("", ""),
        ("f", "Zg=="),
        ("fo", "Zm8="),
        ("foo", "Zm9v"),
        ("foob", "Zm9vYg=="),
        ("fooba", "Zm9vYmE="),
        ("foobar", "Zm9vYmFy"),
    ] {
        assert_eq!(base64(text.as_bytes()), coded);
    }
}
