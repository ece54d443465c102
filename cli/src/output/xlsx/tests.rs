use super::quote;
use crate::output::fixture;
use crate::output::pdf::Paper;
use calamine::{Data, Reader, Xlsx};
use pricing::quote::Quote;
use std::io::{self, Cursor};

fn bytes(model: &Quote) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    quote(model, Paper::A4, &mut bytes)?;
    Ok(bytes)
}

/// The cells of a sheet that hold text.
fn texts(model: &Quote, sheet: &str) -> Vec<String> {
    let mut book = Xlsx::new(Cursor::new(bytes(model).unwrap())).unwrap();
    let cells = book.worksheet_range(sheet).unwrap();
    let texts = cells.used_cells().filter_map(|(_, _, cell)| match cell {
        Data::String(text) => Some(text.clone()),
        _ => None,
    });
    texts.collect()
}

#[test]
fn the_same_quote_gives_the_same_bytes() {
    let first = bytes(&fixture::full()).unwrap();
    bytes(&fixture::short()).unwrap();
    assert_eq!(first, bytes(&fixture::full()).unwrap());
}

#[test]
fn a_missing_price_is_loud() {
    let lines = texts(&fixture::incomplete(), "Lines");
    let count = |wanted: &str| lines.iter().filter(|text| *text == wanted).count();
    assert_eq!(count("no price"), 4);
    assert_eq!(count("incomplete"), 1);
    assert_eq!(lines[0], "PRICE INCOMPLETE - this is not an offer");
    let front = texts(&fixture::incomplete(), "Quote");
    assert!(front.contains(&"incomplete".to_owned()));
    assert!(
        front.iter().any(
            |text| text == "4 each black iron cross 3/4in: the catalog has crosses of 1in only"
        ),
        "{front:?}"
    );
}

#[test]
fn what_has_too_many_digits_is_refused() {
    let refused = bytes(&fixture::long()).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "79,228,162,514,264,337,593,543,950.33 has more than the 15 digits that a workbook keeps: write a PDF or CSV"
    );
}

#[test]
fn odd_texts_are_kept_as_far_as_a_cell_holds_them() {
    let mut quote = fixture::long();
    quote.sections[8].lines[0].amount = Some(fixture::money("12.30"));
    quote.exclusions.push("=1+1".to_owned());
    quote.exclusions.push("x".repeat(40_000));
    let front = texts(&quote, "Quote");
    assert!(front.contains(&"=1+1".to_owned()));
    let longest = front.iter().map(|text| text.chars().count()).max();
    assert_eq!(longest, Some(16_383));
    bytes(&fixture::bare()).unwrap();
}
