//! Isometric drawings for the crew: every fitting, every piece with its label, on as
//! many sheets as it takes to read them.

mod axes;
mod clear;
mod dimension;
mod frame;
mod furniture;
mod joins;
mod lengths;
mod limb;
mod marks;
mod paper;
mod picture;
mod pieces;
mod pipe;
mod say;
mod sheet;
mod signs;
mod spread;
mod stretch;
mod tanks;
mod words;

use super::{At, Scene, Sheet, Tags, tags};
use crate::network::{LinkId, NodeId};
use joins::{Joins, joins};
use pieces::{Pieces, pieces};
use sheet::{Drawn, Row, table_of};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;
use stretch::{Stretch, stretches};

/// What all sheets of a job share.
struct Set<'a> {
    scene: Scene<'a>,
    tags: Tags,
    pieces: Pieces,
    joins: BTreeMap<(NodeId, LinkId), Vec<Joins>>,
    stretches: Vec<Stretch>,
    stretch_of_link: BTreeMap<LinkId, usize>,
    stretch_of_place: BTreeMap<NodeId, usize>,
    /// What is known of which stretches fit on a sheet.
    fitting: RefCell<BTreeMap<(usize, usize), Option<bool>>>,
}

/// Isometric drawings of a job, in walking order: one sheet if all of it can be read
/// there, else one for each wall or part of it.
#[must_use]
pub fn isometric(scene: &Scene<'_>) -> Vec<Sheet> {
    let set = Set::of(scene);
    let parts = set.parts();
    let number = |stretch: usize| {
        let sheet = parts.iter().position(|(range, _)| range.contains(&stretch));
        format!("isometric {}", sheet.unwrap_or_default() + 1)
    };
    let several = parts.len() > 1;
    let mut sheets = Vec::new();
    let mut left: Vec<Row> = Vec::new();
    for ((range, lying), count) in parts.iter().zip(1_usize..) {
        let Some(drawn) = set.draw(range, *lying, &number) else {
            continue;
        };
        let walls = set.walls(range);
        let (id, title) = if several {
            let title = format!("Isometric {count} of {}: {walls}", parts.len());
            (format!("isometric-{count}"), title)
        } else {
            ("isometric".to_owned(), "Isometric".to_owned())
        };
        left.extend(drawn.left);
        sheets.push(Sheet {
            id,
            title,
            about: format!(
                "The pipe seen from the south-east and from above, not to scale, with every fitting, device and piece of it: {walls}."
            ),
            ..drawn.sheet
        });
    }
    sheets.extend(without_room(scene, &left));
    sheets
}

/// What has no room on any drawing.
fn without_room(scene: &Scene<'_>, rows: &[Row]) -> Vec<Sheet> {
    const MARGIN: f64 = 1.0;
    let mut sheets: Vec<Sheet> = Vec::new();
    let mut from = 0;
    while from < rows.len() {
        let mut to = from;
        let reach = |to: usize| table_of(&rows[from..to], At::default()).2;
        while to < rows.len() && (to == from || reach(to + 1) < scene.field.height - MARGIN) {
            to += 1;
        }
        let (mark, _, _) = table_of(&rows[from..to], At::new(MARGIN, MARGIN));
        let number = sheets.len() + 1;
        sheets.push(Sheet {
            id: format!("isometric-without-room-{number}"),
            title: "Isometric: what has no room on the drawings".to_owned(),
            about: "Pieces and places that could not be written beside their pipe.".to_owned(),
            width: scene.field.width,
            height: scene.field.height,
            marks: vec![mark],
        });
        from = to;
    }
    sheets
}

