//! A page of HTML taken apart by hand: what a browser would forgive is wrong here.

use std::collections::BTreeSet;

/// Elements without an end.
const EMPTY: [&str; 2] = ["meta", "input"];

/// A page.
pub(super) struct Page {
    html: String,
    /// What is read of it: no tags, entities as what they stand for, single blanks.
    pub(super) text: String,
    tags: Vec<String>,
}

impl Page {
    pub(super) fn read(html: &str) -> Self {
        let body = without(
            &without(html, "<style>", "</style>"),
            "<script>",
            "</script>",
        );
        let (mut tags, mut text, mut rest) = (Vec::new(), String::new(), body.as_str());
        while let Some((before, after)) = rest.split_once('<') {
            let (tag, behind) = after.split_once('>').unwrap();
            text += before;
            if !INLINE.contains(&tag.trim_start_matches('/').split(' ').next().unwrap()) {
                text.push(' ');
            }
            assert!(!tag.contains('<'), "<{tag}>");
            tags.push(tag.to_owned());
            rest = behind;
        }
        text += rest;
        assert!(!text.contains('>'), "a bare >");
        let text = [
            ("&lt;", "<"),
            ("&gt;", ">"),
            ("&quot;", "\""),
            ("&amp;", "&"),
        ]
        .into_iter()
        .fold(text, |text, (entity, sign)| text.replace(entity, sign));
        let blank = |one: char| one == ' ' || one == '\n';
        let words: Vec<&str> = text.split(blank).filter(|word| !word.is_empty()).collect();
        Self {
            html: html.to_owned(),
            text: words.join(" "),
            tags,
        }
    }

    pub(super) fn says(&self, words: &str) -> bool {
        self.text.contains(words)
    }

    pub(super) fn count(&self, html: &str) -> usize {
        self.html.matches(html).count()
    }

    /// The values of an attribute.
    fn values(&self, name: &str) -> Vec<&str> {
        let before = format!(" {name}=\"");
        let found = self.tags.iter().filter_map(|tag| tag.split_once(&before));
        found
            .map(|(_, rest)| rest.split('"').next().unwrap())
            .collect()
    }

    /// Tags close in order, anchors are one of a kind, and whatever names one finds it;
    /// headings go down one order at a time, and nothing outside is named.
    pub(super) fn is_whole(&self) {
        let mut open: Vec<&str> = Vec::new();
        assert_eq!(self.tags[0], "!DOCTYPE html");
        for tag in &self.tags[1..] {
            let name = tag.trim_start_matches('/').split(' ').next().unwrap();
            if tag.starts_with('/') {
                assert_eq!(open.pop(), Some(name), "</{name}>");
            } else if !EMPTY.contains(&name) && !tag.ends_with('/') {
                open.push(name);
            }
            let quotes = tag.matches('"').count();
            assert!(quotes.is_multiple_of(2), "<{tag}>");
        }
        assert_eq!(open, Vec::<&str>::new());

        let ids = self.values("id");
        let known: BTreeSet<&str> = ids.iter().copied().collect();
        assert_eq!(ids.len(), known.len(), "an id stands twice");
        for link in self.values("href") {
            let target = link.strip_prefix('#').unwrap_or_else(|| panic!("{link}"));
            assert!(known.contains(target), "{link} leads nowhere");
        }
        for name in ["for", "aria-labelledby", "data-of"] {
            for target in self.values(name).iter().flat_map(|ids| ids.split(' ')) {
                assert!(known.contains(target), "{name} {target}");
            }
        }
        let boxes = self.tags.iter().filter(|tag| tag.starts_with("input "));
        assert_eq!(boxes.count(), self.values("for").len());

        let mut before = 0;
        for tag in &self.tags {
            let order = tag
                .strip_prefix('h')
                .and_then(|rest| rest.split(' ').next());
            if let Some(order) = order.and_then(|order| order.parse::<u8>().ok()) {
                assert!(order <= before + 1, "h{order} below h{before}");
                assert_eq!(order == 1, before == 0, "one h1, and that first");
                before = order;
            }
        }
        for outside in ["http:", "https:", "src=", "url(", "@import", "style=\""] {
            // The name of what SVG is is no address.
            let named = match outside {
                "http:" => self.count("xmlns=\"http:"),
                _ => 0,
            };
            assert_eq!(self.count(outside), named, "{outside}");
        }
    }
}

/// Elements that stand within a line.
const INLINE: [&str; 6] = ["a", "b", "span", "strong", "code", "output"];

/// The text without the first such element.
fn without(text: &str, from: &str, to: &str) -> String {
    let (before, rest) = text.split_once(from).unwrap_or((text, to));
    let (_, after) = rest.split_once(to).unwrap();
    format!("{before}{after}")
}
