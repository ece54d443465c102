use super::{Catalog, Unit};
use crate::money::Currency;
use bom::finding::{Finding, Severity};
use bom::library::Library;
use bom::quantity::{Length, PartSize, Size};
use bom::source::Source;
use bom::takeoff::PartKey;

const HEADER: &str = "part,system,size,description,unit,pack,price,currency,supplier,code,aisle,priced_on,from_quantity";

fn read_all(texts: &[&str]) -> (Catalog, Vec<(usize, Finding)>) {
    let library = Library::shipped().unwrap();
    let sources: Vec<Source> = texts
        .iter()
        .enumerate()
        .map(|(at, text)| Source::new(format!("{at}.csv"), *text))
        .collect();
    Catalog::read(&sources, library.parts(), Currency::parse("USD").unwrap())
}

/// Reads one row under the full header; what is wrong with it.
fn rules(row: &str) -> Vec<(&'static str, Severity)> {
    let (_, findings) = read_all(&[&format!("{HEADER}\n{row}\n")]);
    findings
        .into_iter()
        .map(|(_, finding)| (finding.rule, finding.severity))
        .collect()
}

fn key(part: &str, system: &str, size: &str) -> PartKey {
    PartKey {
        part: part.to_owned(),
        system: system.to_owned(),
        size: PartSize::one(Size::parse(size).unwrap()),
    }
}

#[test]
fn the_shipped_sample_has_no_findings() {
    let text = include_str!("../../../catalogs-demo/iron.csv");
    let (catalog, findings) = read_all(&[text]);
    assert_eq!(findings, []);
    let pipe = catalog.offers(&key("pipe", "black-iron", "3/4in"));
    let units: Vec<Unit> = pipe.iter().map(|offer| offer.unit).collect();
    let sticks = [21, 10].map(|feet| Unit::Stick(Length::from_feet(feet)));
    assert_eq!(units, sticks);
}

#[test]
fn the_shipped_sample_has_every_part() {
    let text = include_str!("../../../catalogs-demo/iron.csv");
    let (catalog, _) = read_all(&[text]);
    // What only tube takes stands in the lists of tube.
    let of_tube = [
        "saddle-branch",
        "swan-neck",
        "adapter-male",
        "adapter-female",
        "insulating-union",
        "solder",
        "flux",
        "brazing-rod",
    ];
    let library = Library::shipped().unwrap();
    let parts = library.parts().iter();
    for part in parts.filter(|part| !of_tube.contains(&part.name.as_str())) {
        assert!(
            catalog.offers.keys().any(|key| key.part == part.name),
            "{}",
            part.name
        );
    }
}

#[test]
fn three_columns_in_any_order_are_enough() {
    let (catalog, findings) = read_all(&["price,Size,part\n20.5,1\",ball-valve\n"]);
    assert_eq!(findings, []);
    let [offer] = catalog.offers(&key("ball-valve", "", "1in")) else {
        panic!("one offer");
    };
    assert_eq!(offer.price.unwrap().plain(), "20.50");
    assert_eq!((offer.pack, offer.from_quantity), (1, 1));
    assert_eq!(offer.unit, Unit::Each);
    assert_eq!(offer.place.to_string(), "line 2 of 0.csv");
}

#[test]
fn spreadsheets_write_files_in_many_ways() {
    for text in [
        "\u{feff}part,size,price\r\n\r\nball-valve,1in,20\r\n",
        "part;size;price\n\n;;\nball-valve;1in;20",
        "part,size,price,description\nball-valve,1in,20,\"full port,\nwith \"\"lever\"\"\"\n",
    ] {
        let (catalog, findings) = read_all(&[text]);
        assert_eq!(findings, [], "{text}");
        assert_eq!(
            catalog.offers(&key("ball-valve", "", "1in")).len(),
            1,
            "{text}"
        );
    }
}

#[test]
fn findings_point_at_the_line_of_their_row() {
    let text = "\u{feff}part,size,price,description\r\n\r\nball-valve,1in,20,\"two\r\nlines\"\r\n\r\n\r\nbal-valve,1in,20,\r\n";
    let (_, findings) = read_all(&["part,size,price\n", text]);
    let [(1, finding)] = findings.as_slice() else {
        panic!("{findings:?}");
    };
    let source = Source::new("1.csv", text);
    assert_eq!(source.line(finding.place().start), 7);
    assert_eq!(finding.message, "`bal-valve` is not a part");
    assert_eq!(finding.help, "did you mean `ball-valve`?");
}

