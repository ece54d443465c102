//! Where a line is used, in few words.

use bom::takeoff::Use;

/// Names that are still listed one by one.
const NAMED: usize = 6;

/// `main 8; bench, router, press 2 each`; all outlets together are `every
/// outlet`.
pub(super) fn used(uses: &[Use], outlets: &[&str]) -> String {
    if let [only] = uses {
        return only.owner.clone();
    }
    let mut groups: Vec<(u64, Vec<&str>)> = Vec::new();
    for one in uses {
        match groups.iter_mut().find(|(count, _)| *count == one.count) {
            Some((_, names)) => names.push(&one.owner),
            None => groups.push((one.count, vec![&one.owner])),
        }
    }
    let groups = groups.into_iter().map(|(count, mut names)| {
        if outlets.len() > 2 && outlets.iter().all(|outlet| names.contains(outlet)) {
            names.retain(|name| !outlets.contains(name));
            names.push("every outlet");
        }
        let more = names.len().saturating_sub(NAMED);
        names.truncate(NAMED);
        let mut said = names.join(", ");
        if more > 0 {
            said += &format!(" and {more} more");
        }
        if names.len() > 1 {
            format!("{said} {count} each")
        } else {
            format!("{said} {count}")
        }
    });
    groups.collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::used;
    use bom::takeoff::Use;

    fn said(uses: &[(&str, u64)], outlets: &[&str]) -> String {
        let uses: Vec<Use> = uses
            .iter()
            .map(|(owner, count)| Use {
                owner: (*owner).to_owned(),
                count: *count,
            })
            .collect();
        used(&uses, outlets)
    }

    #[test]
    fn equal_counts_are_named_together() {
        let outlets = ["a", "b", "c"];
        for (uses, words) in [
            (&[][..], ""),
            (&[("main", 8)], "main"),
            (&[("main", 8), ("a", 2), ("c", 2)], "main 8; a, c 2 each"),
            (
                &[("main", 8), ("a", 2), ("b", 2), ("c", 2)],
                "main 8; every outlet 2",
            ),
            (
                &[("main", 2), ("a", 2), ("b", 2), ("c", 2), ("spare", 1)],
                "main, every outlet 2 each; spare 1",
            ),
            (
                &[
                    ("d", 1),
                    ("e", 1),
                    ("f", 1),
                    ("g", 1),
                    ("h", 1),
                    ("i", 1),
                    ("j", 1),
                    ("k", 1),
                ],
                "d, e, f, g, h, i and 2 more 1 each",
            ),
        ] {
            assert_eq!(said(uses, &outlets), words);
        }
    }

    #[test]
    fn two_outlets_keep_their_names() {
        assert_eq!(said(&[("a", 1), ("b", 1)], &["a", "b"]), "a, b 1 each");
    }
}
