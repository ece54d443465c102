//! The `[[rating]]` rows of a system's data file.

use super::rules::{ByTemperature, Rule, Tube};
use crate::quantity::{Length, Size, Temperature};
use crate::system::SizeRow;
use serde::Deserialize;

/// What of a system a rating is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Item {
    /// Pipe, nipples and tube.
    Pipe,
    /// Fittings.
    Fitting,
    /// What is soldered, brazed, pressed or pushed between them.
    Joint,
}

/// A published rating: of what, up to which temperature, and who says so.
#[derive(Debug, Clone, Deserialize)]
#[serde(try_from = "Row")]
pub struct Rating {
    /// What it is for.
    pub item: Item,
    /// What it is for, in words.
    pub words: String,
    /// How it is worked out.
    pub rule: Rule,
    /// Smallest and largest size that it holds for; none means every size.
    pub sizes: Option<(Size, Size)>,
    /// The alloy of the joint that it holds for; none means any.
    pub alloy: Option<String>,
    /// Whether it is another published view: printed, never used.
    pub shown: bool,
    /// Who says so.
    pub source: String,
}

impl Rating {
    /// Whether it says anything about this size.
    #[must_use]
    pub fn covers(&self, size: Size) -> bool {
        self.sizes
            .is_none_or(|(smallest, largest)| smallest <= size && size <= largest)
    }

    /// Psi that this size may carry at a temperature. None outside the sizes of
    /// the row, above its last temperature, and for tube without the figures
    /// that the rule asks for.
    #[must_use]
    pub fn at(&self, size: Size, tube: &Tube, temperature: Temperature) -> Option<f64> {
        self.rule
            .psi(tube, temperature)
            .filter(|_| self.covers(size))
    }

    /// Every temperature of the row with the psi that a size may carry up to
    /// it; nothing for a size that it does not cover.
    #[must_use]
    pub fn by_temperature(&self, row: &SizeRow) -> Vec<(Temperature, f64)> {
        let tube = Tube::of(row);
        self.rule
            .temperatures()
            .filter_map(|up_to| Some((up_to, self.at(row.size, &tube, up_to)?)))
            .collect()
    }
}

/// A row as it is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    item: Item,
    words: String,
    rule: Name,
    sizes: Option<[Size; 2]>,
    stress_psi: Option<Vec<(i32, f64)>>,
    corrosion: Option<Length>,
    psi: Option<Vec<(i32, f64)>>,
    alloy: Option<String>,
    view: Option<View>,
    made_for_air: Option<String>,
    source: String,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Name {
    ThreadedSteel,
    PlainSteel,
    DrawnTube,
    Stated,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum View {
    Shown,
}

impl TryFrom<Row> for Rating {
    type Error = String;

    fn try_from(row: Row) -> Result<Self, String> {
        let wrong = |what: &str| format!("rating `{}`: {what}", row.words);
        if row.words.trim().is_empty() {
            return Err("a rating has no words".to_owned());
        }
        if row.source.trim().is_empty() {
            return Err(wrong("no source"));
        }
        if row.alloy.is_some() && row.item != Item::Joint {
            return Err(wrong("only a joint has an alloy"));
        }
        let sizes = match row.sizes {
            None => None,
            Some([smallest, largest]) if smallest <= largest => Some((smallest, largest)),
            Some(_) => return Err(wrong("the larger size stands first")),
        };
        let stress = row.stress_psi.map(|rows| rising("stress_psi", &rows));
        let stated = row.psi.map(|rows| rising("psi", &rows));
        let (stress, stated) = (
            stress.transpose().map_err(|what| wrong(&what))?,
            stated.transpose().map_err(|what| wrong(&what))?,
        );
        let rule = match (row.rule, stress, stated, row.corrosion) {
            (Name::ThreadedSteel, Some(stress), None, Some(corrosion)) => {
                Rule::ThreadedSteel { stress, corrosion }
            }
            (Name::PlainSteel, Some(stress), None, corrosion) => Rule::PlainSteel {
                stress,
                corrosion: corrosion.unwrap_or_default(),
            },
            (Name::DrawnTube, Some(stress), None, None) => Rule::DrawnTube { stress },
            (Name::Stated, None, Some(psi), None) => Rule::Stated { psi },
            (Name::ThreadedSteel, ..) => return Err(wrong("give `stress_psi` and `corrosion`")),
            (Name::PlainSteel, ..) => return Err(wrong("give `stress_psi`, perhaps `corrosion`")),
            (Name::DrawnTube, ..) => return Err(wrong("give `stress_psi` and nothing else")),
            (Name::Stated, ..) => return Err(wrong("give `psi` and nothing else")),
        };
        Ok(Self {
            item: row.item,
            words: row.words,
            rule,
            sizes,
            alloy: row.alloy,
            shown: row.view.is_some(),
            source: match row.made_for_air {
                Some(statement) => format!("{}; {statement}", row.source),
                None => row.source,
            },
        })
    }
}

/// Figures by temperature as a row gives them: degrees Fahrenheit that rise,
/// and figures above zero.
fn rising(key: &str, rows: &[(i32, f64)]) -> Result<ByTemperature, String> {
    if rows.is_empty() {
        return Err(format!("`{key}` is empty"));
    }
    if rows.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
        return Err(format!("the temperatures of `{key}` do not rise"));
    }
    if rows
        .iter()
        .any(|(_, figure)| !figure.is_finite() || *figure <= 0.0)
    {
        return Err(format!("`{key}` has a figure that is not above zero"));
    }
    let rows = rows
        .iter()
        .map(|(f, figure)| (Temperature::from_fahrenheit(*f), *figure));
    Ok(ByTemperature(rows.collect()))
}

