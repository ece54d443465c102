//! Tables for spreadsheets and other programs. Figures are plain, and no text
//! can be taken for a formula.

use crate::output::words;
use bom::takeoff::{Because, Takeoff};
use pricing::money::Money;
use pricing::quote::Quote;
use std::io::{self, Write};

/// Writes the quote's lines and, under them, its sums.
///
/// # Errors
/// Those of `out`.
pub fn quote(quote: &Quote, out: &mut dyn Write) -> io::Result<()> {
    let currency = quote.subtotal.currency();
    let currency = currency.code();
    let mut table = csv::Writer::from_writer(out);
    table.write_record([
        "section",
        "text",
        "quantity",
        "unit",
        "unit_price",
        "amount",
        "currency",
    ])?;
    for section in &quote.sections {
        for line in &section.lines {
            table.write_record([
                harmless(&section.title).as_str(),
                &harmless(&line.text),
                &line.quantity.to_string(),
                &harmless(&line.unit),
                &price(line.unit_price),
                &price(line.amount),
                currency,
            ])?;
        }
    }
    let tax = &quote.tax;
    let tax_words = format!("{}, {} % of {}", tax.label, tax.percent, tax.base.plain());
    let total = quote
        .total
        .map_or_else(|| "incomplete".to_owned(), |total| total.plain());
    for (kind, text, amount) in [
        ("subtotal", words::before_tax(quote), quote.subtotal.plain()),
        ("tax", &harmless(&tax_words), tax.amount.plain()),
        ("total", "Total", total),
    ] {
        table.write_record([kind, text, "", "", "", &amount, currency])?;
    }
    table.flush()
}

/// Writes the parts with their reasons. Pipe stands first: its quantity is the
/// length to cut in millimetres, its reasons are the ends of the pieces.
///
/// # Errors
/// Those of `out`.
pub fn parts(
    takeoff: &Takeoff,
    why: &dyn Fn(Because) -> String,
    ends: &dyn Fn(u32) -> (String, String),
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut table = csv::Writer::from_writer(out);
    table.write_record([
        "part", "system", "size", "quantity", "unit", "words", "because",
    ])?;
    for pipe in &takeoff.pipe {
        let because = pipe.pieces.iter().map(|piece| {
            let (from, to) = ends(piece.run);
            format!("{from} to {to}")
        });
        table.write_record([
            harmless(&pipe.key.part).as_str(),
            &harmless(&pipe.key.system),
            &pipe.key.size.to_string(),
            &pipe.end_to_end.to_mm_text(),
            "mm",
            &harmless(&pipe.words),
            &harmless(&because.collect::<Vec<_>>().join("; ")),
        ])?;
    }
    for line in &takeoff.lines {
        let because = line.because.iter().map(|because| why(*because));
        table.write_record([
            harmless(&line.key.part).as_str(),
            &harmless(&line.key.system),
            &line.key.size.to_string(),
            &line.quantity.to_string(),
            &harmless(&line.unit),
            &harmless(&line.words),
            &harmless(&because.collect::<Vec<_>>().join("; ")),
        ])?;
    }
    table.flush()
}

fn price(money: Option<Money>) -> String {
    money.map_or_else(|| "no price".to_owned(), |money| money.plain())
}

/// The text, marked as text where a spreadsheet would run it as a formula.
fn harmless(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::{harmless, parts, quote};
    use crate::output::fixture;

    fn written(write: impl FnOnce(&mut Vec<u8>)) -> String {
        let mut bytes = Vec::new();
        write(&mut bytes);
        String::from_utf8(bytes).unwrap()
    }

    #[test]
    fn a_formula_becomes_text() {
        for text in ["=1+1", "+1", "-1", "@sum", "\tx", "\rx"] {
            assert_eq!(harmless(text), format!("'{text}"));
        }
        for text in ["", "3/4in", "a=b", "'=1", " =1"] {
            assert_eq!(harmless(text), text);
        }
    }

    #[test]
    fn a_quote_with_a_formula_and_quotes() {
        let mut model = fixture::short();
        let line = &mut model.sections[0].lines[0];
        "=cmd|' /C calc'!A0, \"3/4in\"".clone_into(&mut line.text);
        let text = written(|out| quote(&model, out).unwrap());
        assert_eq!(
            text,
            "section,text,quantity,unit,unit_price,amount,currency\n\
             Fittings,\"'=cmd|' /C calc'!A0, \"\"3/4in\"\"\",6,each,3.85,23.10,USD\n\
             Fittings,\"Black iron elbow 90, 3/4in\",12,each,2.35,28.20,USD\n\
             subtotal,Total before tax,,,,51.30,USD\n\
             tax,\"Sales tax on materials, 7.25 % of 2345.00\",,,,170.01,USD\n\
             total,Total,,,,221.31,USD\n"
        );
    }

    #[test]
    fn a_missing_price_is_loud() {
        let text = written(|out| quote(&fixture::incomplete(), out).unwrap());
        assert!(text.contains("Fittings,Black iron cross 3/4in,4,each,no price,no price,USD\n"));
        assert!(text.ends_with("total,Total,,,,incomplete,USD\n"));
    }

    #[test]
    fn parts_with_pipe_first() {
        let ends = |run| (format!("place {run}"), "entry".to_owned());
        let text = written(|out| {
            parts(&fixture::takeoff(), &|_| String::new(), &ends, out).unwrap();
        });
        assert_eq!(
            text,
            "part,system,size,quantity,unit,words,because\n\
             pipe,black-iron,1in,3810.397,mm,black iron pipe,place 0 to entry; place 1 to entry\n\
             nipple-close,black-iron,3/4in,17,each,black iron close nipple,\n\
             elbow-90,black-iron,3/4in,12,each,black iron elbow 90,\n\
             tee,black-iron,1in x 1in x 3/4in,6,each,black iron tee,\n\
             valve,black-iron,3/4in,10,each,ball valve,\n"
        );
    }
}
