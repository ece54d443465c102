//! Where pages break, over quotes of every length.

use super::{Fonts, Paper, pages, placed};
use crate::output::fixture;
use pricing::quote::{Level, Quote};
use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop_assert, prop_oneof, proptest};
use proptest::test_runner::RngSeed;
use std::collections::BTreeMap;

/// A quote whose sections have so many lines.
fn quotes() -> impl Strategy<Value = Quote> {
    let sections = proptest::collection::vec(1..40_usize, 1..9);
    let levels = prop_oneof![Just(Level::Sum), Just(Level::Sections), Just(Level::Lines)];
    let lists = proptest::collection::vec(0..9_usize, 4);
    (sections, levels, lists, any::<bool>()).prop_map(|(sections, level, lists, long)| {
        let mut quote = fixture::full();
        quote.level = level;
        let line = quote.sections[0].lines[0].clone();
        let titled = quote.sections[0].clone();
        let mut rest = 200;
        quote.sections = sections
            .into_iter()
            .enumerate()
            .map(|(at, count)| {
                let mut section = titled.clone();
                section.title = format!("Section {at}");
                section.lines = vec![line.clone(); count.min(rest)];
                rest -= section.lines.len();
                for (number, line) in section.lines.iter_mut().enumerate() {
                    let more = if long {
                        " and so on".repeat(number % 15)
                    } else {
                        String::new()
                    };
                    line.text = format!("Part {at}.{number}{more}");
                }
                section
            })
            .filter(|section| !section.lines.is_empty())
            .collect();
        let text = "and so on along the wall ".repeat(4);
        let list = |count: usize| vec![text.clone(); count];
        quote.assumptions = list(lists[0]);
        quote.exclusions = list(lists[1]);
        quote.cautions = list(lists[2]);
        quote.notices = list(lists[3] + 1);
        quote
    })
}

/// The words of each row between head and foot, from above.
fn rows(texts: &[(f32, f32, f32, String)], height: f32) -> Vec<Vec<String>> {
    let mut rows: BTreeMap<i64, Vec<String>> = BTreeMap::new();
    for (_, _, up, text) in texts {
        if (60.0..height - 60.0).contains(up) {
            #[expect(
                clippy::cast_possible_truncation,
                reason = "hundredths of a page's height"
            )]
            let at = -(up * 100.0) as i64;
            rows.entry(at).or_default().push(text.clone());
        }
    }
    rows.into_values().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(8), ..ProptestConfig::with_cases(48) })]

    #[test]
    fn no_sum_no_heading_and_no_signature_stands_alone(quote in quotes(), letter in any::<bool>()) {
        let fonts = Fonts::load().unwrap();
        let (paper, height) = if letter { (Paper::Letter, 792.0) } else { (Paper::A4, 841.89) };
        let finished = pages(&quote, paper, &fonts);
        let pages: Vec<_> = finished.pages.iter().map(|page| rows(&placed(page, &fonts), height)).collect();
        for (number, rows) in pages.iter().enumerate() {
            let says = |row: &[String], words: &str| row[0].starts_with(words);
            let head = |row: &[String]| says(row, "What") || row[0].ends_with("(continued)");
            for (at, row) in rows.iter().enumerate() {
                if says(row, "Subtotal") || says(row, "Total ") {
                    let above = rows[..at].iter().filter(|row| !head(row)).count();
                    prop_assert!(above >= 2, "page {}: {rows:#?}", number + 1);
                }
            }
            // Neither the first nor the last line of a section is alone on its page.
            let last = rows.last().unwrap();
            prop_assert!(!says(last, "Section "), "page {}: {rows:#?}", number + 1);
            prop_assert!(!head(last), "page {}: {rows:#?}", number + 1);
            if let Some(at) = rows.iter().position(|row| row[0] == "Acceptance") {
                prop_assert!(at > 0, "page {}: {rows:#?}", number + 1);
                prop_assert!(rows.iter().any(|row| says(row, "Signature")));
            }
        }
        for one in &finished.outline {
            let rows = &pages[one.sheet];
            let at = rows.iter().position(|row| row.contains(&one.title)).unwrap();
            // A heading at the side stands beside its text.
            let followed = at + 1 < rows.len() || rows[at].len() > 1;
            prop_assert!(followed, "{one:?} ends its page");
        }
        let printed: Vec<&String> = pages.iter().flatten().map(|row| &row[0]).collect();
        for section in &quote.sections {
            for line in &section.lines {
                let number = line.text.split(" and").next().unwrap();
                let count = printed.iter().filter(|text| text.starts_with(&format!("{number} ")) || **text == number).count();
                prop_assert!(count == 1, "{number} is printed {count} times");
            }
        }
        let outlets = pages.iter().filter(|rows| rows.iter().any(|row| row[0] == "No.")).count();
        prop_assert!(outlets == 1, "the outlets are on {outlets} pages");
    }
}
