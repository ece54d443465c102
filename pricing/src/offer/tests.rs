use super::Inputs;
use crate::catalog::Catalog;
use crate::estimate::Estimate;
use crate::fixture::{CATALOG, RATES, made, rates, summary, takeoff};
use crate::money::{Currency, Money};
use crate::quote::Quote;
use crate::rates::Rates;
use bom::library::Library;
use bom::quantity::Size;
use bom::source::Source;
use bom::summary::Connection;
use bom::system::Joint;
use bom::takeoff::Takeoff;
use jiff::civil::date;

fn priced(takeoff: &Takeoff, rows: &str, rates: &str) -> (Estimate, Quote) {
    made(takeoff, rows, rates, |inputs| {
        (inputs.estimate().unwrap(), inputs.quote().unwrap())
    })
}

fn usd(text: &str) -> Money {
    Money::parse(text, Currency::parse("USD").unwrap()).unwrap()
}

#[test]
fn a_delivery_is_a_line_of_the_materials() {
    let terms = "[supplier.\"B\"]\ndelivery = \"8\"\n\n[company]";
    let rates = rates().replacen("[company]", terms, 1);
    let (estimate, quote) = priced(&takeoff(), CATALOG, &rates);
    assert_eq!(estimate.buying.charges, usd("8.00"));
    let (before, without) = priced(&takeoff(), CATALOG, &crate::fixture::rates());
    assert_eq!(
        estimate.materials,
        before.materials.plus(usd("8.00")).unwrap()
    );
    let delivery = |quote: &Quote| {
        let section = quote.sections.iter().find(|one| one.title == "Delivery");
        section.cloned()
    };
    let section = delivery(&quote).unwrap();
    let [line] = &section.lines[..] else {
        panic!("{section:?}");
    };
    // 8.00 at 1.375, and not who brings it.
    assert_eq!(line.text, "Delivery of the materials");
    assert_eq!(line.amount, Some(usd("11.00")));
    assert!(delivery(&without).is_none());
    assert_eq!(quote.tax.base, without.tax.base.plus(usd("11.00")).unwrap());
}

#[test]
fn what_packs_leave_over_stands_on_the_estimate_only() {
    let (estimate, quote) = priced(&takeoff(), CATALOG, &rates());
    let lines = estimate.sections.iter().flat_map(|section| &section.lines);
    let hanger = lines
        .clone()
        .find(|line| line.text == "hanger 1in")
        .unwrap();
    // 12 of two packs of 10 for 60.00.
    assert_eq!(
        hanger.origin,
        "A (invented), H1, 2026-10-08; 8 spare, worth 24.00"
    );
    assert_eq!(estimate.buying.surplus_cost, usd("24.00"));
    assert!(!format!("{quote:?}").contains("spare, worth"));
}

#[test]
fn a_quote_worked_by_hand() {
    let (_, quote) = priced(&takeoff(), CATALOG, &rates());
    let lines: Vec<String> = quote
        .sections
        .iter()
        .flat_map(|section| &section.lines)
        .map(|line| {
            format!(
                "{} | {} {} | {} | {}",
                line.text,
                line.quantity,
                line.unit,
                line.unit_price.unwrap().plain(),
                line.amount.unwrap().plain()
            )
        })
        .collect();
    assert_eq!(
        lines,
        [
            "pipe 1in | 100 ft | 2.75 | 275.00",
            "elbow-90 1in | 5 each | 5.50 | 27.50",
            "ball-valve 1in | 2 each | 27.51 | 55.02",
            "coupler-plug | 3 each | 3.44 | 10.32",
            "hanger 1in | 2 pack of 10 | 41.25 | 82.50",
            "Make up joints 1in | 3.4 hour | 55.00 | 187.00",
            "Hang pipe 1in | 4.5 hour | 55.00 | 247.50",
            "Set hangers and brackets | 4.2 hour | 55.00 | 231.00",
            "Set valves and devices | 0.4 hour | 55.00 | 22.00",
            "Build drops | 1.5 hour | 55.00 | 82.50",
            "Build drains | 0.15 hour | 55.00 | 8.25",
            "Mobilise and clear up | 3 hour | 55.00 | 165.00",
            "Pressure test | 3 hour | 55.00 | 165.00",
        ]
    );
    assert_eq!(quote.subtotal.plain(), "1558.59");
    assert_eq!(quote.tax.base.plain(), "450.34");
    assert_eq!(quote.tax.amount.plain(), "29.27");
    assert_eq!(quote.total.unwrap().plain(), "1587.86");
    let payment: Vec<String> = quote
        .payment
        .iter()
        .map(|step| step.amount.plain())
        .collect();
    assert_eq!(payment, ["635.15", "635.14", "317.57"]);
    assert_eq!(quote.valid_until, date(2026, 11, 19));
}

