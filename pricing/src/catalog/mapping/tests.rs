use super::Mapping;
use crate::catalog::{Catalog, Sheet};
use crate::money::Currency;
use bom::library::Library;
use bom::source::Source;

const FORM: &str = r#"
file      = "north.csv"
supplier  = "North"
currency  = "USD"
system    = "black-iron"
delimiter = ";"
decimal   = ","
thousands = "."
symbol    = "$"
dates     = "DD.MM.YYYY"
sizes     = "in"
columns   = { part = "Article", size = "Dim", unit = "ME", price = "List", price_for = "Per", priced_on = "Date" }
words.part      = { "Black tube" = "pipe", "Bend 90" = "elbow-90", "Gift card" = "" }
words.size      = { "3-Apr" = "3/4in" }
words.unit      = { "L21" = "21ft", "PC" = "each" }
words.price_for = { "C" = "100", "FT" = "ft" }
words.price     = { "on request" = "" }
"#;

fn mapping(text: &str) -> Result<Mapping, Vec<String>> {
    let library = Library::shipped().unwrap();
    let read = Mapping::read(&Source::new("north.toml", text), library.parts());
    read.map_err(|found| {
        found
            .into_iter()
            .map(|one| format!("{}; {}", one.message, one.help))
            .collect()
    })
}

/// Each offer of a sheet read by the form, and what is wrong with it.
fn read(form: &str, rows: &str) -> (Vec<String>, Vec<String>, Catalog) {
    let library = Library::shipped().unwrap();
    let sheet = Sheet::mapped(
        Source::new("north.csv", rows),
        Source::new("north.toml", form),
        mapping(form).unwrap(),
    );
    let usd = Currency::parse("USD").unwrap();
    let (catalog, found) = Catalog::read_sheets(&[sheet], library.parts(), usd);
    let offers = catalog.all().map(|offer| {
        format!(
            "{} {} {} {} {} {}",
            offer.key.part,
            offer.key.system,
            offer.key.size,
            offer.unit.code(),
            offer.price.map_or("open".to_owned(), |price| price.plain()),
            offer
                .priced_on
                .map_or(String::new(), |date| date.to_string()),
        )
        .trim()
        .to_owned()
    });
    let found = found.into_iter().map(|(_, one)| one.message).collect();
    (offers.collect(), found, catalog)
}

const HEADER: &str = "No;Article;Dim;ME;Per;List;Date\n";

#[test]
fn a_foreign_sheet_is_read_as_its_mapping_says() {
    for (row, offer) in [
        (
            "1;Black tube;3/4;L21;FT;1,48;12.10.2026",
            "pipe black-iron 3/4in 21ft 31.08 2026-10-12",
        ),
        (
            "1;bend  90;3/4;PC;C;1.198,00;1.10.2026",
            "elbow-90 black-iron 3/4in each 11.98 2026-10-01",
        ),
        (
            "1;Bend 90;DN20;PC;C;198,85;2026-10-12",
            "elbow-90 black-iron 3/4in each 1.99 2026-10-12",
        ),
        (
            "1;Ball valve;3-Apr;PC;;\"$ 11,45\";",
            "ball-valve  3/4in each 11.45",
        ),
        (
            "1;Bushing;3/4\" x 1/2;PC;;1,60;",
            "bushing black-iron 3/4in x 1/2in each 1.60",
        ),
        (
            "1;Nipple;3/4 x 4-1/2;PC;;1,60;",
            "nipple black-iron 3/4in x 4-1/2in each 1.60",
        ),
        ("1;Tee;1;PC;;on request;", "tee black-iron 1in each open"),
    ] {
        let (offers, found, _) = read(FORM, &format!("{HEADER}{row}\n"));
        assert_eq!(found, [""; 0], "{row}");
        assert_eq!(offers, [offer], "{row}");
    }
}

#[test]
fn what_is_no_part_of_ours_is_counted_and_stops_nothing() {
    let rows = format!(
        "{HEADER};FITTINGS;;;;;\n1;Bal valve;3/4;PC;;1,00;\n2;Gift card;;;;9,00;\n;;;;;;x\n3;Tee;1;PC;;2,00;\n"
    );
    let (offers, found, catalog) = read(FORM, &rows);
    assert_eq!(found, [""; 0]);
    assert_eq!(offers, ["tee black-iron 1in each 2.00"]);
    let facts = &catalog.lists()[0];
    let unknown: Vec<(usize, &str)> = facts
        .unknown
        .iter()
        .map(|one| (one.line, one.written.as_str()))
        .collect();
    assert_eq!(unknown, [(2, "FITTINGS"), (3, "Bal valve")]);
    assert_eq!(facts.rows, 5);
}

