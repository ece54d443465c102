//! Pipes that are never counted or priced, under every name that they go by,
//! and what is said of them.

use super::{Library, has_source, rows};
use crate::finding::Finding;
use crate::quantity::{Pressure, Temperature, Units};
use crate::source::Spanned;
use serde::Deserialize;

/// A pipe that is refused, and why.
#[derive(Debug, Clone)]
pub struct Refused {
    /// Its name in job files: `pvc`.
    pub name: String,
    /// What it is called on papers.
    pub words: String,
    /// Whether no grade of it is made for air. If not, a user's own system
    /// with its maker's statement may be of it.
    pub never: bool,
    /// What happens, in one line. With [`Self::why`] it is what papers say.
    pub happens: String,
    /// Why, in one line.
    pub why: String,
    /// What it is rated for when it carries water, coldest first.
    pub water: Vec<WaterRating>,
    /// Who has warned of it in public; empty where nobody has.
    pub bulletins: String,
    /// What to use instead.
    pub alternatives: String,
    /// Where the facts come from.
    pub source: String,
    aliases: Vec<Alias>,
}

/// A working pressure for water at one temperature. It is none for air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterRating {
    /// The pressure.
    pub pressure: Pressure,
    /// The temperature up to which it holds.
    pub temperature: Temperature,
}

/// The pressures that a job states for its supply.
#[derive(Debug, Clone, Copy, Default)]
pub struct Limits {
    /// Setting of the relief valve.
    pub relief: Option<Pressure>,
    /// Pressure at which the machine stops.
    pub cut_out: Option<Pressure>,
    /// How they print.
    pub units: Units,
}

/// One way of writing the name.
#[derive(Debug, Clone)]
enum Alias {
    /// `pe x`: these words, next to each other.
    Words(Vec<String>),
    /// `=pe`: nothing but this word.
    Whole(String),
    /// `*pvc*`: these letters inside a word.
    Inside(String),
}

impl Alias {
    fn read(text: &str) -> Self {
        match (text.strip_prefix('='), text.strip_prefix('*')) {
            (Some(word), _) => Self::Whole(word.to_owned()),
            (_, Some(letters)) => Self::Inside(letters.trim_end_matches('*').to_owned()),
            _ => Self::Words(words(text)),
        }
    }

    /// How many letters of the name it accounts for, if it is there.
    fn found_in(&self, name: &[String]) -> Option<usize> {
        match self {
            Self::Words(alias) => name
                .windows(alias.len().max(1))
                .any(|part| part == alias)
                .then(|| alias.iter().map(String::len).sum()),
            Self::Whole(alias) => (name.concat() == *alias).then_some(alias.len()),
            Self::Inside(alias) => name
                .iter()
                .any(|word| word.contains(alias.as_str()))
                .then_some(alias.len()),
        }
    }
}

/// The words and numbers of a name in small letters: `Sch40-PVC` is
/// `sch`, `40`, `pvc`.
fn words(name: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut before = None;
    for character in name.to_lowercase().chars() {
        let kind = (character.is_alphabetic(), character.is_numeric());
        match words.last_mut() {
            _ if kind == (false, false) => {}
            Some(word) if before == Some(kind) => word.push(character),
            _ => words.push(character.to_string()),
        }
        before = Some(kind);
    }
    words
}

impl Refused {
    /// What a job is told that asks for it under the name `written`.
    #[must_use]
    pub fn finding(&self, written: Spanned<&str>, limits: Limits) -> Finding {
        let name = written.value.trim();
        let at_any = if self.never { " at any pressure" } else { "" };
        let message = format!(
            "`{name}` is refused for compressed air{at_any}: {}",
            self.happens
        );
        let cure = format!("use {}", self.alternatives);
        self.told(written, message, &cure, limits)
    }

    /// What a job is told where it stands on the wall already.
    #[must_use]
    pub fn standing(&self, written: Spanned<&str>, limits: Limits) -> Finding {
        let name = written.value.trim();
        let message = format!(
            "the existing `{name}` must not carry compressed air: {}",
            self.happens
        );
        let cure = format!(
            "take it out of use and replace it: write the leg as new, of {}",
            self.alternatives
        );
        self.told(written, message, &cure, limits)
    }

