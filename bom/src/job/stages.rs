//! The job before the work, after it, and with what is to come: a job is read as
//! the shop is after the work, and carries the other two.

use super::state::State;
use super::{DeviceUse, Direction, DropKind, Job, Leg, LineValve, Mark, SizeChoice};
use crate::finding::Finding;
use crate::library::Library;
use crate::network::Network;
use crate::quantity::{Length, Size};
use crate::source::{Span, Spanned};
use std::collections::{BTreeMap, BTreeSet};

/// Where the line valve of a new branch stands, from the pipe that it leaves; common
/// practice, no source.
const BRANCH_VALVE: Length = Length::from_64ths(12 * 64);

/// A branch that is closed by a plug.
#[derive(Debug, Clone)]
pub struct Plug {
    /// What is to come there, or has been there.
    pub name: String,
    /// The place on the main.
    pub place: String,
    /// Where the file says of it; none of one that follows from what comes or goes.
    pub span: Option<Span>,
    /// The branch.
    pub of: PlugOf,
    /// Its size; that of the main until it is known.
    pub size: Option<Size>,
    /// Index of its system in the library, if it is not that of the main there.
    pub system: Option<usize>,
    /// Whether something is to come there, or has been taken out.
    pub to_come: bool,
    /// Whether the plug is new or stands already.
    pub state: State,
}

/// What kind of branch is plugged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlugOf {
    /// A drop of this kind, by its index.
    Drop(usize),
    /// A drain.
    Drain,
    /// A leg that leaves in this direction.
    Leg(Direction),
}

/// What becomes of everything that has a name, and of the legs.
#[derive(Debug)]
struct States {
    legs: Vec<State>,
    named: BTreeMap<String, State>,
}

impl States {
    fn named(&self, name: &str) -> State {
        self.named.get(name).copied().unwrap_or_default()
    }
}

impl Job {
    /// The job as it is after the work. One in which everything is new stays as it is.
    pub(super) fn staged(mut self, library: &Library, findings: &mut Vec<Finding>) -> Self {
        if !self.says_states() {
            return self;
        }
        let states = self.states(findings);
        self.sizes_are_known(&states, findings);
        self.settle_states(&states);
        self.shut_off_branches(library);
        let any = |state: State| {
            states.legs.contains(&state) || states.named.values().any(|one| *one == state)
        };
        let mut after = self.keeping(&states, &[State::New, State::Existing], findings);
        after.plugs = self.plugs(&states);
        after.unmeasured_is_bought(self.of_no_new_pipe(&states));
        if any(State::Remove) {
            let wanted = [State::Existing, State::Remove];
            let before = self.keeping(&states, &wanted, findings);
            after.before = Some(Box::new(before));
        }
        if any(State::Later) {
            let wanted = [State::New, State::Existing, State::Later];
            let mut to_come = self.keeping(&states, &wanted, findings);
            let plugs = self.plugs(&states).into_iter();
            to_come.plugs = plugs.filter(|plug| !plug.to_come).collect();
            after.to_come = Some(Box::new(to_come));
        }
        after
    }

    fn says_states(&self) -> bool {
        self.supplies.iter().any(|one| one.state.is_some())
            || self.legs.iter().any(|one| one.state.is_some())
            || self.drains.iter().any(|one| one.state.is_some())
            || self.valves.iter().any(|one| one.state.is_some())
            || self.drops.iter().any(|one| one.state.is_some())
            || self.outlets.iter().any(|one| one.state.is_some())
    }

    /// The kind of drop of an outlet.
    fn kind_of(&self, outlet: usize) -> Option<&DropKind> {
        self.drops.get(self.outlets.get(outlet)?.drop?)
    }

