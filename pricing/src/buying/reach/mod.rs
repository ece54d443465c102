//! Within a set of suppliers: the choice of a way for each line that weighs
//! dearer ways against the sums from which an order costs less.
//!
//! Goods of such a supplier are first credited with a share of their price (a
//! Lagrange multiplier), which gives a bound and good choices; then the choices
//! are gone through line by line, equal ones merged and those that the bound
//! rules out dropped. All of it in whole numbers.

mod relax;
mod through;

pub(super) use relax::Relaxed;

use super::sets::Way;
use super::terms::Charge;
use std::cmp::Reverse;
use std::ops::Range;

/// The multipliers' unit: a share of one is this much.
const ONE: i64 = 1024;

/// Suppliers with whom it matters how much is ordered; sets of more are not
/// searched.
const STEPPED: usize = 8;

/// Beyond this sum, in the minor unit, nothing is searched.
const LARGEST: i128 = 1 << 50;

/// Goods of each stepped supplier.
type Goods = [i64; STEPPED];

/// A way of a line, with its place among all ways of the line.
#[derive(Debug, Clone, Copy)]
struct Weighed {
    at: usize,
    cost: i64,
    goods: Goods,
}

/// A supplier with whom it matters how much is ordered.
#[derive(Debug, Clone, Copy)]
struct Stepped {
    delivery: i64,
    least: i64,
    /// None if it never is.
    free_from: Option<i64>,
}

/// The ways of each line by a set.
pub(super) struct Search {
    ways: Vec<Weighed>,
    lines: Vec<Range<usize>>,
    stepped: Vec<Stepped>,
    /// The most goods that each can have.
    most: Goods,
    /// What the others charge.
    fixed: i64,
}

impl Search {
    /// The ways of each line with their places among all ways of the line, and
    /// the suppliers of the set. None if it does not matter how much is
    /// ordered, or if the sums are beyond all measure.
    pub(super) fn new(lines: &[Vec<(usize, &Way)>], charges: &[(usize, &Charge)]) -> Option<Self> {
        let steps = charges.iter().filter(|(_, charge)| charge.has_step());
        let (places, steps): (Vec<usize>, Vec<&Charge>) = steps.copied().unzip();
        let dearest = lines
            .iter()
            .filter_map(|ways| ways.iter().map(|way| way.1.cost).max());
        let sums = charges
            .iter()
            .map(|(_, charge)| charge.beyond(0).max(charge.last_step()));
        let largest: i128 = dearest.chain(sums).sum();
        if steps.is_empty() || steps.len() > STEPPED || largest > LARGEST {
            return None;
        }
        let small = |sum: i128| i64::try_from(sum).ok();
        let mut search = Self {
            ways: Vec::new(),
            lines: Vec::new(),
            stepped: Vec::new(),
            most: [0; STEPPED],
            fixed: 0,
        };
        for charge in steps {
            search.stepped.push(Stepped {
                delivery: small(charge.delivery)?,
                least: small(charge.least)?,
                free_from: charge.free_from.and_then(small),
            });
        }
        for (_, charge) in charges.iter().filter(|(_, charge)| !charge.has_step()) {
            search.fixed += small(charge.delivery)?;
        }
        for ways in lines {
            let mut weighed = Vec::new();
            for (at, way) in ways {
                let mut goods = [0; STEPPED];
                for (goods, place) in goods.iter_mut().zip(&places) {
                    *goods = small(way.goods[*place])?;
                }
                let (at, cost) = (*at, small(way.cost)?);
                weighed.push(Weighed { at, cost, goods });
            }
            let first = search.ways.len();
            search.ways.extend(unbeaten(weighed));
            search.lines.push(first..search.ways.len());
            let most = search.most_of(search.lines.len() - 1);
            add(&mut search.most, &most);
        }
        Some(search)
    }

    fn ways(&self, line: usize) -> &[Weighed] {
        &self.ways[self.lines[line].clone()]
    }

    /// The most goods that any of a line's ways has of each supplier.
    fn most_of(&self, line: usize) -> Goods {
        let ways = self.ways(line).iter();
        ways.fold([0; STEPPED], |mut most, way| {
            for (most, goods) in most.iter_mut().zip(way.goods) {
                *most = (*most).max(goods);
            }
            most
        })
    }
}

impl Stepped {
    /// What an order costs beyond its goods.
    fn beyond(&self, goods: i64) -> i64 {
        let free = self.free_from.is_some_and(|sum| goods >= sum);
        let delivery = if free { 0 } else { self.delivery };
        delivery + (self.least - goods).max(0)
    }

    /// From what sum on nothing changes.
    fn last_step(&self) -> i64 {
        let free = self.free_from.filter(|_| self.delivery > 0);
        self.least.max(free.unwrap_or(0))
    }

    /// The least that an order of goods from `least` to `most` is charged, each
    /// of its goods at the credit, and the goods of it: it lies at a step.
    fn cheapest(&self, credit: i64, least: i64, most: i64) -> (i64, i64) {
        let steps = [0, self.least, self.free_from.unwrap_or(0)];
        let sums = steps.map(|goods| {
            let goods = goods.clamp(least, most);
            (self.beyond(goods) * ONE + credit * goods, goods)
        });
        sums.into_iter().min().unwrap_or_default()
    }
}

/// The cost of a way less the credit for its goods, in units of [`ONE`].
fn credited(way: &Weighed, credits: &Goods) -> i64 {
    let credit = way
        .goods
        .iter()
        .zip(credits)
        .map(|(goods, credit)| goods * credit);
    way.cost * ONE - credit.sum::<i64>()
}

fn add(sum: &mut Goods, more: &Goods) {
    for (sum, more) in sum.iter_mut().zip(more) {
        *sum += more;
    }
}

/// The ways that no other beats: at no higher a cost, with no fewer goods of
/// any stepped supplier.
fn unbeaten(mut ways: Vec<Weighed>) -> Vec<Weighed> {
    ways.sort_by_key(|way| (way.cost, Reverse(way.goods.iter().sum::<i64>()), way.at));
    let mut kept: Vec<Weighed> = Vec::new();
    for way in ways {
        let beats = |other: &Weighed| other.goods.iter().zip(way.goods).all(|(a, b)| *a >= b);
        if !kept.iter().any(beats) {
            kept.push(way);
        }
    }
    kept
}

/// Up to the next whole minor unit.
fn up(bound: i64) -> i128 {
    i128::from(-(-bound).div_euclid(ONE))
}
