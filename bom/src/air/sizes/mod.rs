//! The sizes of pipe that the job leaves open: the cheapest at which every tool
//! gets its pressure in every case and no air runs too fast.
//!
//! The network becomes a tree of pipes: a leg has one size, a drop has one, and a
//! ring has one all round, so that its losses are settled once its size is. The
//! tree is sized exactly ([`sizing`](super::sizing)). Then the network is built
//! anew and solved as a whole; what a tool still lacks, since fittings between
//! two sizes take a little more, is asked for on top until nothing lacks.
//!
//! Where there is a ring, its legs then get sizes of their own (`mixed`): a search in
//! ranges of sizes gives a bound on every mixture and good ones to try, and steps
//! from the best of these make single legs and drops smaller, each held against
//! every need in the whole network.

mod boxes;
mod chain;
mod curve;
mod improve;
mod mixed;
mod needs;
mod plan;
mod ring;
#[cfg(test)]
mod tests;
mod three;
mod tree;
mod whole;
mod why;

pub(super) use three::stepped;
pub use three::{MainIn, three};
pub use why::{Because, Forced};

use super::demand::Demand;
use super::ladder::cases::{Case, cases};
use super::sizing::{self, Best, Outcome, Problem};
use crate::job::{Job, SizeChoice};
use crate::library::Library;
use crate::network::{self, Network, Open};
use crate::quantity::{Size, Speed};
use mixed::mix;
use needs::{Need, Targets, Wants, shown};
use std::collections::{BTreeMap, BTreeSet};
use tree::{Bond, Tree, size_of_drop, size_of_leg, sizes_of_drops};
use whole::{Chosen, Part, Whole};

/// No pipe is chosen smaller than this: common practice, no source.
pub(super) const SMALLEST: Size = Size::Nominal(4);

/// More tools than this are not held against every case: the published chart
/// stands for them.
const MOST_TOOLS: usize = 500;

/// How often what tools lack in the whole network is asked for on top.
const ROUNDS: usize = 12;

/// What is asked for on top beyond what lacks, so that the next round does.
const MORE: f64 = 1.05;

/// Costs that are apart by less than this share of them are equal.
const EQUAL: f64 = 1e-9;

/// What a size of a system costs, in any one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizeCost {
    /// Each metre of pipe, with what carries it and the work of hanging it.
    pub metre: f64,
    /// Each end of a straight: half a fitting, a joint and its work.
    pub end: f64,
}

/// What sizes are chosen by.
pub struct Costs<'a> {
    /// What a size of a system costs, by the system's number; none if it cannot
    /// be had.
    pub of: &'a dyn Fn(usize, Size) -> Option<SizeCost>,
    /// What that is, in words: `the mass of metal`.
    pub basis: &'a str,
}

impl std::fmt::Debug for Costs<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Costs")
            .field("basis", &self.basis)
            .finish_non_exhaustive()
    }
}

/// Sizes that were chosen.
#[derive(Debug, Clone)]
pub struct Sizes {
    /// Of the legs that the job leaves open, by their index.
    pub legs: BTreeMap<usize, Size>,
    /// Of the drops that it leaves open, by their outlet's index.
    pub drops: BTreeMap<usize, Size>,
    /// Whether no cheaper sizes do.
    pub proven: bool,
    /// What pipe of these sizes costs together.
    pub cost: f64,
    /// No sizes that do cost less.
    pub bound: f64,
    /// How they were chosen, in sentences.
    pub words: Vec<String>,
    /// Tools that no size of pipe lets work at their best, by their numbers in the
    /// demand.
    pub beyond_help: Vec<usize>,
    /// Tools to which a little lacks in the whole network.
    lacking: BTreeSet<usize>,
    too_fast: bool,
    /// What is to be said of rings.
    round: Vec<String>,
    /// Why parts have their sizes, as the whole network says.
    forced: BTreeMap<Part, Forced>,
    /// What says so of all others.
    basis: Option<Basis>,
}

/// The tree that sizes come from.
#[derive(Debug, Clone)]
struct Basis {
    tree: Tree,
    problem: Problem,
    choices: Vec<usize>,
    needs: Vec<Need>,
}

/// The mass of the metal in kg: what is chosen by without prices. A fitting's
/// arms are taken as thick as its pipe.
#[must_use]
pub fn metal(library: &Library, system: usize, size: Size) -> Option<SizeCost> {
    const KG_PER_LB: f64 = 0.453_592_37;
    const METRES_PER_FOOT: f64 = 0.304_8;
    let row = library.systems()[system].row(size)?;
    let metre = row.mass_lb_per_ft * KG_PER_LB / METRES_PER_FOOT;
    let end = metre * row.centre_to_end.mm() / 1e3;
    Some(SizeCost { metre, end })
}

