//! What is said of lengths and heights: pieces, from centre to centre, above the floor.

use super::Set;
use super::axes::{along, unit};
use super::picture::Picture;
use super::pieces::{On, Shown};
use super::say::Say;
use super::words::{NEAR, Said, Without, beside};
use crate::drawing::At;
use crate::network::{LinkId, NodeId, Owner, Spot};
use crate::quantity::Size;
use std::collections::{BTreeMap, BTreeSet};

impl Set<'_> {
    /// The pieces: those of the cut sheet first, so that they get the better places.
    pub(super) fn pieces_said(
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
            if piece.alone {
                lines.extend(centres.remove(&on).map(|words| format!("c-c {words}")));
            }
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
        // What takes its place first does not hang on the numbers of the pieces.
        said.sort_by(|(one, a), (other, b)| {
            let along = |said: &Said| said.say.at;
            (one.cmp(other))
                .then(along(a).x.total_cmp(&along(b).x))
                .then(along(a).y.total_cmp(&along(b).y))
        });
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
    pub(super) fn heights(&self, picture: &Picture<'_>) -> Vec<Said> {
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