    fn states(&self, findings: &mut Vec<Finding>) -> States {
        let legs: Vec<State> = self.legs.iter().map(|leg| State::of(leg.state)).collect();
        let mut named = BTreeMap::new();
        let mut add =
            |name: &Spanned<String>, own: Option<Spanned<State>>, usual: Option<Spanned<State>>| {
                let on = || {
                    let legs = self.legs.iter().zip(&legs);
                    legs.filter(|(leg, _)| leg.names().any(|one| one.value == name.value))
                        .map(|(_, state)| *state)
                };
                let all = |state: State| on().next().is_some() && on().all(|one| one == state);
                let goes_with = [State::Remove, State::Later]
                    .into_iter()
                    .find(|one| all(*one));
                let said = own.or(usual.filter(|_| goes_with.is_none()));
                findings.extend(misfit(name, said, &all));
                let state = said.map(|said: Spanned<State>| said.value).or(goes_with);
                named.insert(name.value.clone(), state.unwrap_or_default());
            };
        for (index, outlet) in self.outlets.iter().enumerate() {
            let usual = self.kind_of(index).and_then(|kind| kind.state);
            add(&outlet.name, outlet.state, usual);
        }
        for drain in &self.drains {
            add(&drain.name, drain.state, None);
        }
        for valve in &self.valves {
            add(&valve.name, valve.state, None);
        }
        States { legs, named }
    }

    /// Pipe that stands has the size that it has: nothing chooses it.
    fn sizes_are_known(&self, states: &States, findings: &mut Vec<Finding>) {
        let stands = |state: State| matches!(state, State::Existing | State::Remove);
        let open = |what: String, span: Span| {
            Finding::unreadable(
                "existing-size",
                span,
                format!("{what} stands already, and nothing says its size"),
                "read the size off the pipe and write it, like size = \"1in\"",
            )
        };
        for (leg, state) in self.legs.iter().zip(&states.legs) {
            let size = leg.size.map_or(self.main.size, |size| size.value);
            if stands(*state) && size == SizeChoice::Auto {
                let span = leg.size.map_or(leg.span, |size| size.span);
                findings.push(open(leg.label(), span));
            }
        }
        for (index, outlet) in self.outlets.iter().enumerate() {
            let kind = self.kind_of(index);
            let open_size = kind.filter(|kind| kind.size == SizeChoice::Auto);
            if let Some(kind) = open_size.filter(|_| stands(states.named(&outlet.name.value))) {
                let what = format!(
                    "the drop `{}` of the kind `{}`",
                    outlet.name.value, kind.name.value
                );
                findings.push(open(what, kind.size_span).related(outlet.name.span, "the outlet"));
            }
        }
    }

    /// Writes to everything what becomes of it. What a supply says nothing of stands
    /// if the leg that leaves it stood.
    fn settle_states(&mut self, states: &States) {
        for outlet in &mut self.outlets {
            let state = states.named(&outlet.name.value);
            outlet.state = Some(Spanned::new(state, outlet.name.span));
        }
        for drain in &mut self.drains {
            let state = states.named(&drain.name.value);
            drain.state = Some(Spanned::new(state, drain.name.span));
        }
        for valve in &mut self.valves {
            let state = states.named(&valve.name.value);
            valve.state = Some(Spanned::new(state, valve.name.span));
        }
        let legs = &self.legs;
        for supply in &mut self.supplies {
            let name = &supply.name.value;
            let from_it = |leg: &&Leg| leg.from.as_ref().is_some_and(|from| from.value == *name);
            let stands = |leg: &Leg| State::of(leg.state) < State::New;
            if supply.state.is_none() && legs.iter().filter(from_it).any(stands) {
                supply.state = Some(Spanned::new(State::Existing, supply.name.span));
                self.assumptions.push(format!(
                    "What connects {name} to the pipe stands already, as the pipe does that leaves it."
                ));
            }
        }
    }

