//! The rules of good practice: what a layout does that costs its owner water,
//! pressure or safety later. One rule per file; none stops a count unless its
//! severity is an error, and then the job may accept it with a reason.

mod automatic_drain_without_valve;
mod blow_off;
mod filter_at_head;
mod filter_near_hot_tank;
mod freezing_drain;
mod galvanised_after_paint_filter;
mod hard_piped_supply;
mod hose_cannot_fall_back;
mod hung;
mod length_not_measured;
mod length_paced;
mod level_main;
mod line_valve_narrows_main;
mod long_straight;
mod low_point_without_drain;
mod lubricator_at_head;
mod lubricator_before_paint;
mod lubricator_far_from_tool;
mod main_above_eave;
mod main_end_without_drain;
mod main_too_low;
mod near_obstacle;
mod no_drip_leg;
mod no_isolating_valve;
mod no_shut_off;
mod obstacles;
mod outlet_out_of_reach;
mod pressure_below_need;
mod regulator_at_head;
mod ring_without_valves;
mod supplies_of_unequal_rating;
mod through_obstacle;
mod tool_over_pressure;
mod unlike_metals_bare;
mod water_at_tool;
mod wet_take_off;

use crate::finding::{Finding, Severity};
use crate::job::Job;
use crate::library::Library;
use crate::network::{Network, NodeId, NodeKind};
use crate::quantity::{Length, Units};
use crate::source::{Span, Spanned};
use crate::water::{End, EndKind, WaterMap};

/// A rule.
#[derive(Debug)]
pub struct Rule {
    /// Its name in findings: `level-main`.
    pub name: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What it finds.
    pub finds: &'static str,
    /// Why that matters.
    pub why: &'static str,
    /// What to do about it.
    pub cure: &'static str,
    /// Who says so, and who says otherwise.
    pub source: &'static str,
    check: fn(Context<'_>) -> Vec<Found>,
}

impl Rule {
    /// What to do, and how to go on without doing it.
    fn help(&self) -> String {
        match self.severity {
            Severity::Error => format!(
                "{}; or write why it stays so: {} = \"…\" under [accept]",
                self.cure, self.name
            ),
            Severity::Note | Severity::Warning | Severity::Unreadable => self.cure.to_owned(),
        }
    }
}

/// What a rule looks at.
#[derive(Debug, Clone, Copy)]
pub struct Context<'a> {
    /// The job as written.
    pub job: &'a Job,
    /// Its layout.
    pub network: &'a Network,
    /// The trade data.
    pub library: &'a Library,
    /// Where the water goes.
    pub water: &'a WaterMap,
}

/// One place that breaks a rule: where the user wrote it, what and how much.
struct Found {
    span: Span,
    message: String,
}

/// Every rule, by name.
pub static RULES: [&Rule; 34] = [
    &automatic_drain_without_valve::RULE,
    &blow_off::RULE,
    &filter_at_head::RULE,
    &filter_near_hot_tank::RULE,
    &freezing_drain::RULE,
    &galvanised_after_paint_filter::RULE,
    &hard_piped_supply::RULE,
    &hose_cannot_fall_back::RULE,
    &length_not_measured::RULE,
    &length_paced::RULE,
    &level_main::RULE,
    &line_valve_narrows_main::RULE,
    &long_straight::RULE,
    &low_point_without_drain::RULE,
    &lubricator_at_head::RULE,
    &lubricator_before_paint::RULE,
    &lubricator_far_from_tool::RULE,
    &main_above_eave::RULE,
    &main_end_without_drain::RULE,
    &main_too_low::RULE,
    &near_obstacle::RULE,
    &no_drip_leg::RULE,
    &no_isolating_valve::RULE,
    &no_shut_off::RULE,
    &outlet_out_of_reach::RULE,
    &pressure_below_need::RULE,
    &regulator_at_head::RULE,
    &ring_without_valves::RULE,
    &supplies_of_unequal_rating::RULE,
    &through_obstacle::RULE,
    &tool_over_pressure::RULE,
    &unlike_metals_bare::RULE,
    &water_at_tool::RULE,
    &wet_take_off::RULE,
];

