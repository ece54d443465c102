use super::EstimateSheet;
use crate::fixture::{CATALOG, made, rates_with, takeoff};
use crate::money::{Currency, Money};
use crate::quote::Quote;
use bom::quantity::Size;
use bom::takeoff::Takeoff;
use rust_decimal::Decimal;

fn worked(takeoff: &Takeoff, rates: &str) -> (EstimateSheet, Quote) {
    made(takeoff, CATALOG, rates, |inputs| {
        (inputs.sheet().unwrap(), inputs.quote().unwrap())
    })
}

const COSTS: &str = r#"
[[cost]]
text = "Travel"
price = "0.70"
quantity = "36"
unit = "mile"
per = "day"

[[cost]]
text = "Freight"
percent = "3"
taxed = true

[[cost]]
text = "Lodging"
price = "95.00"
per = "person-day"

[[cost]]
text = "Permit"
price = "62.50"

[[cost]]
text = "Scissor lift"
price = "140.00"
per = "day"
when = "above 11-0"
"#;

const ADDERS: &str = r#"
[adders]
congestion = "10"
least_hours = "30"

[adders.height]
above = "10-0"
percent = "20"
"#;

const KEYS: &str = "contingency = \"5\"\nround_to = 5";

/// All of them, and the total rounded to 5.
fn everything(more: &str) -> String {
    rates_with(KEYS, &format!("{ADDERS}{COSTS}{more}")).replacen("\"line\" ", "\"total\" ", 1)
}

fn lines(sheet: &EstimateSheet, title: &str) -> Vec<String> {
    let sections = sheet.estimate.sections.iter();
    let lines = sections.filter(|section| section.title == title);
    let lines = lines.flat_map(|section| &section.lines);
    lines
        .map(|line| {
            let (cost, price) = (line.cost.unwrap(), line.price.unwrap());
            format!(
                "{} | {} {} | {} {} | {} {} | {}",
                line.text,
                line.quantity,
                line.unit,
                cost.unit.plain(),
                cost.amount.plain(),
                price.unit.plain(),
                price.amount.plain(),
                line.origin
            )
        })
        .collect()
}

fn steps(sheet: &EstimateSheet) -> Vec<String> {
    let steps = sheet.estimate.steps.iter();
    steps
        .map(|step| {
            let sum = if step.is_sum { "= " } else { "" };
            format!("{sum}{}: {}", step.text, step.amount.plain())
        })
        .collect()
}

// The layout has 20 joints and 10 supports at 11'-0", and pipe that comes down
// evenly from 11'-0" to 9'-0", half of it above 10'-0": 20 x 0.17 + 50 x 0.045 +
// 10 x 0.35 = 9.15 hours up there. Its work takes 20.15 hours in all.
#[test]
fn adders_worked_by_hand() {
    let (sheet, _) = worked(&takeoff(), &everything(""));
    let labour = lines(&sheet, "Labour");
    assert_eq!(
        labour[labour.len() - 3..],
        [
            "Work above 10'-0\" | 1.83 hour | 40.00 73.20 | 57.50 105.23 | 20 % of 9.15 hours on 20 joints, 50 ft, 10 supports above 10'-0\"",
            "Working between machines and stock | 2.02 hour | 40.00 80.80 | 57.50 116.15 | 10 % of 20.15 hours",
            "Small job | 6 hour | 40.00 240.00 | 57.50 345.00 | no job takes fewer than 30 hours",
        ]
    );
    assert_eq!(sheet.estimate.hours.to_string(), "30");
    // 30 hours of 16 a day are 1.875 days.
    assert_eq!(sheet.estimate.days.unwrap().to_string(), "2");
}

