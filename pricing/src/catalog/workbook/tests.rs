use super::build::{row, workbook};
use super::{letters, text, unfolds_within};
use std::io::{Cursor, Write as _};

#[test]
fn a_sheet_becomes_a_line_for_each_row() {
    let rows = [
        row(1, &["'part", "'size", "'price", "'priced_on"]),
        row(3, &["'ball-valve", "'1in", "31.9", "@46296"]),
        row(4, &["'tee, \"red\"", "", "12.210000000000001"]),
        row(5, &["'cap", "@46115", "1234567.5"]),
    ];
    let file = workbook(&[("Prices", &rows.concat())]);
    assert_eq!(
        text(&file, None, '.').unwrap(),
        "part,size,price,priced_on\n\nball-valve,1in,31.9,2026-10-01\n\"tee, \"\"red\"\"\",,12.21\ncap,2026-04-03,1234567.5\n"
    );
    let comma = text(&file, Some("Prices"), ',').unwrap();
    assert!(
        comma.contains("ball-valve,1in,\"31,9\",2026-10-01\n"),
        "{comma}"
    );
}

#[test]
fn a_sheet_is_found_by_its_name() {
    let (one, two) = (row(1, &["'one"]), row(1, &["'two"]));
    let file = workbook(&[("Notes", &one), ("Prices", &two)]);
    assert_eq!(text(&file, None, '.').unwrap(), "one\n");
    assert_eq!(text(&file, Some("Prices"), '.').unwrap(), "two\n");
    assert_eq!(
        text(&file, Some("Price"), '.').unwrap_err().to_string(),
        "the workbook has no sheet `Price`; its sheets are Notes, Prices"
    );
}

#[test]
fn hostile_files_are_refused() {
    assert!(text(b"", None, '.').is_err());
    assert!(text(b"PK\x03\x04 and no more", None, '.').is_err());
    assert!(text(b"part,size,price\n", None, '.').is_err());
    let file = workbook(&[("Prices", &row(1, &["'part"]))]);
    for end in (0..file.len()).step_by(7) {
        let _ = text(&file[..end], None, '.');
    }
    // One cell in the last corner of a sheet.
    let corner = "<row r=\"1048576\"><c r=\"XFD1048576\"><v>1</v></c></row>";
    let lines = text(&workbook(&[("Prices", corner)]), None, '.').unwrap();
    assert_eq!(lines.len(), 1_048_575 + 16_383 + 2);
}

#[test]
fn a_file_that_unfolds_too_far_is_refused() {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default();
    zip.start_file("xl/sharedStrings.xml", options).unwrap();
    let block = vec![b' '; 1 << 20];
    for _ in 0..3 {
        zip.write_all(&block).unwrap();
    }
    let file = zip.finish().unwrap().into_inner();
    assert!(file.len() < 1 << 14, "{}", file.len());
    assert_eq!(unfolds_within(3 << 20, &file), Ok(()));
    let error = unfolds_within((3 << 20) - 1, &file).unwrap_err();
    assert_eq!(error.message, "the workbook is larger than a list can be");
}

#[test]
fn columns_have_letters() {
    for (column, name) in [(0, "A"), (25, "Z"), (26, "AA"), (701, "ZZ"), (702, "AAA")] {
        assert_eq!(letters(column), name);
    }
}
