//! Mains whose heights are less plain: rings that share pipe, and saw-teeth.

use super::generate::{CLEAR, Leg, Name, Shop, Way};
use super::luck::Luck;

impl Shop {
    /// Lays a ring with a rung; returns a way longer than any to a low point.
    pub(super) fn lay_rungs(&mut self, luck: &mut Luck) -> u64 {
        // Places: 0 the entry, then round by the north, 2 and 5 the rung's ends.
        const ROUND: [(Way, usize); 7] = [
            (Way::North, 0),
            (Way::East, 1),
            (Way::East, 2),
            (Way::South, 3),
            (Way::West, 4),
            (Way::West, 5),
            (Way::North, 6),
        ];
        let rung = (Way::South, 2);
        let total = self.outlets.len();
        let mut legs = Vec::new();
        for (number, (way, from)) in ROUND.into_iter().chain([rung]).enumerate() {
            let mut leg = Leg::new(Name::Place(from), vec![(way, 0)]);
            leg.to = Some(Name::Place(if number == 7 { 5 } else { (from + 1) % 7 }));
            leg.named_end = true;
            leg.spread(
                luck,
                total * number / 8..total * (number + 1) / 8,
                &mut self.valves,
            );
            if number == 3 || (number == 7 && luck.coin()) {
                self.mark_low(&mut leg, luck);
            }
            leg.go[0].1 += CLEAR;
            legs.push(leg);
        }
        let length = |leg: usize| legs[leg].go[0].1;
        let (first, second) = (length(1).max(length(5)), length(2).max(length(4)));
        let deep = length(3).max(length(7)).max(length(0) + length(6));
        let lower = deep - length(0);
        for (leg, length) in [
            (1, first),
            (5, first),
            (2, second),
            (4, second),
            (3, deep),
            (7, deep),
            (6, lower),
        ] {
            legs[leg].go[0].1 = length;
        }
        self.legs[0].named_end = true;
        self.legs.append(&mut legs);
        self.legs[0].level_length() + first + second + 2 * deep
    }

    /// Lays teeth and a fork; returns the longest level way from the riser.
    pub(super) fn lay_teeth(&mut self, luck: &mut Luck) -> u64 {
        let total = self.outlets.len();
        let teeth = 1 + luck.index(3);
        let stretches = 2 * teeth + 2;
        let share = |number: usize| total * number / stretches..total * (number + 1) / stretches;
        let mut from = Name::Place(0);
        for number in 0..2 * teeth {
            let back = number % 2 == 1;
            let to = if back {
                Name::Place(number)
            } else {
                self.next_low()
            };
            let mut leg = Leg::new(from, vec![(Way::East, 0)]);
            leg.spread(luck, share(number), &mut self.valves);
            leg.go[0].1 += CLEAR;
            (leg.to, leg.named_end, leg.back) = (Some(to), true, back);
            self.legs.push(leg);
            from = to;
        }
        for (side, way) in [Way::North, Way::South].into_iter().enumerate() {
            let mut leg = Leg::new(from, vec![(way, 0)]);
            leg.spread(luck, share(2 * teeth + side), &mut self.valves);
            self.mark_low(&mut leg, luck);
            self.legs.push(leg);
        }
        self.legs[0].named_end = true;
        self.legs.iter().map(Leg::level_length).sum()
    }
}
