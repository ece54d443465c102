//! Lines told apart, worked by hand: what is sold is 1.375 times its cost.

use super::lines::{Kind, Line, Lines, lines};
use super::sums::{adds_up, step};
use super::{Both, ChangeError, Part, Quoted, Totals};
use crate::catalog::Catalog;
use crate::fixture::{CATALOG, rates, rates_with, summary, takeoff};
use crate::money::Money;
use crate::offer::Inputs;
use crate::rates::Rates;
use bom::library::Library;
use bom::source::Source;
use bom::takeoff::Takeoff;
use jiff::civil::date;

/// A count with its prices and rates.
type Job<'a> = (Takeoff, &'a str, &'a str);

fn differing(old: Job<'_>, new: Job<'_>) -> Lines {
    let library = Library::shipped().unwrap();
    let summary = summary();
    let read = [&old, &new].map(|(_, catalog, rates)| {
        let rates = Rates::read(&Source::new("rates", *rates)).0.unwrap();
        let source = [Source::new("catalog", *catalog)];
        let catalog = Catalog::read(&source, library.parts(), rates.currency).0;
        (catalog, rates)
    });
    let inputs =
        [(&old.0, &read[0]), (&new.0, &read[1])].map(|(takeoff, (catalog, rates))| Inputs {
            summary: &summary,
            takeoff,
            catalog,
            rates,
            date: date(2026, 10, 20),
            fingerprint: "",
        });
    let quoted = inputs.each_ref().map(|inputs| Quoted {
        inputs,
        quote: inputs.quote().unwrap(),
        hours: None,
        days: None,
    });
    lines(&quoted[0], &quoted[1]).unwrap()
}

/// The fixture's job with so many elbows.
fn elbows(count: u64) -> Takeoff {
    let mut takeoff = takeoff();
    takeoff.lines[0].quantity = count;
    takeoff
}

fn words(line: &Line) -> String {
    let side = |side: &Option<super::Side>| {
        let side = side.as_ref();
        side.map_or_else(
            || "-".to_owned(),
            |side| {
                let money = |money: Option<Money>| money.map_or_else(String::new, |m| m.plain());
                let (price, amount) = (money(side.unit_price), money(side.amount));
                format!("{} at {price} = {amount}", side.quantity)
            },
        )
    };
    format!(
        "{:?} {} | {} > {} | {}",
        line.kind,
        line.text,
        side(&line.old),
        side(&line.new),
        line.change.unwrap().plain()
    )
}

fn of(lines: &Lines, text: &str) -> Vec<String> {
    let wanted = lines
        .lines
        .iter()
        .filter(|line| line.text.starts_with(text));
    wanted.map(words).collect()
}

#[test]
fn what_is_more_goes_at_the_new_price_and_what_is_less_at_the_old_one() {
    let dearer = CATALOG.replace(",4.00,", ",4.40,");
    let rates = rates();
    let more = differing((elbows(5), CATALOG, &rates), (elbows(8), &dearer, &rates));
    assert_eq!(
        of(&more, "elbow"),
        [
            "Parts elbow-90 1in | 5 at 6.05 = 30.25 > 8 at 6.05 = 48.40 | 18.15",
            "Prices elbow-90 1in | 5 at 5.50 = 27.50 > 5 at 6.05 = 30.25 | 2.75",
        ]
    );
    let less = differing((elbows(5), CATALOG, &rates), (elbows(3), &dearer, &rates));
    assert_eq!(
        of(&less, "elbow"),
        [
            "Parts elbow-90 1in | 5 at 5.50 = 27.50 > 3 at 5.50 = 16.50 | -11.00",
            "Prices elbow-90 1in | 3 at 5.50 = 16.50 > 3 at 6.05 = 18.15 | 1.65",
        ]
    );
    let mut none = takeoff();
    none.lines.remove(0);
    let none = differing((elbows(5), CATALOG, &rates), (none, &dearer, &rates));
    assert_eq!(
        of(&none, "elbow"),
        ["Parts elbow-90 1in | 5 at 5.50 = 27.50 > - | -27.50"]
    );
    assert_eq!(more.notes, Vec::<String>::new());
}

