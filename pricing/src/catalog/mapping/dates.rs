//! How a sheet writes its dates, and sizes that became dates.

use jiff::civil::Date;

/// The order of day, month and year, and what stands between them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct DateForm {
    order: [Field; 3],
    /// None where the figures stand close together, like `20261001`.
    between: Option<char>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Field {
    Day,
    Month,
    Year,
}

impl DateForm {
    /// Reads `DD.MM.YYYY`, `MM/DD/YYYY`, `YYYYMMDD` and the like; none if a
    /// field is missing or stands twice.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let between = text.chars().find(|c| !c.is_ascii_alphabetic());
        let words: Vec<&str> = match between {
            Some(between) => text.split(between).collect(),
            None => [0..4, 4..6, 6..8]
                .into_iter()
                .map(|range| text.get(range))
                .collect::<Option<_>>()
                .filter(|_| text.len() == 8)?,
        };
        let fields: Option<Vec<Field>> = words
            .into_iter()
            .map(|word| match word {
                "DD" | "D" => Some(Field::Day),
                "MM" | "M" => Some(Field::Month),
                "YYYY" => Some(Field::Year),
                _ => None,
            })
            .collect();
        let order: [Field; 3] = fields?.try_into().ok()?;
        let all = [Field::Day, Field::Month, Field::Year];
        all.iter()
            .all(|field| order.contains(field))
            .then_some(Self { order, between })
    }

    /// The date of a text in this form.
    pub(crate) fn read(self, text: &str) -> Option<Date> {
        let parts: Vec<&str> = match self.between {
            Some(between) => text.split(between).collect(),
            None if text.len() == 8 => vec![text.get(..4)?, text.get(4..6)?, text.get(6..)?],
            None => return None,
        };
        if parts.len() != 3 {
            return None;
        }
        let (mut day, mut month, mut year) = (0, 0, 0);
        for (field, digits) in self.order.into_iter().zip(parts) {
            let longest = if field == Field::Year { 4 } else { 2 };
            let whole = digits.bytes().all(|byte| byte.is_ascii_digit());
            if !whole || digits.len() > longest || (field == Field::Year && digits.len() != 4) {
                return None;
            }
            match field {
                Field::Day => day = digits.parse().ok()?,
                Field::Month => month = digits.parse().ok()?,
                Field::Year => year = digits.parse().ok()?,
            }
        }
        Date::new(year, month, day).ok()
    }
}

/// `2026-10-01` and nothing else.
pub(crate) fn iso(text: &str) -> Option<Date> {
    let date = text.parse::<Date>().ok()?;
    (date.to_string() == text).then_some(date)
}

/// The first letters of months in English, German, French, Spanish and Italian.
const MONTHS: [&str; 30] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec", "mär",
    "mrz", "mai", "okt", "dez", "fév", "avr", "jui", "aoû", "déc", "ene", "abr", "ago", "dic",
    "gen", "mag", "giu", "ott",
];

/// The days that spreadsheet programs count from 1900 to 2000 and to 2100, as
/// a date looks once its format is gone.
const DAY_NUMBERS: std::ops::RangeInclusive<u32> = 36_526..=73_051;

/// Whether a size was turned into a date by a spreadsheet program: `3-Apr`,
/// `Mar 4`, `2026-04-03`, `4/3/2026`, `46115`.
pub(crate) fn is_date(text: &str) -> bool {
    let text = match text.split_once(['T', ' ']) {
        Some((day, time)) if time.contains(':') => day,
        _ => text,
    };
    let marks = ['-', '/', '.', ' ', ','];
    let words: Vec<&str> = text.split(marks).filter(|word| !word.is_empty()).collect();
    let is_number = |word: &&str| word.len() <= 4 && word.bytes().all(|b| b.is_ascii_digit());
    let is_month = |word: &&str| {
        let lower = word.to_lowercase();
        MONTHS.iter().any(|month| lower.starts_with(month)) && word.chars().all(char::is_alphabetic)
    };
    let numbers = words.iter().filter(|word| is_number(word)).count();
    let months = words.iter().filter(|word| is_month(word)).count();
    match words.len() {
        1 => text.len() == 5 && text.parse().is_ok_and(|day| DAY_NUMBERS.contains(&day)),
        2 => numbers == 1 && months == 1,
        3 if numbers == 3 => {
            let mut between = text.chars().filter(|c| marks.contains(c));
            let first = between.next();
            first != Some(' ') && between.next() == first && between.next().is_none()
        }
        3 => numbers == 2 && months == 1,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::{DateForm, is_date, iso};

    #[test]
    fn dates_are_read_in_the_stated_form_only() {
        for (form, text) in [
            ("DD.MM.YYYY", "01.10.2026"),
            ("D.M.YYYY", "1.10.2026"),
            ("MM/DD/YYYY", "10/01/2026"),
            ("YYYY/MM/DD", "2026/10/01"),
            ("YYYYMMDD", "20261001"),
        ] {
            let read = DateForm::parse(form).unwrap().read(text).unwrap();
            assert_eq!(read.to_string(), "2026-10-01", "{form}");
        }
        let german = DateForm::parse("DD.MM.YYYY").unwrap();
        for text in [
            "10/01/2026",
            "01.10.26",
            "32.01.2026",
            "01.13.2026",
            "1.1",
            "",
        ] {
            assert_eq!(german.read(text), None, "{text}");
        }
        for form in [
            "",
            "DD.MM",
            "DD.DD.YYYY",
            "DD.MM.YY",
            "YYYYDD",
            "äöüß",
            "DD.MM/YYYY",
        ] {
            assert_eq!(DateForm::parse(form), None, "{form}");
        }
        assert_eq!(iso("2026-1-1"), None);
    }

    #[test]
    fn sizes_that_became_dates_are_known() {
        for date in [
            "3-Apr",
            "03-Apr",
            "Apr-03",
            "Mar 4",
            "4. Mrz",
            "4. März",
            "3-avr.",
            "2026-04-03",
            "4/3/2026",
            "03.04.26",
            "2026-04-03T00:00:00",
            "2026-04-03 00:00:00",
            "3-Apr-2026",
            "46115",
        ] {
            assert!(is_date(date), "{date}");
        }
        for size in [
            "",
            "3/4",
            "3/4in",
            "1-1/4",
            "1-1/4in",
            "1 1/4",
            "DN20",
            "25mm",
            "2026",
            "100",
            "3/4in x 1/2in",
            "3/4 x 4-1/2",
            "1 1 2",
            "22.5",
            "1/2/x",
            "99999",
        ] {
            assert!(!is_date(size), "{size}");
        }
    }
}
