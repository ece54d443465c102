//! Every sheet as SVG and PDF: whole, the same twice, and saying what the model says.

use super::read;
use crate::support::{Form, files, read as text_of, root, same_cases, shops};
use bom::drawing::{Drawing, Field, SIGNS, Scene, Sheet, Text, collisions};
use bom::library::Library;
use bom::source::Source;
use dripleg::output::pdf::{self, Paper};
use dripleg::output::{DrawingHead, svg};
use jiff::civil::date;
use proptest::prelude::proptest;
use std::collections::BTreeSet;
use std::path::PathBuf;

/// All sheets of a job, and these.
fn drawn(job: &str, besides: &[Drawing]) -> Vec<Sheet> {
    let library = Library::shipped().unwrap();
    let (plan, findings) = bom::plan(&Source::new("job", job), &library);
    let plan = plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"));
    let scene = Scene {
        plan: &plan,
        library: &library,
        field: Field::COMMON,
    };
    let mut sheets = scene.sheets(|_| true);
    sheets.extend(besides.iter().flat_map(|drawing| (drawing.sheets)(&scene)));
    sheets
}

/// The jobs that are drawn in files.
fn jobs() -> Vec<PathBuf> {
    let demo = ["millrace", "annex", "garage"];
    let demo = demo.map(|name| root().join(format!("catalogs-demo/{name}.toml")));
    let mut jobs = demo.to_vec();
    jobs.extend(files("tests/drawing", "toml"));
    jobs
}

const HEAD: DrawingHead<'static> = DrawingHead {
    job: "A <job> & \"more\"",
    revision: "B",
    fingerprint: "4F2A-91C0",
    date: date(2026, 11, 2),
};

/// What a sheet says, as it is read.
fn said(sheet: &Sheet) -> Vec<String> {
    let texts = sheet.marks.iter().flat_map(|mark| mark.read());
    let texts = texts.filter(|text: &&Text| !text.words.trim().is_empty());
    texts.map(|text| text.words.clone()).collect()
}

/// Everything that holds of every sheet as SVG.
fn hold_as_svg(sheets: &[Sheet]) {
    let mut ids = BTreeSet::new();
    let mut page = 0;
    for sheet in sheets {
        let plain = |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '-';
        assert!(sheet.id.chars().all(plain), "{}", sheet.id);
        assert_eq!(collisions(sheet), [], "{}", sheet.id);
        let inline = svg::inline(sheet);
        let found = read::svg(&inline);
        page += found.ids.len();
        ids.extend(found.ids);
        let shown = |texts: Vec<String>| -> Vec<String> {
            let blank = |text: &String| !text.trim().is_empty();
            texts.into_iter().filter(blank).collect()
        };
        assert_eq!(shown(found.texts), said(sheet), "{}", sheet.id);
        assert_eq!(
            found.titles[..2],
            [sheet.title.clone(), sheet.about.clone()]
        );
        let mut layers: Vec<&str> = sheet.marks.iter().map(|mark| mark.layer.word()).collect();
        layers.dedup();
        assert_eq!(found.classes[1..], layers, "{}", sheet.id);

        let mut alone = Vec::new();
        svg::alone(sheet, &HEAD, (2, 7), &mut alone).unwrap();
        let found = read::svg(std::str::from_utf8(&alone).unwrap());
        for words in [
            HEAD.job,
            "sheet 2 of 7",
            "revision B    4F2A-91C0    2026-11-02",
        ] {
            assert!(found.texts.iter().any(|text| text == words), "{words}");
        }
    }
    assert_eq!(ids.len(), page, "two things of one page have one id");
}

/// The same for a PDF of all of them: its texts are the model's, in the order in which
/// they are read. Gives what its faces lack.
fn hold_as_pdf(sheets: &[Sheet], paper: Paper) -> BTreeSet<char> {
    let written = || {
        let mut file = Vec::new();
        let lacking = pdf::drawings(sheets, &HEAD, paper, &mut file).unwrap();
        (file, lacking)
    };
    let (file, lacking) = written();
    assert!(file == written().0);
    let shown = |sign: char| if lacking.contains(&sign) { '?' } else { sign };
    let document = lopdf::Document::load_mem(&file).unwrap();
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    assert_eq!(pages.len(), sheets.len());
    for (sheet, page) in sheets.iter().zip(pages) {
        let text = document.extract_text(&[page]).unwrap();
        let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
        let said: Vec<String> = said(sheet)
            .iter()
            .map(|words| words.chars().map(shown).collect())
            .collect();
        let begins = lines.iter().position(|line| *line == sheet.title).unwrap() + 1;
        let ends = begins + said.len();
        let trimmed: Vec<&str> = said.iter().map(|line| line.trim_end()).collect();
        assert_eq!(lines[begins..ends], trimmed, "{}", sheet.id);
        let number = format!("Page {page} of {}", sheets.len());
        assert!(lines[ends..].contains(&&*number), "{lines:?}");
    }
    lacking
}

#[test]
fn the_jobs_of_the_demo_are_drawn_whole() {
    for job in jobs() {
        let job = text_of(&job);
        let sheets = drawn(&job, &[SIGNS]);
        assert_eq!(
            format!("{sheets:?}"),
            format!("{:?}", drawn(&job, &[SIGNS]))
        );
        hold_as_svg(&sheets);
        for paper in [Paper::Letter, Paper::A4] {
            assert_eq!(hold_as_pdf(&sheets, paper), BTreeSet::new());
        }
    }
}

#[test]
fn no_name_breaks_a_drawing() {
    let hostile = r#"<b id=\"x\">&amp;'Пила'-->]]>"#;
    let garage = text_of(root().join("catalogs-demo/garage.toml"));
    let job = garage
        .replace("One-bay garage: two outlets", hostile)
        .replace("bench = ", &format!("\"{hostile}\" = "))
        .replace("[outlet.bench]", &format!("[outlet.\"{hostile}\"]"))
        .replace("[room.bay]", &format!("[room.\"{hostile}\"]"));
    let sheets = drawn(&job, &[SIGNS]);
    hold_as_svg(&sheets);
    // The faces of the papers have no Cyrillic.
    assert_eq!(hold_as_pdf(&sheets, Paper::A4), "Пила".chars().collect());
}

proptest! {
    #![proptest_config(same_cases(200))]

    #[test]
    fn every_shop_is_drawn_whole(shop in shops(1..9)) {
        hold_as_svg(&drawn(&shop.job(Form::default()), &[]));
    }
}
