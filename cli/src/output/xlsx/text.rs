//! Text as a cell can hold it, and the room that it takes.

/// The most characters of a cell.
const LONGEST: usize = 32_767;
/// As tall as a row can be, in lines.
pub(super) const MOST_LINES: u16 = 27;

/// How many lines a text takes in a column of so many digits.
pub(super) fn wrapped(text: &str, width: f64) -> u16 {
    // Letters are narrower than digits, on average: seen in print, no source.
    let room = width * 1.15;
    let mut lines: u16 = 0;
    for paragraph in text.lines() {
        lines = lines.saturating_add(1);
        let mut used = 0.0;
        for word in paragraph.split(' ') {
            let mut long = f64::from(u32::try_from(word.chars().count()).unwrap_or(u32::MAX));
            if used > 0.0 && used + 1.0 + long > room {
                lines = lines.saturating_add(1);
                used = 0.0;
            }
            while long > room && lines < MOST_LINES {
                lines += 1;
                long -= room;
            }
            used += 1.0 + long;
        }
    }
    lines
}

/// The text as a cell can hold it.
pub(super) fn kept(text: &str) -> String {
    let clean = |letter: &char| !letter.is_control() || *letter == '\n';
    let text: String = text.replace('\t', " ").chars().filter(clean).collect();
    if text.encode_utf16().count() <= LONGEST {
        return text;
    }
    // A character takes up to two of the units that are counted.
    let start = text.chars().take(LONGEST / 2 - 1);
    start.chain(['…']).collect()
}

#[cfg(test)]
mod tests {
    use super::{MOST_LINES, kept, wrapped};

    #[test]
    fn lines_are_counted_by_words_and_breaks() {
        assert_eq!(wrapped("", 10.0), 0);
        assert_eq!(wrapped("one two", 10.0), 1);
        assert_eq!(wrapped("one two three", 10.0), 2);
        assert_eq!(wrapped("one\ntwo\nthree", 10.0), 3);
        assert_eq!(wrapped(&"x".repeat(30), 10.0), 3);
        assert_eq!(wrapped(&"x".repeat(30_000), 10.0), MOST_LINES);
    }

    #[test]
    fn what_no_cell_holds_is_left_out() {
        assert_eq!(kept("a\tb\r\nc\u{7}"), "a b\nc");
        let long = kept(&"\u{1f527}".repeat(20_000));
        assert!(long.ends_with('…') && long.encode_utf16().count() <= 32_767);
    }
}
