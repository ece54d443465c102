//! Shops of any size, written as job files: sound jobs, the same text for the
//! same seed. One shop can be written in many forms that mean the same, so
//! that a test can hold every answer against every form.

use super::luck::Luck;
use super::write::KINDS;

/// How the main runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Plan {
    /// A comb: one main with branches to either side.
    Tree,
    /// A rectangle fed in its west side, with a low point in its east side and
    /// perhaps another in its south side.
    Ring,
    /// A rectangle with a rung across it, fed in its west side, with a low point
    /// in its east side and perhaps another in the rung.
    Rungs,
    /// A saw-tooth: legs that fall to a low point from both sides, and a fork at
    /// the end, from which the pipe falls both ways.
    Teeth,
}

impl Plan {
    pub(crate) const ALL: [Self; 4] = [Self::Tree, Self::Ring, Self::Rungs, Self::Teeth];
}

/// A shop with its main and outlets. Lengths are whole inches.
#[derive(Debug)]
pub(crate) struct Shop {
    pub(super) seed: u64,
    pub(super) legs: Vec<Leg>,
    pub(super) outlets: Vec<Outlet>,
    pub(super) room: Option<(u64, u64)>,
    /// The drains of the main, by their numbers.
    pub(super) lows: Vec<usize>,
    /// How many line valves there are.
    pub(super) valves: usize,
    pub(super) unions: &'static str,
    pub(super) size: &'static str,
    pub(super) fall: &'static str,
}

#[derive(Debug)]
pub(super) struct Leg {
    pub(super) from: Name,
    pub(super) to: Option<Name>,
    /// Another leg needs the name of this one's end.
    pub(super) named_end: bool,
    pub(super) go: Vec<(Way, u64)>,
    pub(super) marks: Vec<(Name, u64)>,
    pub(super) size: Option<&'static str>,
    pub(super) along: Option<Way>,
    /// It falls back towards the supply.
    pub(super) back: bool,
    /// What must stay clear below it.
    pub(super) clear: Option<u64>,
}

#[derive(Debug)]
pub(super) struct Outlet {
    pub(super) kind: usize,
    pub(super) height: u64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Name {
    Supply,
    Place(usize),
    Outlet(usize),
    Kind(usize),
    Valve(usize),
    Low(usize),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    East,
    North,
    West,
    South,
    Up,
}

pub(super) const PORT_HEIGHT: u64 = 36;
pub(super) const MAIN_HEIGHT: u64 = 144;
const RISER: u64 = MAIN_HEIGHT - PORT_HEIGHT;
/// Least distance between marks, and from a mark to a turn.
pub(super) const CLEAR: u64 = 36;
/// The main may come down by so much: far above every outlet still.
const MOST_FALL: u64 = 24;
/// Falls, and one part in how many each is.
const FALLS: [(&str, u64); 4] = [
    ("1 %", 100),
    ("0.1 %", 1_000),
    ("0.01 %", 10_000),
    ("0.001 %", 100_000),
];

impl Shop {
    /// A shop with so many outlets, at least one.
    pub(crate) fn new(plan: Plan, outlets: usize, seed: u64) -> Self {
        let mut luck = Luck(seed);
        let outlets: Vec<Outlet> = (0..outlets.max(1))
            .map(|_| Outlet {
                kind: luck.index(KINDS.len()),
                height: luck.between(36, 60),
            })
            .collect();
        let mut shop = Self {
            seed,
            legs: vec![Leg::new(
                Name::Supply,
                vec![(Way::Up, RISER), (Way::East, luck.between(CLEAR, 96))],
            )],
            outlets,
            room: None,
            lows: Vec::new(),
            valves: 0,
            unions: ["none", "loops", "service"][luck.index(3)],
            size: ["3/4in", "1in", "1-1/4in"][luck.index(3)],
            fall: "level",
        };
        shop.legs[0].to = Some(Name::Place(0));
        let longest = match plan {
            Plan::Tree => shop.lay_tree(&mut luck),
            Plan::Ring => shop.lay_ring(&mut luck),
            Plan::Rungs => shop.lay_rungs(&mut luck),
            Plan::Teeth => shop.lay_teeth(&mut luck),
        };
        if let Some((fall, _)) = FALLS.iter().find(|(_, per)| longest <= MOST_FALL * per) {
            shop.fall = fall;
        }
        for leg in shop.legs.iter_mut().skip(1).step_by(3) {
            leg.clear = Some(MAIN_HEIGHT - 6);
        }
        // The size chart ends at 300 ft.
        if longest + RISER <= 250 * 12 && luck.coin() {
            shop.size = "auto";
            for leg in &mut shop.legs {
                leg.size = None;
            }
        }
        shop
    }

    /// The same shop without one of the drains of its main.
    pub(crate) fn without_drain(mut self, number: usize) -> Self {
        self.lows.retain(|low| *low != number);
        for leg in &mut self.legs {
            leg.marks.retain(|(name, _)| *name != Name::Low(number));
        }
        self
    }

    /// How many drains its main has.
    pub(crate) fn drains(&self) -> usize {
        self.lows.len()
    }

