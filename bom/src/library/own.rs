//! Pipe systems of the user's own, read beside the shipped ones.

use super::Library;
use super::refused::Limits;
use crate::finding::{Finding, Severity};
use crate::job::{syntax_findings, unknown_name};
use crate::source::{Source, Span, Spanned};
use crate::system::{Joint, ReadError, System};
use toml::de::{DeTable, DeValue};

impl Library {
    /// The same data with the user's own systems behind the shipped ones.
    ///
    /// # Errors
    /// Everything that is wrong with the files, each with the index of its
    /// file: a form that cannot be read, a name that is taken, a pipe that is
    /// not for air.
    pub fn with_systems(mut self, sources: &[Source]) -> Result<Self, Vec<(usize, Finding)>> {
        let mut wrong = Vec::new();
        for (index, source) in sources.iter().enumerate() {
            match read(source, &self) {
                Ok(system) => self.systems.push(system),
                Err(findings) => {
                    wrong.extend(findings.into_iter().map(|finding| (index, finding)));
                }
            }
        }
        if wrong.is_empty() {
            Ok(self)
        } else {
            Err(wrong)
        }
    }
}

fn read(source: &Source, library: &Library) -> Result<System, Vec<Finding>> {
    let (document, errors) = DeTable::parse_recoverable(source.text());
    if !errors.is_empty() {
        // One bracket that is not closed spoils every line behind it.
        let mut findings = syntax_findings(source, &errors);
        findings.truncate(1);
        return Err(findings);
    }
    let document = document.get_ref();
    let mut findings = Vec::new();
    findings.extend(taken(document, library));
    findings.extend(without_threads(document, library));
    findings.extend(not_for_air(document, library));
    let system = System::parse(source.text()).map_err(|error| broken(document, error));
    match system {
        Ok(system) if findings.is_empty() => Ok(system),
        Ok(_) => Err(findings),
        Err(finding) => {
            findings.push(finding);
            findings.sort_by_key(Finding::place);
            Err(findings)
        }
    }
}

/// A text of the file and its place.
fn text<'a>(table: &'a DeTable<'_>, key: &str) -> Option<Spanned<&'a str>> {
    let (_, value) = table.iter().find(|(known, _)| known.get_ref() == key)?;
    match value.get_ref() {
        DeValue::String(text) => Some(Spanned::new(text.as_ref(), value.span().into())),
        _ => None,
    }
}

fn taken(document: &DeTable<'_>, library: &Library) -> Option<Finding> {
    let name = text(document, "name")?;
    if name.value.is_empty() || name.value.contains(char::is_whitespace) {
        return Some(Finding::unreadable(
            "system-name",
            name.span,
            format!("`{}` cannot be a system's name", name.value),
            "write one word of letters, figures and hyphens, like \"river-tube\"",
        ));
    }
    let known = library.systems.iter().any(|one| one.name == name.value);
    known.then(|| {
        Finding::unreadable(
            "name-taken",
            name.span,
            format!("there is a pipe system `{}` already", name.value),
            "an own system replaces none: give it another name",
        )
    })
}

fn without_threads(document: &DeTable<'_>, library: &Library) -> Option<Finding> {
    let threads = text(document, "threads")?;
    let threaded = library.systems.iter();
    let threaded = threaded.filter(|one| one.joint == Joint::Threaded);
    let names: Vec<&str> = threaded.map(|one| one.name.as_str()).collect();
    let known = names.contains(&threads.value);
    (!known).then(|| unknown_name("threaded system", threads.value, threads.span, &names))
}

/// Pipe that is not for air is refused by its name. Where grades of it are
/// made for air, and for every other plastic, its maker must have said so.
fn not_for_air(document: &DeTable<'_>, library: &Library) -> Option<Finding> {
    let metal = text(document, "metal").filter(|metal| metal.value == "plastic");
    let stated = metal.is_some() && is_stated_for_air(document);
    let named = ["name", "title", "material"].into_iter().find_map(|key| {
        let text = text(document, key)?;
        Some((text, library.refused_for(text.value)?))
    });
    match (named, metal) {
        (Some((_, refused)), _) if stated && !refused.never => None,
        (Some((text, refused)), _) => {
            let mut finding = refused.finding(text, Limits::default());
            finding.severity = Severity::Unreadable;
            if !refused.never {
                finding
                    .help
                    .push_str("\nif yours is made for air, write metal = \"plastic\", and ");
                finding.help.push_str(STATE_IT);
            }
            Some(finding)
        }
        (None, Some(metal)) if !stated => Some(Finding::unreadable(
            "no-air-rating",
            metal.span,
            "pipe of plastic with no rating for air: a rating for water is none for air",
            STATE_IT,
        )),
        (None, _) => None,
    }
}

const STATE_IT: &str = "add a [[rating]] with item = \"pipe\", \
    rule = \"stated\", its psi by temperature, and made_for_air = \"what its maker states, with \
    the date\"";

