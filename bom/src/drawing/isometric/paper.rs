//! The paper of a sheet: its size, its legend, and the notes at its foot.

use super::Set;
use super::frame::tight;
use super::furniture::entries;
use super::picture::Picture;
use crate::drawing::{At, Entry, TextSize, legend, wrap};
use crate::job::State;
use std::collections::BTreeSet;
use std::ops::Range;

/// A sheet of paper with what always stands on it.
pub(super) struct Paper {
    pub(super) size: (f64, f64),
    pub(super) entries: Vec<Entry>,
    pub(super) notes: Vec<String>,
    /// Where the legend and the notes begin.
    pub(super) legend_top: f64,
    pub(super) notes_top: f64,
}

impl Set<'_> {
    /// The paper for some stretches; none if these are far too large for it. Its legend
    /// is of the signs that they use; `behind` says whether pipe passes behind other pipe.
    pub(super) fn paper(&self, range: &Range<usize>, lying: bool, behind: bool) -> Option<Paper> {
        let field = self.scene.field;
        let size = if lying {
            (field.lying_width, field.lying_height)
        } else {
            (field.width, field.height)
        };
        let stretches = &self.stretches[range.clone()];
        let tight = tight(self, stretches);
        let least = tight.area();
        if range.len() > 1 && (least.width() > size.0 || least.height() > size.1) {
            return None;
        }
        let mut used = BTreeSet::new();
        let rough = Picture::new(self, stretches, tight, At::default());
        rough.parts(&mut used);
        rough.between(&mut used);
        let entries = entries(
            &used,
            range.len() < self.stretches.len(),
            self.falls(),
            behind,
        );
        let notes = self.notes(size.0);
        let (_, legend_down) = legend(&entries, At::default(), size.0);
        let notes_down: f64 = notes.iter().map(|_| TextSize::Small.leading()).sum();
        let notes_top = size.1 - notes_down - 0.6;
        Some(Paper {
            size,
            entries,
            notes,
            legend_top: notes_top - legend_down - 1.0,
            notes_top,
        })
    }

    /// What is said below the legend, in lines that fit the paper.
    fn notes(&self, across: f64) -> Vec<String> {
        let fall = if self.falls() {
            format!(
                "The main falls {}; the arrows point down the fall, which is not drawn.",
                self.scene.plan.summary.fall
            )
        } else {
            "The main is level.".to_owned()
        };
        let network = &self.scene.plan.network;
        let mut links = network.links();
        let stands = match links.any(|(id, ..)| network.link_state(id) == State::Existing) {
            true => " Wide lines are new pipe, narrow ones stand already.",
            false => "",
        };
        let notes = [
            format!("Isometric, not to scale: long pipe is shortened. {fall}{stands}"),
            "“12.1: …” is piece 12.1 of the cut sheet and its length, end to end; “c-c” and dimension lines are centre to centre; “… up” is how high the pipe’s middle is above the floor.".to_owned(),
            "Signs in the manner of ISO 14617, ISO 1219 and ISO 6412.".to_owned(),
        ];
        let lines = notes.iter();
        let lines = lines.flat_map(|note| wrap(note, TextSize::Small, false, across));
        lines.collect()
    }
}