#[cfg(test)]
mod tests {
    use super::Rating;

    fn read(row: &str) -> Result<Rating, String> {
        toml::from_str(row).map_err(|error| error.message().to_owned())
    }

    const GOOD: &str = r#"
        item = "pipe"
        words = "pipe, threaded"
        rule = "threaded-steel"
        sizes = ["1/4in", "2in"]
        stress_psi = [[100, 6800], [400, 6800.5]]
        corrosion = "0.025in"
        source = "a handbook"
    "#;

    #[test]
    fn a_row_is_read_or_says_what_it_lacks() {
        let rating = read(GOOD).unwrap();
        assert!(!rating.shown);
        assert!(read(&format!("{GOOD}view = \"shown\"")).unwrap().shown);
        for (from, to, message) in [
            ("a handbook", " ", "rating `pipe, threaded`: no source"),
            ("pipe, threaded", "", "a rating has no words"),
            (
                "[400,",
                "[100,",
                "rating `pipe, threaded`: the temperatures of `stress_psi` do not rise",
            ),
            (
                "6800]",
                "0]",
                "rating `pipe, threaded`: `stress_psi` has a figure that is not above zero",
            ),
            (
                "[[100, 6800], [400, 6800.5]]",
                "[]",
                "rating `pipe, threaded`: `stress_psi` is empty",
            ),
            (
                "corrosion = \"0.025in\"",
                "",
                "rating `pipe, threaded`: give `stress_psi` and `corrosion`",
            ),
            (
                "threaded-steel",
                "stated",
                "rating `pipe, threaded`: give `psi` and nothing else",
            ),
            (
                "threaded-steel",
                "drawn-tube",
                "rating `pipe, threaded`: give `stress_psi` and nothing else",
            ),
            (
                "corrosion = \"0.025in\"",
                "corrosion = \"0.025in\"\nalloy = \"95-5\"",
                "rating `pipe, threaded`: only a joint has an alloy",
            ),
            (
                "[\"1/4in\", \"2in\"]",
                "[\"2in\", \"1/4in\"]",
                "rating `pipe, threaded`: the larger size stands first",
            ),
        ] {
            assert_eq!(read(&GOOD.replace(from, to)).unwrap_err(), message, "{to}");
        }
        let mistyped = read(&GOOD.replace("corrosion", "corosion")).unwrap_err();
        assert!(
            mistyped.starts_with("unknown field `corosion`"),
            "{mistyped}"
        );
    }
}
