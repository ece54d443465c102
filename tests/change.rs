//! Change orders: what holds of every pair of jobs, then the command as a user
//! runs it.

mod cases;

use crate::support::{Form, read, root, same_cases, shops};
use bom::library::Library;
use bom::source::Source;
use jiff::civil::date;
use pricing::catalog::Catalog;
use pricing::change::{self, Change, Fact, Fate, Item, ItemKind, Line, Revision};
use pricing::money::Money;
use pricing::offer::Inputs;
use pricing::rates::Rates;
use proptest::prelude::{Just, Strategy, prop_assert, prop_assert_eq, prop_oneof, proptest};

/// A job with its price list and its rates, as texts.
#[derive(Debug, Clone)]
struct Texts {
    job: String,
    catalog: String,
    rates: String,
}

impl Texts {
    fn of(job: impl Into<String>) -> Self {
        Self {
            job: job.into(),
            catalog: demo("iron.csv"),
            rates: demo("rates.toml"),
        }
    }
}

fn demo(name: &str) -> String {
    read(root().join("catalogs-demo").join(name))
}

/// The change order, and what both quotes come to.
fn changed(old: &Texts, new: &Texts) -> (Change, [Option<Money>; 2]) {
    let library = Library::shipped().unwrap();
    let parse = |texts: &Texts| {
        let (plan, findings) = bom::plan(&Source::new("job", &*texts.job), &library);
        let plan = plan.unwrap_or_else(|| panic!("{findings:#?}\n{}", texts.job));
        let rates = Rates::read(&Source::new("rates", &*texts.rates)).0.unwrap();
        let catalog = [Source::new("catalog", &*texts.catalog)];
        let (catalog, _) = Catalog::read(&catalog, library.parts(), rates.currency);
        (plan, rates, catalog)
    };
    let both = [parse(old), parse(new)];
    let [old, new] = both.each_ref().map(|(plan, rates, catalog)| Revision {
        inputs: Inputs {
            summary: &plan.summary,
            takeoff: &plan.takeoff,
            catalog,
            rates,
            date: date(2026, 11, 2),
            fingerprint: "",
        },
        plan,
    });
    let change = change::change(&old, &new, &library, "customer wish").unwrap();
    let totals = [old, new].map(|revision| revision.inputs.quote().unwrap().total);
    (change, totals)
}

#[test]
fn provisional_sums_and_allowances_that_change_add_up() {
    let rates = |more: &str| Texts {
        rates: demo("rates.toml") + more,
        ..Texts::of(demo("millrace.toml"))
    };
    let sum = |price: &str, in_total: bool| {
        format!(
            "\n[[provisional]]\ntext = \"Core drilling\"\nprice = \"{price}\"\nin_total = {in_total}\n"
        )
    };
    let allowance = "\n[allowance]\ntext = \"Allowance\"\npercent = \"3\"\n";
    for (old, new, expected) in [
        (String::new(), sum("240.00", true), "240.00"),
        (sum("240.00", true), sum("300.00", true), "60.00"),
        (sum("240.00", true), sum("240.00", false), "-240.00"),
        (sum("240.00", true), String::new(), "-240.00"),
    ] {
        let (change, totals) = changed(&rates(&old), &rates(&new));
        let part = &change.parts[0];
        assert_eq!(change.parts.len(), 1);
        assert_eq!(part.kind, change::Kind::Provisional);
        assert_eq!(part.change.unwrap().plain(), expected);
        let totals = totals.map(Option::unwrap);
        assert_eq!(totals[1].minus(totals[0]).unwrap().plain(), expected);
    }
    let (change, _) = changed(&rates(""), &rates(allowance));
    assert_eq!(change.parts[0].kind, change::Kind::Other);
    let dearer = Texts {
        job: demo("millrace.toml").replace("\"5-0\"", "\"9-0\""),
        ..rates(allowance)
    };
    let (change, _) = changed(&rates(allowance), &dearer);
    let lines = lines(&change);
    let line = lines.iter().find(|line| line.text == "Allowance").unwrap();
    assert_eq!(line.kind, change::Kind::Other);
}

