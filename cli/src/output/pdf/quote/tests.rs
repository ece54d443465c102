use super::{draw, imprint, quote};
use crate::output::fixture;
use crate::output::pdf::fonts::{BODY, Fonts, LARGE, SMALL, STRONG, TITLE};
use crate::output::pdf::read_back::{bookmarks, holds, sizes};
use crate::output::pdf::running::Finished;
use crate::output::pdf::{Leaf, Paper, read_back};
use pricing::quote::Quote;
use printpdf::{Op, PdfFontHandle, PdfPage, TextItem};

mod breaks;

fn bytes(model: &Quote, paper: Paper) -> Vec<u8> {
    let mut bytes = Vec::new();
    quote(model, &[], paper, &mut bytes).unwrap();
    bytes
}

/// The text of each page, a line for each piece of it.
fn texts(model: &Quote, paper: Paper) -> Vec<String> {
    read_back::texts(&bytes(model, paper))
}

fn pages(model: &Quote, paper: Paper, fonts: &Fonts) -> Finished {
    imprint(model).finished(fonts, paper, |sheets| draw(sheets, model, &[]))
}

#[test]
fn every_amount_is_printed() {
    for paper in [Paper::A4, Paper::Letter] {
        for model in [fixture::full(), fixture::short(), fixture::incomplete()] {
            let text = texts(&model, paper).concat();
            let sections = || model.sections.iter();
            let lines = || sections().flat_map(|section| &section.lines);
            let sums = [model.subtotal, model.tax.amount];
            let amounts = lines()
                .filter_map(|line| line.amount)
                .chain(lines().filter_map(|line| line.unit_price))
                .chain(sections().map(|section| section.subtotal))
                .chain(model.payment.iter().map(|step| step.amount))
                .chain(sums)
                .chain(model.total);
            for amount in amounts {
                assert!(holds(&text, &amount.show()), "{}", amount.show());
            }
            assert!(text.contains("7.25 % of 2,345.00"));
            for line in lines() {
                assert!(holds(&text, &line.text), "{}", line.text);
            }
        }
    }
}

#[test]
fn the_first_page_has_the_total_and_every_page_its_number() {
    for paper in [Paper::A4, Paper::Letter] {
        let pages = texts(&fixture::full(), paper);
        assert!(holds(&pages[0], "Total USD"));
        assert!(holds(&pages[0], "5,914.56"));
        let count = pages.len();
        assert_eq!(count, 4);
        for (at, page) in pages.iter().enumerate() {
            assert!(holds(page, &format!("Page {} of {count}", at + 1)));
            assert!(holds(page, "Revision A · 4F2A-91C0 · 1 October 2026"));
        }
        assert!(holds(&pages[3], "Signature"));
        assert!(holds(
            &pages[3],
            "Quote of 1 October 2026, revision A, fingerprint 4F2A-91C0, total USD 5,914.56."
        ));
    }
}

#[test]
fn a_missing_price_is_loud_and_leaves_nothing_to_sign() {
    let pages = texts(&fixture::incomplete(), Paper::A4);
    for page in &pages {
        assert!(holds(page, "PRICE INCOMPLETE - this is not an offer"));
    }
    assert!(holds(&pages[0], "black iron cross"));
    assert!(holds(&pages[0], "the catalog has crosses of 1in only"));
    let text = pages.concat();
    assert_eq!(
        text.lines()
            .filter(|line| line.trim() == "no price")
            .count(),
        4
    );
    assert_eq!(
        text.lines()
            .filter(|line| line.trim() == "incomplete")
            .count(),
        2
    );
    assert!(!text.contains("Signature"));
}

#[test]
fn one_sum_has_boxes_to_tick_and_no_finer_sums() {
    let model = fixture::beside();
    let pages = texts(&model, Paper::Letter);
    assert!(holds(
        &pages[0],
        "Total USD, with Sales tax on materials of 7.25 %"
    ));
    let text = pages.concat();
    for line in [
        "Option A: total USD 5,914.56",
        "Option B: total USD 5,902.22",
        "Alternate store: adds USD 638.26",
        "904.84",
        "-12.34",
    ] {
        assert!(holds(&text, line), "{line}: {text}");
    }
    // An option without a price cannot be chosen; the others are on the first page and
    // have their boxes.
    let choices = text
        .lines()
        .filter(|line| line.starts_with("Option ") && line.contains("total"));
    assert_eq!(choices.count(), 4);
    for amount in [model.subtotal, model.tax.amount, model.sections[0].subtotal] {
        assert!(!holds(&text, &amount.show()), "{}", amount.show());
    }
}

#[test]
fn the_same_quote_gives_the_same_bytes() {
    let first = bytes(&fixture::full(), Paper::A4);
    bytes(&fixture::short(), Paper::Letter);
    assert_eq!(first, bytes(&fixture::full(), Paper::A4));
    assert_ne!(first, bytes(&fixture::full(), Paper::Letter));
}

#[test]
fn the_file_says_what_it_is() {
    let file = lopdf::Document::load_mem(&bytes(&fixture::full(), Paper::A4)).unwrap();
    assert_eq!(file.version, "1.4");
    let catalog = file.catalog().unwrap();
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en");
    let info = file.trailer.get(b"Info").unwrap().as_reference().unwrap();
    let info = file.get_dictionary(info).unwrap();
    assert!(!info.has(b"GTS_PDFXVersion"));
    let date = info.get(b"CreationDate").unwrap().as_str().unwrap();
    assert!(date.starts_with(b"D:20261001000000"));
}

