//! Whether a price may still be trusted by its day: the one measure of price lists and
//! of papers.

use jiff::civil::Date;

/// A price is old when it is older than so many days, unless somebody asks otherwise
/// (common practice, no source).
pub const OLD_AFTER: u32 = 60;

/// What is wrong with the day of a price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stale {
    /// It is still to come.
    Future,
    /// It is too long ago.
    Old,
}

/// What is to be said of so many prices of a day; none if they are good.
pub(crate) fn stale(
    prices: usize,
    day: Date,
    today: Date,
    older_than: u32,
) -> Option<(Stale, String)> {
    let prices = plural(prices, "price");
    let days = (today - day).get_days();
    if days < 0 {
        let message = format!("{prices} of {day}, which is after {today}");
        return Some((Stale::Future, message));
    }
    (i64::from(days) > i64::from(older_than)).then(|| {
        let age = plural(usize::try_from(days).unwrap_or(0), "day");
        let message = format!("{prices} of {day}: {age} old, and more than {older_than} is old");
        (Stale::Old, message)
    })
}

/// `3 prices`.
pub(super) fn plural(count: usize, word: &str) -> String {
    match count {
        1 => format!("1 {word}"),
        _ => format!("{count} {word}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::{OLD_AFTER, Stale, stale};
    use jiff::civil::date;

    #[test]
    fn a_price_is_good_from_its_day_for_sixty_days() {
        let today = date(2026, 11, 2);
        let said = |day, prices| stale(prices, day, today, OLD_AFTER);
        assert_eq!(said(today, 1), None);
        assert_eq!(said(date(2026, 9, 3), 1), None);
        let old = "1 price of 2026-09-02: 61 days old, and more than 60 is old";
        assert_eq!(
            said(date(2026, 9, 2), 1),
            Some((Stale::Old, old.to_owned()))
        );
        let future = "2 prices of 2026-11-03, which is after 2026-11-02";
        assert_eq!(
            said(date(2026, 11, 3), 2),
            Some((Stale::Future, future.to_owned()))
        );
    }
}