#[test]
fn nothing_is_guessed() {
    let bare = FORM.replace("thousands = \".\"\n", "");
    for (form, row, message) in [
        (
            bare.as_str(),
            "1;Tee;1;PC;;1.234;",
            "`1.234` has a `.`, and the mapping says only what `,` is",
        ),
        (
            FORM,
            "1;Tee;1;PC;;1.23;",
            "`1.23` is not a number in groups of three digits",
        ),
        (FORM, "1;Tee;1;PC;;0,00;", "a price of 0,00 is none"),
        (
            FORM,
            "1;Tee;1;PC;C;0,30;",
            "a price of 0,30 comes to less than the smallest coin",
        ),
        (
            FORM,
            "1;Tee;1;PC;FT;2,00;",
            "a price by length is one of pipe",
        ),
        (
            FORM,
            "1;Tee;1;PC;box;2,00;",
            "`box` does not say what a price buys",
        ),
        (
            FORM,
            "1;Tee;4-Mar;PC;;2,00;",
            "the size `4-Mar` is a date: a spreadsheet program made it of a size like 3/4",
        ),
        (
            FORM,
            "1;Tee;1;PC;;2,00;10/12/2026",
            "`10/12/2026` is not a date",
        ),
        (FORM, "1;Tee;1;CRATE;;2,00;", "`CRATE` is not a unit"),
        (FORM, "1;Tee;red;PC;;2,00;", "a size begins with a number"),
    ] {
        let (_, found, _) = read(form, &format!("{HEADER}{row}\n"));
        if message != "a size begins with a number" {
            assert_eq!(found, [message], "{row}");
        }
        assert_eq!(found.len(), 1, "{row}");
    }
}

#[test]
fn the_columns_are_held_against_the_sheet() {
    let (_, found, _) = read(FORM, "No;Article;Dimm;ME;Per;List;Date;date\n");
    assert_eq!(
        found,
        [
            "the sheet has no column `Dim`, which the mapping takes as `size`",
            "the sheet has the column `Date` more than once",
        ]
    );
}

#[test]
fn a_mapping_without_columns_reads_our_own() {
    let form = "file = \"a.csv\"\ndecimal = \",\"\n";
    let (offers, found, _) = read(form, "part;size;price\nball-valve;1in;15,65\n");
    assert_eq!(
        (offers, found),
        (vec!["ball-valve  1in each 15.65".to_owned()], Vec::new())
    );
}

#[test]
fn one_column_may_say_two_things() {
    let form = r#"
file = "a.csv"
columns = { part = "Item", system = "Item", size = "Size", price = "Each" }
[words]
part   = { "Galv tee" = "tee", "Black tee" = "tee" }
system = { "Galv tee" = "galvanised", "Black tee" = "black-iron" }
"#;
    let (offers, found, _) = read(
        form,
        "Item,Size,Each\nGalv tee,1in,2.00\nBlack tee,1in,1.50\n",
    );
    assert_eq!(found, [""; 0]);
    assert_eq!(
        offers,
        [
            "tee black-iron 1in each 1.50",
            "tee galvanised 1in each 2.00"
        ]
    );
}

#[test]
fn every_problem_of_a_mapping_is_said() {
    let found = mapping(
        "fil = \"a.csv\"\ndelimiter = \"-\"\ndecimal = \";\"\nthousands = \"..\"\ndates = \"DD.MM.YY\"\nsizes = \"cm\"\ncurrency = \"$\"\npriced_on = \"1.10.2026\"\nunit = \"stick\"\npack = \"0\"\nprice_for = \"box\"\npart = \"bal-valve\"\nsupplier = true\ncolumns = { part = \"\", dim = \"x\" }\nwords = { part = { \"Bend\" = \"elbo-90\" }, size = \"x\" }\n",
    )
    .unwrap_err();
    assert_eq!(found.len(), 17, "{found:#?}");
    for (text, message) in [
        (
            "file = \"a.csv\"\ndecimal = \".\"\nthousands = \".\"",
            "the same sign stands between thousands and before decimals",
        ),
        (
            "file = \"a.csv\"\nthousands = \",\"",
            "`thousands` is stated and `decimal` is not",
        ),
        (
            "file = \"a.csv\"\ncolumns = { part = \"A\", size = \"B\" }",
            "`columns` does not say which column is `price`",
        ),
        ("decimal = \",\"", "the mapping has no `file`"),
        (
            "file = \"a.csv\"\nwords.part = { \"Tee\" = \"tee\", \"TEE\" = \"cap\" }",
            "`Tee` stands twice, capitals aside",
        ),
    ] {
        let found = mapping(text).unwrap_err();
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].starts_with(message), "{found:?}");
    }
    assert!(mapping("file = ").is_err());
}
