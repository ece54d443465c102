//! What all sheets of a workbook have in common: the paper, the head and foot of
//! every page, and what the file says of itself.

use super::sheet::Sheet;
use crate::output::pdf::Paper;
use crate::output::words::{day, joined, labelled};
use jiff::civil::Date;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, Worksheet};
use std::io::{self, Write};

/// What a workbook is.
pub(super) struct About<'a> {
    pub(super) title: &'a str,
    pub(super) author: &'a str,
    pub(super) revision: &'a str,
    pub(super) fingerprint: &'a str,
    /// The day on the paper; a count has none.
    pub(super) date: Option<Date>,
    /// Stands over every sheet.
    pub(super) warning: Option<&'a str>,
    pub(super) paper: Paper,
}

/// Writes the sheets, in their order.
pub(super) fn write(about: &About<'_>, sheets: Vec<Sheet>, out: &mut dyn Write) -> io::Result<()> {
    let mut workbook = Workbook::new();
    // Without a day of its own the file would hold the moment of its writing.
    let (year, month, of_month) = match about.date {
        Some(date) => (date.year(), date.month(), date.day()),
        None => (2000, 1, 1),
    };
    let created = ExcelDateTime::from_ymd(
        u16::try_from(year).unwrap_or(2000),
        month.unsigned_abs(),
        of_month.unsigned_abs(),
    );
    let created = created.map_err(io::Error::other)?;
    let properties = DocProperties::new()
        .set_title(shortened(about.title, 200))
        .set_author(shortened(about.author, 100))
        .set_creation_datetime(&created);
    workbook.set_properties(&properties);
    for sheet in sheets {
        let mut sheet = sheet.finish()?;
        pages(&mut sheet, about);
        workbook.push_worksheet(sheet);
    }
    let bytes = workbook.save_to_buffer().map_err(io::Error::other)?;
    out.write_all(&bytes)
}

/// The pages of one sheet on paper.
fn pages(sheet: &mut Worksheet, about: &About<'_>) {
    // The numbers of paper sizes in ECMA-376, 18.3.1.63.
    sheet.set_paper_size(match about.paper {
        Paper::Letter => 1,
        Paper::A4 => 9,
    });
    sheet.set_print_fit_to_pages(1, 0);
    sheet.set_margins(0.6, 0.6, 0.8, 0.8, 0.4, 0.4);
    let date = about.date.map(day).unwrap_or_default();
    let revision = labelled("Revision", about.revision);
    let marks = [
        coded(&revision, 24),
        coded(about.fingerprint, 30),
        coded(&date, 20),
    ];
    let marks = joined(&marks.each_ref().map(String::as_str), " · ");
    let title = coded(about.title, 48);
    let author = coded(about.author, 40);
    let warning = about.warning.map(|warning| coded(warning, 60));
    let warning = warning.map(|warning| format!("&C&B{warning}"));
    let warning = warning.unwrap_or_default();
    sheet.set_header(format!("&L{title}&R{marks}"));
    sheet.set_footer(format!("&L{author}{warning}&RPage &P of &N"));
}

/// A text of a head or foot, where `&` begins a code and 255 characters are all
/// that there is room for.
fn coded(text: &str, most: usize) -> String {
    let text: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let escaped = |text: &str| text.replace('&', "&&");
    let mut shown = shortened(&text, most);
    while escaped(&shown).encode_utf16().count() > most + 1 {
        shown = shortened(&shown, shown.chars().count() - 2);
    }
    escaped(&shown)
}

/// The text, or its beginning.
fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let start: String = text.chars().take(most).collect();
    format!("{}…", start.trim_end_matches('…'))
}

#[cfg(test)]
mod tests {
    use super::coded;

    #[test]
    fn heads_keep_their_ampersands_and_their_length() {
        assert_eq!(coded("Pipe & Air", 70), "Pipe && Air");
        assert_eq!(coded("a\nb\t c", 70), "a b c");
        for text in ["&".repeat(500), "word ".repeat(90), "\u{1f527}".repeat(300)] {
            let coded = coded(&text, 70);
            assert!(coded.encode_utf16().count() <= 71, "{coded}");
            assert!(coded.replace("&&", "").find('&').is_none(), "{coded}");
        }
    }
}
