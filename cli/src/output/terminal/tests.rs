use super::{Column, parts, quote, table, why};
use crate::output::fixture;
use bom::quantity::Units;

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
fn a_list_of_parts() {
    let text = shown(|out| parts(&fixture::takeoff(), Units::Feet, 80, out).unwrap());
    assert_eq!(
        text,
        "\
Black iron, threaded, Schedule 40

Line  Quantity  Unit  Part                       Size
------------------------------------------------------------------
                      PIPE AND NIPPLES
          12.5  ft    black iron pipe, 2 pieces  1in
   1      17    each  black iron close nipple    3/4in

                      FITTINGS
   2      12    each  black iron elbow 90        3/4in
   3       6    each  black iron tee             1in x 1in x 3/4in

                      VALVES AND DRAINS
   4      10    each  ball valve                 3/4in

Joints to make: 57 of 1in, 103 of 3/4in

Assumptions
-  Lengths along the walls are taken as pipe lengths.
"
    );
}

#[test]
fn why_a_line_is_there() {
    let reasons = ["leg 3 mark bench", "leg 3 mark router"].map(str::to_owned);
    let line = &fixture::takeoff().lines[2];
    let text = shown(|out| why(line, &reasons, 60, out).unwrap());
    assert_eq!(
        text,
        "\
6 each black iron tee 1in x 1in x 3/4in
1  leg 3 mark bench
2  leg 3 mark router
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

Rows to add to the catalog, each with its price:
cross,black-iron,3/4in,black iron cross,each,1,,USD,,,,
filter,,1/2in,filter,each,1,,USD,,,,
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