#[test]
fn every_heading_has_its_bookmark_on_its_page() {
    let mut model = fixture::full();
    model.sections[2].title = "Ventile für Öl".to_owned();
    for paper in [Paper::A4, Paper::Letter] {
        let bytes = bytes(&model, paper);
        let pages = read_back::texts(&bytes);
        let found = bookmarks(&bytes);
        let titles = |level| {
            let own = found.iter().filter(move |one| one.level == level);
            own.map(|one| one.title.as_str()).collect::<Vec<_>>()
        };
        assert_eq!(
            titles(0),
            [
                "Quote",
                "Scope",
                "Price",
                "Payment",
                "To go ahead",
                "Outlets",
                "Itemised",
                "Assumptions",
                "Exclusions",
                "Cautions",
                "Notices",
                "Acceptance"
            ]
        );
        let sections = model.sections.iter().map(|section| section.title.as_str());
        assert_eq!(titles(1), sections.collect::<Vec<_>>());
        for one in &found {
            let page = &pages[usize::try_from(one.page).unwrap() - 1];
            assert!(holds(page, &one.title), "{one:?}");
        }
        let places = found.iter().map(|one| (one.page, -one.up));
        assert!(places.is_sorted(), "{found:#?}");
    }
}

#[test]
fn a_drawing_is_a_page_of_its_own_size_among_the_others() {
    let fonts = Fonts::load().unwrap();
    let plan = Leaf::drawn(&fonts, "Plan", (420.0, 297.0), |sheets| {
        let (right, foot) = (sheets.right(), sheets.foot());
        assert!((right - 1136.5).abs() < 0.1 && (foot - 779.9).abs() < 0.1);
        sheets.text_to(BODY, right, "north, Ж");
    });
    let model = fixture::full();
    let mut written = Vec::new();
    let lacking = quote(&model, &[plan.clone(), plan], Paper::A4, &mut written).unwrap();
    assert!(lacking.contains(&'Ж'));
    let pages = read_back::texts(&written);
    let bare = texts(&model, Paper::A4).len();
    assert_eq!(pages.len(), bare + 2);
    let sizes = sizes(&written);
    for (at, page) in pages.iter().enumerate() {
        let drawn = at == 1 || at == 2;
        assert_eq!(holds(page, "north, ?"), drawn);
        assert_eq!(sizes[at][0] > sizes[at][1], drawn);
        assert!(holds(page, &format!("Page {} of {}", at + 1, pages.len())));
        assert!(holds(page, "Revision A · 4F2A-91C0 · 1 October 2026"));
    }
    let found = bookmarks(&written);
    let plans = found.iter().filter(|one| one.title == "Plan");
    assert_eq!(plans.map(|one| one.page).collect::<Vec<_>>(), [2, 3]);
    assert!(holds(&pages[3], "Outlets"));
}

#[test]
fn sums_are_read_after_their_words() {
    let text = texts(&fixture::full(), Paper::A4).concat();
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let after = |words: &str| {
        let at = lines.iter().position(|line| *line == words).unwrap();
        lines[at + 1]
    };
    assert_eq!(after("Total USD"), "5,914.56");
    assert_eq!(after("On order"), "2,365.82");
    assert_eq!(
        after("valve, coupler"),
        "valve, filter 1/2in, regulator, coupler"
    );
}

#[test]
fn odd_quotes_stay_inside_their_margins() {
    let models = [
        fixture::full(),
        fixture::beside(),
        fixture::incomplete(),
        fixture::bare(),
        fixture::short(),
        fixture::long(),
    ];
    let fonts = Fonts::load().unwrap();
    for model in &models {
        for (paper, width, height) in [(Paper::A4, 595.28, 841.89), (Paper::Letter, 612.0, 792.0)] {
            let Finished { pages, lacking, .. } = pages(model, paper, &fonts);
            assert_eq!(lacking.contains(&'М'), model.revision.len() > 1);
            for page in &pages {
                for (left, right, up, text) in placed(page, &fonts) {
                    assert!(
                        left >= 53.9 && right <= width - 53.9,
                        "{text}: {left} {right}"
                    );
                    assert!(up >= 30.0 && up <= height - 30.0, "{text}: {up}");
                }
            }
        }
    }
}

/// Each piece of text with its left and right edge and its height.
fn placed(page: &PdfPage, fonts: &Fonts) -> Vec<(f32, f32, f32, String)> {
    let styles = [BODY, STRONG, SMALL, LARGE, TITLE];
    let mut style = BODY;
    let mut place = (0.0, 0.0);
    let mut found = Vec::new();
    for op in &page.ops {
        match op {
            Op::SetFont { font, size } => {
                let PdfFontHandle::External(_) = font else {
                    panic!("a built-in font")
                };
                style = *styles
                    .iter()
                    .find(|style| style.size.to_bits() == size.0.to_bits())
                    .unwrap();
                if style.face.handle() != *font {
                    style = STRONG;
                    style.size = size.0;
                }
            }
            Op::SetTextCursor { pos } => place = (pos.x.0, pos.y.0),
            Op::ShowText { items } => {
                let [TextItem::Text(text)] = items.as_slice() else {
                    panic!("{items:?}")
                };
                let right = place.0 + fonts.width(style, text);
                found.push((place.0, right, place.1, text.clone()));
            }
            _ => {}
        }
    }
    found
}