#[test]
fn the_same_need_in_another_unit_is_a_price() {
    let singly = CATALOG.replace("each,10,30.00", "each,1,3.20");
    let rates = rates();
    let found = differing((takeoff(), CATALOG, &rates), (takeoff(), &singly, &rates));
    assert_eq!(
        of(&found, "hanger"),
        [
            "Prices hanger 1in | - > 12 at 4.40 = 52.80 | 52.80",
            "Prices hanger 1in | 2 at 41.25 = 82.50 > - | -82.50",
        ]
    );
    assert_eq!(found.lines.len(), 2);
    assert_eq!(found.notes, Vec::<String>::new());

    // With another need the two cannot be told apart, which is said.
    let mut more = takeoff();
    more.lines[3].quantity = 13;
    let found = differing((takeoff(), CATALOG, &rates), (more, &singly, &rates));
    assert_eq!(
        of(&found, "hanger"),
        [
            "Parts hanger 1in | - > 13 at 4.40 = 57.20 | 57.20",
            "Parts hanger 1in | 2 at 41.25 = 82.50 > - | -82.50",
        ]
    );
    assert_eq!(
        found.notes,
        [
            "hanger 1in: it is bought in other units than before, so that what its quantity and its price change is not told apart."
        ]
    );
}

#[test]
fn other_hours_for_the_same_work_are_a_price() {
    let (rates, slower) = (rates(), rates().replace("\"0.17\"", "\"0.20\""));
    let found = differing((takeoff(), CATALOG, &rates), (takeoff(), CATALOG, &slower));
    // 20 joints at 40.00 an hour, sold at 55.00.
    assert_eq!(
        of(&found, ""),
        ["Prices Make up joints 1in | 3.4 at 55.00 = 187.00 > 4 at 55.00 = 220.00 | 33.00"]
    );
    let mut more = takeoff();
    more.joints[0].count = 30;
    let found = differing((takeoff(), CATALOG, &rates), (more, CATALOG, &slower));
    assert_eq!(
        of(&found, ""),
        ["Work Make up joints 1in | 3.4 at 55.00 = 187.00 > 6 at 55.00 = 330.00 | 143.00"]
    );
    assert!(found.notes[0].starts_with("The hours for a piece of work differ as well"));
}

#[test]
fn a_share_of_the_materials_follows_them() {
    let freight = "[[cost]]\ntext = \"Freight\"\npercent = \"10\"\n";
    let rates = rates_with("", freight);
    let dearer = CATALOG.replace(",4.00,", ",4.40,");
    let kinds = |old: Job<'_>, new: Job<'_>| {
        let found = differing(old, new);
        let freight = found.lines.iter().find(|line| line.text == "Freight");
        (freight.unwrap().kind, found.notes.len())
    };
    let plain = || (elbows(5), CATALOG, &*rates);
    assert_eq!(
        kinds(plain(), (elbows(8), CATALOG, &rates)),
        (Kind::Other, 0)
    );
    assert_eq!(
        kinds(plain(), (elbows(5), &dearer, &rates)),
        (Kind::Prices, 0)
    );
    assert_eq!(
        kinds(plain(), (elbows(8), &dearer, &rates)),
        (Kind::Other, 1)
    );
}

#[test]
fn lines_that_do_not_add_up_are_an_error() {
    let rates = rates();
    let found = differing((elbows(5), CATALOG, &rates), (elbows(8), CATALOG, &rates));
    let usd = found.lines[0].change.unwrap().currency();
    let cents = |count| Money::of_minor_units(count, usd);
    let sum = Money::sum(usd, found.lines.iter().filter_map(|line| line.change)).unwrap();
    let quote = {
        let library = Library::shipped().unwrap();
        let rates = Rates::read(&Source::new("rates", &*rates)).0.unwrap();
        let source = [Source::new("catalog", CATALOG)];
        let catalog = Catalog::read(&source, library.parts(), rates.currency).0;
        let inputs = Inputs {
            summary: &summary(),
            takeoff: &takeoff(),
            catalog: &catalog,
            rates: &rates,
            date: date(2026, 10, 20),
            fingerprint: "",
        };
        inputs.quote().unwrap()
    };
    let totals = |quotes: Money| Totals {
        before_tax: step(cents(0), quotes).unwrap(),
        tax: step(cents(0), cents(7)).unwrap(),
        tax_of: Both {
            old: quote.tax.clone(),
            new: quote.tax.clone(),
        },
        total: step(cents(0), quotes.plus(cents(7)).unwrap()).unwrap(),
    };
    let parts = |change| {
        vec![Part {
            kind: Kind::Parts,
            lines: found.lines.clone(),
            change: Some(change),
        }]
    };
    assert_eq!(adds_up(&parts(sum), &totals(sum)), Ok(()));
    let cent_off = sum.plus(cents(1)).unwrap();
    let fault = |quotes| Err(ChangeError::DoesNotAddUp { lines: sum, quotes });
    assert_eq!(adds_up(&parts(sum), &totals(cent_off)), fault(cent_off));
    assert_eq!(adds_up(&parts(cent_off), &totals(sum)), fault(sum));
    let mut total_off = totals(sum);
    total_off.total.change = cent_off;
    assert_eq!(adds_up(&parts(sum), &total_off), fault(sum));
}
