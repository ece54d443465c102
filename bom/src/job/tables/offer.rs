//! `[alternate.NAME]` and `[[option]]`: what is offered beside the job itself.

use super::main::system_named;
use crate::finding::Finding;
use crate::job::fields::{Entry, Fields, text_of, unknown_name};
use crate::job::read::Reader;
use crate::job::{Alternate, JobOption};
use crate::quantity::Size;
use toml::de::DeValue;

/// Outlets that are no part of the price.
pub(in crate::job) fn alternate(
    (name, value): Entry<'_>,
    outlets: &[String],
    r: &mut Reader<'_>,
) -> Option<Alternate> {
    let table = format!("[alternate.{}]", name.value);
    let fields = Fields::of(&table, value, &["text", "add"], &mut r.findings)?;
    fields.require(&[("add", "[\"store\"]")], &mut r.findings);
    let text = fields.text("text", &mut r.findings);
    let before = r.findings.len();
    let added = outlets_of(&fields, "add", outlets, r);
    if added.is_empty() && r.findings.len() == before && fields.value("add").is_some() {
        r.findings.push(Finding::unreadable(
            "empty-alternate",
            name.span,
            format!("the alternate `{}` adds nothing", name.value),
            "name its outlets: add = [\"store\"]",
        ));
    }
    Some(Alternate {
        text: text.map_or_else(String::new, |text| text.value.trim().to_owned()),
        outlets: added,
        name,
    })
}

/// An outlet is added by one alternate only.
pub(in crate::job) fn each_once(alternates: &[Alternate], r: &mut Reader<'_>) {
    for (at, alternate) in alternates.iter().enumerate() {
        for outlet in &alternate.outlets {
            let first = alternates[..at]
                .iter()
                .find(|one| one.outlets.contains(outlet));
            if let Some(first) = first {
                r.findings.push(
                    Finding::unreadable(
                        "outlet-in-two-alternates",
                        alternate.name.span,
                        format!("`{outlet}` is in two alternates, and would be paid twice"),
                        "keep it in one of them",
                    )
                    .related(first.name.span, "it is in this one too"),
                );
            }
        }
    }
}

/// The same work in another way, for the customer to choose.
pub(in crate::job) fn option(
    value: &toml::Spanned<DeValue<'_>>,
    outlets: &[String],
    r: &mut Reader<'_>,
) -> Option<JobOption> {
    const KNOWN: [&str; 4] = ["name", "system", "size", "leave_out"];
    let fields = Fields::of("[[option]]", value, &KNOWN, &mut r.findings)?;
    fields.require(&[("name", "\"A\"")], &mut r.findings);
    let name = fields.text("name", &mut r.findings).map(Reader::owned);
    let system = fields.text("system", &mut r.findings);
    let system = system.map(|text| system_named(text, r));
    let size = fields.quantity("size", Size::parse, &mut r.findings);
    let leave_out = outlets_of(&fields, "leave_out", outlets, r);
    Some(JobOption {
        name: name?,
        // A system that could not be read has been said.
        system: system.flatten(),
        size,
        leave_out,
    })
}

/// Options have names to be told apart by, and there are several.
pub(in crate::job) fn choosable(options: &[JobOption], r: &mut Reader<'_>) {
    for (at, option) in options.iter().enumerate() {
        let name = option.name.value.trim();
        let mut before = options[..at].iter();
        let first = before.find(|other| other.name.value.trim() == name);
        if name.is_empty() || first.is_some() {
            let finding = Finding::unreadable(
                "option-name",
                option.name.span,
                match first {
                    Some(_) => format!("two options are called `{name}`"),
                    None => "an option has no name".to_owned(),
                },
                "give each option a name of its own, like \"A\" and \"B\"",
            );
            r.findings.push(finding);
        }
    }
}

fn outlets_of(
    fields: &Fields<'_>,
    key: &str,
    outlets: &[String],
    r: &mut Reader<'_>,
) -> Vec<String> {
    let mut named = Vec::new();
    for item in fields.list(key, &mut r.findings) {
        let Some(text) = text_of(key, item, &mut r.findings) else {
            continue;
        };
        let name = text.value.to_owned();
        if !outlets.contains(&name) {
            let known: Vec<&str> = outlets.iter().map(String::as_str).collect();
            r.findings
                .push(unknown_name("outlet", text.value, text.span, &known));
        } else if !named.contains(&name) {
            named.push(name);
        }
    }
    named
}
