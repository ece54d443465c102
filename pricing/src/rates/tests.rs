use super::{Rates, TaxOn};
use bom::finding::Finding;
use bom::quantity::Size;
use bom::source::Source;
use bom::system::Joint;
use rust_decimal::Decimal;

const SAMPLE: &str = include_str!("../../../catalogs-demo/rates.toml");

fn read(text: &str) -> (Option<Rates>, Vec<Finding>) {
    Rates::read(&Source::new("rates.toml", text))
}

/// The sample with one place changed: the finding, and the text it points at.
fn found(from: &str, to: &str) -> (&'static str, String, String) {
    assert!(SAMPLE.contains(from), "{from}");
    let text = SAMPLE.replacen(from, to, 1);
    let (rates, findings) = read(&text);
    assert!(rates.is_none(), "{to}");
    let [finding] = findings.as_slice() else {
        panic!("{to}: {findings:?}");
    };
    let span = finding.place();
    let told = format!("{}; {}", finding.message, finding.help);
    (finding.rule, told, text[span.start..span.end].to_owned())
}

#[test]
fn the_shipped_sample_reads_exactly() {
    let (rates, findings) = read(SAMPLE);
    assert_eq!(findings, []);
    let rates = rates.unwrap();
    assert!(rates.sample);
    assert_eq!(rates.wage.unwrap().plain(), "58.00");
    assert_eq!(rates.margin, Decimal::from(20));
    let one_inch = Size::parse("1in").unwrap();
    let joint = |joint, size| rates.hours.joint[&joint].get(&size).copied();
    let tube = Size::parse("25mm").unwrap();
    assert_eq!(joint(Joint::Threaded, one_inch), Some(Decimal::new(17, 2)));
    assert_eq!(joint(Joint::Soldered, one_inch), Some(Decimal::new(2, 1)));
    assert_eq!(joint(Joint::PushFit, tube), Some(Decimal::new(4, 2)));
    assert_eq!(joint(Joint::PushFit, one_inch), None);
    assert_eq!(rates.hours.pipe_10ft[&tube], Decimal::new(28, 2));
    let crew = rates.crew.unwrap();
    assert_eq!((crew.people, crew.day_hours), (2, Decimal::from(8)));
    assert_eq!(rates.hire[0].joints, [Joint::Threaded]);
    assert_eq!(rates.hire[0].price.plain(), "85.00");
    assert_eq!(rates.tax.on, TaxOn::Materials);
    assert_eq!(rates.payment.len(), 3);
}

#[test]
fn a_whole_number_needs_no_quotation_marks() {
    let (rates, _) = read(&SAMPLE.replacen("\"12\"", "12", 1));
    assert_eq!(rates.unwrap().overhead, Decimal::from(12));
}

