//! Values that are read with a word of their own where they cannot be.

use bom::quantity::{Length, Units};
use pricing::money::Currency;

pub(super) fn energy_price(text: &str) -> Result<f64, String> {
    let price = text.trim().parse().ok();
    price
        .filter(|price: &f64| (0.0..=1_000.0).contains(price))
        .ok_or_else(|| "give the price of one kWh as a plain number, like 0.15".to_owned())
}

pub(super) fn leak(text: &str) -> Result<Length, String> {
    let hole = Length::parse(text, Units::Metric).map_err(|error| error.to_string())?;
    if hole <= Length::ZERO || hole > Length::from_mm(25) {
        return Err("a leak is a hole of up to 1 in, or 25 mm".to_owned());
    }
    Ok(hole)
}

pub(super) fn kerf(text: &str) -> Result<Length, String> {
    let kerf = Length::parse(text, Units::Metric).map_err(|error| error.to_string())?;
    if kerf > Length::from_mm(25) {
        return Err("no saw takes more than 25 mm".to_owned());
    }
    Ok(kerf)
}

/// What a reason takes on paper.
const LONGEST_REASON: usize = 300;

pub(super) fn reason(text: &str) -> Result<String, String> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    match text.chars().count() {
        0 => Err(
            "say why the job changes: \"customer wish\", \"found on site\", \"our error\", or in your own words"
                .to_owned(),
        ),
        1..=LONGEST_REASON => Ok(text),
        _ => Err(format!("keep it under {LONGEST_REASON} letters")),
    }
}

pub(super) fn choice(text: &str) -> Result<(String, String), String> {
    let named = text
        .split_once('=')
        .map(|(name, of)| (name.trim(), of.trim()));
    match named {
        Some((name, system)) if !name.is_empty() && !system.is_empty() => {
            Ok((name.to_owned(), system.to_owned()))
        }
        _ => Err("give a name and a pipe system, like \"A=black-iron\"".to_owned()),
    }
}

pub(super) fn currency(text: &str) -> Result<Currency, String> {
    Currency::parse(text).map_err(|error| format!("{}: {}", error.message, error.help))
}
