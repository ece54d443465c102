//! How long price lists take. `cargo bench`; no test asserts a time.

#![expect(clippy::unwrap_used, reason = "a bench that cannot go on stops")]

use bom::library::Library;
use bom::source::Source;
use divan::{Bencher, black_box};
use pricing::catalog::{Catalog, Mapping, Sheet};
use pricing::matching;
use pricing::money::Currency;
use std::fmt::Write as _;

fn main() {
    divan::main();
}

const ROWS: usize = 200_000;
const SIZES: [&str; 8] = ["1/4", "3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2"];

/// Reads the rows and buys the demo's parts.
fn read_and_match(bencher: Bencher<'_, '_>, sheet: impl Fn(&Library) -> Sheet) {
    let library = Library::shipped().unwrap();
    let usd = Currency::parse("USD").unwrap();
    let job = include_str!("../../catalogs-demo/millrace.toml");
    let plan = bom::plan(&Source::new("millrace.toml", job), &library)
        .0
        .unwrap();
    let sheets = [sheet(&library)];
    bencher
        .counter(divan::counter::ItemsCount::new(ROWS))
        .bench(|| {
            let (catalog, findings) =
                Catalog::read_sheets(black_box(&sheets), library.parts(), usd);
            assert!(findings.is_empty(), "{}", findings[0].1.message);
            matching::whole(&plan.takeoff, plan.summary.units, &catalog, usd).unwrap()
        });
}

/// 200,000 rows in our own form, from 25 suppliers.
#[divan::bench(sample_count = 10)]
fn own_list(bencher: Bencher<'_, '_>) {
    read_and_match(bencher, |_| {
        let mut text = "part,system,size,description,unit,pack,price,currency,supplier,code,aisle,priced_on,from_quantity\n".to_owned();
        let parts = ["elbow-90", "tee", "cross", "union", "cap", "elbow-45"];
        for row in 0..ROWS {
            let _ = writeln!(
                text,
                "{},black-iron,{}in,black malleable fitting,each,1,{}.{:02},USD,Supplier {},N{row},fittings,2026-10-01,",
                parts[row % 6],
                SIZES[row / 6 % 8],
                1 + row % 40,
                row % 100,
                row % 25,
            );
        }
        Sheet::from(Source::new("own.csv", text))
    });
}

/// The same through a mapping, half of it parts that nobody knows.
#[divan::bench(sample_count = 10)]
fn mapped_sheet(bencher: Bencher<'_, '_>) {
    read_and_match(bencher, |library| {
        let mut text = "Artikel;Mass;ME;Preis;Nr;Stand\n".to_owned();
        let parts = ["Bogen", "Hydraulic plug", "Kreuz", "Union", "Ladder", "Tee"];
        for row in 0..ROWS {
            let _ = writeln!(
                text,
                "{};{}\";Stck;{},{:02};N{row};01.10.2026",
                parts[row % 6],
                SIZES[row / 6 % 8],
                100 + row % 4000,
                row % 100,
            );
        }
        let mapping = Source::new(
            "own.toml",
            r#"
            file = "own.csv"
            delimiter = ";"
            decimal = ","
            dates = "DD.MM.YYYY"
            price_for = "100"
            system = "black-iron"
            columns = { part = "Artikel", size = "Mass", unit = "ME", price = "Preis", code = "Nr", priced_on = "Stand" }
            words = { part = { "Bogen" = "elbow-90", "Kreuz" = "cross" }, unit = { "Stck" = "each" } }
            "#,
        );
        let read = Mapping::read(&mapping, library.parts()).unwrap();
        Sheet::mapped(Source::new("own.csv", text), mapping, read)
    });
}
