//! What holds for every job, over generated shops.

use crate::support::{Form, forms, read, root, same_cases, shops};
use bom::library::Library;
use bom::source::Source;
use bom::takeoff::Takeoff;
use jiff::civil::date;
use pricing::catalog::Catalog;
use pricing::money::Money;
use pricing::offer::Inputs;
use pricing::quote::Quote;
use pricing::rates::Rates;
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};
use std::collections::{BTreeMap, BTreeSet};

/// A job counted and priced by the demo's catalog.
struct Priced {
    takeoff: Takeoff,
    quote: Quote,
    /// The rules that it breaks, once for each place.
    practice: Vec<&'static str>,
}

fn priced(job: &str, catalog_text: &str) -> Priced {
    let library = Library::shipped().unwrap();
    let (plan, findings) = bom::plan(&Source::new("job", job), &library);
    let plan = plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"));
    let demo = |name: &str| Source::new(name, read(root().join("catalogs-demo").join(name)));
    let rates = Rates::read(&demo("rates.toml")).0.unwrap();
    let catalog = [Source::new("catalog", catalog_text)];
    let (catalog, findings) = Catalog::read(&catalog, library.parts(), rates.currency);
    assert_eq!(findings, []);
    let quote = Inputs {
        summary: &plan.summary,
        takeoff: &plan.takeoff,
        catalog: &catalog,
        rates: &rates,
        date: date(2026, 11, 2),
        fingerprint: "",
    }
    .quote()
    .unwrap();
    let mut practice: Vec<&str> = plan.practice.iter().map(|finding| finding.rule).collect();
    practice.sort_unstable();
    Priced {
        takeoff: plan.takeoff,
        quote,
        practice,
    }
}

fn demo_catalog() -> String {
    read(root().join("catalogs-demo/iron.csv"))
}

/// The count without the names of the places.
fn counted(takeoff: &Takeoff) -> BTreeMap<String, String> {
    let mut count: BTreeMap<String, String> = takeoff
        .lines
        .iter()
        .map(|line| {
            let key = &line.key;
            (
                format!("{} {}", key.part, key.size),
                line.quantity.to_string(),
            )
        })
        .collect();
    for line in &takeoff.pipe {
        let mut pieces: Vec<_> = line.pieces.iter().map(|piece| piece.length).collect();
        pieces.sort();
        count.insert(
            format!("pipe {}", line.size),
            format!("{:?} {pieces:?}", line.centre_to_centre),
        );
    }
    for joint in &takeoff.joints {
        count.insert(format!("joints {}", joint.size), joint.count.to_string());
    }
    count
}

