//! The page around the sections.

use super::Report;
use super::pieces::Section;
use crate::output::words;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use sha2::{Digest, Sha256};

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("script.js");

/// What stands on every paper.
const HAZARD: &str =
    "Compressed air can hurt people. Local codes and licensed practice come first.";

pub(super) fn page(report: &Report<'_>, sections: &[Section]) -> Markup {
    let shop = report.shop;
    let summary = &report.plan.summary;
    let day = words::day(shop.date);
    let revision = words::labelled("Revision", &summary.revision);
    let marks = words::joined(&[&revision, &shop.fingerprint, &day], " · ");
    html! {
        (DOCTYPE)
        html lang="en" data-mark=(shop.fingerprint) {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy());
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (summary.title) " – job report" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                a.skip href="#report" { "Skip to the report" }
                header {
                    p.kind { "Job report" }
                    h1 { (summary.title) }
                    dl.marks {
                        @if !summary.customer.is_empty() {
                            div { dt { "For" } dd { (summary.customer) } }
                        }
                        @if !summary.revision.is_empty() {
                            div { dt { "Revision" } dd { (summary.revision) } }
                        }
                        div { dt { "Date" } dd { (day) } }
                        div { dt { "Layout" } dd { (shop.fingerprint) } }
                    }
                    p.hazard { strong { (HAZARD) } }
                }
                nav aria-label="Sections" {
                    ul {
                        @for section in sections {
                            li { a href={ "#" (section.id) } { (section.title) } }
                        }
                    }
                }
                main id="report" tabindex="-1" {
                    @for section in sections {
                        section id=(section.id) aria-labelledby={ (section.id) "-head" } {
                            h2 id={ (section.id) "-head" } { (section.title) }
                            (section.body)
                        }
                    }
                }
                footer {
                    p { (summary.title) " · " (marks) }
                    p.kept hidden { "What you tick is kept in this browser, for this layout and these prices. Nothing is sent anywhere." }
                    p.not-kept hidden { "This browser keeps no ticks for a file: they are gone when the page is closed. Print it to keep them." }
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    }
}

/// Nothing may be fetched, and no style or script runs but the page's own two.
fn policy() -> String {
    format!(
        "default-src 'none'; style-src '{}'; script-src '{}'; base-uri 'none'; form-action 'none'",
        digest(STYLE),
        digest(SCRIPT)
    )
}

fn digest(text: &str) -> String {
    let hash: [u8; 32] = Sha256::digest(text).into();
    format!("sha256-{}", base64(&hash))
}

/// Base64 of RFC 4648, section 4.
pub(super) fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for three in bytes.chunks(3) {
        let mut group = [0; 3];
        group[..three.len()].copy_from_slice(three);
        let [a, b, c] = group.map(usize::from);
        let signs = [
            a >> 2,
            (a & 3) << 4 | b >> 4,
            (b & 15) << 2 | c >> 6,
            c & 63,
        ];
        for (at, sign) in signs.into_iter().enumerate() {
            let filled = at > three.len();
            text.push(if filled { '=' } else { char::from(SIGNS[sign]) });
        }
    }
    text
}
