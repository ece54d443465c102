//! Drops that are built alike share a detail, with a table of where they differ.

use super::super::{Named, Pages};
use super::super::{Scene, Sheet};
use super::built::{Built, Likeness, built};
use super::elevation::Elevation;
use super::ink::Ink;
use super::listed::Listed;
use super::signs::entries;
use super::{outlets, words};
use crate::Plan;
use crate::network::Drop;

/// Drops that are built alike but for the length of their down pipes.
pub(super) struct Group<'a> {
    pub(super) members: Vec<(&'a Drop, Built)>,
}

/// The drops by how they are built, in walking order.
pub(super) fn groups(plan: &Plan) -> Vec<Group<'_>> {
    let mut groups: Vec<(String, Likeness, Group<'_>)> = Vec::new();
    for outlet in &plan.summary.outlets {
        let mut drops = plan.network.drops.iter();
        let Some(drop) = drops.find(|drop| drop.name == outlet.name) else {
            continue;
        };
        let owner = words::owner(plan, drop);
        let own = built(plan, owner, drop.take_off_at, Some(drop.foot_at));
        let likeness = own.likeness(plan);
        let alike = |(kind, known, _): &&mut (String, Likeness, Group<'_>)| {
            *kind == drop.kind && *known == likeness
        };
        match groups.iter_mut().find(alike) {
            Some((_, _, group)) => group.members.push((drop, own)),
            None => groups.push((
                drop.kind.clone(),
                likeness,
                Group {
                    members: vec![(drop, own)],
                },
            )),
        }
    }
    groups.into_iter().map(|(_, _, group)| group).collect()
}

impl Group<'_> {
    /// The one that is drawn: the longest down pipe has all that any of them has.
    fn longest(&self) -> Option<&(&Drop, Built)> {
        self.members.iter().max_by_key(|(drop, _)| drop.down)
    }

    /// The drawing with its list; as tall as the list wants.
    pub(super) fn listed(&self, scene: &Scene<'_>) -> Option<Listed> {
        let plan = scene.plan;
        let (drop, own) = self.longest()?;
        let mut members: Vec<&Built> = self.members.iter().map(|(_, built)| built).collect();
        members.sort_by_key(|built| built.owner != own.owner);
        let same = |of: &dyn Fn(&Drop) -> String, letter: &str| {
            let first = of(drop);
            if self.members.iter().all(|(drop, _)| of(drop) == first) {
                first
            } else {
                letter.to_owned()
            }
        };
        let units = plan.network.units;
        let main = plan
            .network
            .ends(own.root)
            .map(|end| plan.network.link(end.link));
        let main = main
            .filter(|link| link.is_main())
            .map(|link| link.size)
            .max();
        let elevation = Elevation {
            plan,
            library: scene.library,
            drop,
            built: own,
            down: same(&|drop| drop.down.show(units), "D, see table"),
            height: same(&|drop| drop.height.show(units), "H, see table"),
            main: main.map_or_else(String::new, |size| size.to_string()),
            across: scene.field.width,
        };
        let left = elevation.foot_x() + 12.0;
        let least = elevation.foot_y();
        let listed = |foot: f64| {
            let draw = |ink: &mut Ink| elevation.draw(ink, foot);
            Listed::new(scene, &members, (left, 0.0), &draw)
        };
        let first = listed(least);
        // What the sheet leaves between the list and what stands below the foot.
        let mut trial = Pages::new(scene.field, Named::default());
        trial.explain(&entries(&first.ink.signs));
        let most = trial.left() - (first.bottom() - least) - 1.0;
        let foot = least.max((first.height() + 10.9).min(most));
        Some(listed(foot).limited(foot - 10.3))
    }

    /// The detail of the kind with this number.
    pub(super) fn sheets(&self, scene: &Scene<'_>, number: usize) -> Vec<Sheet> {
        let plan = scene.plan;
        let (Some((drop, _)), Some(listed)) = (self.longest(), self.listed(scene)) else {
            return Vec::new();
        };
        let drops: Vec<&Drop> = self.members.iter().map(|(drop, _)| *drop).collect();
        let numbers: Vec<String> = drops
            .iter()
            .map(|drop| words::number(plan, &drop.name).to_string())
            .collect();
        let mut pages = Pages::new(
            scene.field,
            Named {
                id: format!("drop-{number}"),
                title: format!("Drop detail: {}, {}", drop.kind, drop.size),
                about: format!(
                    "How the drop {} is built from the main to the drain, with its parts and joints, for outlets {}.",
                    drop.kind,
                    numbers.join(", ")
                ),
            },
        );
        let rest = listed.put(&mut pages);
        let mut notes = words::water(plan, &drops);
        notes.insert(0, words::seen(drop).to_owned());
        pages.text(&notes.join(" "), false);
        let table: Vec<(&Drop, &Built)> = self
            .members
            .iter()
            .map(|(drop, built)| (*drop, built))
            .collect();
        let table = outlets::outlets(plan, scene.library, &table, scene.field.width - 2.0);
        pages.list("Parts, continued", rest);
        pages.list("Outlets with this drop", table);
        pages.finish()
    }
}
