//! TOML tables with aligned keys and comments.

use std::fmt::Write as _;

/// Where comments behind values stand, if the value leaves room.
const COMMENTS: usize = 34;
/// As wide as lines of comments get.
const WIDE: usize = 92;

/// One table being written.
#[derive(Debug)]
pub(crate) struct Table {
    header: String,
    remark: String,
    rows: Vec<Row>,
}

#[derive(Debug)]
struct Row {
    /// Whether the value is not known: its line is a comment that shows an example.
    open: bool,
    key: &'static str,
    value: String,
    comment: String,
}

impl Table {
    /// A table under a header like `[main]`, with words behind it.
    pub(crate) fn new(header: impl Into<String>, remark: &str) -> Self {
        Self {
            header: header.into(),
            remark: one_line(remark),
            rows: Vec::new(),
        }
    }

    /// A line whose value is TOML already.
    pub(crate) fn raw(&mut self, key: &'static str, value: String, comment: &str) {
        self.rows.push(Row {
            open: false,
            key,
            value,
            comment: one_line(comment),
        });
    }

    /// A line with a text.
    pub(crate) fn text(&mut self, key: &'static str, text: &str, comment: &str) {
        self.raw(key, quoted(text), comment);
    }

    /// A line with a text, if there is one.
    pub(crate) fn maybe(&mut self, key: &'static str, text: Option<&String>, comment: &str) {
        if let Some(text) = text {
            self.text(key, text, comment);
        }
    }

    /// A line with a text, or how to write it once it is known.
    pub(crate) fn known_or(
        &mut self,
        key: &'static str,
        text: Option<&String>,
        example: &str,
        ask: &str,
    ) {
        match text {
            Some(text) => self.text(key, text, ""),
            None => self.example(key, quoted(example), ask),
        }
    }

    /// A line that shows how a value is written which nobody knows yet.
    pub(crate) fn example(&mut self, key: &'static str, value: String, ask: &str) {
        self.rows.push(Row {
            open: true,
            key,
            value,
            comment: one_line(ask),
        });
    }

    /// The same where nothing of the table is known.
    pub(crate) fn commented_out(mut self) -> String {
        self.header.insert_str(0, "# ");
        for row in &mut self.rows {
            row.open = true;
        }
        self.to_text()
    }

    pub(crate) fn to_text(&self) -> String {
        let wide = self.rows.iter().map(|row| row.key.len()).max().unwrap_or(0);
        let mut text = behind(&self.header, &self.remark);
        for row in &self.rows {
            let mark = if row.open { "# " } else { "" };
            let line = format!("{mark}{:<wide$} = {}", row.key, row.value);
            text += &behind(&line, &row.comment);
        }
        text
    }
}

/// A line with a comment behind it, in its column where there is room.
fn behind(line: &str, comment: &str) -> String {
    match comment {
        "" => format!("{line}\n"),
        comment => format!(
            "{line:<width$}# {comment}\n",
            width = COMMENTS.max(line.chars().count() + 2)
        ),
    }
}

/// Lines of comment.
pub(crate) fn comment(words: &str) -> String {
    let mut text = String::new();
    let mut line = String::from("#");
    for word in one_line(words).split(' ') {
        if line.len() > 1 && line.chars().count() + 1 + word.chars().count() > WIDE {
            text += &line;
            text.push('\n');
            line = String::from("#");
        }
        line.push(' ');
        line += word;
    }
    text += &line;
    text.push('\n');
    text
}

/// Words that stay on their line, whatever somebody typed.
fn one_line(words: &str) -> String {
    let plain = words.replace(char::is_control, " ");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A text in double quotes.
pub(crate) fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' => quoted += "\\\"",
            '\\' => quoted += "\\\\",
            '\n' => quoted += "\\n",
            '\t' => quoted += "\\t",
            letter if letter.is_control() => {
                // Writing to a text never fails.
                let _ = write!(quoted, "\\u{:04X}", u32::from(letter));
            }
            letter => quoted.push(letter),
        }
    }
    quoted + "\""
}

/// A name as a key: quoted unless it is letters, digits, dashes.
pub(crate) fn key(name: &str) -> String {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '-' | '_');
    match !name.is_empty() && name.chars().all(plain) {
        true => name.to_owned(),
        false => quoted(name),
    }
}

/// Texts as a list.
pub(crate) fn list<'a>(texts: impl IntoIterator<Item = &'a String>) -> String {
    let texts: Vec<String> = texts.into_iter().map(|text| quoted(text)).collect();
    format!("[{}]", texts.join(", "))
}