#[test]
fn findings_point_at_what_is_wrong() {
    for (from, to, rule, place, says) in [
        (
            "\"58.00\"",
            "58.1",
            "rates-syntax",
            "58.1",
            "put 58.1 in quotation marks",
        ),
        (
            "\"58.00\"",
            "\"58,00\"",
            "rates-syntax",
            "\"58,00\"",
            "is it 5800 or 58.00?",
        ),
        (
            "\"58.00\"",
            "\"-1\"",
            "rates-number",
            "\"-1\"",
            "the wage cannot be -1",
        ),
        (
            "\"58.00\"",
            "\"1000001\"",
            "rates-number",
            "\"1000001\"",
            "the wage cannot be",
        ),
        (
            "wage ",
            "wagge ",
            "rates-syntax",
            "wagge",
            "did you mean `wage`?",
        ),
        (
            "\"USD\"",
            "\"usd\"",
            "rates-currency",
            "\"usd\"",
            "is not a currency code",
        ),
        (
            "\"20\"              #",
            "\"100\" #",
            "rates-margin",
            "\"100\"",
            "under 100 %",
        ),
        (
            "\"materials\"",
            "\"material\"",
            "rates-syntax",
            "\"material\"",
            "did you mean `materials`?",
        ),
        (
            "percent = \"20\"",
            "percent = \"19.5\"",
            "rates-payment",
            "\"19.5\"",
            "add up to 99.5 %",
        ),
        (
            "\"1/4in\"   =",
            "\"1/4\" =",
            "rates-size",
            "\"1/4\"",
            "has no unit",
        ),
        (
            "joints = [\"pressed\"]",
            "joints = [\"presed\"]",
            "rates-syntax",
            "\"presed\"",
            "did you mean `pressed`?",
        ),
        (
            "price  = \"85.00\"",
            "price = \"-85\"",
            "rates-number",
            "\"-85\"",
            "the hire of the threading machine cannot be -85",
        ),
        (
            "price  = \"85.00\"",
            "prise = \"85.00\"",
            "rates-syntax",
            "prise",
            "did you mean `price`?",
        ),
        (
            "crew          = 2 ",
            "crew = 0 ",
            "rates-crew",
            "0",
            "a crew cannot be 0 people",
        ),
        (
            "day_hours     = \"8\"",
            "day_hours = \"25\"",
            "rates-crew",
            "\"25\"",
            "a day cannot have 25 hours of work",
        ),
        (
            "\"20mm\"    = \"0.04\"",
            "\"20\" = \"0.04\"",
            "rates-size",
            "\"20\"",
            "has no unit",
        ),
        (
            "[hours.joint_soldered]",
            "[hours.joint_solder]",
            "rates-syntax",
            "joint_solder",
            "did you mean `joint_soldered`?",
        ),
        (
            "copper-l-soldered.pipe_10ft]",
            "copper-l-soldered.pipe_10m]",
            "rates-syntax",
            "pipe_10m",
            "did you mean `pipe_10ft`?",
        ),
        (
            "\"1/4in\"   =",
            "\"3/8 in\" =",
            "rates-size",
            "\"3/8in\"",
            "3/8in stands twice",
        ),
    ] {
        let (found_rule, told, at) = found(from, to);
        assert_eq!(found_rule, rule, "{to}: {told}");
        assert_eq!(at, place, "{to}: {told}");
        assert!(told.contains(says), "{to}: {told}");
    }
}

/// The sample with a supplier's terms.
fn with_supplier(terms: &str) -> String {
    SAMPLE.replacen(
        "[company]",
        &format!("[supplier.\"A\"]\n{terms}\n\n[company]"),
        1,
    )
}

#[test]
fn suppliers_have_their_terms() {
    let terms = "delivery = \"45\"\nfree_from = 500\nleast_order = \"50.5\"\npreferred = \"3\"";
    let text =
        with_supplier(terms).replacen("currency ", "buy_from = [\"A\", \"B\"]\ncurrency ", 1);
    let (rates, findings) = read(&text);
    assert_eq!(findings, []);
    let buying = rates.unwrap().buying;
    let names: Vec<&str> = buying
        .buy_from
        .iter()
        .map(|named| named.name.as_str())
        .collect();
    assert_eq!(names, ["A", "B"]);
    let [one] = &buying.suppliers[..] else {
        panic!("{buying:?}");
    };
    assert_eq!(one.supplier.name, "A");
    assert_eq!(one.delivery.plain(), "45.00");
    assert_eq!(one.free_from.unwrap().plain(), "500.00");
    assert_eq!(one.least_order.unwrap().plain(), "50.50");
    assert_eq!(one.preferred, Some(Decimal::from(3)));
}