// The factor is (100 + 10 + 5) / (100 - 20) = 1.4375.
#[test]
fn other_costs_worked_by_hand() {
    let (sheet, quote) = worked(&takeoff(), &everything(""));
    assert_eq!(
        lines(&sheet, "Other costs"),
        [
            "Travel | 72 mile | 0.70 50.40 | 1.01 72.72 | 2 days begun on site",
            "Freight | 1 job | 9.83 9.83 | 14.13 14.13 | 3 % of the materials",
            "Lodging | 4 person-day | 95.00 380.00 | 136.56 546.24 | 2 days begun on site, 2 each day",
            "Permit | 1 job | 62.50 62.50 | 89.84 89.84 | once a job",
        ]
    );
    assert_eq!(
        sheet.estimate.notes,
        [
            "Days on site: 2, for 2 people of 8 hours a day, up to the next half day.",
            "Scissor lift: none, no pipe is above 11'-0\".",
            "A (invented): 3 lines for 280.00.",
            "B: 2 lines for 47.52.",
            "All at one: A (invented) lacks 2 lines, B lacks 2 lines.",
        ]
    );
    // Materials of 471.30 and freight.
    assert_eq!(quote.tax.base.plain(), "485.43");
    let titles: Vec<&str> = quote
        .sections
        .iter()
        .map(|one| one.title.as_str())
        .collect();
    assert_eq!(titles[titles.len() - 2..], ["Other costs", "Labour"]);
}

#[test]
fn the_way_from_the_costs_to_the_price_adds_up() {
    let (sheet, quote) = worked(&takeoff(), &everything(""));
    assert_eq!(
        steps(&sheet),
        [
            "Materials: 327.52",
            "Other costs: 502.73",
            "Labour, 30 hours: 1200.00",
            "= Cost: 2030.25",
            "Overhead, 10 % of the cost: 203.03",
            "Contingency, 5 % of the cost: 101.51",
            "= Cost with all that it bears: 2334.79",
            "Profit: 584.45",
            "Rounding: 0.76",
            "= Price before tax: 2920.00",
        ]
    );
    let mut so_far = Money::zero(quote.subtotal.currency());
    for step in &sheet.estimate.steps {
        if step.is_sum {
            assert_eq!(step.amount, so_far, "{}", step.text);
        } else {
            so_far = so_far.plus(step.amount).unwrap();
        }
    }
    // 585.21 of 2920.00, and of 2334.79.
    let estimate = &sheet.estimate;
    assert_eq!(estimate.profit.plain(), "585.21");
    assert_eq!(estimate.margin_percent.unwrap().to_string(), "20.0414");
    assert_eq!(estimate.markup_percent.unwrap().to_string(), "25.0648");
    assert_eq!(quote.rounding.unwrap().plain(), "0.76");
    assert_eq!(quote.subtotal.plain(), "2920.00");
    assert_eq!(quote.tax.amount.plain(), "31.55");
    assert_eq!(quote.total.unwrap().plain(), "2951.55");
    assert_eq!(sheet.total, quote.total);
}

#[test]
fn what_is_kept_is_the_last_step() {
    let kept = "[retainage]\npercent = \"10\"\nuntil = \"30 days later\"";
    let (_, quote) = worked(&takeoff(), &everything(kept));
    let steps: Vec<String> = quote
        .payment
        .iter()
        .map(|step| format!("{} {}", step.when, step.amount.plain()))
        .collect();
    // 36, 36, 18 and 10 % of 2951.55.
    assert_eq!(
        steps,
        [
            "on acceptance 1062.56",
            "when the pipework hangs 1062.56",
            "after the pressure test 531.28",
            "30 days later: the 10 % kept of each payment 295.15",
        ]
    );
    let amounts = quote.payment.iter().map(|step| step.amount);
    let whole = Money::sum(Currency::parse("USD").unwrap(), amounts).unwrap();
    assert_eq!(Some(whole), quote.total);
}

#[test]
fn a_rounded_total_is_taxed_where_all_is() {
    let rates = everything("").replacen("on      = \"materials\"", "on = \"all\"", 1);
    let (_, quote) = worked(&takeoff(), &rates);
    assert_eq!(quote.tax.base.plain(), "2920.00");
    // 6.5 % are 189.80.
    assert_eq!(quote.total.unwrap().plain(), "3109.80");
}

