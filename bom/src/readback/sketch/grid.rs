//! A drawing in characters: walls thin, pipe double, signs on top.

use std::collections::BTreeMap;

/// A column and a line, from the upper left.
pub(super) type Cell = [i64; 2];

/// Ways out of a cell: north, east, south, west.
const WAYS: [Cell; 4] = [[0, -1], [1, 0], [0, 1], [-1, 0]];
/// How each set of ways looks, the north one the lowest bit.
const PIPE: [char; 16] = [
    'o', '║', '═', '╚', '║', '║', '╔', '╠', '═', '╝', '═', '╩', '╗', '╣', '╦', '╬',
];
const WALL: [char; 16] = [
    '·', '│', '─', '└', '│', '│', '┌', '├', '─', '┘', '─', '┴', '┐', '┤', '┬', '┼',
];

#[derive(Debug, Default)]
pub(super) struct Grid {
    walls: BTreeMap<Cell, usize>,
    dotted: BTreeMap<Cell, usize>,
    pipe: BTreeMap<Cell, usize>,
    /// Cells of pipe at 45 degrees.
    slanting: BTreeMap<Cell, char>,
    signs: BTreeMap<Cell, char>,
}

impl Grid {
    /// A rectangle of walls, dotted where nobody knows that they are there.
    pub(super) fn walls(&mut self, [from, to]: [Cell; 2], known: bool) {
        let corners = [from, [to[0], from[1]], to, [from[0], to[1]], from];
        for pair in corners.windows(2) {
            if let [from, to] = pair {
                let of = match known {
                    true => &mut self.walls,
                    false => &mut self.dotted,
                };
                line(of, *from, *to);
            }
        }
    }

    /// A straight of pipe.
    pub(super) fn pipe(&mut self, from: Cell, to: Cell) {
        let [across, down] = [to[0] - from[0], to[1] - from[1]];
        if across == 0 || down == 0 {
            line(&mut self.pipe, from, to);
            return;
        }
        let sign = match (across > 0) == (down > 0) {
            true => '\\',
            false => '/',
        };
        let steps = across.abs().max(down.abs());
        for step in 1..steps {
            let cell = [
                from[0] + across * step / steps,
                from[1] + down * step / steps,
            ];
            self.slanting.insert(cell, sign);
        }
        for end in [from, to] {
            self.pipe.entry(end).or_default();
        }
    }

    /// A sign at a place, or beside it where another stands there.
    pub(super) fn sign(&mut self, at: Cell, sign: &str) {
        let count = i64::try_from(sign.chars().count()).unwrap_or(1);
        let row = |at: Cell| (0..count).map(move |by| [at[0] + by, at[1]]);
        // A sign keeps its distance from others on its line: 1 beside 2 is no 12.
        let free = |at: &Cell| {
            let mut around = (-1..=count).map(|by| [at[0] + by, at[1]]);
            around.all(|cell| !self.signs.contains_key(&cell))
        };
        let by = |way: Cell| [at[0] + way[0], at[1] + way[1]];
        let along = [[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1]].map(by);
        let beside = [
            [0, 1],
            [0, -1],
            [1, 1],
            [1, -1],
            [-1, 1],
            [-1, -1],
            [2, 1],
            [2, -1],
            [-2, 1],
            [-2, -1],
        ];
        let on_pipe = |at: &Cell| self.pipe.contains_key(at) || self.slanting.contains_key(at);
        let blank = |at: &Cell| row(*at).all(|cell| self.letter(cell) == ' ');
        let mut along = along.into_iter().filter(|at| on_pipe(at));
        let mut beside = beside.map(by).into_iter().filter(blank);
        let place = along.find(free).or_else(|| beside.find(free)).unwrap_or(at);
        for (cell, letter) in row(place).zip(sign.chars()).collect::<Vec<_>>() {
            self.signs.insert(cell, letter);
        }
    }

    /// The drawing line by line, with the four quarters round it.
    pub(super) fn lines(&self) -> Vec<String> {
        let cells = || {
            let walls = self.walls.keys().chain(self.dotted.keys());
            let drawn = walls.chain(self.pipe.keys());
            drawn.chain(self.slanting.keys()).chain(self.signs.keys())
        };
        let range = |axis: usize| {
            let along = || cells().map(move |cell| cell[axis]);
            Some((along().min()?, along().max()?))
        };
        let (Some((left, right)), Some((top, bottom))) = (range(0), range(1)) else {
            return Vec::new();
        };
        let middle = (top + bottom).div_euclid(2);
        let indent = usize::try_from((right - left).div_euclid(2)).unwrap_or(0);
        let quarter = |word: &str| {
            let before = (indent + 3).saturating_sub(word.len() / 2);
            format!("{}{word}", " ".repeat(before))
        };
        let mut lines = vec![quarter("north")];
        for line in top..=bottom {
            let mut row = String::from(if line == middle { "W  " } else { "   " });
            row.extend((left..=right).map(|column| self.letter([column, line])));
            if line == middle {
                row.push_str("  E");
            }
            lines.push(row.trim_end().to_owned());
        }
        lines.push(quarter("south"));
        lines
    }

    fn letter(&self, cell: Cell) -> char {
        let drawn = |of: &BTreeMap<Cell, usize>, signs: &[char; 16]| {
            of.get(&cell).and_then(|ways| signs.get(*ways)).copied()
        };
        let signs = self.signs.get(&cell).copied();
        signs
            .or_else(|| drawn(&self.pipe, &PIPE))
            .or_else(|| self.slanting.get(&cell).copied())
            .or_else(|| drawn(&self.walls, &WALL))
            .or_else(|| self.dotted.contains_key(&cell).then_some('·'))
            .unwrap_or(' ')
    }
}

/// Joins the cells of a straight line along a row or a column.
fn line(of: &mut BTreeMap<Cell, usize>, from: Cell, to: Cell) {
    let step = [(to[0] - from[0]).signum(), (to[1] - from[1]).signum()];
    let mut here = from;
    of.entry(here).or_default();
    let count = (to[0] - from[0]).abs().max((to[1] - from[1]).abs());
    let bit = |way: Cell| {
        WAYS.iter()
            .position(|one| *one == way)
            .map_or(0, |at| 1 << at)
    };
    for _ in 0..count {
        let next = [here[0] + step[0], here[1] + step[1]];
        *of.entry(here).or_default() |= bit(step);
        *of.entry(next).or_default() |= bit([-step[0], -step[1]]);
        here = next;
    }
}