    fn told(&self, written: Spanned<&str>, message: String, cure: &str, limits: Limits) -> Finding {
        let mut help = format!("{cure}; {}", self.why);
        if !self.bulletins.is_empty() {
            help.push_str("\nsee ");
            help.push_str(&self.bulletins);
        }
        Finding::error("pipe-not-for-air", written.span, message, help)
            .here(self.against(limits).unwrap_or_default())
    }

    /// Its rating for water beside the highest pressure that the job states:
    /// `its water rating is 160 psi at 73 F; the relief valve opens at 200
    /// psi`. None where one of them is not known.
    #[must_use]
    pub fn against(&self, limits: Limits) -> Option<String> {
        let (highest, words) = match (limits.relief, limits.cut_out) {
            (Some(relief), _) => (relief, "the relief valve opens"),
            (None, Some(cut_out)) => (cut_out, "the compressor stops"),
            (None, None) => return None,
        };
        // As far as the first temperature at which the pressure is above it.
        let to = self
            .water
            .iter()
            .position(|rating| rating.pressure < highest)
            .map_or(self.water.len(), |at| at + 1);
        let ratings = self.water.get(..to)?;
        if ratings.is_empty() {
            return None;
        }
        let ratings: Vec<String> = ratings
            .iter()
            .map(|rating| rating.show(limits.units))
            .collect();
        Some(format!(
            "its water rating is {}; {words} at {}",
            ratings.join(" and "),
            highest.show(limits.units)
        ))
    }
}

impl WaterRating {
    /// `160 psi at 73 F`, or `11 bar at 22.8 C` where the job is metric.
    #[must_use]
    pub fn show(&self, units: Units) -> String {
        format!(
            "{} at {}",
            self.pressure.show(units),
            self.temperature.show(units)
        )
    }

    fn read(text: &str) -> Result<Self, String> {
        let (pressure, temperature) = text
            .split_once(" at ")
            .ok_or_else(|| format!("refused.csv: `{text}` is not like `160 psi at 73 F`"))?;
        Ok(Self {
            pressure: Pressure::parse(pressure).map_err(|error| error.to_string())?,
            temperature: Temperature::parse(temperature).map_err(|error| error.to_string())?,
        })
    }
}

impl Library {
    /// The pipes that are refused.
    #[must_use]
    pub fn refused(&self) -> &[Refused] {
        &self.refused
    }

    /// What `name` means if it is a refused pipe, however it is written:
    /// `sch40-pvc`, `CPVC pipe`, `PE-X`. The longest of its names that fits
    /// decides.
    #[must_use]
    pub fn refused_for(&self, name: &str) -> Option<&Refused> {
        let name = words(name);
        self.refused
            .iter()
            .filter_map(|refused| {
                let aliases = refused.aliases.iter();
                let letters = aliases.filter_map(|alias| alias.found_in(&name)).max()?;
                Some((letters, refused))
            })
            .max_by_key(|(letters, _)| *letters)
            .map(|(_, refused)| refused)
    }
}

/// A row of `data/refused.csv`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    words: String,
    aliases: String,
    made_for_air: String,
    happens: String,
    why: String,
    water: String,
    bulletins: String,
    alternatives: String,
    source: String,
}

pub(super) fn read(text: &str) -> Result<Vec<Refused>, String> {
    rows::<Row>("refused.csv", text)?
        .into_iter()
        .map(Row::into_refused)
        .collect()
}

impl Row {
    fn into_refused(self) -> Result<Refused, String> {
        has_source("refused.csv", &self.name, &self.source)?;
        let never = match self.made_for_air.as_str() {
            "never" => true,
            "some" => false,
            other => return Err(format!("refused.csv: made_for_air is `{other}`")),
        };
        Ok(Refused {
            never,
            aliases: list(&self.aliases).map(Alias::read).collect(),
            water: list(&self.water)
                .map(WaterRating::read)
                .collect::<Result<_, _>>()?,
            name: self.name,
            words: self.words,
            happens: self.happens,
            why: self.why,
            bulletins: self.bulletins,
            alternatives: self.alternatives,
            source: self.source,
        })
    }
}