fn lines(change: &Change) -> Vec<Line> {
    let lines = change.parts.iter().flat_map(|part| part.lines.clone());
    lines.collect()
}

/// The same from the other side.
fn turned(lines: &[Line]) -> Vec<Line> {
    let turned = lines.iter().map(|line| Line {
        old: line.new.clone(),
        new: line.old.clone(),
        more: (-line.more).normalize(),
        change: line.change.map(negative),
        ..line.clone()
    });
    sorted(turned.collect())
}

fn sorted(mut lines: Vec<Line>) -> Vec<Line> {
    lines.sort_by_key(|line| format!("{line:?}"));
    lines
}

fn negative(money: Money) -> Money {
    Money::zero(money.currency()).minus(money).unwrap()
}

/// What differs in the layout, seen from this side or from the other one.
fn facts(items: &[Item], other_side: bool) -> Vec<(ItemKind, Fate, Vec<Fact>)> {
    let facts = items.iter().map(|item| {
        let fate = match (item.fate, other_side) {
            (Fate::Added, true) => Fate::Removed,
            (Fate::Removed, true) => Fate::Added,
            (fate, _) => fate,
        };
        let mut facts = item.facts.clone();
        if other_side {
            for fact in &mut facts {
                std::mem::swap(&mut fact.old, &mut fact.new);
            }
        }
        facts.sort_by_key(|fact| format!("{fact:?}"));
        (item.kind, fate, facts)
    });
    let mut facts: Vec<_> = facts.collect();
    facts.sort_by_key(|item| format!("{item:?}"));
    facts
}

/// The demo's prices and rates, or others.
fn figures() -> impl Strategy<Value = (String, String)> {
    let wage = |rates: &str| rates.replacen("\"58.00\"", "\"61.35\"", 1);
    let hours = |rates: &str| rates.replace("\"0.14\"", "\"0.17\"");
    let total = |rates: &str| {
        rates
            .replacen("\"line\"", "\"total\"\nround_to = 10", 1)
            .replacen("\"20\"", "\"23\"", 1)
    };
    let rates = demo("rates.toml");
    prop_oneof![
        Just((demo("iron.csv"), rates.clone())),
        Just((demo("iron.csv"), wage(&rates))),
        Just((demo("iron.csv"), hours(&rates))),
        Just((demo("iron.csv"), total(&rates))),
        Just((raised(&demo("iron.csv")), rates.clone())),
        Just((raised(&demo("iron.csv")), total(&wage(&rates)))),
    ]
}

/// The price list with a tenth on every second row.
fn raised(catalog: &str) -> String {
    let head = catalog.lines().next().unwrap();
    let price = head.split(',').position(|name| name == "price").unwrap();
    let rows = catalog.lines().enumerate().map(|(at, row)| {
        let mut cells: Vec<String> = row.split(',').map(str::to_owned).collect();
        if at % 2 == 1 && !row.contains('"') {
            let cents: u64 = cells[price].replace('.', "").parse().unwrap();
            let cents = cents * 11 / 10;
            cells[price] = format!("{}.{:02}", cents / 100, cents % 100);
        }
        cells.join(",")
    });
    rows.collect::<Vec<_>>().join("\n")
}

fn texts() -> impl Strategy<Value = Texts> {
    (shops(1..9), figures()).prop_map(|(shop, (catalog, rates))| Texts {
        job: shop.job(Form::default()),
        catalog,
        rates,
    })
}