    /// The next low point.
    pub(super) fn next_low(&mut self) -> Name {
        self.lows.push(self.lows.len());
        Name::Low(self.lows.len() - 1)
    }

    /// Marks a low point along a leg of one straight, which ends there.
    pub(super) fn mark_low(&mut self, leg: &mut Leg, luck: &mut Luck) {
        leg.go[0].1 += luck.between(CLEAR, 96);
        leg.marks.push((self.next_low(), leg.go[0].1));
    }

    /// Lays main and branches; returns the longest level way from the riser.
    fn lay_tree(&mut self, luck: &mut Luck) -> u64 {
        const BRANCHES_A_LEG: usize = 10;
        let smaller = match self.size {
            "1-1/4in" => Some("1in"),
            "1in" => Some("3/4in"),
            _ => None,
        };
        let mut branches = Vec::new();
        let mut place = 1;
        let mut at = self.legs[0].level_length();
        let mut longest = 0;
        let mut main = Leg::new(Name::Place(0), vec![(Way::East, 0)]);
        let mut outlet = 0;
        while outlet < self.outlets.len() {
            if main.marks.len() == BRANCHES_A_LEG {
                main.go[0].1 += CLEAR;
                at += CLEAR;
                main.to = Some(Name::Place(place));
                let next = Leg::new(Name::Place(place), vec![(Way::East, 0)]);
                self.legs.push(std::mem::replace(&mut main, next));
                place += 1;
            }
            let step = luck.between(CLEAR, 96);
            main.go[0].1 += step;
            at += step;
            main.marks.push((Name::Place(place), main.go[0].1));
            let way = if branches.len() % 2 == 0 {
                Way::North
            } else {
                Way::South
            };
            let mut branch = Leg::new(Name::Place(place), vec![(way, 0)]);
            place += 1;
            branch.size = smaller.filter(|_| luck.coin());
            let count = (1 + luck.index(6)).min(self.outlets.len() - outlet);
            branch.spread(luck, outlet..outlet + count, &mut self.valves);
            outlet += count;
            longest = longest.max(at + branch.go[0].1);
            branches.push(branch);
        }
        self.legs.push(main);
        self.legs.append(&mut branches);
        longest
    }

    /// Lays the ring; returns the longest level way from the riser to the low
    /// point.
    fn lay_ring(&mut self, luck: &mut Luck) -> u64 {
        let ways = [Way::North, Way::East, Way::South, Way::West, Way::North];
        let total = self.outlets.len();
        let mut sides = Vec::new();
        for (side, way) in ways.into_iter().enumerate() {
            let mut leg = Leg::new(Name::Place(side), vec![(way, 0)]);
            leg.to = Some(Name::Place((side + 1) % 5));
            let outlets = total * side / 5..total * (side + 1) / 5;
            leg.spread(luck, outlets, &mut self.valves);
            if way == Way::South || (way == Way::West && luck.coin()) {
                self.mark_low(&mut leg, luck);
            }
            leg.go[0].1 += CLEAR;
            sides.push(leg);
        }
        let length = |side: usize| sides[side].go[0].1;
        let wide = length(1).max(length(3));
        let deep = length(2).max(length(0) + length(4));
        let lower = deep - length(0);
        for (side, length) in [(1, wide), (3, wide), (2, deep), (4, lower)] {
            sides[side].go[0].1 = length;
        }
        for (side, wall) in [(1, Way::North), (2, Way::East), (3, Way::South)] {
            sides[side].along = Some(wall);
        }
        sides[4].named_end = true;
        self.legs[0].named_end = true;
        self.room = Some((wide, deep));
        let low = sides[2].marks.last().map_or(0, |mark| mark.1);
        let one_way = sides[0].go[0].1 + wide + low;
        let other_way = 2 * (wide + deep) - one_way;
        let feed = self.legs[0].level_length();
        self.legs.append(&mut sides);
        feed + one_way.max(other_way)
    }
}

impl Leg {
    pub(super) fn new(from: Name, go: Vec<(Way, u64)>) -> Self {
        Self {
            from,
            to: None,
            named_end: false,
            go,
            marks: Vec::new(),
            size: None,
            along: None,
            back: false,
            clear: None,
        }
    }

    pub(super) fn level_length(&self) -> u64 {
        let level = self.go.iter().filter(|(way, _)| *way != Way::Up);
        level.map(|(_, length)| length).sum()
    }

    /// Marks outlets along a leg of one straight, which ends at the last, with
    /// line valves before some of them.
    pub(super) fn spread(
        &mut self,
        luck: &mut Luck,
        outlets: std::ops::Range<usize>,
        valves: &mut usize,
    ) {
        for outlet in outlets {
            if luck.index(4) == 0 {
                self.go[0].1 += luck.between(CLEAR, 60);
                self.marks.push((Name::Valve(*valves), self.go[0].1));
                *valves += 1;
            }
            self.go[0].1 += luck.between(CLEAR, 120);
            self.marks.push((Name::Outlet(outlet), self.go[0].1));
        }
        if self.marks.is_empty() {
            self.go[0].1 += CLEAR;
        }
    }
}