proptest! {
    #![proptest_config(same_cases(96))]

    #[test]
    fn turning_renaming_reordering_and_metric_change_no_count_no_price_and_no_finding(
        shop in shops(1..14), form in forms()
    ) {
        let catalog = demo_catalog();
        let plain = priced(&shop.job(Form::default()), &catalog);
        let other = priced(&shop.job(form), &catalog);
        prop_assert_eq!(counted(&plain.takeoff), counted(&other.takeoff));
        prop_assert_eq!(plain.quote.total, other.quote.total);
        prop_assert_eq!(plain.quote.subtotal, other.quote.subtotal);
        prop_assert_eq!(plain.practice, other.practice);
    }

    #[test]
    fn every_sum_is_the_sum_of_the_printed_lines(shop in shops(1..14)) {
        let quote = priced(&shop.job(Form::default()), &demo_catalog()).quote;
        let currency = quote.subtotal.currency();
        let mut subtotals = Vec::new();
        for section in &quote.sections {
            for line in &section.lines {
                if let (Some(unit), Some(amount)) = (line.unit_price, line.amount) {
                    prop_assert_eq!(unit.times(line.quantity).unwrap(), amount, "{}", line.text);
                }
            }
            let lines = section.lines.iter().filter_map(|line| line.amount);
            prop_assert_eq!(section.subtotal, Money::sum(currency, lines).unwrap());
            subtotals.push(section.subtotal);
        }
        prop_assert_eq!(quote.subtotal, Money::sum(currency, subtotals).unwrap());
        if let Some(total) = quote.total {
            prop_assert_eq!(total, quote.subtotal.plus(quote.tax.amount).unwrap());
            let steps = quote.payment.iter().map(|step| step.amount);
            prop_assert_eq!(total, Money::sum(currency, steps).unwrap());
        }
    }

    #[test]
    fn every_part_has_as_many_reasons_as_there_are_of_it(shop in shops(1..14)) {
        let takeoff = priced(&shop.job(Form::default()), &demo_catalog()).takeoff;
        for line in &takeoff.lines {
            prop_assert_eq!(line.quantity, line.because.len() as u64, "{}", line.words);
        }
        for line in &takeoff.pipe {
            let pieces = line.pieces.iter().map(|piece| piece.length).sum();
            prop_assert_eq!(line.end_to_end, pieces);
            prop_assert!(line.end_to_end <= line.centre_to_centre);
        }
    }

    /// What is priced beside a job is a job that counts.
    #[test]
    fn outlets_may_be_taken_out_and_one_added(
        shop in shops(1..14), form in forms(), out in any::<u64>(), like in 0_usize..14
    ) {
        let library = Library::shipped().unwrap();
        let job = bom::job::read(&Source::new("job", shop.job(form)), &library).0.unwrap();
        let outlets = job.outlets.iter().enumerate();
        let out = outlets.filter(|(at, _)| out >> at & 1 == 1);
        let out: BTreeSet<String> = out.map(|(_, outlet)| outlet.name.value.clone()).collect();
        let whole = job.outlets.len();
        let left = job.without(&out);
        if left.legs.is_empty() {
            return Ok(());
        }
        let (plan, findings) = bom::plan_job(left, &library, None);
        prop_assert!(plan.is_some(), "without {:?}: {:#?}\n{}", out, findings, shop.job(form));
        let plan = plan.unwrap();
        prop_assert_eq!(plan.summary.outlets.len(), whole - out.len());
        let sized = plan.job.clone().sized_as(&plan.network);
        let (again, _) = bom::plan_job(sized.clone(), &library, None);
        prop_assert_eq!(counted(&plan.takeoff), counted(&again.unwrap().takeoff));
        let like = like % sized.outlets.len().max(1);
        if let (Some(place), true) = (sized.stretches().first(), like < sized.outlets.len()) {
            let (more, findings) = bom::plan_job(sized.with_one_more(like, *place), &library, None);
            prop_assert!(more.is_some(), "{:?}: {:#?}\n{}", place, findings, shop.job(form));
            prop_assert_eq!(more.unwrap().summary.outlets.len(), whole - out.len() + 1);
        }
    }

    #[test]
    fn the_order_of_the_price_list_changes_nothing(shop in shops(1..14), turn in 1_usize..300) {
        let catalog = demo_catalog();
        let (head, rows) = catalog.split_once('\n').unwrap();
        let mut rows: Vec<&str> = rows.lines().collect();
        let turn = turn % rows.len();
        rows.rotate_left(turn);
        let turned = format!("{head}\n{}\n", rows.join("\n"));
        let job = shop.job(Form::default());
        let (plain, other) = (priced(&job, &catalog), priced(&job, &turned));
        prop_assert_eq!(format!("{:?}", plain.quote.sections), format!("{:?}", other.quote.sections));
    }

    #[test]
    fn a_lost_price_is_a_hole_and_never_zero(shop in shops(1..14), row in 0_usize..560) {
        let job = shop.job(Form::default());
        let catalog = demo_catalog();
        let key = |line: &str| line.split(',').take(3).map(str::to_owned).collect::<Vec<_>>();
        let lost = key(catalog.lines().nth(row + 1).unwrap());
        let left: Vec<&str> = catalog.lines().filter(|line| key(line) != lost).collect();
        let quote = priced(&job, &left.join("\n")).quote;
        let hole = quote.sections.iter().flat_map(|section| &section.lines)
            .filter(|line| line.amount.is_none()).count();
        prop_assert_eq!(hole, quote.missing.len());
        prop_assert_eq!(quote.total.is_none(), hole > 0);
    }

    #[test]
    fn no_job_file_makes_a_panic(
        shop in shops(1..14),
        wounds in proptest::collection::vec((any::<u16>(), any::<u8>(), any::<bool>()), 0..12)
    ) {
        let mut bytes = shop.job(Form::default()).into_bytes();
        for (at, byte, insert) in wounds {
            let at = usize::from(at) % bytes.len();
            if insert { bytes.insert(at, byte) } else { bytes[at] = byte }
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let source = Source::new("job", text);
        let (plan, findings) = bom::plan(&source, &Library::shipped().unwrap());
        prop_assert!(plan.is_some() || bom::finding::stops(&findings));
        for finding in &findings {
            for label in &finding.labels {
                prop_assert!(label.span.end <= source.text().len());
            }
        }
    }

    #[test]
    fn no_text_makes_a_panic(text in any::<String>()) {
        let source = [Source::new("file", text)];
        let library = Library::shipped().unwrap();
        let (plan, findings) = bom::plan(&source[0], &library);
        prop_assert!(plan.is_some() || bom::finding::stops(&findings));
        let (rates, findings) = Rates::read(&source[0]);
        prop_assert!(rates.is_some() || bom::finding::stops(&findings));
        let usd = pricing::money::Currency::parse("USD").unwrap();
        let _ = Catalog::read(&source, library.parts(), usd);
    }
}

#[test]
fn adding_an_outlet_never_removes_pipe() {
    let job = read(root().join("catalogs-demo/millrace.toml"));
    let library = Library::shipped().unwrap();
    let pipe = |text: &str| {
        let (plan, findings) = bom::plan(&Source::new("job", text), &library);
        let takeoff = plan.unwrap_or_else(|| panic!("{findings:#?}")).takeoff;
        takeoff
            .pipe
            .iter()
            .map(|line| line.centre_to_centre)
            .sum::<bom::quantity::Length>()
    };
    let before = pipe(&job);
    for at in ["5-0", "20-0", "40-0"] {
        let added = job
            .replace(
                "bench = \"10-0\"",
                &format!("bench = \"10-0\", extra = \"{at}\""),
            )
            .replace("left  = \"17-6\"\n", "")
            + "\n[outlet.extra]\ndrop = \"reel\"\nheight = \"4-0\"\n";
        assert!(pipe(&added) > before, "an outlet at {at}");
    }
}

/// Lengths of the pieces that lie wholly in other parts of the job are what
/// they were: moving a mark changes its own drop and the pieces beside it.
#[test]
fn moving_a_mark_changes_only_its_drop_and_the_pieces_beside_it() {
    let job = read(root().join("catalogs-demo/millrace.toml"));
    let library = Library::shipped().unwrap();
    let pieces = |text: &str| {
        let (plan, findings) = bom::plan(&Source::new("job", text), &library);
        let plan = plan.unwrap_or_else(|| panic!("{findings:#?}"));
        let network = plan.network;
        let mut pieces: BTreeMap<String, Vec<i64>> = BTreeMap::new();
        for piece in &plan.takeoff.pipe[0].pieces {
            let key = format!(
                "{} to {}",
                network.describe(piece.from),
                network.describe(piece.to)
            );
            pieces.entry(key).or_default().push(piece.length.nm());
        }
        let parts: Vec<String> = plan
            .takeoff
            .lines
            .iter()
            .map(|line| format!("{} {} {}", line.key.part, line.key.size, line.quantity))
            .collect();
        (pieces, parts)
    };
    let (before, parts) = pieces(&job);
    let moved = job
        .replace("router = \"30-6\"", "router = \"29-6\"")
        .replace("left  = \"17-6\"", "left  = \"18-6\"");
    assert_ne!(job, moved);
    let (after, parts_after) = pieces(&moved);
    assert_eq!(parts, parts_after);
    let changed: Vec<&String> = before
        .iter()
        .filter(|(key, lengths)| after.get(*key) != Some(lengths))
        .map(|(key, _)| key)
        .collect();
    assert!(!changed.is_empty());
    for key in changed {
        assert!(key.contains("router"), "{key} changed");
    }
}
