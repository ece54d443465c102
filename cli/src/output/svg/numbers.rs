//! Numbers in hundredths of a millimetre, as short as they can be written.

use bom::drawing::At;

/// Far more than any sheet; what lies beyond is drawn at this edge.
const MOST: f64 = 1e7;

/// A length in whole hundredths; what is no number counts as none.
#[expect(clippy::cast_possible_truncation, reason = "clamped to seven digits")]
fn hundredths(mm: f64) -> i64 {
    (mm * 100.0).round().clamp(-MOST, MOST) as i64
}

/// A length in millimetres: `12`, `.25`, `-3.5`.
pub(super) fn number(mm: f64) -> String {
    written(hundredths(mm))
}

fn written(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let (whole, rest) = (hundredths.abs() / 100, hundredths.abs() % 100);
    match (whole, rest) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) if rest % 10 == 0 => format!("{sign}.{}", rest / 10),
        (0, _) => format!("{sign}.{rest:02}"),
        (_, _) if rest % 10 == 0 => format!("{sign}{whole}.{}", rest / 10),
        (_, _) => format!("{sign}{whole}.{rest:02}"),
    }
}

/// Lines from point to point as data of a `<path>`, by steps between rounded places,
/// so that nothing adds up.
pub(super) fn path(points: &[At], closed: bool, data: &mut String) {
    let mut places = points.iter().map(|at| (hundredths(at.x), hundredths(at.y)));
    let Some((mut x, mut y)) = places.next() else {
        return;
    };
    data.push('M');
    push(data, x);
    push(data, y);
    for (next_x, next_y) in places {
        match (next_x - x, next_y - y) {
            (across, 0) => {
                data.push('h');
                push(data, across);
            }
            (0, down) => {
                data.push('v');
                push(data, down);
            }
            (across, down) => {
                data.push('l');
                push(data, across);
                push(data, down);
            }
        }
        (x, y) = (next_x, next_y);
    }
    if closed {
        data.push('z');
    }
}

/// A number behind a letter or another number.
fn push(data: &mut String, hundredths: i64) {
    let number = written(hundredths);
    let after = data.trim_end_matches(|last: char| last.is_ascii_digit());
    // A second point begins a second number.
    let begins = number.starts_with('-') || number.starts_with('.') && after.ends_with('.');
    if after.len() < data.len() && !begins {
        data.push(' ');
    }
    data.push_str(&number);
}

#[cfg(test)]
mod tests {
    use super::{number, path};
    use bom::drawing::At;

    #[test]
    fn numbers_are_short_and_never_minus_nothing() {
        let numbers = [
            12.0,
            0.25,
            -0.5,
            -0.05,
            3.456,
            -0.001,
            100.1,
            f64::NAN,
            f64::INFINITY,
        ];
        assert_eq!(
            numbers.map(number),
            [
                "12", ".25", "-.5", "-.05", "3.46", "0", "100.1", "0", "100000"
            ]
        );
    }

    #[test]
    fn a_path_steps_between_rounded_places() {
        let mut data = String::new();
        let points = [
            (0.0, 1.5),
            (3.004, 1.5),
            (3.008, -2.0),
            (1.0, -1.0),
            (1.5, 0.0),
        ];
        path(&points.map(|(x, y)| At::new(x, y)), true, &mut data);
        path(&[At::new(2.0, 0.5), At::new(2.5, 0.75)], false, &mut data);
        assert_eq!(data, "M0 1.5h3l.01-3.5l-2.01 1l.5 1zM2 .5l.5.25");
    }
}
