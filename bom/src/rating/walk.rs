//! The rating walk: over the pipe of the network and the parts of the count.

use super::heat::Heat;
use super::row::{Item, Rating};
use super::rules::Tube;
use super::zones::{Rated, Shown};
use crate::library::{Library, PartEnd};
use crate::network::{Network, NodeId, NodeKind};
use crate::quantity::{Size, Temperature};
use crate::system::{Joint, System};
use crate::takeoff::{Group, PartLine, Takeoff};
use std::collections::{BTreeMap, BTreeSet};

/// What takes one line of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    /// Of a system, by its index, in a size.
    Of(usize, Item, Size),
    /// A device, by its index.
    Device(usize),
}

/// The walk over everything that holds pressure.
pub(super) struct Walk<'a> {
    pub(super) network: &'a Network,
    pub(super) takeoff: &'a Takeoff,
    pub(super) library: &'a Library,
    pub(super) systems: &'a [System],
    pub(super) alloy: Option<&'a str>,
    pub(super) heat: Heat,
}

impl Walk<'_> {
    /// Whether anything stands behind a regulator.
    pub(super) fn has_regulator(&self) -> bool {
        self.network.nodes().any(|(_, node)| match node.kind {
            NodeKind::Device { device, .. } => self.library.devices()[device].name == "regulator",
            NodeKind::Port { .. } | NodeKind::Fitting(_) => false,
        })
    }

    /// Everything that holds pressure, each where it is hottest.
    pub(super) fn items(&self) -> Vec<Rated> {
        let mut hottest: BTreeMap<Key, NodeId> = BTreeMap::new();
        let mut stands = |key: Key, node: NodeId| {
            let place = hottest.entry(key).or_insert(node);
            *place = self.heat.hotter(*place, node);
        };
        for (_, from, to, link) in self.network.links() {
            if link.pipe.is_some() {
                let key = Key::Of(link.system, Item::Pipe, link.size);
                stands(key, self.heat.hotter(from, to));
            }
        }
        for line in self.lines() {
            for key in self.keys(line) {
                for because in &line.because {
                    stands(key, because.at.place);
                }
            }
        }
        for (key, node) in self.joints(&hottest) {
            hottest.insert(key, node);
        }
        hottest
            .into_iter()
            .flat_map(|(key, node)| self.rated(key, node))
            .collect()
    }

    /// What is bought and what stands: the weakest part limits, whichever it is.
    fn lines(&self) -> impl Iterator<Item = &PartLine> {
        let bought = self.takeoff.lines.iter();
        bought.chain(&self.takeoff.standing.lines)
    }

    /// The fittings that no row and no device rates, in words.
    pub(super) fn unjudged(&self) -> Vec<String> {
        let fittings = self.lines();
        let fittings = fittings.filter(|line| line.group == Group::Fittings);
        fittings
            .filter(|line| self.keys(line).is_empty())
            .map(|line| format!("{} {}", line.words, line.key.size))
            .collect()
    }

    /// What a line of parts is judged as: the sizes of a system's fittings and
    /// nipples, a device, or nothing where it holds no pressure.
    fn keys(&self, line: &PartLine) -> Vec<Key> {
        let Some(system) = self.system(&line.key.system) else {
            let mut devices = self.library.devices().iter();
            let device = devices.position(|device| device.part == line.key.part);
            return device.map(Key::Device).into_iter().collect();
        };
        let item = match line.group {
            Group::Pipe => Item::Pipe,
            // Press and push-fit makers rate the fitting and its joint as one.
            Group::Fittings if self.has(system, Item::Fitting) => Item::Fitting,
            Group::Fittings if self.has(system, Item::Joint) => Item::Joint,
            Group::Fittings => Item::Fitting,
            Group::Valves
            | Group::Supply
            | Group::Treatment
            | Group::Outlets
            | Group::Supports
            | Group::Sundries => return Vec::new(),
        };
        // The thread of a tube's adapter is no size of the tube: the adapter is
        // judged by its socket.
        let mut parts = self.library.parts().iter();
        let part = parts.find(|part| part.name == line.key.part);
        let ends = part.map_or(&[][..], |part| &part.ends).iter().enumerate();
        let mut sizes: BTreeSet<Size> = ends
            .filter(|(_, end)| matches!(end, Some(PartEnd::Own(_))))
            .filter_map(|(number, _)| line.key.size.port(number))
            .collect();
        if sizes.is_empty() {
            sizes.extend(line.key.size.largest());
        }
        let keys = sizes.into_iter().map(|size| Key::Of(system, item, size));
        keys.collect()
    }

    /// The joints that have a rating of their own, each where pipe or fittings
    /// of its size are hottest. A thread's rating is that of its pipe and its fitting.
    fn joints(&self, hottest: &BTreeMap<Key, NodeId>) -> Vec<(Key, NodeId)> {
        let tank = self.network.nodes().next().map(|(id, _)| id);
        let joints = self.takeoff.joints.iter();
        let joints = joints.chain(&self.takeoff.standing.joints);
        let joints = joints.filter_map(|joints| {
            let system = self.system(&joints.system)?;
            let made = self.systems[system].joint;
            let must = matches!(made, Joint::Soldered | Joint::Brazed);
            if joints.joint != made || !(must || self.has(system, Item::Joint)) {
                return None;
            }
            let key = |item| Key::Of(system, item, joints.size);
            let beside = [Item::Pipe, Item::Fitting]
                .iter()
                .find_map(|item| hottest.get(&key(*item)));
            Some((key(Item::Joint), beside.copied().or(tank)?))
        });
        joints.collect()
    }

    fn system(&self, name: &str) -> Option<usize> {
        self.systems.iter().position(|system| system.name == name)
    }

    /// Whether a system says anything about its pipe, fittings or joints.
    fn has(&self, system: usize, item: Item) -> bool {
        let mut rows = self.systems[system].ratings.iter();
        rows.any(|row| row.item == item && !row.shown)
    }

    /// The rows that a part is judged by.
    fn rows(&self, system: usize, item: Item, size: Size) -> Vec<&Rating> {
        let all = self.all_rows(system, item, size);
        all.filter(|row| !row.shown).collect()
    }

    fn all_rows(&self, system: usize, item: Item, size: Size) -> impl Iterator<Item = &Rating> {
        let system = &self.systems[system];
        let known = |alloy: &&str| {
            let mut rows = system.ratings.iter();
            rows.any(|row| row.alloy.as_deref() == Some(*alloy))
        };
        let alloy = self.alloy.filter(known).or(system.alloy.as_deref());
        system.ratings.iter().filter(move |row| {
            let of_alloy = row.alloy.is_none() || row.alloy.as_deref() == alloy;
            row.item == item && row.covers(size) && of_alloy
        })
    }

    /// A part with each of the ratings that it is judged by.
    fn rated(&self, key: Key, place: NodeId) -> Vec<Rated> {
        let temperature = self.heat.at(place);
        let blank = Rated {
            what: String::new(),
            words: String::new(),
            place,
            place_words: self.network.describe(place),
            span: self.network.node(place).span,
            temperature,
            psi: None,
            margin_psi: None,
            source: String::new(),
            shown: Vec::new(),
        };
        let (system, item, size) = match key {
            Key::Of(system, item, size) => (system, item, size),
            Key::Device(device) => {
                let device = &self.library.devices()[device];
                return vec![Rated {
                    what: device.name.replace('-', " "),
                    psi: Some(device.rated_psi),
                    source: device.rated_source.clone(),
                    ..blank
                }];
            }
        };
        let named = &self.systems[system];
        let tube = named.row(size).map_or_else(Tube::default, Tube::of);
        let material = &named.material;
        let blank = Rated {
            what: match item {
                Item::Pipe => format!("{material} pipe {size}"),
                Item::Fitting => format!("{material} fitting {size}"),
                Item::Joint => format!("{} joint {size} of {material}", named.joint.word()),
            },
            shown: self.shown(system, item, size, &tube, temperature),
            ..blank
        };
        let rows = self.rows(system, item, size);
        if rows.is_empty() {
            return vec![blank];
        }
        rows.iter()
            .map(|row| Rated {
                words: row.words.clone(),
                psi: row.at(size, &tube, temperature),
                source: row.source.clone(),
                ..blank.clone()
            })
            .collect()
    }

    fn shown(
        &self,
        system: usize,
        item: Item,
        size: Size,
        tube: &Tube,
        temperature: Temperature,
    ) -> Vec<Shown> {
        let rows = self.all_rows(system, item, size).filter(|row| row.shown);
        rows.filter_map(|row| {
            let hottest = row.rule.temperatures().next_back()?;
            Some(Shown {
                words: row.words.clone(),
                psi: row.at(size, tube, temperature.min(hottest))?,
                only_to: Some(hottest).filter(|hottest| *hottest < temperature),
                source: row.source.clone(),
            })
        })
        .collect()
    }
}