#[test]
fn a_price_under_its_floor_is_told() {
    let low = everything("")
        .replacen("floor_margin  = \"15\"", "floor_margin = \"25\"", 1)
        .replacen("\"600.00\"", "\"3000.00\"", 1);
    let (sheet, _) = worked(&takeoff(), &low);
    assert_eq!(
        sheet.estimate.warnings,
        [
            "The price before tax, 2,920.00, is 193.05 under the floor of 3,113.05: a margin of 25 %.",
            "The price before tax, 2,920.00, is 80.00 under the floor of 3,000.00: the least price of a job.",
        ]
    );
    let (sheet, _) = worked(&takeoff(), &everything(""));
    assert!(sheet.estimate.warnings.is_empty());
}

#[test]
fn own_work_is_shown_and_costs_nothing() {
    let without = everything("").replacen("wage ", "# wage ", 1);
    let (sheet, _) = worked(&takeoff(), &without);
    let owner = everything("").replacen("wage ", "owner = true\nwage ", 1);
    let (same, _) = worked(&takeoff(), &owner);
    assert_eq!(format!("{sheet:?}"), format!("{same:?}"));
    // 327.52 + 502.73 and 5 % of it.
    assert_eq!(
        steps(&sheet),
        [
            "Materials: 327.52",
            "Other costs: 502.73",
            "Labour, 30 hours of your own: 0.00",
            "= Cost: 830.25",
            "Contingency, 5 % of the cost: 41.51",
            "Lines rounded one by one: 0.38",
            "Rounding: -2.14",
            "= Price before tax: 870.00",
        ]
    );
    assert!(sheet.owner && sheet.payment.is_empty());
    assert_eq!(
        lines(&sheet, "Labour")[0],
        "Make up joints 1in | 3.4 hour | 0.00 0.00 | 0.00 0.00 | 20 joints at 0.17 hours"
    );
}

#[test]
fn days_are_open_while_hours_are_missing() {
    let mut takeoff = takeoff();
    takeoff.joints[0].size = Size::parse("4in").unwrap();
    let (sheet, quote) = worked(&takeoff, &everything(""));
    assert_eq!(sheet.estimate.days, None);
    assert_eq!((sheet.total, quote.total), (None, None));
    let costs = sheet.estimate.sections.iter();
    let costs = costs.filter(|section| section.title == "Other costs");
    let travel = &costs.flat_map(|section| &section.lines).next().unwrap();
    assert!(travel.cost.is_none() && travel.price.is_none());
    assert_eq!(travel.origin, "the days are open while hours are missing");
    assert!(sheet.estimate.warnings.is_empty());
}

/// The order of costs and tools in the file, and of lines in the count, is a
/// matter of the paper alone.
#[test]
fn no_order_changes_a_sum() {
    let sums = |sheet: &EstimateSheet| {
        let estimate = &sheet.estimate;
        [
            estimate.price,
            estimate.profit,
            estimate.costs,
            sheet.tax.amount,
        ]
    };
    let mut tables: Vec<&str> = COSTS.split_inclusive("\n\n").collect();
    let (plain, _) = worked(&takeoff(), &everything(""));
    let mut takeoff = takeoff();
    for _ in 0..tables.len() {
        tables.rotate_left(1);
        takeoff.lines.rotate_left(1);
        let costs: String = tables.iter().map(|table| format!("{table}\n")).collect();
        let rates = rates_with(KEYS, &format!("{costs}{ADDERS}"));
        let rates = rates.replacen("\"line\" ", "\"total\" ", 1);
        let (other, _) = worked(&takeoff, &rates);
        assert_eq!(sums(&other), sums(&plain));
        assert_eq!(other.total, plain.total);
    }
}

#[test]
fn a_total_is_rounded_half_away_from_nought() {
    let usd = Currency::parse("USD").unwrap();
    for (amount, to, rounded) in [
        ("2.50", 5, "5.00"),
        ("2.49", 5, "0.00"),
        ("7.50", 5, "10.00"),
        ("1234.50", 1, "1235.00"),
        ("1234.49", 1, "1234.00"),
        ("1235.00", 10, "1240.00"),
        ("-2.50", 5, "-5.00"),
        ("1234.49", 0, "1234.49"),
    ] {
        let money = Money::new(Decimal::from_str_exact(amount).unwrap(), usd);
        assert_eq!(
            money.to_nearest(to).unwrap().plain(),
            rounded,
            "{amount} {to}"
        );
    }
}
