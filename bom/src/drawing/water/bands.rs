//! Heights on paper: drawn larger than lengths where main runs, and with the empty
//! space between left out.

/// What is left out stands as so much.
pub(super) const BREAK: f64 = 6.0;
/// Heights that are no farther apart, in mm of the shop, stand in one band.
const JOINED: f64 = 300.0;
/// How many times heights may be drawn as large as lengths, largest first.
const TIMES: [f64; 9] = [500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0];

/// The heights that are drawn.
#[derive(Debug, Clone)]
pub(super) struct Bands {
    /// From where to where above the floor, in mm, the lowest first.
    pub(super) bands: Vec<(f64, f64)>,
    /// Millimetres of paper for one of the shop.
    scale: f64,
    /// How many times as large as lengths that is.
    pub(super) times: f64,
}

impl Bands {
    /// These spans of heights on no more than `most` mm of paper, breaks aside.
    /// `lengths` is the scale of lengths.
    pub(super) fn of(mut spans: Vec<(f64, f64)>, lengths: f64, most: f64) -> Self {
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut bands: Vec<(f64, f64)> = Vec::new();
        for (low, high) in spans {
            match bands.last_mut() {
                Some(last) if low - last.1 <= JOINED => last.1 = last.1.max(high),
                _ => bands.push((low, high)),
            }
        }
        let drawn: f64 = bands.iter().map(|(low, high)| high - low).sum();
        let fits = |times: &f64| drawn * lengths * times <= most;
        let times = match drawn > 1e-9 {
            true => TIMES.into_iter().find(fits),
            false => Some(1.0),
        };
        // Smaller than lengths only where even that does not fit.
        let times = times.unwrap_or_else(|| most / (drawn * lengths));
        Self {
            bands,
            scale: lengths * times,
            times,
        }
    }

    /// How far above the lowest a height is drawn.
    pub(super) fn above(&self, height: f64) -> f64 {
        let mut base = 0.0;
        let mut before: Option<f64> = None;
        for (low, high) in &self.bands {
            if height < *low {
                // In what is left out.
                let from = before.unwrap_or(*low - 1.0);
                let share = (height - from) / (low - from);
                return base - BREAK * (1.0 - share);
            }
            if height <= *high {
                return base + (height - low) * self.scale;
            }
            base += (high - low) * self.scale + BREAK;
            before = Some(*high);
        }
        base - BREAK
    }

    /// How high all of it is.
    pub(super) fn total(&self) -> f64 {
        self.bands.last().map_or(0.0, |(_, high)| self.above(*high))
    }

    /// The middles of what is left out.
    pub(super) fn breaks(&self) -> Vec<f64> {
        let above = self.bands.iter().skip(1);
        above
            .map(|(low, _)| self.above(*low) - BREAK / 2.0)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::{BREAK, Bands};

    #[test]
    fn bands_that_are_near_are_one_and_the_rest_is_left_out() {
        let bands = Bands::of(
            vec![(3300.0, 3400.0), (0.0, 0.0), (3150.0, 3200.0)],
            0.01,
            30.0,
        );
        assert_eq!(bands.bands, [(0.0, 0.0), (3150.0, 3400.0)]);
        // 250 mm at 0.01 are 2.5 mm of paper: ten times that fits, twenty do not.
        assert!((bands.times - 10.0).abs() < 1e-9);
        assert!((bands.total() - (BREAK + 25.0)).abs() < 1e-9);
        assert!((bands.above(0.0)).abs() < 1e-9);
        assert!((bands.above(3150.0) - BREAK).abs() < 1e-9);
        assert!((bands.above(1575.0) - BREAK / 2.0).abs() < 1e-9);
        assert_eq!(bands.breaks().len(), 1);
    }
}