    /// New branches off pipe that stands get a line valve where they leave it, unless they
    /// have one, so that the rest goes on while they are built and later.
    fn shut_off_branches(&mut self, library: &Library) {
        let Some(device) = library.devices().iter().position(|one| one.name == "valve") else {
            return;
        };
        let valves: BTreeSet<String> = self
            .valves
            .iter()
            .map(|one| one.name.value.clone())
            .collect();
        let stands: BTreeSet<String> = self
            .legs
            .iter()
            .filter(|leg| State::of(leg.state) == State::Existing)
            .flat_map(|leg| leg.names().map(|name| name.value.clone()))
            .collect();
        let units = self.units;
        for leg in &mut self.legs {
            let from = leg.from.as_ref().map(|from| &from.value);
            let Some(from) = from.filter(|from| stands.contains(*from)) else {
                continue;
            };
            let has_one = leg
                .marks
                .iter()
                .any(|mark| valves.contains(&mark.name.value));
            let marks = leg.marks.iter().map(|mark| leg.place_of(mark));
            let first = leg.straights.first().map(|first| first.value.length);
            let free = marks.chain(first).min().unwrap_or_default();
            let name = format!("{from} branch");
            if State::of(leg.state) != State::New
                || has_one
                || free < BRANCH_VALVE.times(2)
                || self.declared.contains(&name)
            {
                continue;
            }
            self.assumptions.push(format!(
                "The new branch at {from} gets an isolating valve {} from where it leaves pipe that stands, so that the rest goes on.",
                BRANCH_VALVE.show(units)
            ));
            let name = Spanned::new(name, leg.span);
            leg.marks.push(Mark {
                name: name.clone(),
                reading: Spanned::new(BRANCH_VALVE, leg.span),
                back: false,
            });
            self.declared.insert(name.value.clone());
            self.valves.push(LineValve {
                name,
                line: leg.line,
                device: DeviceUse {
                    device,
                    size: None,
                    length: None,
                    set: None,
                },
                state: Some(Spanned::new(State::New, leg.span)),
            });
        }
    }

    /// The job with what is in one of these states, and nothing else.
    fn keeping(&self, states: &States, wanted: &[State], findings: &mut Vec<Finding>) -> Self {
        let mut job = self.clone();
        let keeps = |state: State| wanted.contains(&state);
        // A drop that stays may have hung elsewhere before; it is not taken out of there.
        let before = keeps(State::Remove);
        let placed = |name: &str| {
            let legs = self.legs.iter().zip(&states.legs);
            let mut legs = legs.filter(|(_, state)| keeps(**state));
            legs.any(|(leg, _)| leg.names().any(|one| one.value == name))
        };
        let gone = states.named.iter();
        let gone = gone.filter(|(name, state)| !keeps(**state) || (before && !placed(name)));
        let gone: BTreeSet<String> = gone.map(|(name, _)| name.clone()).collect();
        job.drop_outlets(&gone);
        job.drains.retain(|drain| !gone.contains(&drain.name.value));
        // Those that a new branch was given are in no list of the file's.
        job.valves
            .retain(|valve| keeps(State::of(valve.state)) && !gone.contains(&valve.name.value));
        job.plugs.retain(|plug| placed(&plug.place));
        for alternate in &mut job.alternates {
            alternate.outlets.retain(|name| !gone.contains(name));
        }
        job.alternates
            .retain(|alternate| !alternate.outlets.is_empty());
        for option in &mut job.options {
            option.leave_out.retain(|name| !gone.contains(name));
        }
        let mut legs: Vec<Leg> = Vec::new();
        for (index, leg) in self.legs.iter().enumerate() {
            if !keeps(states.legs[index]) {
                continue;
            }
            let mut leg = leg.clone();
            let before = index.checked_sub(1).filter(|_| leg.from.is_none());
            if let Some(before) = before.filter(|before| !keeps(states.legs[*before])) {
                leg.from = self.legs[before].to.clone();
                if leg.from.is_none() {
                    let finding = starts_at_nothing(&leg, &self.legs[before], states.legs[before]);
                    if !findings.contains(&finding) {
                        findings.push(finding);
                    }
                }
            }
            legs.push(leg);
        }
        // Marks stay where they are: nothing but the pipe runs through them.
        let dropped = self.legs.iter().zip(&states.legs);
        let dropped = dropped.filter(|(_, state)| !keeps(**state));
        let branches = dropped.flat_map(|(leg, _)| leg.from.iter().chain(&leg.to));
        job.unused = branches
            .map(|name| name.value.clone())
            .chain(gone)
            .collect();
        job.legs = legs;
        job
    }

