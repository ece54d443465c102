//! What given sizes come to, in the cases as they are.

use super::problem::{Problem, Row};

/// The most that is wanted at a place, and the need that wants it.
type Wanted = (f64, usize);

const NOTHING: Wanted = (f64::NEG_INFINITY, usize::MAX);

fn more(a: Wanted, b: Wanted) -> Wanted {
    if b.0 > a.0 { b } else { a }
}

/// The need that falls shortest (or has the least to spare) of all needs and
/// cases; none if nothing is needed.
///
/// What is wanted is carried from the ends up to the source: in each case of a
/// pipe on its own, and once for all others.
pub(super) fn worst(problem: &Problem, choices: &[usize]) -> Option<Row> {
    let pipes = &problem.pipes;
    let mut outside = vec![NOTHING; pipes.len()];
    let mut inside: Vec<Vec<Wanted>> = pipes
        .iter()
        .map(|pipe| vec![NOTHING; pipe.inside.len()])
        .collect();
    for (at, need) in problem.needs.iter().enumerate() {
        outside[need.pipe] = more(outside[need.pipe], (need.outside, at));
        for (wanted, &least) in inside[need.pipe].iter_mut().zip(&need.inside) {
            *wanted = more(*wanted, (least, at));
        }
    }
    let mut worst: Option<Row> = None;
    let mut judge = |(wanted, need): Wanted, case: usize| {
        let short = wanted - problem.source[case];
        if need != usize::MAX && worst.is_none_or(|row| short > row.short) {
            worst = Some(Row { need, case, short });
        }
    };
    for (at, pipe) in pipes.iter().enumerate().rev() {
        let choice = &pipe.choices[choices[at]];
        let mut mine = std::mem::take(&mut inside[at]);
        let rest = (outside[at].0 + choice.outside, outside[at].1);
        for (wanted, loss) in mine.iter_mut().zip(&choice.inside) {
            wanted.0 += loss;
        }
        let mut own = pipe.inside.iter().zip(&mine).peekable();
        let mut of = |case: usize| match own.next_if(|&(&first, _)| first == case) {
            Some((_, &wanted)) => wanted,
            None => rest,
        };
        match pipe.parent {
            Some(parent) => {
                outside[parent] = more(outside[parent], rest);
                for (wanted, &case) in inside[parent].iter_mut().zip(&pipes[parent].inside) {
                    *wanted = more(*wanted, of(case));
                }
            }
            None => (0..problem.source.len()).for_each(|case| judge(of(case), case)),
        }
    }
    worst
}

/// Whether these sizes keep every need in every case.
pub(super) fn holds(problem: &Problem, choices: &[usize]) -> bool {
    worst(problem, choices).is_none_or(|row| row.short <= problem.whisker())
}