#[test]
fn the_estimate_behind_it() {
    let (estimate, quote) = priced(&takeoff(), CATALOG, &rates());
    for (sum, expected) in [
        (estimate.materials, "327.52"),
        (estimate.labour, "806.00"),
        (estimate.overhead, "113.35"),
        (estimate.profit, "311.72"),
        (estimate.price, "1558.59"),
    ] {
        assert_eq!(sum.plain(), expected);
    }
    assert_eq!(estimate.margin_percent.unwrap().to_string(), "20.0001");
    assert_eq!(estimate.markup_percent.unwrap().to_string(), "25.0002");
    assert_eq!(
        estimate.sections[1].lines[0].origin,
        "A (invented), E1, 2026-10-08"
    );
    assert_eq!(estimate.price, quote.subtotal);
}

#[test]
fn every_sum_is_a_sum_of_printed_lines() {
    let (_, quote) = priced(&takeoff(), CATALOG, &rates());
    let usd = Currency::parse("USD").unwrap();
    for section in &quote.sections {
        let amounts = section.lines.iter().filter_map(|line| line.amount);
        assert_eq!(Money::sum(usd, amounts).unwrap(), section.subtotal);
        for line in &section.lines {
            let product = line.unit_price.unwrap().times(line.quantity).unwrap();
            assert_eq!(Some(product), line.amount, "{}", line.text);
        }
    }
    let sections = quote.sections.iter().map(|section| section.subtotal);
    assert_eq!(Money::sum(usd, sections).unwrap(), quote.subtotal);
    let whole = quote.subtotal.plus(quote.tax.amount).unwrap();
    assert_eq!(Some(whole), quote.total);
    let payment = quote.payment.iter().map(|step| step.amount);
    assert_eq!(Money::sum(usd, payment).unwrap(), whole);
}

#[test]
fn a_missing_price_leaves_the_total_open() {
    let rows = CATALOG.replacen("20.01", "", 1);
    let (_, quote) = priced(&takeoff(), &rows, &rates());
    assert!(quote.total.is_none());
    assert!(quote.payment.is_empty());
    assert_eq!(quote.subtotal.plain(), "1503.57");
    let [hole] = quote.missing.as_slice() else {
        panic!("{:?}", quote.missing);
    };
    assert_eq!(hole.reason, "line 5 of shop.csv has no price yet");
    assert_eq!(hole.row, "ball-valve,,1in,ball-valve,each,1,,USD,,,,");
    let valve = &quote.sections[2].lines[0];
    assert_eq!((valve.unit_price, valve.amount), (None, None));
}

#[test]
fn a_size_without_hours_leaves_the_total_open() {
    let mut takeoff = takeoff();
    takeoff.joints[0].size = Size::parse("4in").unwrap();
    let (estimate, quote) = priced(&takeoff, CATALOG, &rates());
    assert_eq!(estimate.unrated.len(), 1);
    assert!(quote.total.is_none());
    assert_eq!(
        quote.unrated,
        [
            "Make up joints 4in (20 joints): the rates have no hours for it; add the size under [hours.joint]"
        ]
    );
}

/// Copper in the same sizes, whose devices stand on threads of brass.
fn copper() -> Takeoff {
    let mut takeoff = takeoff();
    let mut threads = takeoff.joints[0].clone();
    threads.system = "brass".to_owned();
    threads.count = 4;
    let own = "copper-l-soldered";
    takeoff.system = own.to_owned();
    takeoff.pipe[0].key.system = own.to_owned();
    takeoff.joints[0].system = own.to_owned();
    takeoff.joints[0].joint = Joint::Soldered;
    takeoff.joints.push(threads);
    takeoff
}

fn section<'a>(quote: &'a Quote, title: &str) -> Vec<&'a str> {
    let sections = quote.sections.iter();
    let mut wanted = sections.filter(|section| section.title == title);
    let lines = wanted.next().map_or(&[][..], |section| &section.lines);
    lines.iter().map(|line| line.text.as_str()).collect()
}

#[test]
fn joints_are_named_by_their_method_where_there_are_several() {
    let (_, quote) = priced(&copper(), CATALOG, &rates());
    assert_eq!(
        section(&quote, "Labour")[..3],
        [
            "Solder joints 1in",
            "Make up threaded joints 1in",
            "Hang pipe 1in"
        ]
    );
    let labour = quote.sections.last().unwrap();
    let hours: Vec<String> = labour.lines[..3]
        .iter()
        .map(|line| line.quantity.to_string())
        .collect();
    // 20 × 0.20, 4 × 0.17, and 100 ft at the system's own 0.32 for ten.
    assert_eq!(hours, ["4", "0.68", "3.2"]);
}

