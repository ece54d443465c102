//! `[accept]`: findings that the user has read and takes, with the reason.

use crate::finding::Finding;
use crate::job::Accepted;
use crate::job::fields::{Entry, text_of, unknown_name};
use crate::job::read::Reader;
use crate::practice::RULES;

pub(in crate::job) fn accepted((rule, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Accepted> {
    if !RULES.iter().any(|known| known.name == rule.value) {
        let known = RULES.map(|known| known.name);
        r.findings.push(unknown_name(
            "rule of good practice",
            &rule.value,
            rule.span,
            &known,
        ));
        return None;
    }
    let text = text_of(&rule.value, value, &mut r.findings)?;
    let reason = text.value.trim();
    if reason.is_empty() {
        r.findings.push(Finding::unreadable(
            "accepted-without-reason",
            text.span,
            format!("nothing says why `{}` is taken as it is", rule.value),
            "write the reason: it stands on the papers beside the finding",
        ));
        return None;
    }
    Some(Accepted {
        reason: reason.to_owned(),
        rule,
    })
}
