//! Pipe systems of the user's own, read beside the shipped ones.

use super::Library;
use super::refused::Limits;
use crate::finding::{Finding, Severity, did_you_mean};
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
        return Err(syntax_findings(source, &errors));
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
                finding.help.push_str(" If yours is made for air: ");
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

const STATE_IT: &str = "write metal = \"plastic\" and a [[rating]] with item = \"pipe\", \
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

/// What the reader of systems says, at its place; what concerns the whole
/// points at the name.
fn broken(document: &DeTable<'_>, error: ReadError) -> Finding {
    let name = text(document, "name").map_or_else(Span::default, |name| name.span);
    // The reader sets names in backticks: the wrong one, then those it knows.
    let mut names = error.message.split('`').skip(1).step_by(2);
    let near = names.next().and_then(|wrong| did_you_mean(wrong, names));
    let help = "the form of a pipe system is that of the shipped ones";
    Finding::unreadable(
        "system-file",
        error.span.unwrap_or(name),
        error.message.replace("field", "key"),
        match near {
            Some(near) => format!("did you mean `{near}`? {help}"),
            None => help.to_owned(),
        },
    )
}
