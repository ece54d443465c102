//! What is said on a sheet, in the order in which it takes its place.

use super::Set;
use super::axes::along;
use super::picture::{Onwards, Picture};
use super::say::Say;
use crate::drawing::{At, TextSize, shorten};
use crate::network::{LinkId, NodeId, NodeKind, Owner, Spot};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// How far a label may stand from a piece, and from anything that has a name.
pub(super) const NEAR: f64 = 17.0;
const FAR: f64 = 40.0;

/// How wide a name is at most.
const NAME: f64 = 60.0;

/// A name as it is written.
fn short(name: &str) -> String {
    shorten(name, TextSize::Plain, true, NAME)
}

/// Something said, and what stands in for it where there is no room.
pub(super) struct Said {
    pub(super) say: Say,
    /// Its name and title for links.
    pub(super) link: Option<(String, String)>,
    pub(super) without: Without,
}

/// What happens where something has no room on the drawing.
pub(super) enum Without {
    /// It stands in the table.
    Rows(Vec<[String; 3]>),
    /// The sheet shows too much.
    Never([String; 3]),
}

/// Beside a line: where there is most room for level text.
pub(super) fn beside(way: (f64, f64)) -> (f64, f64) {
    match way {
        (x, y) if x.abs() < 0.1 || y.abs() < 0.1 => {
            if x.abs() < 0.1 {
                (1.0, 0.0)
            } else {
                (0.0, -1.0)
            }
        }
        // Falling to the right: above and to the right of it.
        (x, y) if x * y > 0.0 => (1.0, -1.0),
        _ => (-1.0, -1.0),
    }
}

fn row(what: &str, value: String, place: String) -> Without {
    Without::Never([what.to_owned(), value, place])
}

