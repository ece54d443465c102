//! Millions of sheets and lengths that nobody would write: none makes a panic, and what
//! is read is written so that it can be read again.

use super::tests::LIBRARY;
use super::{Read, read};
use crate::quantity::{Length, Units};
use crate::source::Source;
use crate::survey::{as_written, write};
use toml::de::DeTable;

/// A linear congruential generator (Knuth's MMIX constants).
struct Luck(u64);

impl Luck {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let high = usize::try_from(self.0 >> 33).unwrap();
        high % count
    }

    fn one<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.below(of.len())]
    }

    /// Some of these, one behind the other.
    fn some(&mut self, of: &[&str], most: usize) -> String {
        let count = self.below(most);
        (0..count).map(|_| self.one(of)).collect()
    }
}

const FIGURES: [&str; 46] = [
    "0",
    "1",
    "6",
    "11",
    "12",
    "16",
    "64",
    "99",
    "999999999999",
    "000",
    "-",
    "−",
    "+",
    "/",
    ".",
    ",",
    "'",
    "\"",
    "′",
    "″",
    "’",
    "½",
    "⅞",
    " ",
    "\u{a0}",
    "ft",
    "in",
    "mm",
    "m",
    "cm",
    "~",
    "?",
    "=",
    "@",
    "x",
    "é",
    "🔧",
    "Jun",
    "mai",
    "2011",
    "T",
    ":",
    "1/2",
    "12-6",
    "00:00",
    "\u{feff}",
];
const WORDS: [&str; 40] = [
    "title",
    "customer",
    "air",
    "cut in",
    "CUT_OUT",
    "relief",
    "tank",
    "port",
    "room",
    "start",
    "main",
    "height",
    "from",
    "leg",
    "drop",
    "tool",
    "drain",
    "valve",
    "place",
    "left",
    "north",
    "east",
    "S",
    "up",
    "down",
    "NE",
    "hook",
    "end",
    "floor",
    "bench",
    "low point",
    "north wall",
    "drip leg",
    "two-sided",
    "paint",
    "24 cfm",
    "1in female",
    "blow gun",
    "",
    "dorp",
];
const HEADS: [&str; 12] = [
    "leg",
    "row",
    "way",
    "ft",
    "in",
    "mm",
    "read_from",
    "name",
    "remark",
    "Leg ",
    "fot",
    "",
];

fn lengths(cases: usize, luck: &mut Luck) -> usize {
    let mut read = 0;
    for _ in 0..cases {
        let mut text = luck.some(&FIGURES[..10], 3);
        text += luck.one(&["ft", "'", "-", "in", "mm", "m", " "]);
        text += &luck.some(&FIGURES, 4);
        let units = if luck.below(2) == 0 {
            Units::Feet
        } else {
            Units::Metric
        };
        if let Ok(length) = Length::parse(&text, units) {
            let written = as_written(length, units);
            assert_eq!(
                Length::parse(&written, units),
                Ok(length),
                "{text}: {written}"
            );
            read += 1;
        }
    }
    read
}

/// A sheet of a few rows, most of whose cells are sensible.
fn text(luck: &mut Luck) -> String {
    let between = luck.one(&[",", ",", ";", "\t"]);
    let end = luck.one(&["\n", "\n", "\r\n", "\r"]);
    let mut text = luck.one(&["", "", "", "\u{feff}", "# how to\n"]).to_owned();
    let usual = [
        "leg",
        "row",
        "way",
        "ft",
        "in",
        "read_from",
        "name",
        "remark",
    ];
    let mut heads = usual.map(str::to_owned).to_vec();
    if luck.below(6) == 0 {
        heads = vec!["leg", "row", "way", "mm", "name"]
            .into_iter()
            .map(str::to_owned)
            .collect();
    }
    if luck.below(8) == 0 {
        let at = luck.below(heads.len());
        heads[at] = luck.one(&HEADS).to_owned();
    }
    text += &heads.join(between);
    text += end;
    let rows = luck.below(6);
    for row in 0..rows {
        let cells: Vec<String> = heads.iter().map(|head| cell(head, row, luck)).collect();
        text += &cells.join(between);
        text += end;
    }
    text
}

fn cell(head: &str, row: usize, luck: &mut Luck) -> String {
    if luck.below(12) == 0 {
        return match luck.below(3) {
            0 => luck.some(&FIGURES, 5),
            1 => format!("\"{}", luck.one(&WORDS)),
            _ => format!("\"{}\"", luck.some(&WORDS, 3)),
        };
    }
    match head {
        "leg" => luck.one(&["a", "a", "b", ""]).to_owned(),
        "row" if row == 0 => luck.one(&["start", "start", "leg"]).to_owned(),
        "row" if row == 1 => "leg".to_owned(),
        "row" => luck.one(&WORDS[..20]).to_owned(),
        "way" => luck.one(&["north", "up", "E", ""]).to_owned(),
        "ft" | "mm" => luck.one(&["3", "12", "~36", "?", ""]).to_owned(),
        "in" => luck.one(&["", "6", "6 1/2", "0,5"]).to_owned(),
        "read_from" => luck.one(&["", "", "hook", "end"]).to_owned(),
        _ => luck.one(&WORDS[28..]).to_owned(),
    }
}

fn sheets(cases: usize, luck: &mut Luck) -> usize {
    let mut whole = 0;
    for _ in 0..cases {
        let source = Source::new("walk.csv", text(luck));
        let (found, findings) = read(&source, &LIBRARY);
        let stops = crate::finding::stops(&findings);
        assert_eq!(found.is_none(), stops, "{}", source.text());
        if let Some(Read { survey, .. }) = found {
            let written = write(&survey);
            assert!(
                DeTable::parse(&written).is_ok(),
                "{}\n{written}",
                source.text()
            );
            whole += 1;
        }
    }
    whole
}

#[test]
fn no_text_makes_a_panic() {
    assert!(lengths(4_000, &mut Luck(1)) > 200);
    assert!(sheets(4_000, &mut Luck(2)) > 100);
}

/// Ten million; `cargo test --release -p bom --lib -- --ignored fuzz`.
#[test]
#[ignore = "takes minutes"]
fn no_text_of_ten_million_makes_a_panic() {
    let (lengths, sheets) = (
        lengths(5_000_000, &mut Luck(3)),
        sheets(5_000_000, &mut Luck(4)),
    );
    assert!(lengths > 250_000 && sheets > 125_000, "{lengths} {sheets}");
}