#[test]
fn bad_cells_are_named() {
    use Severity::{Error, Unreadable};
    for (row, expected) in [
        ("elbow-90,black-iron,1in,,each,1,2.35", vec![]),
        ("elbow-90,black-iron,1in,,each,1,", vec![]),
        (
            "elbo,black-iron,1in,,each,1,2",
            vec![("catalog-part", Unreadable)],
        ),
        (
            "elbow-90,black-iron,3/4,,each,1,2",
            vec![("catalog-size", Unreadable)],
        ),
        ("elbow-90,,1in,,each,1,2", vec![("catalog-system", Error)]),
        (
            "ball-valve,black-iron,1in,,each,1,2",
            vec![("catalog-system", Error)],
        ),
        (
            "elbow-90,black-iron,1in,,box,1,2",
            vec![("catalog-unit", Unreadable)],
        ),
        (
            "pipe,black-iron,1in,,each,1,2",
            vec![("catalog-unit", Unreadable)],
        ),
        (
            "pipe,black-iron,1in,,21,1,2",
            vec![("catalog-unit", Unreadable)],
        ),
        (
            "pipe,black-iron,1in,,0ft,1,2",
            vec![("catalog-unit", Unreadable)],
        ),
        (
            "pipe,black-iron,1in,,,1,2",
            vec![("catalog-unit", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,0,2",
            vec![("catalog-number", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,2.5,2",
            vec![("catalog-number", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,0",
            vec![("catalog-price", Error)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,-2",
            vec![("catalog-price", Error)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,1.234",
            vec![("catalog-price", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,\"1,234\"",
            vec![("catalog-price", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,1e3",
            vec![("catalog-price", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,2,EUR",
            vec![("catalog-currency", Error)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,2,$",
            vec![("catalog-currency", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,2,,,,,10/01/2026",
            vec![("catalog-date", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,2,,,,,2026-02-30",
            vec![("catalog-date", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,2,,,,,,some",
            vec![("catalog-number", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,,each,1,2,,,,,,,surplus",
            vec![("catalog-cells", Unreadable)],
        ),
        (
            "elbow-90,black-iron,1in,\"3/4,each,1,2\ncap,black-iron,1in,,each,1,2",
            vec![("catalog-cells", Unreadable)],
        ),
        (
            "elbo,black-iron,3/4,,box,0,1e3",
            vec![
                ("catalog-part", Unreadable),
                ("catalog-size", Unreadable),
                ("catalog-unit", Unreadable),
                ("catalog-number", Unreadable),
                ("catalog-price", Unreadable),
            ],
        ),
    ] {
        assert_eq!(rules(row), expected, "{row}");
    }
}

#[test]
fn a_bad_header_is_named_column_by_column() {
    for (text, messages) in [
        ("\n \n", &["the catalog has no header line"][..]),
        (
            "part,sise,price\nball-valve,1in,2",
            &[
                "`sise` is not a column of a catalog",
                "the column `size` is missing",
            ],
        ),
        ("part,size,price,part", &["the column `part` stands twice"]),
        ("part,size,price,", &["column 4 has no name"]),
    ] {
        let (_, findings) = read_all(&[text]);
        let found: Vec<&str> = findings.iter().map(|(_, f)| f.message.as_str()).collect();
        assert_eq!(found, messages, "{text}");
    }
}

#[test]
fn one_offer_has_one_price() {
    let rows = "ball-valve,,1in,,each,1,20.00,USD,A\nball-valve,,1in,,each,1,20.00,USD,A\n";
    assert_eq!(rules(rows), []);
    let rows = "ball-valve,,1in,,each,1,20.00,USD,A\nball-valve,,1in,,each,1,20.00,USD,B\nball-valve,,1in,,each,10,150.00,USD,A\nball-valve,,1in,,each,1,,USD,A\n";
    assert_eq!(rules(rows), []);
    let rows = "ball-valve,,1in,,each,1,20.00,USD,A\nball-valve,,1in,,each,1,21.00,USD,A\n";
    assert_eq!(rules(rows), [("catalog-twins", Severity::Error)]);

    let file = |price| format!("part,size,price\nball-valve,1in,{price}\n");
    let (_, findings) = read_all(&[&file("20"), &file("21")]);
    assert_eq!(
        findings[0].1.message,
        "ball-valve 1in has another price for the same offer on line 2 of 0.csv"
    );
    assert_eq!(findings[0].0, 1);
}

#[test]
fn no_text_makes_a_panic() {
    for text in [
        "\"",
        "part,size,price\n\"",
        "\u{feff}",
        ",,,\n,,",
        "part,size,price\n\0,\u{1F527},'",
        "part,size,price\r\rx",
    ] {
        let _ = read_all(&[text]);
    }
}