    /// Where the lengths of pipe stand that is not bought.
    fn of_no_new_pipe(&self, states: &States) -> BTreeSet<Span> {
        let is_new = |name: &str| states.named(name) == State::New;
        let legs = self.legs.iter().zip(&states.legs);
        let legs = legs.filter(|(_, state)| **state != State::New);
        let of_legs = legs.flat_map(|(leg, _)| {
            let marks = leg.marks.iter().filter(|mark| {
                !states.named.contains_key(&mark.name.value) || !is_new(&mark.name.value)
            });
            let straights = leg.straights.iter().map(|straight| straight.span);
            straights.chain(marks.map(|mark| mark.reading.span))
        });
        let outlets = self.outlets.iter();
        let outlets = outlets.filter(|outlet| !is_new(&outlet.name.value));
        of_legs
            .chain(outlets.map(|outlet| outlet.height.span))
            .collect()
    }

    /// Nobody has to measure for a quote what is not bought; that it is not measured stays said.
    fn unmeasured_is_bought(&mut self, not_bought: BTreeSet<Span>) {
        self.unmeasured
            .retain(|one| !not_bought.contains(&one.span));
    }

    /// The branches that are plugged after the work.
    fn plugs(&self, states: &States) -> Vec<Plug> {
        let stays = |state: State| matches!(state, State::New | State::Existing);
        let on_stays = |name: &str| {
            let legs = self.legs.iter().zip(&states.legs);
            let mut legs = legs.filter(|(leg, _)| leg.names().any(|one| one.value == name));
            legs.find(|(_, state)| stays(**state))
                .map(|(_, state)| *state)
        };
        // Nobody cuts pipe that stands for a plug: what is to come there is plugged already.
        let plug = |name: &str, place: &str, of: PlugOf, state: State| {
            let main = on_stays(place)?;
            let to_come = state == State::Later;
            Some(Plug {
                name: name.to_owned(),
                place: place.to_owned(),
                span: None,
                of,
                size: None,
                system: None,
                to_come,
                state: if to_come { main } else { State::New },
            })
        };
        // What the file says of goes with its pipe; one that stands nowhere is told later.
        let marked = |name: &str| {
            let mut names = self.legs.iter().flat_map(Leg::names);
            names.any(|one| one.value == name)
        };
        let said = self.plugs.iter();
        let said = said.filter_map(|plug| match on_stays(&plug.place) {
            Some(state) => Some(Plug {
                state,
                ..plug.clone()
            }),
            None => (!marked(&plug.place)).then(|| plug.clone()),
        });
        let mut plugs: Vec<Plug> = said.collect();
        for outlet in &self.outlets {
            let state = states.named(&outlet.name.value);
            if let Some(kind) = outlet.drop.filter(|_| !stays(state)) {
                let name = &outlet.name.value;
                plugs.extend(plug(name, name, PlugOf::Drop(kind), state));
            }
        }
        for drain in &self.drains {
            let state = states.named(&drain.name.value);
            if !stays(state) {
                let name = &drain.name.value;
                plugs.extend(plug(name, name, PlugOf::Drain, state));
            }
        }
        for (leg, state) in self.legs.iter().zip(&states.legs) {
            if stays(*state) {
                continue;
            }
            let (Some(first), Some(last)) = (leg.straights.first(), leg.straights.last()) else {
                continue;
            };
            let ends = [
                (&leg.from, first.value.direction),
                (&leg.to, last.value.direction.opposite()),
            ];
            for (place, direction) in ends {
                let Some(place) = place else { continue };
                plugs.extend(plug(
                    &leg.label(),
                    &place.value,
                    PlugOf::Leg(direction),
                    *state,
                ));
            }
        }
        plugs
    }

