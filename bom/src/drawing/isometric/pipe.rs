//! Lines of pipe, each broken where it passes behind another (ISO 6412-1, from
//! memory).

use super::axes::Solid;
use crate::drawing::At;

/// Half of the gap of a pipe that passes behind.
const GAP: f64 = 1.7;
/// So near its end no line passes another: they meet.
const END: f64 = 0.8;

/// A straight line of pipe in the drawn space.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line {
    pub(super) from: Solid,
    pub(super) to: Solid,
    /// Whether it stands already.
    pub(super) stands: bool,
}

/// What is left of each line, as pairs of ends on paper.
pub(super) fn visible(lines: &[Line]) -> Vec<Vec<(At, At)>> {
    let mut gaps: Vec<Vec<(f64, f64)>> = vec![Vec::new(); lines.len()];
    for (first, a) in lines.iter().enumerate() {
        for (second, b) in lines.iter().enumerate().skip(first + 1) {
            let Some((s, t)) = crossing(a, b) else {
                continue;
            };
            let nearness = |line: &Line, share| line.from.towards(line.to, share).nearness();
            let (behind, share) = if nearness(a, s) < nearness(b, t) {
                (first, s)
            } else {
                (second, t)
            };
            let line = &lines[behind];
            let length = line.from.on_paper().distance(line.to.on_paper());
            gaps[behind].push((share - GAP / length, share + GAP / length));
        }
    }
    let left = lines.iter().zip(gaps).map(|(line, mut gaps)| {
        gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (from, to) = (line.from.on_paper(), line.to.on_paper());
        let mut left = Vec::new();
        let mut done = 0.0_f64;
        for (begin, end) in gaps {
            if begin > done {
                left.push((from.towards(to, done), from.towards(to, begin)));
            }
            done = done.max(end);
        }
        if done < 1.0 {
            left.push((from.towards(to, done), to));
        }
        left
    });
    left.collect()
}

/// The shares of two lines at which they cross on paper.
fn crossing(a: &Line, b: &Line) -> Option<(f64, f64)> {
    let (p, q) = (a.from.on_paper(), b.from.on_paper());
    let step = |line: &Line| {
        let (from, to) = (line.from.on_paper(), line.to.on_paper());
        (to.x - from.x, to.y - from.y)
    };
    let ((ax, ay), (bx, by)) = (step(a), step(b));
    let turn = ax * by - ay * bx;
    if turn.abs() < 1e-9 {
        return None;
    }
    let (x, y) = (q.x - p.x, q.y - p.y);
    let (s, t) = ((x * by - y * bx) / turn, (x * ay - y * ax) / turn);
    let inside = |share: f64, length: f64| {
        let at = share * length;
        at > END && at < length - END
    };
    (inside(s, ax.hypot(ay)) && inside(t, bx.hypot(by))).then_some((s, t))
}

#[cfg(test)]
mod tests {
    use super::{Line, visible};
    use crate::drawing::isometric::axes::Solid;

    #[test]
    fn the_pipe_behind_is_broken_and_the_one_before_it_is_whole() {
        let solid = |east, north, up| Solid { east, north, up };
        // A main from west to east at height 0, and an upright 10 mm north of it, which
        // passes behind it; then one 10 mm south, before it.
        let main = Line {
            from: solid(-40.0, 0.0, 0.0),
            to: solid(40.0, 0.0, 0.0),
            stands: false,
        };
        for (north, behind) in [(10.0, 1), (-10.0, 0)] {
            let upright = Line {
                from: solid(0.0, north, 40.0),
                to: solid(0.0, north, -40.0),
                stands: false,
            };
            let left = visible(&[main, upright]);
            assert_eq!(left[behind].len(), 2);
            assert_eq!(left[1 - behind].len(), 1);
            let gap = left[behind][0].1.distance(left[behind][1].0);
            assert!((gap - 3.4).abs() < 1e-9, "{gap}");
        }
    }
}