/// Whether the job leaves sizes open, and names tools to choose them by. Between
/// several supplies no tree of pipes can be sized: the published chart stands for
/// it, at all their air.
#[must_use]
pub fn wanted(job: &Job) -> bool {
    job.supplies.len() == 1 && (1..=MOST_TOOLS).contains(&tools(job)) && is_open(job)
}

/// Why the chart stands for sizes that the job leaves open although it names tools;
/// none if it leaves none open or names none.
pub(crate) fn why_chart(job: &Job) -> Option<String> {
    let tools = tools(job);
    // What the chart is between several compressors stands with it.
    if tools == 0 || !is_open(job) || job.supplies.len() > 1 {
        return None;
    }
    Some(if tools > MOST_TOOLS {
        format!(
            "Sizes are chosen by the pressure of tools where there are no more than {MOST_TOOLS} of them; here are {tools}."
        )
    } else {
        "Sizes could not be chosen by the pressure of the tools: no sizes that are left open can be joined to those that are given.".to_owned()
    })
}

fn tools(job: &Job) -> usize {
    job.outlets.iter().map(|outlet| outlet.tools.len()).sum()
}

fn is_open(job: &Job) -> bool {
    let legs = (0..job.legs.len()).map(|leg| Some(size_of_leg(job, leg)));
    let drops = (0..job.outlets.len()).map(|outlet| size_of_drop(job, outlet));
    legs.chain(drops).any(|size| size == Some(SizeChoice::Auto))
}

/// The limits of speed: of the main, of drops.
fn speeds(job: &Job) -> [Speed; 2] {
    let limits = super::answer::Limits::of(job);
    [limits.main, limits.drop]
}

/// Chooses the sizes, given the network in any sizes. None where the systems
/// have no sizes to choose from, or none that can be joined.
#[must_use]
pub fn choose(
    job: &Job,
    network: &Network,
    library: &Library,
    demand: &Demand,
    costs: &Costs<'_>,
) -> Option<Sizes> {
    let cases = cases(job, demand);
    let drops = sizes_of_drops(job, network, library, costs);
    let mut targets = Targets::best(demand);
    loop {
        let wants = Wants::of(job, network, library, demand, &cases, &targets, &drops);
        if targets.lower(demand, &wants.beyond_help) {
            continue;
        }
        // A system may lack the fittings between two sizes.
        let bonds = [Bond::Free, Bond::Main, Bond::All];
        let mut first = None;
        let mut sizes = bonds.into_iter().find_map(|bond| {
            let tree = Tree::of(job, network, library, demand, &cases, costs, &wants, bond)?;
            first.get_or_insert_with(|| tree.clone());
            chosen(job, library, demand, &cases, &targets, &wants, tree)
        })?;
        if targets.lower(demand, &sizes.beyond_help) {
            continue;
        }
        let mut needs = wants.needs;
        needs.retain(|need| !sizes.beyond_help.contains(&need.tool));
        let mut whole = Whole::of(
            job,
            network,
            library,
            demand,
            &cases,
            &targets,
            costs,
            needs.clone(),
        );
        mix(&mut sizes, &first?, &needs, &mut whole, network, costs);
        sizes.beyond_help = targets.short.into_iter().collect();
        sizes.words = sizes.told(job, costs, demand);
        return Some(sizes);
    }
}

fn chosen(
    job: &Job,
    library: &Library,
    demand: &Demand,
    cases: &[Case],
    targets: &Targets,
    wants: &Wants,
    mut tree: Tree,
) -> Option<Sizes> {
    let mut needs = wants.needs.clone();
    let mut beyond_help = wants.beyond_help.clone();
    let mut bound = None;
    let mut round = 0;
    loop {
        let (problem, found) = solve(&tree, &mut needs, &mut beyond_help)?;
        let (legs, drops) = tree.sizes(&found.choices);
        // The tree takes no more than the whole network does: what is cheapest for
        // it before anything is asked on top is no dearer than what does.
        let bound = *bound.get_or_insert(found.bound);
        let mut sizes = Sizes {
            legs,
            drops,
            proven: found.cost <= bound * (1.0 + EQUAL),
            cost: found.cost,
            bound,
            words: Vec::new(),
            beyond_help: beyond_help.clone(),
            lacking: BTreeSet::new(),
            too_fast: false,
            round: Vec::new(),
            forced: BTreeMap::new(),
            basis: None,
        };
        let built = network::build(job, library, Open::Chosen(&sizes)).0?;
        let shown = shown(job, &built, library, demand, cases, targets, &needs);
        let fast = too_fast(job, &built, &tree, &shown.speeds);
        let laid = tree.clone();
        let refused = tree.refuse(&found.choices, &fast);
        round += 1;
        if (shown.lacking.is_empty() && !refused) || round == ROUNDS {
            sizes.too_fast = !fast.is_empty();
            let lacking = shown.lacking.iter().map(|(need, _)| needs[*need].tool);
            sizes.lacking = lacking.collect();
            sizes.basis = Some(Basis {
                tree: laid,
                problem,
                choices: found.choices,
                needs,
            });
            return Some(sizes);
        }
        for (need, lacks) in shown.lacking {
            needs[need].on_top += lacks * MORE;
        }
    }
}