    /// Says of pipe that stands what the main says, so that another main changes none of it.
    pub(super) fn pin_what_stands(&mut self) {
        let (system, main) = (self.system, self.main.size);
        for leg in &mut self.legs {
            if State::of(leg.state) == State::Existing {
                leg.system.get_or_insert(Spanned::new(system, leg.span));
                leg.size.get_or_insert(Spanned::new(main, leg.span));
            }
        }
        for outlet in &mut self.outlets {
            let kind = outlet.drop.and_then(|kind| self.drops.get(kind));
            if let Some(kind) = kind.filter(|_| State::of(outlet.state) == State::Existing) {
                let kind = kind.clone();
                outlet.drop = Some(self.drops.len());
                self.drops.push(kind);
            }
        }
    }

    /// The same job when all of it stands, with the sizes and the valves at the heads of
    /// drops that its network has.
    #[must_use]
    pub fn as_built(self, network: &Network) -> Self {
        let mut job = self.sized_as(network);
        for (index, outlet) in job.outlets.iter_mut().enumerate() {
            let has_valve = network.has_head_valve(index);
            outlet.head = outlet.head.or(has_valve.then_some(true));
        }
        job.all_stands()
    }

    fn all_stands(mut self) -> Self {
        let stands = |span: Span| Some(Spanned::new(State::Existing, span));
        for leg in &mut self.legs {
            leg.state = stands(leg.span);
        }
        for outlet in &mut self.outlets {
            outlet.state = stands(outlet.name.span);
        }
        for drain in &mut self.drains {
            drain.state = stands(drain.name.span);
        }
        for valve in &mut self.valves {
            valve.state = stands(valve.name.span);
        }
        for supply in &mut self.supplies {
            supply.state = stands(supply.name.span);
        }
        for plug in &mut self.plugs {
            plug.state = State::Existing;
        }
        (self.before, self.to_come) = (None, None);
        self
    }
}

/// What a thing says against what its pipe does.
fn misfit(
    name: &Spanned<String>,
    own: Option<Spanned<State>>,
    all: &dyn Fn(State) -> bool,
) -> Option<Finding> {
    let own = own?;
    let (what, cure) = if all(State::Remove) && own.value != State::Remove {
        (
            "stands on pipe that is taken out",
            "mark it on the leg that carries it after the work, or leave its `state` out: it goes with its pipe",
        )
    } else if all(State::Later) && own.value != State::Later {
        (
            "stands on pipe that comes later",
            "leave its `state` out: it comes with its pipe",
        )
    } else if all(State::New) && own.value == State::Remove {
        (
            "stands on new pipe, from which nothing is taken out",
            "mark it on the pipe that it comes out of, which is existing or taken out too",
        )
    } else {
        return None;
    };
    Some(Finding::unreadable(
        "state-misfit",
        own.span,
        format!("`{}` is {}, and {what}", name.value, own.value.word()),
        cure,
    ))
}

fn starts_at_nothing(leg: &Leg, before: &Leg, state: State) -> Finding {
    let why = match state {
        State::Remove => "is taken out",
        State::Later => "comes later",
        State::New => "is new",
        State::Existing => "stands already",
    };
    Finding::unreadable(
        "leg-without-start",
        leg.span,
        format!(
            "{} starts where {} ends, which {why}: they are not there at the same time",
            leg.label(),
            before.label()
        ),
        "say where it starts: add from = \"…\" with a mark or a named end",
    )
    .related(before.span, before.label())
}
