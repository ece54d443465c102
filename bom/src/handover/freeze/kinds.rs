//! Kinds of drops, with the sizes that were chosen.

use super::{Edit, Freezer, Place};
use crate::job::{DropKind, Job, Outlet, SizeChoice, State};
use crate::quantity::Size;
use std::collections::{BTreeMap, BTreeSet};

impl Freezer<'_> {
    /// The sizes of drops that the file leaves open: one kind has one size, and what is
    /// not built yet keeps it open.
    pub(super) fn kinds(&mut self) {
        for index in 0..self.file.drops.len() {
            let kind = self.file.drops[index].clone();
            if kind.state.is_some_and(|state| state.value != State::Later) {
                let at = Place::Named("drop", kind.name.value.clone());
                self.edits.push(Edit::Erase(at, "state".to_owned()));
            }
            if kind.size == SizeChoice::Auto {
                self.sized(&kind);
            }
        }
    }

    fn sized(&mut self, kind: &DropKind) {
        let of_it = |job: &Job, outlet: &Outlet| {
            let own = outlet.drop.and_then(|own| job.drops.get(own));
            own.is_some_and(|own| own.name.value == kind.name.value)
        };
        let mut drops: Vec<(String, Option<Size>)> = Vec::new();
        for drop in &self.plan.network.drops {
            if drop.kind == kind.name.value {
                drops.push((drop.name.clone(), Some(drop.size)));
            }
        }
        if let Some(later) = self.later {
            for outlet in later.outlets.iter().filter(|one| of_it(later, one)) {
                let name = &outlet.name.value;
                if !drops.iter().any(|(one, _)| one == name) {
                    let mut plugs = self.plan.job.plugs.iter();
                    let plug = plugs.find(|plug| plug.to_come && plug.name == *name);
                    drops.push((name.clone(), plug.and_then(|plug| plug.size)));
                }
            }
        }
        let mut count: BTreeMap<Option<Size>, usize> = BTreeMap::new();
        for (_, size) in &drops {
            *count.entry(*size).or_default() += 1;
        }
        // The kind itself has the size that most have; one that stays open stays so.
        let usual = match count.contains_key(&None) {
            true => None,
            false => count
                .iter()
                .rev()
                .max_by_key(|(_, count)| **count)
                .and_then(|(size, _)| *size),
        };
        let name = &kind.name.value;
        if let Some(size) = usual {
            self.write(Place::Named("drop", name.clone()), "size", size.to_string());
        }
        let others: BTreeSet<Size> = count.into_keys().flatten().collect();
        for size in others.into_iter().filter(|size| Some(*size) != usual) {
            let own = format!("{name} {size}");
            self.edits
                .push(Edit::Repeat("drop", name.clone(), own.clone()));
            self.write(Place::Named("drop", own.clone()), "size", size.to_string());
            for (outlet, _) in drops.iter().filter(|(_, one)| *one == Some(size)) {
                let at = Place::Named("outlet", outlet.clone());
                self.write(at, "drop", own.clone());
            }
        }
    }
}