impl Set<'_> {
    pub(super) fn show(&self, length: Length) -> String {
        length.show(self.scene.plan.network.units)
    }

    /// Everything that is said on a sheet besides dimensions.
    pub(super) fn said(
        &self,
        picture: &Picture<'_>,
        sheet_of: &dyn Fn(usize) -> String,
        centres: BTreeMap<LinkId, String>,
    ) -> Vec<Said> {
        let mut said = self.tagged(picture);
        said.extend(self.onwards(picture, sheet_of));
        said.extend(self.tanks(picture));
        said.extend(self.unions(picture));
        said.extend(self.pieces_said(picture, centres));
        said.extend(self.heights(picture));
        said
    }

    fn tagged(&self, picture: &Picture<'_>) -> Vec<Said> {
        let network = &self.scene.plan.network;
        let mut said = Vec::new();
        let drops = network
            .drops
            .iter()
            .filter(|drop| picture.own.contains(&drop.foot_at));
        for drop in drops {
            let Some(at) = picture.at(drop.foot_at) else {
                continue;
            };
            let number = self.tags.outlet(&drop.name).to_string();
            let height = format!("outlet {} up", self.show(drop.height));
            said.push(Said {
                say: Say {
                    at,
                    towards: (1.0, 1.0),
                    ring: Some(number.clone()),
                    name: Some(short(&drop.name)),
                    lines: vec![height.clone()],
                    most: FAR,
                    insists: true,
                    ..Say::default()
                },
                link: Some((
                    format!("outlet-{number}"),
                    format!("Outlet {number}, {}", drop.name),
                )),
                without: row(&format!("outlet {number}"), height, drop.name.clone()),
            });
        }
        for (at, tag, name) in &self.tags.valves {
            if let Some(place) = picture.at(*at).filter(|_| picture.own.contains(at)) {
                // A leader begins beside the sign's black ball.
                said.push(Said {
                    say: Say {
                        at: place.by(1.2, -1.2),
                        others: vec![place.by(-1.2, -1.2), place.by(-1.2, 1.2)],
                        towards: (1.0, -1.0),
                        name: Some(short(&format!("{tag} {name}"))),
                        most: FAR,
                        insists: true,
                        ..Say::default()
                    },
                    link: Some((format!("valve-{tag}"), format!("Valve {tag}, {name}"))),
                    without: row(&format!("valve {tag}"), String::new(), name.clone()),
                });
            }
        }
        for (on, tag, name) in &self.tags.drains {
            let leg = network.nodes().find(|(_, node)| {
                let owner = node.origin.owner;
                node.origin.spot == Spot::DripLeg
                    && matches!(owner, Owner::Drain(drain) if network.drains[drain].at == *on)
            });
            let drain = leg.map_or(*on, |(id, _)| id);
            if let Some(place) = picture.at(drain).filter(|_| picture.own.contains(&drain)) {
                let height = format!("main {} up", self.show(network.node(*on).at.up));
                said.push(Said {
                    say: Say {
                        at: place,
                        towards: (1.0, 0.5),
                        name: Some(short(&format!("{tag} {name}"))),
                        lines: vec![height.clone()],
                        most: FAR,
                        insists: true,
                        ..Say::default()
                    },
                    link: Some((format!("drain-{tag}"), format!("Drain {tag}, {name}"))),
                    without: row(&format!("drain {tag}"), height, name.clone()),
                });
            }
        }
        said
    }

    fn onwards(&self, picture: &Picture<'_>, sheet_of: &dyn Fn(usize) -> String) -> Vec<Said> {
        let network = &self.scene.plan.network;
        let onwards = picture.onwards().into_iter();
        onwards
            .map(
                |Onwards {
                     at,
                     way,
                     stretch,
                     place,
                 }| {
                    let words = format!("to {}", sheet_of(stretch));
                    let mut lines = vec![words.clone()];
                    lines.extend(place.map(|place| self.up(network.node(place).at.up)));
                    Said {
                        say: Say::small(at, way, lines, FAR),
                        link: None,
                        without: row("goes on", words, String::new()),
                    }
                },
            )
            .collect()
    }

    pub(super) fn up(&self, height: Length) -> String {
        format!("{} up", self.show(height))
    }

    fn tanks(&self, picture: &Picture<'_>) -> Vec<Said> {
        let network = &self.scene.plan.network;
        let ports = network.ports().filter(|port| picture.own.contains(port));
        ports
            .filter_map(|port| {
                let node = network.node(port);
                let NodeKind::Port { size, .. } = node.kind else {
                    return None;
                };
                let Owner::Supply(supply) = node.origin.owner else {
                    return None;
                };
                let at = picture.at(port)?;
                let lines = vec![format!("port {size}, {}", self.up(node.at.up))];
                let name = network.supplies[supply].0.clone();
                let edges = self.round_tank(port, at);
                Some(Said {
                    without: row("tank", lines[0].clone(), name.clone()),
                    say: Say {
                        at: edges[0],
                        others: edges[1..].to_vec(),
                        towards: (1.0, 1.0),
                        name: Some(short(&name)),
                        lines,
                        most: FAR,
                        insists: true,
                        ..Say::default()
                    },
                    link: None,
                })
            })
            .collect()
    }

    /// The edges of the sign of a tank whose port is there.
    fn round_tank(&self, port: NodeId, at: At) -> [At; 3] {
        let network = &self.scene.plan.network;
        let supply = network.node(port).origin.owner;
        let mut places = network
            .nodes()
            .filter(|(_, node)| node.origin.owner == supply);
        let first = places.find_map(|(id, _)| {
            let mut ends = network.ends(id);
            ends.find(|end| network.link(end.link).is_main())
        });
        let level = first.filter(|end| end.direction.is_level());
        let middle = level.map_or(at.by(0.0, 2.5), |end| {
            let (x, y) = along(end.direction);
            at.by(-4.0 * x, -4.0 * y)
        });
        [(0.0, 2.9), (-3.9, -1.8), (3.9, 1.8)].map(|(x, y)| middle.by(x, y))
    }

    fn unions(&self, picture: &Picture<'_>) -> Vec<Said> {
        let joints = self.pieces.joints.iter().filter(|joint| joint.union);
        let of_rings = joints.filter_map(|joint| picture.on_clear(joint.at));
        let joins = picture
            .own
            .iter()
            .flat_map(|place| picture.joins_at(*place));
        let of_joins = joins.filter(|(.., part)| part.sign == "union");
        let unions = of_rings.chain(of_joins.map(|(at, way, _)| (at, way)));
        unions
            .map(|(at, way)| Said {
                say: Say {
                    at,
                    towards: beside(way),
                    name: Some("UNION".to_owned()),
                    most: FAR,
                    insists: true,
                    ..Say::default()
                },
                link: None,
                without: row("UNION", String::new(), String::new()),
            })
            .collect()
    }
}
