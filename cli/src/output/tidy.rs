//! A job file laid out evenly: equals signs and comments in columns, one empty line above
//! each table. What it says, and every comment, stays.

use toml_edit::{Decor, DocumentMut, Item, Key, Table, Value};

/// Between the longest commented line and its comment.
const BEFORE_COMMENT: usize = 2;
/// Lines longer than this keep their comment close behind them and push no other's out.
const LONGEST: usize = 40;

/// The text laid out; none where it is no TOML.
#[must_use]
pub fn tidy(text: &str) -> Option<String> {
    let lines = text.replace("\r\n", "\n");
    let mut document: DocumentMut = lines.parse().ok()?;
    let trailing = document.trailing().as_str().unwrap_or_default();
    let trailing = above(&format!("{trailing}\n"));
    let mut widths = Vec::new();
    measure(document.as_table(), "", &mut widths);
    let widths = widths.into_iter().filter(|width| *width <= LONGEST);
    let mut layout = Layout {
        column: widths.max().unwrap_or(0) + BEFORE_COMMENT,
        first: true,
    };
    layout.table(document.as_table_mut(), "");
    document.set_trailing(trailing.trim_end());
    let mut tidied = document.to_string().trim_end().to_owned();
    tidied.push('\n');
    Some(if text.contains("\r\n") {
        tidied.replace('\n', "\r\n")
    } else {
        tidied
    })
}

/// How long the lines are that have a comment behind them.
fn measure(table: &Table, path: &str, widths: &mut Vec<usize>) {
    let widest = widest_key(table);
    for (name, item) in table.iter() {
        let key = table.key(name).map_or_else(String::new, key_text);
        match item {
            Item::Value(value) if is_commented(value.decor()) => {
                widths.extend(one_line(value).map(|length| widest + EQUALS + length));
            }
            Item::Table(below) => {
                let path = below_path(path, &key);
                if is_commented(below.decor()) {
                    widths.push(header(&path, 1));
                }
                measure(below, &path, widths);
            }
            Item::ArrayOfTables(list) => {
                let path = below_path(path, &key);
                for below in list.iter() {
                    if is_commented(below.decor()) {
                        widths.push(header(&path, 2));
                    }
                    measure(below, &path, widths);
                }
            }
            Item::Value(_) | Item::None => {}
        }
    }
}

/// The equals sign between spaces.
const EQUALS: usize = 3;

/// How wide a header is with so many brackets.
fn header(path: &str, brackets: usize) -> usize {
    path.chars().count() + 2 * brackets
}

fn below_path(path: &str, key: &str) -> String {
    if path.is_empty() {
        key.to_owned()
    } else {
        format!("{path}.{key}")
    }
}

fn key_text(key: &Key) -> String {
    key.display_repr().into_owned()
}

fn widest_key(table: &Table) -> usize {
    let rows = table.iter().filter(|(_, item)| item.is_value());
    let keys = rows.filter_map(|(name, _)| table.key(name));
    keys.map(|key| key_text(key).chars().count())
        .max()
        .unwrap_or(0)
}

/// How long a value is that stands on one line.
fn one_line(value: &Value) -> Option<usize> {
    let text = value.clone().decorated("", "").to_string();
    (!text.contains('\n')).then(|| text.chars().count())
}

fn is_commented(decor: &Decor) -> bool {
    text_of(decor, false).contains('#')
}

struct Layout {
    /// Where comments behind lines begin.
    column: usize,
    /// Until something stands in the file.
    first: bool,
}

impl Layout {
    /// Lays out a table and those below it.
    fn table(&mut self, table: &mut Table, path: &str) {
        self.rows(table);
        for (key, item) in table.iter_mut() {
            let path = below_path(path, &key.display_repr());
            match item {
                Item::Table(below) => self.headed(below, &path, 1),
                Item::ArrayOfTables(list) => {
                    list.iter_mut()
                        .for_each(|below| self.headed(below, &path, 2));
                }
                Item::None | Item::Value(_) => {}
            }
        }
    }

    fn headed(&mut self, below: &mut Table, path: &str, brackets: usize) {
        // A table that is only the name of others has no line of its own.
        if !below.is_implicit() && !below.is_dotted() {
            let comments = above(text_of(below.decor(), true));
            let comments = comments.trim_start_matches('\n');
            let empty = if self.first { "" } else { "\n" };
            let comment = self.behind(below.decor(), Some(header(path, brackets)));
            below.decor_mut().set_prefix(format!("{empty}{comments}"));
            below.decor_mut().set_suffix(comment);
            self.first = false;
        }
        self.table(below, path);
    }

    /// Lays out the lines of a table that hold values.
    fn rows(&mut self, table: &mut Table) {
        let widest = widest_key(table);
        for (mut key, item) in table.iter_mut() {
            let Item::Value(value) = item else { continue };
            let width = key.display_repr().chars().count();
            let mut comments = above(text_of(key.leaf_decor(), true));
            if self.first {
                comments = comments.trim_start_matches('\n').to_owned();
            }
            key.leaf_decor_mut().set_prefix(comments);
            key.leaf_decor_mut()
                .set_suffix(" ".repeat(widest.saturating_sub(width) + 1));
            self.first = false;
            let length = one_line(value).map(|length| widest + EQUALS + length);
            let comment = self.behind(value.decor(), length);
            value.decor_mut().set_prefix(" ");
            value.decor_mut().set_suffix(comment);
        }
    }

    /// The comment behind a line of this length.
    fn behind(&self, decor: &Decor, length: Option<usize>) -> String {
        let comment = text_of(decor, false).trim();
        if comment.is_empty() {
            return String::new();
        }
        let gap = self.column.saturating_sub(length.unwrap_or(self.column));
        format!("{}{comment}", " ".repeat(gap.max(BEFORE_COMMENT)))
    }
}

fn text_of(decor: &Decor, prefix: bool) -> &str {
    let text = if prefix {
        decor.prefix()
    } else {
        decor.suffix()
    };
    text.and_then(|text| text.as_str()).unwrap_or_default()
}

/// The comments above a line, without ends of lines and no two empty lines together.
fn above(text: &str) -> String {
    // What stands behind the last end of a line only sets the next one in.
    let Some((whole, _)) = text.rsplit_once('\n') else {
        return String::new();
    };
    let mut kept = String::new();
    let mut empty = false;
    for line in whole.split('\n').map(str::trim) {
        if line.is_empty() && empty {
            continue;
        }
        empty = line.is_empty();
        kept.push_str(line);
        kept.push('\n');
    }
    kept
}