#[test]
fn absurd_terms_are_refused_at_their_place() {
    for (terms, place, says) in [
        ("", "\"A\"", "`A` has no terms"),
        ("free_from = 500", "500", "write the delivery too"),
        (
            "delivery = \"-1\"",
            "\"-1\"",
            "the delivery of A cannot be -1",
        ),
        ("least_order = 1000001", "1000001", "from 0 to 1000000"),
        ("preferred = \"101\"", "\"101\"", "from 0 to 100"),
        ("deliver = 5", "deliver", "did you mean `delivery`?"),
        ("delivery = 4.5", "4.5", "put 4.5 in quotation marks"),
    ] {
        let text = with_supplier(terms);
        let (rates, findings) = read(&text);
        assert!(rates.is_none(), "{terms}");
        let [finding] = &findings[..] else {
            panic!("{terms}: {findings:?}");
        };
        let span = finding.place();
        let told = format!("{}; {}", finding.message, finding.help);
        assert_eq!(&text[span.start..span.end], place, "{told}");
        assert!(told.contains(says), "{terms}: {told}");
    }
    let (_, told, at) = found("currency ", "buy_from = [\"A\", \"A\"]\ncurrency ");
    assert_eq!(at, "\"A\"");
    assert!(told.contains("`A` stands twice"), "{told}");
    let (_, told, _) = found("currency ", "buy_from = [\" \"]\ncurrency ");
    assert!(told.contains("a supplier has no name"), "{told}");
}

#[test]
fn all_wrong_figures_are_told_at_once() {
    let text = SAMPLE
        .replacen("\"58.00\"", "\"-1\"", 1)
        .replacen("\"6.5\"", "\"-6.5\"", 1)
        .replacen("\"USD\"", "\"US\"", 1);
    let (_, findings) = read(&text);
    let rules: Vec<&str> = findings.iter().map(|finding| finding.rule).collect();
    assert_eq!(rules, ["rates-currency", "rates-number", "rates-number"]);
}

#[test]
fn a_missing_entry_is_named() {
    let (_, told, _) = found("validity_days = 30\n", "");
    assert!(told.contains("validity_days"), "{told}");
}

/// What an older rates file does not have is not asked for.
#[test]
fn hire_crew_and_other_methods_may_be_left_out() {
    let plain: String = SAMPLE
        .split("\n\n")
        .filter(|table| {
            let left_out = [
                "[hours.joint_",
                "[hours.of.",
                "[[hire]]",
                "[[cost]]",
                "[adders",
            ];
            !left_out.iter().any(|name| table.starts_with(name))
        })
        .map(|table| format!("{table}\n\n"))
        .collect();
    let (rates, findings) = read(&plain.replacen("crew  ", "# crew", 1).replacen(
        "day_hours",
        "# day_hours",
        1,
    ));
    assert_eq!(findings, []);
    let rates = rates.unwrap();
    assert_eq!(rates.crew, None);
    assert!(rates.hire.is_empty());
    assert!(rates.hours.of.is_empty());
    assert!(rates.hours.joint[&Joint::Soldered].is_empty());
}

#[test]
fn one_entry_of_the_crew_is_enough() {
    let (rates, _) = read(&SAMPLE.replacen("crew  ", "# crew", 1));
    let crew = rates.unwrap().crew.unwrap();
    assert_eq!((crew.people, crew.day_hours), (1, Decimal::from(8)));
}

/// The sample with more keys above its first table and more tables at its end:
/// the rules found, what they say, and the text that they point at.
fn found_with(keys: &str, tables: &str) -> Vec<(&'static str, String, String)> {
    let text = format!("{keys}\n{SAMPLE}\n{tables}\n");
    let (rates, findings) = read(&text);
    assert!(rates.is_none(), "{keys} {tables}");
    let told = findings.iter().map(|finding| {
        let span = finding.place();
        let told = format!("{}; {}", finding.message, finding.help);
        (finding.rule, told, text[span.start..span.end].to_owned())
    });
    told.collect()
}

