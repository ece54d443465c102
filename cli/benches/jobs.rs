//! How long a job takes. `cargo bench`; no test asserts a time.

#![expect(clippy::unwrap_used, reason = "a bench that cannot go on stops")]

#[path = "../../tests/support/mod.rs"]
#[expect(dead_code, unused_imports, reason = "the tests use the rest of it")]
mod support;

use bom::library::Library;
use bom::source::Source;
use divan::{Bencher, black_box};
use jiff::civil::date;
use pricing::catalog::Catalog;
use pricing::offer::Inputs;
use pricing::rates::Rates;
use support::{Form, Plan, Shop, read, root};

fn main() {
    divan::main();
}

fn demo(name: &str) -> Source {
    Source::new(name, read(root().join("catalogs-demo").join(name)))
}

/// From the texts of the demo's files to the bytes of its PDF.
#[divan::bench]
fn demo_quote_to_pdf(bencher: Bencher<'_, '_>) {
    let (job, rates, catalog) = (
        demo("millrace.toml"),
        demo("rates.toml"),
        [demo("iron.csv")],
    );
    bencher.bench(|| {
        let library = Library::shipped().unwrap();
        let plan = bom::plan(black_box(&job), &library).0.unwrap();
        let rates = Rates::read(&rates).0.unwrap();
        let catalog = Catalog::read(&catalog, library.parts(), rates.currency).0;
        let quote = Inputs {
            summary: &plan.summary,
            takeoff: &plan.takeoff,
            catalog: &catalog,
            rates: &rates,
            date: date(2026, 11, 2),
            fingerprint: "0000-0000",
        }
        .quote()
        .unwrap();
        let mut pdf = Vec::new();
        dripleg::output::pdf::quote(&quote, dripleg::output::pdf::Paper::Letter, &mut pdf).unwrap();
        pdf
    });
}

/// Reading, building and counting.
#[divan::bench(args = [10, 100, 1_000, 10_000])]
fn parts_of_a_tree(bencher: Bencher<'_, '_>, outlets: usize) {
    parts(bencher, Plan::Tree, outlets);
}

/// Reading, building and counting.
#[divan::bench(args = [10, 100, 1_000, 10_000])]
fn parts_of_a_ring(bencher: Bencher<'_, '_>, outlets: usize) {
    parts(bencher, Plan::Ring, outlets);
}

fn parts(bencher: Bencher<'_, '_>, plan: Plan, outlets: usize) {
    let job = Source::new("job", Shop::new(plan, outlets, 1).job(Form::default()));
    let library = Library::shipped().unwrap();
    bencher
        .counter(divan::counter::ItemsCount::new(outlets))
        .bench(|| bom::plan(black_box(&job), &library).0.unwrap());
}