#[test]
fn a_method_without_hours_names_its_table() {
    let mut takeoff = copper();
    takeoff.joints[0].joint = Joint::Pressed;
    takeoff.joints[0].size = Size::parse("4in").unwrap();
    let (_, quote) = priced(&takeoff, CATALOG, &rates());
    assert_eq!(
        quote.unrated,
        [
            "Press joints 4in (20 joints): the rates have no hours for it; add the size under [hours.joint_pressed]"
        ]
    );
}

#[test]
fn a_hired_tool_is_a_section_and_taxed_like_materials() {
    let before = priced(&copper(), CATALOG, &rates()).1;
    assert!(section(&before, "Tool hire").is_empty());
    // 85.00 × 1.375 = 116.875.
    let hired = rates().replacen("[\"threaded\"]", "[\"brazed\", \"soldered\"]", 1);
    let (estimate, quote) = priced(&copper(), CATALOG, &hired);
    assert_eq!(section(&quote, "Tool hire"), ["Hire of threading machine"]);
    assert_eq!(estimate.hire.plain(), "85.00");
    assert_eq!(
        quote.subtotal.minus(before.subtotal).unwrap().plain(),
        "116.88"
    );
    assert_eq!(
        quote.tax.base.minus(before.tax.base).unwrap().plain(),
        "116.88"
    );
    let sections: Vec<&str> = quote
        .sections
        .iter()
        .map(|one| one.title.as_str())
        .collect();
    assert_eq!(sections[sections.len() - 2..], ["Tool hire", "Labour"]);
}

/// Threads of devices are made up with a wrench, and ready-threaded pipe has
/// its threads.
#[test]
fn a_threading_machine_is_hired_for_pipe_that_is_threaded() {
    let library = Library::shipped().unwrap();
    let (rates, _) = Rates::read(&Source::new("rates.toml", RATES));
    let rates = rates.unwrap();
    let hired = |job: &str| {
        let plan = bom::plan(&Source::new("job.toml", job), &library)
            .0
            .unwrap();
        let catalog = Catalog::default();
        let estimate =
            crate::estimate::estimate(&plan.takeoff, plan.summary.units, &catalog, &rates);
        estimate.unwrap().hire.plain()
    };
    let garage = include_str!("../../../catalogs-demo/garage.toml");
    assert_eq!(hired(garage), "85.00");
    let bought = garage.replace("[main]\n", "[main]\nthreading = \"bought\"\n");
    assert_eq!(hired(&bought), "0.00");
    let mixed = include_str!("../../../tests/cases/iron-and-copper/job.toml");
    let copper_main = mixed
        .replace("\"copper-l-soldered\"", "\"BRANCH\"")
        .replace("\"black-iron\"", "\"copper-l-soldered\"")
        .replace("\"BRANCH\"", "\"black-iron\"");
    assert_eq!(hired(&copper_main), "85.00");
    let bought = mixed.replace("[main]\n", "[main]\nthreading = \"bought\"\n");
    assert_eq!(hired(&bought), "0.00");
}

#[test]
fn the_order_of_the_rows_changes_nothing() {
    let mut rows: Vec<&str> = CATALOG.lines().collect();
    let expected = format!("{:?}", priced(&takeoff(), CATALOG, &rates()));
    for _ in 1..rows.len() {
        rows[1..].rotate_left(1);
        assert_eq!(
            format!("{:?}", priced(&takeoff(), &rows.join("\n"), &rates())),
            expected
        );
    }
    rows[1..].reverse();
    assert_eq!(
        format!("{:?}", priced(&takeoff(), &rows.join("\n"), &rates())),
        expected
    );
}

#[test]
fn tax_is_taken_on_its_stated_base() {
    for (on, base, tax) in [
        ("materials", "450.34", "29.27"),
        ("all", "1558.59", "101.31"),
        ("none", "0.00", "0.00"),
    ] {
        let rates = rates().replacen("\"materials\"", &format!("\"{on}\""), 1);
        let (_, quote) = priced(&takeoff(), CATALOG, &rates);
        assert_eq!(quote.tax.base.plain(), base, "{on}");
        assert_eq!(quote.tax.amount.plain(), tax, "{on}");
    }
}

