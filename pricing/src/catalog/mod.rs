//! The catalog: rows of parts with their prices, as the user keeps them in a
//! spreadsheet. Several rows for one part are offers to choose from.

mod columns;
mod row;
mod twins;

use crate::money::{Currency, Money};
use bom::finding::Finding;
use bom::library::Part;
use bom::quantity::Length;
use bom::source::Source;
use bom::takeoff::PartKey;
use columns::Columns;
use csv::StringRecord;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// All offers that could be read.
#[derive(Debug, Clone, Default)]
pub struct Catalog {
    offers: BTreeMap<PartKey, Vec<Offer>>,
    /// Who sells a part and is not bought from.
    elsewhere: BTreeMap<PartKey, BTreeSet<String>>,
}

/// One row.
#[derive(Debug, Clone)]
pub struct Offer {
    /// The part, its system and its size.
    pub key: PartKey,
    /// The supplier's words; may be empty.
    pub description: String,
    /// What is sold.
    pub unit: Unit,
    /// How many units the price buys.
    pub pack: u64,
    /// The price of one pack; none if the row has no price yet.
    pub price: Option<Money>,
    /// Who sells it; may be empty.
    pub supplier: String,
    /// The supplier's order number; may be empty.
    pub code: String,
    /// Where it lies in the shop; may be empty.
    pub aisle: String,
    /// The day of the price.
    pub priced_on: Option<Date>,
    /// How many units must be bought of this row for its price to hold.
    pub from_quantity: u64,
    /// Where the row stands.
    pub place: Place,
}

/// What a price is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unit {
    /// A piece or a roll.
    Each,
    /// A stick of pipe of one length.
    Stick(Length),
    /// Pipe by the foot.
    Foot,
    /// Pipe by the metre.
    Metre,
}

/// A row of a file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The number of the file among the catalogs.
    pub source: usize,
    /// The line, from 1.
    pub line: usize,
    /// The file's name in messages.
    pub file: String,
}

impl Unit {
    /// As the catalog writes it: `each`, `21ft`, `ft`.
    #[must_use]
    pub fn code(self) -> String {
        match self {
            Self::Each => "each".to_owned(),
            Self::Stick(length) => stick(length, ""),
            Self::Foot => "ft".to_owned(),
            Self::Metre => "m".to_owned(),
        }
    }

    /// As paper writes a pack of it: `pack of 10`, `stick 21 ft`; `each` is
    /// the take-off's word for one.
    #[must_use]
    pub fn words(self, pack: u64, each: &str) -> String {
        match (self, pack) {
            (Self::Each, 1) => each.to_owned(),
            (Self::Each, _) => format!("pack of {pack}"),
            (Self::Stick(length), 1) => format!("stick {}", stick(length, " ")),
            (Self::Stick(length), _) => format!("pack of {pack} sticks {}", stick(length, " ")),
            (Self::Foot | Self::Metre, 1) => self.code(),
            (Self::Foot | Self::Metre, _) => format!("pack of {pack} {}", self.code()),
        }
    }
}

/// A stick's length in whole feet or metres where it comes out so.
fn stick(length: Length, gap: &str) -> String {
    let whole = |unit: Length| (length.nm() % unit.nm() == 0).then(|| length.nm() / unit.nm());
    if let Some(feet) = whole(Length::from_feet(1)) {
        format!("{feet}{gap}ft")
    } else if let Some(metres) = whole(Length::from_mm(1_000)) {
        format!("{metres}{gap}m")
    } else {
        format!("{}{gap}mm", length.to_mm_text())
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {} of {}", self.line, self.file)
    }
}

impl Catalog {
    /// Reads any number of catalogs into one. `parts` are the parts that a
    /// row may name and `currency` is the currency of the rates. A finding
    /// comes with the number of the source that it points into; a row with
    /// one is left out.
    #[must_use]
    pub fn read(
        sources: &[Source],
        parts: &[Part],
        currency: Currency,
    ) -> (Self, Vec<(usize, Finding)>) {
        let mut catalog = Self::default();
        let mut findings = Vec::new();
        for (number, source) in sources.iter().enumerate() {
            let (offers, found) = read_one(number, source, parts, currency);
            findings.extend(found.into_iter().map(|finding| (number, finding)));
            for offer in offers {
                catalog
                    .offers
                    .entry(offer.key.clone())
                    .or_default()
                    .push(offer);
            }
        }
        findings.extend(twins::findings(&catalog.offers, sources));
        (catalog, findings)
    }

