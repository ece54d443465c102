//! One more outlet, and where there is room for it.

use crate::job::{Job, Mark, Outlet};
use crate::quantity::{Length, Units};
use crate::source::Spanned;
use std::collections::BTreeSet;

/// Where one more drop can leave the main: the middle of level pipe on which nothing
/// stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// The leg, by its index.
    pub leg: usize,
    /// Its middle, from the leg's start along the pipe: a whole inch or centimetre.
    pub at: Length,
    /// How long it is between what stands at its ends, centre to centre.
    pub length: Length,
}

impl Job {
    /// Level pipe of the main on which nothing stands, the longest first; of equal ones
    /// the first of the file.
    #[must_use]
    pub fn stretches(&self) -> Vec<Stretch> {
        let step = match self.units {
            Units::Feet => Length::from_64ths(64),
            Units::Metric => Length::from_mm(10),
        };
        let mut found = Vec::new();
        for (leg, of) in self.legs.iter().enumerate() {
            let mut begun = Length::ZERO;
            for straight in &of.straights {
                let end = begun + straight.value.length;
                if straight.value.direction.is_level() {
                    let marks = of.marks.iter().map(|mark| of.place_of(mark));
                    let mut places: BTreeSet<Length> =
                        marks.filter(|at| (begun..end).contains(at)).collect();
                    places.extend([begun, end]);
                    let places: Vec<Length> = places.into_iter().collect();
                    found.extend(places.windows(2).map(|ends| {
                        let length = ends[1] - ends[0];
                        let middle = ends[0] + length.scaled(1, 2);
                        Stretch {
                            leg,
                            at: Length::from_nm(middle.nm() - middle.nm() % step.nm()),
                            length,
                        }
                    }));
                }
                begun = end;
            }
        }
        found.retain(|stretch| stretch.length > step.times(2));
        found.sort_by_key(|stretch| std::cmp::Reverse(stretch.length));
        found
    }

    /// The job with one more outlet like one that it has, on which no tool hangs.
    #[must_use]
    pub fn with_one_more(mut self, like: usize, at: Stretch) -> Self {
        let (Some(outlet), Some(leg)) = (self.outlets.get(like), self.legs.get_mut(at.leg)) else {
            return self;
        };
        let mut name = outlet.name.clone();
        while self.declared.contains(&name.value) {
            name.value += "+";
        }
        let more = Outlet {
            name: name.clone(),
            tools: Vec::new(),
            state: None,
            ..outlet.clone()
        };
        leg.marks.push(Mark {
            name: name.clone(),
            reading: Spanned::new(at.at, leg.span),
            back: false,
        });
        // The closing reading was taken from the last of the marks that stand there.
        leg.left = None;
        self.declared.insert(name.value);
        self.outlets.push(more);
        self
    }
}