#[test]
fn absurd_costs_and_terms_are_refused_at_their_place() {
    let cost = |keys: &str| format!("[[cost]]\ntext = \"Travel\"\n{keys}");
    for (keys, tables, rule, place, says) in [
        (
            "",
            cost(""),
            "rates-cost",
            "\"Travel\"",
            "`Travel` has no price; add `price` and `per`",
        ),
        (
            "",
            cost("price = \"1\"\npercent = \"3\""),
            "rates-cost",
            "\"1\"",
            "is a percentage of the materials and has a price as well",
        ),
        (
            "",
            cost("percent = \"101\""),
            "rates-number",
            "\"101\"",
            "`Travel` cannot be 101 %",
        ),
        (
            "",
            cost("price = \"0.675\""),
            "rates-number",
            "\"0.675\"",
            "finer than the smallest coin of USD; write 0.68, or the price of more of it",
        ),
        (
            "",
            cost("price = \"1\"\nquantity = \"0\""),
            "rates-number",
            "\"0\"",
            "a cost of nothing is none",
        ),
        (
            "",
            cost("price = \"1\"\nper = \"week\""),
            "rates-syntax",
            "\"week\"",
            "week",
        ),
        (
            "",
            cost("price = \"1\"\nwhen = \"over 12-0\""),
            "rates-cost",
            "\"over 12-0\"",
            "`over 12-0` is no condition; write `when = \"above 12-0\"`",
        ),
        (
            "",
            cost("price = \"1\"\nwhen = \"above -2-0\""),
            "rates-height",
            "\"above -2-0\"",
            "",
        ),
        (
            "",
            cost("price = \"1\"\nunit = \" \""),
            "rates-text",
            "\" \"",
            "a unit says nothing",
        ),
        (
            "",
            "[retainage]\npercent = \"51\"\nuntil = \"later\"".to_owned(),
            "rates-number",
            "\"51\"",
            "the retainage cannot be 51 %; write a number from 0 to 50",
        ),
        (
            "round_to = 5",
            String::new(),
            "rates-rounding",
            "5",
            "the total is not rounded, so there is nothing to round it to",
        ),
    ] {
        let found = found_with(keys, &tables);
        let [(found_rule, told, at)] = found.as_slice() else {
            panic!("{tables}: {found:?}");
        };
        assert_eq!(*found_rule, rule, "{tables}: {told}");
        assert_eq!(at, place, "{tables}: {told}");
        assert!(told.contains(says), "{tables}: {told}");
    }
    for (from, to, rule, place, says) in [
        (
            "\"4\" ",
            "\"101\" ",
            "rates-number",
            "\"101\"",
            "the contingency cannot be 101 %",
        ),
        (
            "\"12\" ",
            "\"1001\" ",
            "rates-number",
            "\"1001\"",
            "the overhead cannot be 1001 %",
        ),
        (
            "\"6.5\"",
            "\"650\"",
            "rates-number",
            "\"650\"",
            "the tax cannot be 650 %",
        ),
        (
            "floor_margin  = \"15\"",
            "floor_margin  = \"100\"",
            "rates-margin",
            "\"100\"",
            "the least margin is a part of the price and stays under 100 %",
        ),
        (
            "\"line\" ",
            "\"lines\" ",
            "rates-syntax",
            "\"lines\"",
            "did you mean `line`?",
        ),
        (
            "\"line\" ",
            "\"total\"\nround_to = 7 ",
            "rates-rounding",
            "7",
            "a total is not rounded to 7; write 1, 5, 10, 50, 100, 500 or 1000",
        ),
        (
            "overhead      = \"12\"",
            "",
            "rates-missing",
            "",
            "there is a `wage`, and no `overhead`",
        ),
        (
            "above   = \"10-0\"",
            "above = \"10\"",
            "rates-height",
            "\"10\"",
            "",
        ),
        (
            "percent = \"15\"",
            "percent = \"-15\"",
            "rates-number",
            "\"-15\"",
            "what work at height adds cannot be -15 %",
        ),
        (
            "\"58.00\"",
            "\"58.005\"",
            "rates-number",
            "\"58.005\"",
            "the wage is 58.005, finer than the smallest coin of USD",
        ),
    ] {
        let (found_rule, told, at) = found(from, to);
        assert_eq!(found_rule, rule, "{to}: {told}");
        assert_eq!(at, place, "{to}: {told}");
        assert!(told.contains(says), "{to}: {told}");
    }
}

#[test]
fn a_cost_by_the_day_needs_to_know_how_long_a_day_is() {
    let text = SAMPLE
        .replacen("crew  ", "# crew", 1)
        .replacen("day_hours", "# day_hours", 1);
    let (_, findings) = read(&text);
    let said: Vec<&str> = findings.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(
        said,
        [
            "`Travel` is paid by the day, and nothing says how long a day is",
            "`Hire of a scissor lift` is paid by the day, and nothing says how long a day is",
        ]
    );
}

