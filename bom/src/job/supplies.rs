//! What all compressors of a job are together.

use super::{Job, Leg, Supply, USUAL_CUT_IN};
use crate::quantity::{AirFlow, Pressure, Temperature};
use crate::rating::DISCHARGE;

/// How far a relief valve is usually set above the cut-out pressure. Common
/// practice, no source.
pub(crate) const ABOVE_CUT_OUT: f64 = 1.1;

impl Job {
    /// The supply of this name, by its index.
    #[must_use]
    pub fn supply_named(&self, name: &str) -> Option<usize> {
        let mut supplies = self.supplies.iter();
        supplies.position(|supply| supply.name.value == name)
    }

    /// The legs that start at a supply.
    pub(crate) fn legs_from<'a>(&'a self, supply: &'a Supply) -> impl Iterator<Item = &'a Leg> {
        self.legs.iter().filter(|leg| {
            let from = leg.from.as_ref();
            from.is_some_and(|from| from.value == supply.name.value)
        })
    }

    /// The names of all supplies: `compressor and annex`.
    #[must_use]
    pub fn supply_names(&self) -> String {
        let names = self.supplies.iter();
        let names: Vec<&str> = names.map(|supply| supply.name.value.as_str()).collect();
        names.join(" and ")
    }

    /// What all compressors take in together; none unless each says it.
    #[must_use]
    pub fn free_air(&self) -> Option<AirFlow> {
        let flows = self.supplies.iter().map(|supply| supply.free_air);
        let litres: Option<f64> = flows.map(|flow| flow.map(AirFlow::litres_per_second)).sum();
        match &self.supplies[..] {
            [only] => only.free_air,
            _ => litres.map(AirFlow::from_litres_per_second),
        }
    }

    /// The pressure at which the last compressor starts, as stated or as usual:
    /// tanks on one main come to the same pressure.
    pub(crate) fn cut_in(&self) -> Pressure {
        let stated = self.supplies.iter().map(|supply| supply.cut_in);
        let each = stated.map(|cut_in| cut_in.unwrap_or(USUAL_CUT_IN));
        lowest(each).unwrap_or(USUAL_CUT_IN)
    }

    /// The lowest pressure at which a compressor starts, of those that say it.
    pub(crate) fn stated_cut_in(&self) -> Option<Pressure> {
        lowest(self.supplies.iter().filter_map(|supply| supply.cut_in))
    }

    /// The highest pressure at which a compressor stops, of those that say it.
    pub(crate) fn cut_out(&self) -> Option<Pressure> {
        let stated = self.supplies.iter().filter_map(|supply| supply.cut_out);
        stated.max_by(|a, b| a.kpa().total_cmp(&b.kpa()))
    }

    /// The supply that can bring the main to the highest pressure; one that does
    /// not say how high it goes may go higher than any.
    pub(crate) fn strongest(&self) -> &Supply {
        let mut strongest = &self.supplies[0];
        for supply in &self.supplies[1..] {
            if supply.highest_kpa() > strongest.highest_kpa() {
                strongest = supply;
            }
        }
        strongest
    }

    /// The hottest air that leaves a tank. A supply that does not say it may give
    /// air as hot as is usual.
    pub(super) fn discharge(&self) -> Option<Temperature> {
        let all = || self.supplies.iter().map(|supply| supply.discharge);
        let hottest = all().flatten().max();
        hottest.filter(|most| *most >= DISCHARGE || all().all(|one| one.is_some()))
    }

    /// The hottest air that is taken in, of those that say it.
    pub(super) fn intake(&self) -> Option<Temperature> {
        self.supplies
            .iter()
            .filter_map(|supply| supply.intake)
            .max()
    }
}

impl Supply {
    /// The pressure that its relief valve lets the main come to, kPa: as stated,
    /// else as usual above its cut-out; infinite where it says neither.
    pub(crate) fn highest_kpa(&self) -> f64 {
        let usual = self.cut_out.map(|cut_out| cut_out.kpa() * ABOVE_CUT_OUT);
        let relief = self.relief.map(Pressure::kpa);
        relief.or(usual).unwrap_or(f64::INFINITY)
    }
}

fn lowest(pressures: impl Iterator<Item = Pressure>) -> Option<Pressure> {
    pressures.min_by(|a, b| a.kpa().total_cmp(&b.kpa()))
}