fn list(cell: &str) -> impl Iterator<Item = &str> {
    cell.split(';')
        .map(str::trim)
        .filter(|item| !item.is_empty())
}

#[cfg(test)]
mod tests {
    use super::Limits;
    use crate::library::Library;
    use crate::quantity::{Pressure, Units};
    use crate::source::{Span, Spanned};

    #[test]
    fn a_refused_pipe_is_known_under_any_name() {
        let library = Library::shipped().unwrap();
        for (written, name) in [
            ("pvc", "pvc"),
            ("sch40-pvc", "pvc"),
            ("Sch40PVC", "pvc"),
            ("uPVC", "pvc"),
            ("plastic_pvc", "pvc"),
            ("CPVC pipe", "cpvc"),
            ("c-pvc", "cpvc"),
            ("PVC-C", "cpvc"),
            ("ABS", "abs"),
            ("PEX", "pex"),
            ("PE-X", "pex"),
            ("pex-al-pex", "pex"),
            ("PE-RT", "pe-rt"),
            ("ppr", "ppr"),
            ("PP-R", "ppr"),
            ("PE", "hdpe"),
            ("pe100", "hdpe"),
            ("PE pipe", "hdpe"),
            ("HDPE", "hdpe"),
            ("polybutylene", "polybutylene"),
            ("PVDF", "pvdf"),
            ("garden hose", "garden-hose"),
            ("garden-hose", "garden-hose"),
            ("lead", "lead"),
        ] {
            let found = library.refused_for(written).map(|one| one.name.as_str());
            assert_eq!(found, Some(name), "{written}");
        }
        for fine in [
            "black-iron",
            "copper-l-soldered",
            "aluminium-push-fit",
            "lead-free brass",
            "apex",
            "steel, PE coated",
            "absolute",
            "",
        ] {
            assert!(library.refused_for(fine).is_none(), "{fine}");
        }
    }

    #[test]
    fn a_water_rating_is_held_against_the_relief_valve() {
        let library = Library::shipped().unwrap();
        let psi = |text| Some(Pressure::parse(text).unwrap());
        let said = |name, relief, cut_out, units| {
            let limits = Limits {
                relief,
                cut_out,
                units,
            };
            library.refused_for(name).unwrap().against(limits)
        };
        let feet = Units::Feet;
        for (relief, cut_out, words) in [
            (
                psi("200 psi"),
                psi("175 psi"),
                Some("its water rating is 160 psi at 73 F; the relief valve opens at 200 psi"),
            ),
            (
                None,
                psi("175 psi"),
                Some("its water rating is 160 psi at 73 F; the compressor stops at 175 psi"),
            ),
            // The pipe is full of warm air: the second figure counts.
            (
                psi("150 psi"),
                None,
                Some(
                    "its water rating is 160 psi at 73 F and 100 psi at 180 F; \
                     the relief valve opens at 150 psi",
                ),
            ),
            (None, None, None),
        ] {
            assert_eq!(said("pex", relief, cut_out, feet).as_deref(), words);
        }
        assert_eq!(
            said("pex", psi("12 bar"), None, Units::Metric).as_deref(),
            Some("its water rating is 11 bar at 22.8 C; the relief valve opens at 12 bar")
        );
        assert_eq!(said("pvc", psi("200 psi"), None, feet), None);
    }

    #[test]
    fn existing_pipe_is_to_be_replaced() {
        let library = Library::shipped().unwrap();
        let finding = library.refused_for("sch40-pvc").unwrap().standing(
            Spanned::new("sch40-pvc", Span::default()),
            Limits::default(),
        );
        assert!(finding.message.starts_with("the existing `sch40-pvc`"));
        assert!(
            finding
                .help
                .contains("replace it: write the leg as new, of steel")
        );
    }
}
