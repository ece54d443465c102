//! What every form of a quote says in the same words.

use super::system::sentence;
use super::{before_tax, day, tax, total};
use pricing::money::Money;
use pricing::quote::{Level, Prices, Quote, QuoteAlternate, QuoteOption, ShownSection, Tax};
use pricing::rates::{Provisional, TaxOn};

/// Stands over the sums that are not known yet.
pub(in crate::output) const PROVISIONAL: &str = "Provisional, to be settled after the work";

/// Stands over the same work in several ways.
pub(in crate::output) const OPTIONS: &str = "Options, one to choose";

/// Stands over what is offered besides.
pub(in crate::output) const ALTERNATES: &str = "Alternates, not in the total";

/// How what they add is meant.
pub(in crate::output) const EACH_ALONE: &str =
    "Each is priced alone, ordered and built with the rest of the work.";

/// Stands over what one more drop would add.
pub(in crate::output) const ADDED: &str = "One more drop, not in the total";

/// Stands over the lines.
pub(in crate::output) const fn lines_head(quote: &Quote) -> &'static str {
    match quote.level {
        Level::Lines => "Itemised",
        Level::Sections | Level::Sum => "Included",
    }
}

/// The words beside a section's sum, which say so where a price is missing.
pub(in crate::output) fn section_sum(section: &ShownSection, words: &str) -> String {
    if section.open {
        format!("{words}, without its missing prices")
    } else {
        words.to_owned()
    }
}

/// What a provisional sum is for.
pub(in crate::output) fn provisional(one: &Provisional) -> String {
    match one.in_total {
        true => format!("{} (in the total)", one.text),
        false => format!("{} (not in the total)", one.text),
    }
}

/// The tax, where there is one and it is shown.
pub(in crate::output) fn shown_tax(prices: &Prices) -> Option<&Tax> {
    prices.tax.as_ref().filter(|tax| tax.on != TaxOn::None)
}

/// The sum before tax, where it says more than the total.
pub(in crate::output) fn shown_subtotal(quote: &Quote, prices: &Prices) -> Option<Money> {
    let more = quote.tax.on != TaxOn::None || quote.total.is_none();
    prices.subtotal.filter(|_| more)
}

/// The sums of the whole quote, as far as they are shown; the last is the total.
pub(in crate::output) fn quote_sums(
    quote: &Quote,
    prices: &Prices,
    word: &str,
) -> Vec<(String, String)> {
    let mut sums = Vec::new();
    if let Some(rounding) = prices.rounding {
        sums.push(("Rounding".to_owned(), rounding.show()));
    }
    if let Some(subtotal) = shown_subtotal(quote, prices) {
        sums.push((before_tax(quote).to_owned(), subtotal.show()));
    }
    let mut words = format!("{word} {}", quote.subtotal.currency().code());
    if let Some(of) = shown_tax(prices) {
        sums.push((tax(of), of.amount.show()));
    }
    if prices.tax.is_none() {
        words += &format!(", with {} of {} %", quote.tax.label, quote.tax.percent);
    }
    sums.push((words, total(quote)));
    sums
}

/// What something adds, or why that is not known.
pub(in crate::output) fn adds(price: &Result<Money, String>) -> String {
    match price {
        Ok(price) => price.show(),
        Err(_) => "no price".to_owned(),
    }
}

/// Its words, and why it has no price.
pub(in crate::output) fn reasoned(
    words: impl IntoIterator<Item = String>,
    price: &Result<Money, String>,
) -> String {
    let reason = price.as_ref().err().cloned();
    let all: Vec<String> = words.into_iter().chain(reason).collect();
    all.join("\n")
}

/// What an option is, a line for each thing to say.
pub(in crate::output) fn option(option: &QuoteOption) -> String {
    let described = "The work described in this quote.".to_owned();
    let without = option.left_out.join(", ");
    let without = (!without.is_empty()).then(|| format!("It leaves out: {without}."));
    let said = std::iter::once(sentence(&option.pipe))
        .chain(option.described.then_some(described))
        .chain(without)
        .chain(option.cautions.iter().map(|caution| sentence(caution)));
    reasoned(said.filter(|said| said != "."), &option.total)
}

/// What an alternate is, a line for each outlet.
pub(in crate::output) fn alternate(alternate: &QuoteAlternate) -> String {
    let text = Some(alternate.text.clone()).filter(|text| !text.is_empty());
    reasoned(
        text.into_iter().chain(alternate.outlets.iter().cloned()),
        &alternate.price,
    )
}

/// The difference of an option from the work described.
pub(in crate::output) fn difference(option: &QuoteOption) -> String {
    match option.difference {
        _ if option.described => "–".to_owned(),
        Some(difference) => difference.show(),
        None => "open".to_owned(),
    }
}

/// The days of an option on site.
pub(in crate::output) fn days(option: &QuoteOption) -> String {
    option
        .days
        .map_or_else(|| "–".to_owned(), |days| days.to_string())
}

/// Whether anything says how many days the options take.
pub(in crate::output) fn has_days(options: &[QuoteOption]) -> bool {
    options.iter().any(|option| option.days.is_some())
}

/// Stands over what the customer does next.
pub(in crate::output) const NEXT: &str = "To go ahead";

/// The terms that say when.
const DATES: [&str; 2] = ["Start", "Shut-down of the air"];

/// What the customer does next; nothing while a price is missing.
pub(in crate::output) fn next_steps(quote: &Quote) -> Vec<String> {
    if quote.total.is_none() {
        return Vec::new();
    }
    let mut steps = Vec::new();
    if quote.options.is_some() {
        steps.push("Choose one option, and tick it on the last page.".to_owned());
    }
    if !quote.alternates.is_empty() {
        steps.push("Tick the alternates that you want on the last page.".to_owned());
    }
    steps.push(format!(
        "Sign the last page and send it back by {}: until then these prices hold.",
        day(quote.valid_until)
    ));
    let terms = quote.terms.iter();
    let dates = terms.filter(|term| DATES.contains(&term.label));
    steps.extend(dates.map(|term| format!("{}: {}", term.label, term.text)));
    steps
}

/// What the customer chooses among: one of the options, and alternates, as far as they
/// have a price.
pub(in crate::output) fn choices(quote: &Quote) -> Vec<(String, Money)> {
    let currency = quote.subtotal.currency();
    let code = currency.code();
    let options = quote.options.iter().flat_map(|options| &options.options);
    let options = options.filter_map(|option| {
        let total = *option.total.as_ref().ok()?;
        Some((format!("Option {}: total {code}", option.name), total))
    });
    let alternates = quote.alternates.iter().filter_map(|one| {
        let adds = *one.price.as_ref().ok()?;
        Some((format!("Alternate {}: adds {code}", one.name), adds))
    });
    options.chain(alternates).collect()
}

/// What the contractor says of each matter.
pub(in crate::output) fn terms(quote: &Quote) -> Vec<String> {
    let terms = quote.terms.iter();
    terms
        .map(|term| format!("{}: {}", term.label, term.text))
        .collect()
}
