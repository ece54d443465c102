//! What is said on a sheet, in the order in which it takes its place.

use super::Set;
use super::axes::{along, unit};
use super::picture::{Onwards, Picture};
use super::pieces::{On, Shown};
use super::say::Say;
use crate::drawing::At;
use crate::job::Direction;
use crate::network::{LinkId, NodeId, NodeKind, Owner, Spot};
use crate::quantity::{Length, Size};
use std::collections::{BTreeMap, BTreeSet};

/// How far a label may stand from a piece, and from anything that has a name.
const NEAR: f64 = 17.0;
const FAR: f64 = 40.0;

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
    fn show(&self, length: Length) -> String {
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
                    name: Some(drop.name.clone()),
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
                        name: Some(format!("{tag} {name}")),
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
                        name: Some(format!("{tag} {name}")),
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

    fn up(&self, height: Length) -> String {
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
                Some(Said {
                    without: row("tank", lines[0].clone(), name.clone()),
                    say: Say {
                        at: self.below_tank(port, at),
                        towards: (1.0, 1.0),
                        name: Some(name),
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

    /// The lower edge of the sign of a tank whose port is there.
    fn below_tank(&self, port: NodeId, at: At) -> At {
        let network = &self.scene.plan.network;
        let upright = |way: &Direction| !way.is_level();
        let mut ways = network.ends(port).map(|end| end.direction);
        let supply = network.node(port).origin.owner;
        let main = network
            .nodes()
            .filter(|(_, node)| node.origin.owner == supply);
        let mut main = main.flat_map(|(id, _)| network.ends(id));
        let first = main
            .find(|end| network.link(end.link).is_main())
            .map(|end| end.direction);
        match first.or_else(|| ways.next()) {
            Some(way) if !upright(&way) => {
                let (x, y) = along(way);
                at.by(-4.0 * x, 2.8 - 4.0 * y)
            }
            _ => at.by(0.0, 5.2),
        }
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

    /// The pieces: those of the cut sheet first, so that they get the better places.
    fn pieces_said(
        &self,
        picture: &Picture<'_>,
        mut centres: BTreeMap<LinkId, String>,
    ) -> Vec<Said> {
        let network = &self.scene.plan.network;
        let mut named: BTreeSet<Size> = BTreeSet::new();
        let mut offsets: BTreeMap<NodeId, Vec<&Shown>> = BTreeMap::new();
        let mut said = Vec::new();
        for piece in &self.pieces.shown {
            let Some((at, way)) = picture.on(piece.spots[0]) else {
                continue;
            };
            if let Some(elbow) = self.upper_elbow(piece) {
                offsets.entry(elbow).or_default().push(piece);
                continue;
            }
            let main = network.link(piece.spots[0].link).is_main();
            let drop = network.node(piece.between[1]).origin.spot == Spot::Foot;
            let mut lines = vec![self.piece_words(piece)];
            // A size is said where it is first, and on each drop.
            if main && named.insert(piece.size) || drop {
                lines.push(piece.size.to_string());
            }
            let on = piece.spots[0].link;
            lines.extend(centres.remove(&on).map(|words| format!("c-c {words}")));
            let others = piece.spots[1..].iter().filter_map(|on| picture.on(*on));
            let say = Say {
                others: others.map(|(at, _)| at).collect(),
                ..Say::small(at, beside(way), lines, NEAR)
            };
            let order = if main {
                1
            } else if drop {
                2
            } else {
                3
            };
            said.push((order, self.piece_said(say, &[piece])));
        }
        // The way up from the main and over is said at its elbow.
        for (elbow, pieces) in offsets {
            let Some(at) = picture.at(elbow) else {
                continue;
            };
            let lines = match &pieces[..] {
                [a, b] if a.label.is_none() && b.label.is_none() && a.length == b.length => {
                    vec![format!(
                        "2 {}",
                        self.piece_words(a).replacen("nipple", "nipples", 1)
                    )]
                }
                pieces => pieces.iter().map(|piece| self.piece_words(piece)).collect(),
            };
            let say = Say::small(at, (0.0, -1.0), lines, NEAR);
            said.push((0, self.piece_said(say, &pieces)));
        }
        for (link, words) in centres {
            let on = |share: f64| picture.on(On { link, share });
            let Some((at, way)) = on(0.5) else { continue };
            let others = [0.3, 0.7].into_iter().filter_map(on).map(|(at, _)| at);
            let between = network
                .ends_of(link)
                .map(|place| network.place(place))
                .join(" to ");
            let row = ["c-c".to_owned(), words.clone(), between];
            said.push((
                4,
                Said {
                    say: Say {
                        others: others.collect(),
                        ..Say::small(at, beside(way), vec![format!("c-c {words}")], NEAR)
                    },
                    link: None,
                    without: Without::Rows(vec![row]),
                },
            ));
        }
        said.sort_by_key(|(order, _)| *order);
        said.into_iter().map(|(_, said)| said).collect()
    }

    fn piece_words(&self, piece: &Shown) -> String {
        let length = self.show(piece.length);
        match &piece.label {
            Some(label) => format!("{label}: {length}"),
            None => format!("{} {length}", piece.ready),
        }
    }

    /// The elbow between the way up from the main and the way over, if a piece is one of
    /// them.
    fn upper_elbow(&self, piece: &Shown) -> Option<NodeId> {
        let network = &self.scene.plan.network;
        let spot = |place: NodeId| network.node(place).origin.spot;
        let [from, to] = piece.between;
        match (spot(from), spot(to)) {
            (_, Spot::UpperElbow) => Some(to),
            (Spot::UpperElbow, Spot::DropElbow) => Some(from),
            _ => None,
        }
    }

    fn piece_said(&self, say: Say, pieces: &[&Shown]) -> Said {
        let network = &self.scene.plan.network;
        let rows = pieces.iter().map(|piece| {
            let between = piece.between.map(|place| network.place(place)).join(" to ");
            let length = format!("{}, {}", self.show(piece.length), piece.size);
            [
                piece
                    .label
                    .clone()
                    .unwrap_or_else(|| piece.ready.to_owned()),
                length,
                between,
            ]
        });
        Said {
            say,
            link: None,
            without: Without::Rows(rows.collect()),
        }
    }

    /// The height of pipe where main of this sheet begins, ends, or is highest.
    fn heights(&self, picture: &Picture<'_>) -> Vec<Said> {
        let network = &self.scene.plan.network;
        let mut said = Vec::new();
        let drained: BTreeSet<NodeId> = network.drains.iter().map(|drain| drain.at).collect();
        for place in picture.stretches.iter().flat_map(|stretch| &stretch.places) {
            let node = network.node(*place);
            let main: Vec<_> = network
                .ends(*place)
                .filter(|end| network.link(end.link).is_main())
                .collect();
            let turns = matches!(&main[..], [a, b] if a.direction != b.direction.opposite());
            let crest = node.origin.spot == Spot::Crest;
            let supply = matches!(node.origin.owner, Owner::Supply(_));
            if supply || drained.contains(place) || !(turns || crest || main.len() != 2) {
                continue;
            }
            let Some(at) = picture.at(*place) else {
                continue;
            };
            let away = main.iter().fold((0.0, 0.0), |sum: (f64, f64), end| {
                let way = along(end.direction);
                (sum.0 - way.0, sum.1 - way.1)
            });
            let height = self.up(node.at.up);
            said.push(Said {
                say: Say::small(at, unit((away.0, away.1 - 0.1)), vec![height.clone()], NEAR),
                link: None,
                without: Without::Rows(vec![["height".to_owned(), height, network.place(*place)]]),
            });
        }
        said
    }

    /// The main from place to place, with its lengths.
    pub(super) fn centres(&self, picture: &Picture<'_>) -> Vec<(LinkId, At, At, String)> {
        let network = &self.scene.plan.network;
        let mut lines = Vec::new();
        for id in picture.stretches.iter().flat_map(|stretch| &stretch.main) {
            let [from, to] = network.ends_of(*id);
            let link = network.link(*id);
            if let (Some(a), Some(b), Some(length)) = (picture.at(from), picture.at(to), link.pipe)
            {
                lines.push((*id, a, b, self.show(length)));
            }
        }
        lines
    }
}
