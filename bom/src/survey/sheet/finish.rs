//! From all rows to the whole survey: what belongs together, and what is assumed.

use super::columns::Column;
use super::legs::Leg;
use super::length::Reading;
use super::walk::Walk;
use super::{Read, grid::Cell};
use crate::finding::{Finding, stops};
use crate::job::Direction;
use crate::quantity::Length;
use crate::survey::as_written;

impl Walk<'_> {
    /// The whole walk, if nothing stops it.
    pub(super) fn finish(mut self, heads: &[Cell]) -> (Option<Read>, Vec<Finding>) {
        // A start may have named a leg that has no rows of its own.
        self.legs.retain(|leg| !leg.is_empty());
        self.complete(heads);
        self.starts_of_legs();
        self.findings.sort_by_key(Finding::place);
        if stops(&self.findings) {
            return (None, self.findings);
        }
        let mut assumed = Vec::new();
        self.height_of_main(&mut assumed);
        self.sizes_of_rooms(&mut assumed);
        self.outlets(&mut assumed);
        let straights = || self.legs.iter().flat_map(|leg| &leg.straights);
        let length = straights().filter_map(|(_, reading)| reading.length).sum();
        let open = straights()
            .filter(|(_, reading)| reading.length.is_none())
            .count();
        let mut survey = self.survey;
        survey.legs = self.legs.into_iter().map(|leg| leg.leg).collect();
        let read = Read {
            survey,
            length,
            open,
            assumed,
        };
        (Some(read), self.findings)
    }

    /// A walk has a start, and legs that go somewhere.
    fn complete(&mut self, heads: &[Cell]) {
        let head = heads.first().map(|cell| cell.span).unwrap_or_default();
        if self.starts.is_empty() {
            self.findings.push(Finding::unreadable(
                "sheet-without-start",
                head,
                "no row says where the walk starts",
                "add a row `start`: the compressor's name, and the height of its port above the floor",
            ));
        }
        if self.legs.is_empty() {
            self.findings.push(Finding::unreadable(
                "sheet-without-legs",
                head,
                "the sheet has no leg",
                "add a row `leg` for each way of the pipe, with its direction and its length",
            ));
        }
        let nowhere = |leg: &&Leg| leg.straights.is_empty() && !leg.broken;
        let nowhere: Vec<_> = self
            .legs
            .iter()
            .filter(nowhere)
            .map(|leg| leg.span)
            .collect();
        for span in nowhere {
            self.wrong(
                "sheet-leg-goes-nowhere",
                span,
                "this leg has no row `leg`",
                "add one with its direction and its length, or mend the leg's name",
            );
        }
        if let Some(first) = self.legs.first_mut() {
            first.leg.from.get_or_insert_with(|| self.starts.clone());
        }
    }

    /// A leg starts from a place that stands somewhere, spelled as it is there.
    fn starts_of_legs(&mut self) {
        for (text, span, number) in self.names.starts() {
            let place = self.names.spelled(&text);
            if place.is_none() {
                let all = self.names.all();
                let known: Vec<&str> = all.iter().map(String::as_str).collect();
                self.unknown("place", &Cell { text, span }, Column::Name, &known);
                continue;
            }
            let mut legs = self.legs.iter_mut();
            if let Some(leg) = legs.find(|leg| leg.number == number) {
                leg.leg.from = place;
            }
        }
    }

    /// Where the main starts, if no row says so: the port and what goes up from there.
    fn height_of_main(&mut self, assumed: &mut Vec<String>) {
        let units = self.columns.units;
        if self.survey.main.height.is_some() {
            return;
        }
        let rise = self.rise();
        match (self.port.as_ref().and_then(measured), rise) {
            (Some(port), Some(rise)) if port + rise > Length::ZERO => {
                let height = port + rise;
                self.survey.main.height = Some(as_written(height, units));
                assumed.push(format!(
                    "the main starts {} above the floor: the port's {} and the way up of {}",
                    height.show(units),
                    port.show(units),
                    rise.show(units)
                ));
            }
            _ => assumed
                .push("how high the main is has to be measured: no row `main` says it".to_owned()),
        }
    }

    /// How far the pipe goes up before its first level straight.
    fn rise(&self) -> Option<Length> {
        let mut rise = Length::ZERO;
        for (way, reading) in self.legs.iter().flat_map(|leg| &leg.straights) {
            match way {
                Direction::Up => rise += measured(reading)?,
                Direction::Down => rise -= measured(reading)?,
                _ => break,
            }
        }
        Some(rise)
    }

    fn sizes_of_rooms(&mut self, assumed: &mut Vec<String>) {
        for (room, sides) in self.survey.rooms.iter_mut().zip(&self.sides) {
            let text = |side: &Option<Reading>| {
                side.as_ref()
                    .filter(|side| side.measured)
                    .map(|side| side.text.clone())
            };
            room.size = text(&sides.0).zip(text(&sides.1));
            if room.size.is_none() {
                assumed.push(format!(
                    "the room {} is not measured both ways: no leg is checked against its walls",
                    room.name
                ));
            }
        }
    }

    fn outlets(&mut self, assumed: &mut Vec<String>) {
        for outlet in &mut self.survey.outlets {
            if outlet.height.is_none() {
                outlet.height.clone_from(&self.heights);
            }
        }
        let outlets = &self.survey.outlets;
        let list = |chosen: Vec<&str>| chosen.join(", ");
        let usual = outlets.iter().filter(|outlet| outlet.drop.is_none());
        let usual: Vec<&str> = usual.map(|outlet| &*outlet.name).collect();
        if !usual.is_empty() {
            assumed.push(format!(
                "drops with one side, filtered and regulated: {}",
                list(usual)
            ));
        }
        let bare = outlets.iter().filter(|outlet| outlet.tools.is_empty());
        let bare: Vec<&str> = bare.map(|outlet| &*outlet.name).collect();
        if !bare.is_empty() {
            assumed.push(format!("nothing is known to hang on: {}", list(bare)));
        }
    }
}

impl Leg {
    /// Whether no row but a start belongs to it.
    fn is_empty(&self) -> bool {
        self.straights.is_empty()
            && !self.broken
            && self.leg.marks.is_empty()
            && self.leg.from.is_none()
            && self.leg.left.is_none()
    }
}

/// A length that was measured.
fn measured(reading: &Reading) -> Option<Length> {
    reading.length.filter(|_| reading.measured)
}
