//! Columns of turned text below a line of places, spread so that none touches
//! another.

/// The nearest places to those wanted, in their order, that keep `apart[i]` from the
/// one before and lie between two edges; for as many as fit there.
pub(super) fn spread(wanted: &[f64], apart: &[f64], left: f64, right: f64) -> Vec<f64> {
    let count = wanted.len();
    let mut after = wanted.to_vec();
    for i in 1..count {
        after[i] = after[i].max(after[i - 1] + apart[i]);
    }
    let mut before = wanted.to_vec();
    for i in (1..count).rev() {
        before[i - 1] = before[i - 1].min(before[i] - apart[i]);
    }
    // Half way between pushing all to the right and all to the left.
    let mut places: Vec<f64> = after
        .iter()
        .zip(&before)
        .map(|(after, before)| f64::midpoint(*after, *before))
        .collect();
    for i in (0..count).rev() {
        let most = match i + 1 < count {
            true => places[i + 1] - apart[i + 1],
            false => right,
        };
        places[i] = places[i].min(most);
    }
    for i in 0..count {
        let least = match i {
            0 => left,
            _ => places[i - 1] + apart[i],
        };
        places[i] = places[i].max(least);
    }
    places
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn places_keep_apart_and_stay_near() {
        let apart = [4.0; 4];
        let near = |found: Vec<f64>, wanted: [f64; 4]| {
            for (a, b) in found.iter().zip(wanted) {
                assert!((a - b).abs() < 1e-9, "{found:?}");
            }
        };
        near(
            spread(&[0.0, 10.0, 20.0, 30.0], &apart, 0.0, 30.0),
            [0.0, 10.0, 20.0, 30.0],
        );
        near(
            spread(&[10.0, 10.0, 10.0, 10.0], &apart, 0.0, 30.0),
            [4.0, 8.0, 12.0, 16.0],
        );
        near(
            spread(&[0.0, 0.0, 0.0, 0.0], &apart, 0.0, 30.0),
            [0.0, 4.0, 8.0, 12.0],
        );
        near(
            spread(&[30.0, 30.0, 30.0, 30.0], &apart, 0.0, 30.0),
            [18.0, 22.0, 26.0, 30.0],
        );
    }
}