proptest! {
    #![proptest_config(same_cases(48))]

    #[test]
    fn the_changes_are_the_difference_of_the_quotes(old in texts(), new in texts()) {
        let (change, totals) = changed(&old, &new);
        let totals = totals[0].zip(totals[1]);
        prop_assert_eq!(change.totals.is_some(), totals.is_some());
        let Some((was, is)) = totals else {
            prop_assert!(lines(&change).iter().all(|line| line.change.is_none()));
            return Ok(());
        };
        let tax = change.totals.as_ref().unwrap().tax.change;
        let sums = lines(&change).into_iter().filter_map(|line| line.change);
        let sum = Money::sum(change.currency, sums.chain([tax])).unwrap();
        prop_assert_eq!(sum, is.minus(was).unwrap());
        for line in lines(&change) {
            let amount = |side: &Option<change::Side>| match side {
                Some(side) => side.amount.unwrap(),
                None => Money::zero(change.currency),
            };
            let differ = amount(&line.new).minus(amount(&line.old)).unwrap();
            prop_assert_eq!(line.change, Some(differ), "{}", line.text);
            for side in [&line.old, &line.new].into_iter().flatten() {
                if let (Some(price), Some(amount)) = (side.unit_price, side.amount) {
                    prop_assert_eq!(price.times(side.quantity).unwrap(), amount);
                }
            }
        }
    }

    #[test]
    fn the_way_back_is_the_mirror(old in texts(), new in texts()) {
        let (there, _) = changed(&old, &new);
        let (back, _) = changed(&new, &old);
        prop_assert_eq!(turned(&lines(&there)), sorted(lines(&back)));
        prop_assert_eq!(facts(&there.items, true), facts(&back.items, false));
        prop_assert_eq!(there.hours.map(|step| -step.change), back.hours.map(|step| step.change));
        prop_assert_eq!(there.days.map(|step| -step.change), back.days.map(|step| step.change));
        let total = |change: &Change| change.totals.as_ref().map(|totals| totals.total.change);
        prop_assert_eq!(total(&there).map(negative), total(&back));
    }

    #[test]
    fn nothing_differs_from_itself_however_it_is_ordered(shop in shops(1..9)) {
        let plain = Texts::of(shop.job(Form::default()));
        let form = Form { reorder: true, ..Form::default() };
        for other in [&plain, &Texts::of(shop.job(form))] {
            let (change, _) = changed(&plain, other);
            prop_assert!(change.is_empty(), "{:#?}", (change.items, change.parts));
            prop_assert_eq!(&change.findings, &Vec::<String>::new());
            prop_assert_eq!(&change.warnings, &Vec::<String>::new());
        }
    }

    #[test]
    fn the_order_of_the_file_changes_nothing(old in shops(1..9), new in shops(1..9)) {
        let form = Form { reorder: true, ..Form::default() };
        let [old, again] = [Form::default(), form].map(|form| Texts::of(old.job(form)));
        let [new, other] = [Form::default(), form].map(|form| Texts::of(new.job(form)));
        let (plain, _) = changed(&old, &new);
        let (shuffled, _) = changed(&again, &other);
        prop_assert_eq!(lines(&plain), lines(&shuffled));
        prop_assert_eq!(&plain.items, &shuffled.items);
        prop_assert_eq!(plain.findings.len(), shuffled.findings.len());
    }

    #[test]
    fn a_layout_in_other_units_is_the_same(shop in shops(1..9)) {
        let form = Form { metric: true, ..Form::default() };
        let [old, new] = [Form::default(), form].map(|form| Texts::of(shop.job(form)));
        for (old, new) in [(&old, &new), (&new, &old)] {
            prop_assert_eq!(changed(old, new).0.items, []);
        }
    }

    #[test]
    fn other_names_are_said_and_cost_nothing(shop in shops(1..9)) {
        let form = Form { rename: true, ..Form::default() };
        let [old, new] = [Form::default(), form].map(|form| Texts::of(shop.job(form)));
        let (change, _) = changed(&old, &new);
        prop_assert_eq!(lines(&change), []);
        for item in &change.items {
            match item.kind {
                // Tanks stand at one place, and are known by their names alone.
                ItemKind::Connection => {}
                _ => prop_assert!(item.was.is_some() && item.facts.is_empty(), "{item:?}"),
            }
        }
    }
}