/// What a clean job is reminded of too.
pub const REMINDERS: [&str; 1] = [
    "Drain the tank every working day, and weekly at the very least: most of the water stays there (common practice, no source).",
];

/// What the layout breaks, in the order of the file; what the job accepts
/// carries its reason.
#[must_use]
pub fn findings(context: Context<'_>) -> Vec<Finding> {
    let mut findings: Vec<Finding> = RULES
        .iter()
        .flat_map(|rule| {
            let found = (rule.check)(context).into_iter();
            found.map(|Found { span, message }| {
                Finding::new(rule.name, rule.severity, span, message, rule.help())
            })
        })
        .collect();
    for accepted in &context.job.accept {
        let mut taken = findings
            .iter_mut()
            .filter(|finding| finding.rule == accepted.rule.value)
            .peekable();
        if taken.peek().is_none() {
            findings.push(accepts_nothing(&accepted.rule));
            continue;
        }
        for finding in taken {
            finding.accepted = Some(accepted.reason.clone());
        }
    }
    findings.sort_by_key(Finding::place);
    findings
}

fn accepts_nothing(rule: &Spanned<String>) -> Finding {
    Finding::new(
        "accepts-nothing",
        Severity::Note,
        rule.span,
        format!("nothing here breaks `{}`", rule.value),
        "take the line out: it would hide the next mistake",
    )
}

impl<'a> Context<'a> {
    /// Places of the devices of this name between the tanks and the main.
    fn connected(self, name: &str) -> Vec<Span> {
        let supplies = self.job.supplies.iter();
        let connect = supplies.flat_map(|supply| &supply.connect);
        let named = connect.filter(|used| self.name_of(used) == name);
        named.map(|used| used.span).collect()
    }

    /// Places that hold the water of pipe that falls to them. What only level
    /// main meets in is said of the level main.
    fn pockets(self) -> impl Iterator<Item = &'a End> {
        let ends = self.water.ends.iter();
        ends.filter(move |end| {
            let up = self.network.node(end.at).at.up;
            let level = |far| self.network.node(far).at.up == up;
            let mut main = self.main_at(end.at).peekable();
            end.kind == EndKind::Pocket && (main.peek().is_none() || !main.all(level))
        })
    }

    /// The places of the level pipe of some legs, in walking order.
    fn level_places(self, of: impl Fn(usize) -> bool + 'a) -> impl Iterator<Item = NodeId> + 'a {
        let links = self.network.links();
        let on_it = links
            .filter(move |(_, _, _, link)| link.direction.is_level() && link.leg.is_some_and(&of));
        on_it.flat_map(|(_, from, to, _)| [from, to])
    }

    /// A place of the main by what stands there, or else in words.
    fn named(self, at: NodeId) -> String {
        let drains = self.network.drains.iter();
        let drops = self.network.drops.iter();
        let mut standing = drains
            .map(|drain| (drain.at, &drain.name))
            .chain(drops.map(|drop| (drop.take_off_at, &drop.name)));
        match standing.find(|(place, _)| *place == at) {
            Some((_, name)) => format!("`{name}`"),
            None => self.network.place(at),
        }
    }

    /// A difference of heights, rounded up to what is shown: with it, enough is
    /// done.
    fn at_least(self, difference: Length) -> String {
        let step = match self.network.units {
            Units::Feet => Length::from_64ths(4),
            Units::Metric => Length::from_mm(1),
        };
        let steps = i64::try_from(difference.stretches_of(step)).unwrap_or(i64::MAX);
        step.times(steps).show(self.network.units)
    }

    /// Whether the main ends at a place.
    fn ends_main(self, at: NodeId) -> bool {
        self.main_at(at).count() == 1 && matches!(self.network.node(at).kind, NodeKind::Fitting(_))
    }

    /// Where the pipes of the main lead that meet at a place.
    fn main_at(self, at: NodeId) -> impl Iterator<Item = NodeId> {
        let main = move |link| {
            let link = self.network.link(link);
            link.is_main() && link.pipe.is_some()
        };
        let ends = self.network.ends(at);
        ends.filter(move |end| main(end.link)).map(|end| end.far)
    }
}

#[cfg(test)]
mod tests;
