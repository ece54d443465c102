use super::{Column, quote, table};
use crate::output::fixture;

fn shown(write: impl FnOnce(&mut Vec<u8>)) -> String {
    let mut bytes = Vec::new();
    write(&mut bytes);
    String::from_utf8(bytes).unwrap()
}

#[test]
fn a_short_quote() {
    let mut model = fixture::short();
    model.cautions.truncate(1);
    let text = shown(|out| quote(&model, 60, out).unwrap());
    assert_eq!(
        text,
        "\
Quote        Millrace Joinery: new air main
From         Exampleton Pipe & Air
             12 Invented Lane, Exampleton
             Telephone 555 0100
             Licence no. 0000 (invented)
For          Millrace Joinery (invented example)
Revision     A
Fingerprint  4F2A-91C0
Date         2026-10-01
Valid until  2026-10-31

Supply and fit a new compressed-air main in black iron,
threaded, Schedule 40: a ring of 1in pipe, 164.0 ft measured
along the walls, at 11'-0\" above the floor, falling 1/8in
per ft both ways to one low point with a drain.

What                      Quantity  Unit  Unit price  Amount
------------------------------------------------------------
FITTINGS
Black iron elbow 90, 1in         6  each        3.85   23.10
Black iron elbow 90,            12  each        2.35   28.20
3/4in
Subtotal                                               51.30

Total before tax                                       51.30
Sales tax on materials,                               170.01
7.25 % of 2,345.00
TOTAL USD                                             221.31

Payment                                Amount
---------------------------------------------
On order                                88.52
On hand-over, after the pressure test  132.79

Assumptions
-  Lengths along the walls are taken as pipe lengths.

Cautions
-  The relief valve of the tank is set at 200 psi; every
   part offered here is rated above that at 90 °F.

Notices
-  Prices and hours come from invented samples: this is not
   a real offer.
"
    );
}

#[test]
fn a_missing_price_is_loud() {
    let text = shown(|out| quote(&fixture::incomplete(), 100, out).unwrap());
    assert!(text.contains(
        "
PRICE INCOMPLETE - this is not an offer
Quantity  Unit  Part without a price
---------------------------------------------------
       4  each  black iron cross 3/4in
                the catalog has crosses of 1in only
       5  each  filter 1/2in
"
    ));
    let last = |words: &str, line: &str| line.starts_with(words) && line.ends_with(" incomplete");
    assert!(text.lines().any(|line| last("TOTAL USD ", line)));
}

#[test]
fn no_text_steers_the_terminal_and_no_width_is_too_small() {
    for width in [0, 1, 40, 100, usize::MAX] {
        for model in [fixture::bare(), fixture::long()] {
            let text = shown(|out| quote(&model, width, out).unwrap());
            assert!(!text.contains(['\u{7}', '\u{1b}', '\t', '\r']));
        }
    }
    let cell = vec!["\u{1b}[31mred".to_owned()];
    let text = shown(|out| table(out, 40, &[Column::Words], &[], [cell]).unwrap());
    assert_eq!(text, " [31mred\n");
}

#[test]
fn figures_stand_on_their_point() {
    let row = |figure: &str| vec![figure.to_owned(), "each".to_owned()];
    let rows = ["7", "12.25", "", "103.5"].map(row);
    let columns = [Column::Points, Column::Words];
    let text = shown(|out| table(out, 40, &columns, &["No.", "Unit"], rows).unwrap());
    assert_eq!(
        text,
        "\
No.     Unit
------------
  7     each
 12.25  each
        each
103.5   each
"
    );
}