#[test]
fn an_owner_needs_neither_wage_nor_overhead_nor_margin() {
    let plain: String = SAMPLE
        .lines()
        .filter(|line| {
            !["wage", "overhead", "margin"]
                .iter()
                .any(|key| line.starts_with(key))
        })
        .map(|line| format!("{line}\n"))
        .collect();
    let (rates, findings) = read(&plain);
    assert_eq!(findings, []);
    let rates = rates.unwrap();
    assert!(rates.is_owner());
    assert_eq!(
        (rates.overhead, rates.margin),
        (Decimal::ZERO, Decimal::ZERO)
    );
    let (rates, _) = read(&format!("owner = true\n{SAMPLE}"));
    let rates = rates.unwrap();
    assert!(rates.is_owner());
    assert_eq!(
        (rates.overhead, rates.margin),
        (Decimal::ZERO, Decimal::ZERO)
    );
}

#[test]
fn what_is_settled_later_is_read_and_refused_at_its_place() {
    let allowance = |keys: &str| format!("[allowance]\ntext = \"a\"\n{keys}");
    let sum = |keys: &str| format!("[[provisional]]\n{keys}");
    for (keys, tables, rule, place, says) in [
        (
            "",
            allowance("percent = \"3\"\nprice = \"5\""),
            "rates-allowance",
            "[allowance]",
            "either a percentage of the cost or a sum",
        ),
        (
            "",
            allowance(""),
            "rates-allowance",
            "[allowance]",
            "either a percentage",
        ),
        (
            "",
            allowance("percent = \"101\""),
            "rates-number",
            "\"101\"",
            "the allowance cannot be 101 %",
        ),
        (
            "",
            sum("text = \" \"\nprice = \"5\"\nin_total = true"),
            "rates-text",
            "\" \"",
            "a provisional sum says nothing",
        ),
        (
            "",
            sum("text = \"p\"\nprice = \"0.005\"\nin_total = true"),
            "rates-number",
            "\"0.005\"",
            "`p` is 0.005, finer than the smallest coin of USD",
        ),
        (
            "small_items = \"-1\"",
            String::new(),
            "rates-number",
            "\"-1\"",
            "a small item cannot be -1",
        ),
    ] {
        let found = found_with(keys, &tables);
        let [(found_rule, told, at)] = &found[..] else {
            panic!("{keys} {tables}: {found:?}");
        };
        assert_eq!((*found_rule, told.contains(says)), (rule, true), "{told}");
        assert!(at.starts_with(place), "{tables}: {at}");
    }
    // Whether it is in the total is never guessed.
    let found = found_with("", &sum("text = \"p\"\nprice = \"5\""));
    assert!(found[0].1.contains("in_total"), "{found:?}");
}

#[test]
fn terms_stand_in_their_order_and_a_missing_notice_is_asked_for() {
    let (rates, findings) = read(SAMPLE);
    assert_eq!(findings, []);
    let labels: Vec<&str> = rates.unwrap().terms.iter().map(|term| term.label).collect();
    assert_eq!(
        labels,
        [
            "Warranty on the work",
            "Warranty on the parts",
            "Changes",
            "Start",
            "Shut-down of the air",
            "Cancellation",
        ]
    );
    let without = SAMPLE.replacen("cancellation ", "# cancellation ", 1);
    let (rates, findings) = read(&without);
    assert_eq!(rates.unwrap().terms.len(), 5);
    let rules: Vec<&str> = findings.iter().map(|finding| finding.rule).collect();
    assert_eq!(rules, ["rates-cancellation"]);
    let none = SAMPLE.replacen("\"Insert the notice your law wants.\"", "\"none\"", 1);
    let (rates, findings) = read(&none);
    assert_eq!((rates.unwrap().terms.len(), findings.len()), (5, 0));
}