/// Whether a rating of the pipe carries its maker's dated statement.
fn is_stated_for_air(document: &DeTable<'_>) -> bool {
    let ratings = document.iter().find(|(key, _)| key.get_ref() == "rating");
    let Some(DeValue::Array(ratings)) = ratings.map(|(_, value)| value.get_ref()) else {
        return false;
    };
    ratings.iter().any(|rating| {
        let DeValue::Table(rating) = rating.get_ref() else {
            return false;
        };
        let says = |key, word| text(rating, key).is_some_and(|text| text.value == word);
        says("item", "pipe")
            && says("rule", "stated")
            && text(rating, "made_for_air").is_some_and(|text| has_year(text.value))
    })
}

fn has_year(text: &str) -> bool {
    text.split(|letter: char| !letter.is_ascii_digit())
        .any(|figures| figures.len() == 4)
}

/// What the reader of systems says, at its place.
fn broken(document: &DeTable<'_>, error: ReadError) -> Finding {
    let span = error
        .span
        .or_else(|| row_named(document, &error.message))
        .or_else(|| text(document, "name").map(|name| name.span))
        .unwrap_or_default();
    // The reader sets names in backticks: the wrong one, then those it knows.
    let mut names = error.message.split('`').skip(1).step_by(2);
    let wrong = names.next().unwrap_or_default();
    let known: Vec<&str> = names.collect();
    match error.message.split(' ').next() {
        Some("unknown") if error.message.contains("field") => {
            unknown_name("key", wrong, span, &known)
        }
        Some("unknown") => unknown_name("choice", wrong, span, &known),
        Some("missing") => Finding::unreadable(
            "missing-key",
            span,
            format!("`{wrong}` is missing here"),
            format!("add `{wrong} = …`; {FORM}"),
        ),
        _ => {
            let message = error.message.replace("invalid type:", "wrong form:");
            let message = message.replace("expected a string", "expected text in quotes");
            Finding::unreadable("system-file", span, message, FORM)
        }
    }
}

const FORM: &str = "lengths and sizes are text in quotes with their unit, and every row says its \
    source; the shipped systems are the pattern";

/// The place of the row that a message speaks of: `30mm has no fitting row`.
fn row_named(document: &DeTable<'_>, message: &str) -> Option<Span> {
    let words: Vec<&str> = message
        .split(|letter: char| letter.is_whitespace() || "`:,;".contains(letter))
        .collect();
    let rows_of = |key: &str| {
        let (_, rows) = document.iter().find(|(known, _)| known.get_ref() == key)?;
        match rows.get_ref() {
            DeValue::Array(rows) => Some(rows),
            _ => None,
        }
    };
    let mut tables = words.iter().copied().chain(["pipe"]).filter_map(rows_of);
    tables.find_map(|rows| {
        let named = rows.iter().find(|row| match row.get_ref() {
            DeValue::Table(row) => ["size", "outside", "tube", "main", "part"]
                .into_iter()
                .filter_map(|key| text(row, key))
                .any(|text| words.contains(&text.value)),
            _ => false,
        });
        named.map(|row| row.span().into())
    })
}

#[cfg(test)]
mod tests {
    use crate::library::Library;
    use crate::source::Source;

    const RIVER: &str = include_str!("../../../tests/systems/river-tube.toml");

    fn with(texts: &[String]) -> Result<Library, Vec<(usize, &'static str)>> {
        let sources: Vec<Source> = texts
            .iter()
            .map(|text| Source::new("own.toml", text.as_str()))
            .collect();
        let library = Library::shipped().unwrap().with_systems(&sources);
        library.map_err(|found| {
            found
                .into_iter()
                .map(|(at, finding)| (at, finding.rule))
                .collect()
        })
    }

    #[test]
    fn own_systems_stand_behind_the_shipped_ones() {
        let shipped = Library::shipped().unwrap();
        let second = RIVER.replace("\"river-tube\"", "\"river-tube-2\"");
        let library = with(&[RIVER.to_owned(), second]).unwrap();
        let names = |library: &Library| -> Vec<String> {
            let systems = library.systems().iter();
            systems.map(|system| system.name.clone()).collect()
        };
        let mut wanted = names(&shipped);
        wanted.extend(["river-tube".to_owned(), "river-tube-2".to_owned()]);
        assert_eq!(names(&library), wanted);
    }

    #[test]
    fn two_own_systems_cannot_have_one_name() {
        let twice = [RIVER.to_owned(), RIVER.to_owned()];
        assert_eq!(with(&twice).unwrap_err(), [(1, "name-taken")]);
    }

    #[test]
    fn a_ductile_plastic_needs_its_makers_statement() {
        let plastic = RIVER.replace("\"aluminium\"", "\"plastic\"");
        assert_eq!(
            with(std::slice::from_ref(&plastic)).unwrap_err(),
            [(0, "no-air-rating")]
        );
        let stated = plastic.replace(
            "psi    = [[160, 232]]",
            "psi    = [[160, 232]]\nmade_for_air = \"data sheet of 2026-05-04\"",
        );
        assert!(with(std::slice::from_ref(&stated)).is_ok());
        // Of PEX too, and never of PVC.
        for (material, rules) in [("PEX", None), ("uPVC", Some([(0, "pipe-not-for-air")]))] {
            let text = stated.replace("= \"river\"", &format!("= \"{material}\""));
            assert_eq!(
                with(&[text]).err(),
                rules.map(|rules| rules.to_vec()),
                "{material}"
            );
        }
    }
}
