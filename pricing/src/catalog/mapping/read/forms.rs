//! How a sheet is written, and what holds for all of its rows.

use super::Reader;
use crate::catalog::Unit;
use crate::catalog::columns::Column;
use crate::catalog::mapping::{DateForm, SizeUnit, dates};
use crate::catalog::price_for::PriceFor;
use crate::money::Currency;
use bom::source::Span;

impl Reader<'_> {
    pub(super) fn form(&mut self, key: &str, text: String, span: Span) {
        let mut chars = text.chars();
        let sign = chars.next().filter(|_| chars.next().is_none());
        let mapping = &mut self.mapping;
        let help = match key {
            "file" if !text.is_empty() => {
                mapping.file = text;
                return;
            }
            "file" => {
                "name the sheet's file, which lies beside this one, like file = \"north.csv\""
            }
            "sheet" => {
                mapping.sheet = Some(text);
                return;
            }
            "symbol" if !text.is_empty() => {
                mapping.numbers.symbol = Some(text);
                return;
            }
            "symbol" => "write what stands at a price, like \"$\", or leave the line out",
            "delimiter" => {
                mapping.delimiter = match text.as_str() {
                    "tab" => Some('\t'),
                    _ => sign.filter(|sign| [',', ';', '|'].contains(sign)),
                };
                if mapping.delimiter.is_some() {
                    return;
                }
                "cells stand between \",\", \";\", \"|\" or \"tab\""
            }
            "decimal" => {
                mapping.numbers.decimal = sign.filter(|sign| ['.', ','].contains(sign));
                if mapping.numbers.decimal.is_some() {
                    return;
                }
                "decimals stand behind \".\" or \",\""
            }
            "thousands" => {
                // The text was trimmed, and a blank is what is left of `" "`.
                let sign = if text.is_empty() { Some(' ') } else { sign };
                let known = ['.', ',', ' ', '\'', '’'];
                mapping.numbers.thousands = sign.filter(|sign| known.contains(sign));
                if mapping.numbers.thousands.is_some() {
                    return;
                }
                "thousands stand apart by \".\", \",\", \" \" or \"'\"; leave the line out if they do not"
            }
            "dates" => {
                mapping.dates = DateForm::parse(&text);
                if mapping.dates.is_some() {
                    return;
                }
                "write the order of day, month and year, like \"DD.MM.YYYY\" or \"MM/DD/YYYY\""
            }
            _ => {
                mapping.sizes = SizeUnit::parse(&text);
                if mapping.sizes.is_some() {
                    return;
                }
                "sizes without a unit are in \"in\", \"mm\" or \"DN\""
            }
        };
        self.wrong(span, format!("`{text}` does not say what `{key}` is"), help);
    }

    pub(super) fn constant(&mut self, column: Column, text: &str, span: Span) {
        let wrong = match column {
            Column::Currency => Currency::parse(text)
                .err()
                .map(|error| (error.message, error.help)),
            Column::PriceFor => PriceFor::parse(text)
                .err()
                .map(|error| (error.message, error.help)),
            Column::PricedOn => dates::iso(text).is_none().then(|| {
                (
                    format!("`{text}` is not a date"),
                    "write year, month and day, like 2026-10-01".to_owned(),
                )
            }),
            Column::Part => self.not_a_part(text),
            Column::Unit if Unit::of_pipe(text).is_none() => Some((
                format!("`{text}` is not what pipe is sold by"),
                "write the length of a stick, like 21ft or 6m, or ft or m".to_owned(),
            )),
            Column::Pack | Column::FromQuantity if !whole(text) => Some((
                format!("`{text}` is not a whole number of 1 or more"),
                "write digits only, like 10".to_owned(),
            )),
            _ => None,
        };
        match wrong {
            Some((message, help)) => self.wrong(span, message, help),
            None => {
                self.mapping.constants.insert(column, text.to_owned());
            }
        }
    }
}

fn whole(text: &str) -> bool {
    let digits = text.bytes().all(|byte| byte.is_ascii_digit());
    digits && text.parse::<u64>().is_ok_and(|number| number > 0)
}
