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
        dripleg::output::pdf::quote(&quote, &[], dripleg::output::pdf::Paper::Letter, &mut pdf)
            .unwrap();
        pdf
    });
}

/// From the demo's files to all of its papers on the disk.
#[divan::bench]
fn all_papers_of_the_demo(bencher: Bencher<'_, '_>) {
    let out = support::folder("bench-papers").display().to_string();
    let demo = |name: &str| support::path(&format!("catalogs-demo/{name}"));
    let (job, catalog, rates) = (demo("millrace.toml"), demo("iron.csv"), demo("rates.toml"));
    let words = [
        "papers",
        &job,
        "--catalog",
        &catalog,
        "--rates",
        &rates,
        "--out",
        &out,
    ];
    bencher.bench(|| {
        let outcome = support::run(black_box(&words));
        assert_eq!(outcome.exit, dripleg::Exit::Done, "{}", outcome.err);
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

/// The sizes of a comb of 20 branches of ten outlets, each with a tool: a case each.
#[divan::bench(sample_count = 20)]
fn sizes_of_200_outlets(bencher: Bencher<'_, '_>) {
    let library = Library::shipped().unwrap();
    let job = bom::job::read(&Source::new("job", comb(20, 10)), &library);
    let job = job.0.unwrap();
    bencher.bench(|| bom::sizes(black_box(&job), &library, None).unwrap());
}

fn comb(branches: usize, outlets: usize) -> String {
    let mut job = "[job]\ntitle = \"Comb\"\nunits = \"feet\"\n\
        [supply.c]\nfree_air = \"400 cfm\"\ncut_in = \"125 psi\"\ncut_out = \"150 psi\"\nrelief = \"175 psi\"\n\
        tank = \"500 gal\"\nport = \"2in female\"\nheight = \"3-0\"\nconnect = [\"valve\", \"hose 24in\"]\n\
        [main]\nsystem = \"black-iron\"\nsize = \"auto\"\nheight = \"11-0\"\nfall = \"level\"\n\
        [drop.d]\nfoot = \"tee\"\nsides = [[\"valve\", \"coupler 3/8in\"]]\nsize = \"auto\"\n\
        [[leg]]\nfrom = \"c\"\ngo = [\"up 8-0\", \"east 10-0\"]\nto = \"j0\"\n"
        .to_owned();
    for branch in 0..branches {
        let marks = (0..outlets).map(|outlet| {
            let number = branch * outlets + outlet;
            format!("o{number} = \"{}-0\"", 4 + outlet * 5)
        });
        let way = if branch % 2 == 0 { "south" } else { "north" };
        job += &format!(
            "[[leg]]\nfrom = \"j{branch}\"\ngo = \"east 12-0\"\nto = \"j{}\"\n\
             [[leg]]\nfrom = \"j{}\"\ngo = \"{way} {}-0\"\nmarks = {{ {} }}\n",
            branch + 1,
            branch + 1,
            4 + outlets * 5,
            marks.collect::<Vec<_>>().join(", ")
        );
    }
    for outlet in 0..branches * outlets {
        let tool = [
            "orbital sander",
            "impact wrench",
            "hvlp spray gun",
            "ratchet",
        ][outlet % 4];
        job += &format!(
            "[outlet.o{outlet}]\ndrop = \"d\"\nheight = \"4-0\"\ntools = [{{ tool = \"{tool}\" }}]\n"
        );
    }
    job
}