impl<'a> Set<'a> {
    fn of(scene: &Scene<'a>) -> Self {
        let stretches = stretches(&scene.plan.network);
        let mut stretch_of_link = BTreeMap::new();
        let mut stretch_of_place = BTreeMap::new();
        for (number, stretch) in stretches.iter().enumerate() {
            stretch_of_link.extend(stretch.main.iter().map(|link| (*link, number)));
            stretch_of_place.extend(stretch.places.iter().map(|place| (*place, number)));
        }
        Self {
            scene: *scene,
            tags: tags(scene.plan),
            pieces: pieces(scene.plan, scene.library),
            joins: joins(scene.plan),
            stretches,
            stretch_of_link,
            stretch_of_place,
            fitting: RefCell::default(),
        }
    }

    /// Which stretches stand on each sheet, and whether it lies: as many of a leg, and
    /// then as many legs, as can be read; a leg on several sheets in even shares.
    fn parts(&self) -> Vec<(Range<usize>, bool)> {
        let greedy = self.parts_by(&BTreeMap::new());
        let mut shares: BTreeMap<usize, usize> = BTreeMap::new();
        for (leg, count) in self.counts(0..self.stretches.len()) {
            let of_leg = |one: &&(Range<usize>, bool)| self.stretches[one.0.start].leg == leg;
            let sheets = greedy.iter().filter(of_leg).count();
            if sheets > 1 {
                shares.insert(leg, count.div_ceil(sheets));
            }
        }
        if shares.is_empty() {
            return greedy;
        }
        let even = self.parts_by(&shares);
        if even.len() <= greedy.len() {
            even
        } else {
            greedy
        }
    }

    /// How many stretches each leg has.
    fn counts(&self, range: Range<usize>) -> BTreeMap<usize, usize> {
        let mut counts = BTreeMap::new();
        for stretch in &self.stretches[range] {
            *counts.entry(stretch.leg).or_default() += 1;
        }
        counts
    }

    /// The same, with no more stretches of a leg on a sheet than its share.
    fn parts_by(&self, shares: &BTreeMap<usize, usize>) -> Vec<(Range<usize>, bool)> {
        let mut parts: Vec<(Range<usize>, bool)> = Vec::new();
        let mut begin = 0;
        while begin < self.stretches.len() {
            let mut end = begin + 1;
            let mut lying = self.fits(&(begin..end)).unwrap_or(true);
            // Whole legs first; where one is too much, stretch by stretch.
            while end < self.stretches.len() {
                let leg = self.stretches[end].leg;
                let rest = self.stretches[end..].iter();
                let more = rest.take_while(|stretch| stretch.leg == leg).count();
                let whole = begin..end + more;
                let share = shares.get(&leg).copied().unwrap_or(usize::MAX);
                let drawn = self.counts(begin..end).get(&leg).copied().unwrap_or(0);
                if drawn + more <= share
                    && let Some(one) = self.fits(&whole)
                {
                    (end, lying) = (whole.end, one);
                    continue;
                }
                let goes_on = drawn > 0 && drawn < share;
                match goes_on.then(|| self.fits(&(begin..end + 1))).flatten() {
                    Some(one) => (end, lying) = (end + 1, one),
                    None => break,
                }
            }
            parts.push((begin..end, lying));
            begin = end;
        }
        parts
    }

    /// Whether all of some stretches can be read on a sheet, and whether that lies.
    fn fits(&self, range: &Range<usize>) -> Option<bool> {
        let key = (range.start, range.end);
        if let Some(known) = self.fitting.borrow().get(&key) {
            return *known;
        }
        let number = |_| "sheet 88".to_owned();
        let fits = |lying: bool| {
            self.draw(range, lying, &number)
                .is_some_and(|Drawn { left, complete, .. }| complete && left.is_empty())
        };
        let found = [true, false].into_iter().find(|lying| fits(*lying));
        self.fitting.borrow_mut().insert(key, found);
        found
    }

    /// The legs of some stretches, in words.
    fn walls(&self, range: &Range<usize>) -> String {
        let mut legs: Vec<&str> = Vec::new();
        for stretch in &self.stretches[range.clone()] {
            let leg = self.scene.plan.network.legs[stretch.leg].label.as_str();
            if legs.last() != Some(&leg) {
                legs.push(leg);
            }
        }
        legs.join(", ")
    }
}