    /// The first currency that a catalog names.
    #[must_use]
    pub fn currency(sources: &[Source]) -> Option<Currency> {
        sources.iter().find_map(|source| {
            let mut records = records(source);
            let heads = records.find(|record| !is_blank(record))?;
            let at = heads
                .iter()
                .position(|head| head.trim().eq_ignore_ascii_case("currency"))?;
            records.find_map(|record| Currency::parse(record.get(at)?).ok())
        })
    }

    /// Every part of which some offer has a price.
    pub fn priced(&self) -> impl Iterator<Item = &PartKey> {
        let priced = |offers: &[Offer]| offers.iter().any(|offer| offer.price.is_some());
        self.offers
            .iter()
            .filter(move |(_, offers)| priced(offers))
            .map(|(key, _)| key)
    }

    /// The offers for a part, in the order of the files.
    #[must_use]
    pub fn offers(&self, key: &PartKey) -> &[Offer] {
        self.offers.get(key).map_or(&[], Vec::as_slice)
    }

    /// The offers of these suppliers only.
    #[must_use]
    pub fn only_from(mut self, names: &[&str]) -> Self {
        let bought_from = |offer: &Offer| names.contains(&offer.supplier.as_str());
        for (key, offers) in &self.offers {
            let others = offers.iter().filter(|offer| !bought_from(offer));
            let others: BTreeSet<String> = others.map(|offer| offer.supplier.clone()).collect();
            self.elsewhere.insert(key.clone(), others);
        }
        self.offers.retain(|_, offers| {
            offers.retain(bought_from);
            !offers.is_empty()
        });
        self
    }

    /// Who sells a part and is not bought from, by name.
    pub(crate) fn elsewhere(&self, key: &PartKey) -> impl Iterator<Item = &str> {
        let names = self.elsewhere.get(key).into_iter().flatten();
        names.map(String::as_str).filter(|name| !name.is_empty())
    }

    /// Everyone who sells something, each once for each row.
    pub fn suppliers(&self) -> impl Iterator<Item = &str> {
        let offers = self.offers.values().flatten();
        offers.map(|offer| offer.supplier.as_str())
    }

    /// The systems under which a part of this kind and size stands.
    pub fn systems_of<'a>(&'a self, key: &'a PartKey) -> impl Iterator<Item = &'a str> {
        self.offers
            .keys()
            .filter(|known| known.part == key.part && known.size == key.size)
            .map(|known| known.system.as_str())
    }
}

fn read_one(
    number: usize,
    source: &Source,
    parts: &[Part],
    currency: Currency,
) -> (Vec<Offer>, Vec<Finding>) {
    let text = text_of(source);
    let mut columns = None;
    let mut offers = Vec::new();
    let mut findings = Vec::new();
    for record in records(source) {
        if is_blank(&record) {
            continue;
        }
        let line = line_of(&record, text, source);
        let span = source.line_span(line);
        match &columns {
            None => match Columns::read(&record, span) {
                Ok(read) => columns = Some(read),
                Err(found) => {
                    findings = found;
                    break;
                }
            },
            Some(columns) => {
                let place = Place {
                    source: number,
                    line,
                    file: source.name().to_owned(),
                };
                match row::read(&columns.of(&record), parts, currency, place, span) {
                    Ok(offer) => offers.push(offer),
                    Err(found) => findings.extend(found),
                }
            }
        }
    }
    if columns.is_none() && findings.is_empty() {
        findings.push(Finding::unreadable(
            "catalog-empty",
            source.line_span(1),
            "the catalog has no header line",
            "begin with a line that names the columns: part,size,price",
        ));
    }
    (offers, findings)
}

fn text_of(source: &Source) -> &str {
    source.text().trim_start_matches('\u{feff}')
}

/// The rows of a file, whose cells stand between commas or semicolons.
fn records(source: &Source) -> impl Iterator<Item = StringRecord> {
    let text = text_of(source);
    let first_line = text.lines().find(|line| !line.trim().is_empty());
    let semicolons = first_line.is_some_and(|line| line.contains(';') && !line.contains(','));
    // The text is UTF-8 and rows may have any length, so no record fails.
    csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(if semicolons { b';' } else { b',' })
        .from_reader(text.as_bytes())
        .into_records()
        .map_while(Result::ok)
}

fn is_blank(record: &StringRecord) -> bool {
    record.iter().all(|cell| cell.trim().is_empty())
}

/// The line where a record begins; its own place counts the blank lines before
/// it in.
pub(crate) fn line_of(record: &StringRecord, text: &str, source: &Source) -> usize {
    let start = record.position().map_or(0, csv::Position::byte);
    let rest = usize::try_from(start)
        .ok()
        .and_then(|start| text.get(start..))
        .unwrap_or_default();
    let row = rest.trim_start_matches(['\r', '\n']);
    source.line(source.text().len() - row.len())
}

#[cfg(test)]
mod tests;