/// The open pipes of the tree in which the air is too fast as they are built.
fn too_fast(
    job: &Job,
    built: &Network,
    tree: &Tree,
    speeds_in: &[Speed],
) -> BTreeMap<usize, Speed> {
    let limits = speeds(job);
    let mut fast: BTreeMap<usize, Speed> = BTreeMap::new();
    for (id, _, to, link) in built.links() {
        let speed = speeds_in[id.index()];
        if speed <= limits[usize::from(link.leg.is_none())] {
            continue;
        }
        let owner = built.node(to).origin.owner;
        if let Some(pipe) = tree.pipe_of(link.leg, owner) {
            let most = fast.entry(pipe).or_insert(speed);
            if speed > *most {
                *most = speed;
            }
        }
    }
    fast
}

/// The best sizes. A need that even the largest do not keep is struck out.
fn solve(
    tree: &Tree,
    needs: &mut Vec<Need>,
    beyond_help: &mut Vec<usize>,
) -> Option<(Problem, Best)> {
    loop {
        let problem = tree.problem(needs);
        match sizing::solve(&problem).ok()? {
            Outcome::Best(best) => return Some((problem, best)),
            Outcome::Impossible(row) => {
                let struck = tree.need_in(needs, row.need, row.case)?;
                // What is asked on top goes no further than the largest sizes do.
                let need = &mut needs[struck];
                if need.on_top > 0.0 {
                    need.on_top = (need.on_top - row.short * MORE).max(0.0);
                    continue;
                }
                let tool = need.tool;
                needs.retain(|need| need.tool != tool);
                beyond_help.push(tool);
            }
        }
    }
}

impl Sizes {
    /// Sizes of which nothing more is known.
    fn plain(chosen: &Chosen) -> Self {
        let legs = chosen.iter().filter_map(|(part, size)| match part {
            Part::Leg(leg) => Some((*leg, *size)),
            Part::Drop(_) => None,
        });
        let drops = chosen.iter().filter_map(|(part, size)| match part {
            Part::Drop(outlet) => Some((*outlet, *size)),
            Part::Leg(_) => None,
        });
        Self {
            legs: legs.collect(),
            drops: drops.collect(),
            proven: false,
            cost: 0.0,
            bound: 0.0,
            words: Vec::new(),
            beyond_help: Vec::new(),
            lacking: BTreeSet::new(),
            too_fast: false,
            round: Vec::new(),
            forced: BTreeMap::new(),
            basis: None,
        }
    }

    /// How the sizes were chosen.
    fn told(&self, job: &Job, costs: &Costs<'_>, demand: &Demand) -> Vec<String> {
        let named = |tools: &mut dyn Iterator<Item = usize>| {
            let mut names: Vec<String> = Vec::new();
            for tool in tools {
                let tool = &demand.tools[tool];
                let name = format!("{} at {}", tool.name, job.outlets[tool.outlet].name.value);
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            names.join(", ")
        };
        let [main, drop] = speeds(job).map(|speed| speed.show(job.units));
        let (cheapest, proof) = if self.proven {
            ("the cheapest", "no cheaper ones do".to_owned())
        } else {
            let gap = (1.0 - self.bound / self.cost) * 100.0;
            let proof = format!("none that do are more than {gap:.1} % cheaper");
            ("the cheapest that were found", proof)
        };
        let mut words = vec![format!(
            "Sizes that the job leaves open are {cheapest} by {} at which every tool gets its pressure, with old pipe and filters due for their change, and the air runs at no more than {main} in the main and {drop} in drops (common practice, no source); {proof}. Pipe on which no tool hangs carries the largest tool of the job as slowly. No pipe is smaller than {} (common practice, no source).",
            costs.basis, SMALLEST,
        )];
        words.extend(self.round.iter().cloned());
        if self.too_fast {
            words.push("Some air runs faster than that even in the largest size.".to_owned());
        }
        if !self.beyond_help.is_empty() {
            let names = named(&mut self.beyond_help.iter().copied());
            words.push(format!(
                "No size of pipe lets these work at their best: {names}."
            ));
        }
        if !self.lacking.is_empty() {
            let names = named(&mut self.lacking.iter().copied());
            words.push(format!(
                "In these sizes a little still lacks to: {names}; no better ones were found."
            ));
        }
        words
    }
}