#[test]
fn the_sample_jobs_are_priced_without_a_hole() {
    let library = Library::shipped().unwrap();
    let (rates, _) = Rates::read(&Source::new("rates.toml", RATES));
    let rates = rates.unwrap();
    let iron = Source::new("iron.csv", include_str!("../../../catalogs-demo/iron.csv"));
    let (catalog, _) = Catalog::read(&[iron], library.parts(), rates.currency);
    for job in [
        include_str!("../../../catalogs-demo/annex.toml"),
        include_str!("../../../catalogs-demo/garage.toml"),
        include_str!("../../../catalogs-demo/millrace.toml"),
    ] {
        let (plan, _) = bom::plan(&Source::new("job.toml", job), &library);
        let plan = plan.unwrap();
        let inputs = Inputs {
            summary: &plan.summary,
            takeoff: &plan.takeoff,
            catalog: &catalog,
            rates: &rates,
            date: date(2026, 10, 20),
            fingerprint: "4F2A-91C0",
        };
        let quote = inputs.quote().unwrap();
        assert_eq!(
            quote.missing.len(),
            0,
            "{}: {:?}",
            quote.title,
            quote.missing
        );
        assert!(
            quote.total.is_some(),
            "{}: {:?}",
            quote.title,
            quote.notices
        );
    }
}

#[test]
fn each_connection_is_offered_with_the_name_of_its_compressor() {
    let mut two = summary();
    two.connections.push(Connection {
        supply: "annex".to_owned(),
        items: Vec::new(),
    });
    let scope = super::scope::paragraphs(&two);
    assert_eq!(
        scope[2..4],
        [
            "Connection to the tank of compressor, in this order: ball valve 1in; hose 1in x 24in.",
            "The pipe is screwed straight into the port of the tank of annex.",
        ]
    );
}

#[test]
fn the_words_of_the_quote() {
    let (_, quote) = priced(&takeoff(), CATALOG, &rates());
    assert_eq!(
        quote.scope,
        [
            "One ring main for compressed air: black iron; size 1in; 104.0 ft in all, starting 11'-0\" above the floor.",
            "The main falls 1/8in per ft. It is drained at low (1/2in valve).",
            "Connection to the tank, in this order: ball valve 1in; hose 1in x 24in.",
            "2 drops: 1 reel, 1 two-sided. Each leaves the main from the top, so that water stays in the main. 1 of them ends in a drip leg with a drain.",
            "Pressure test of the finished pipework with air, with all outlets plugged for the test.",
        ]
    );
    assert_eq!(
        quote.assumptions,
        [
            "The wall is taken as square.",
            "The air supply is as stated to us: compressor: 24 cfm free air.",
            "Material prices dated 2026-10-01 to 2026-10-15.",
            "Material prices without a date: 1.",
        ]
    );
    assert_eq!(
        quote.notices,
        [
            "The labour rates and percentages are an invented sample, not anyone's prices.",
            "Some of the material prices are invented samples.",
        ]
    );
    assert_eq!(quote.cautions.len(), 5);
    assert_eq!(quote.outlets[0].height, "4'-0\"");
    assert_eq!(quote.outlets[0].drop, "1in, top");
}

/// A customer signs for each metal by name.
#[test]
fn a_main_in_several_metals_says_how_much_of_each() {
    let library = Library::shipped().unwrap();
    let job = include_str!("../../../tests/cases/iron-then-aluminium/job.toml");
    let plan = bom::plan(&Source::new("job.toml", job), &library).0;
    let said = super::scope::paragraphs(&plan.unwrap().summary);
    assert_eq!(
        said[0],
        "Main line for compressed air, 12.50 m in all, starting 3000 mm above the floor: \
         5.00 m of Black iron, threaded, Schedule 40, size 3/4in; \
         5.00 m of Aluminium tube, push-fit (generic example, not a maker's), size 25mm; \
         2.50 m of Copper tube type L, soldered, size 3/4in."
    );
}

#[test]
fn the_scope_names_the_line_valves() {
    let library = Library::shipped().unwrap();
    let job = include_str!("../../../tests/cases/ring-valves/job.toml");
    let one = job
        .replace("[valve.second]\nkind = \"valve\"\n", "")
        .replace("marks = { second = \"6-0\" }\n", "");
    let said = |job: &str| {
        let plan = bom::plan(&Source::new("job.toml", job), &library).0;
        super::scope::paragraphs(&plan.unwrap().summary)[1].clone()
    };
    assert_eq!(
        said(job),
        "The main is level. 2 line valves shut off parts of it: first (1in), second (1in)."
    );
    assert_eq!(
        said(&one),
        "The main is level. 1 line valve shuts off part of it: first (1in)."
    );
}
