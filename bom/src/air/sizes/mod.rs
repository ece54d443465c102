//! The sizes of pipe that the job leaves open: the cheapest at which every tool
//! gets its pressure in every case and no air runs too fast.
//!
//! The network becomes a tree of pipes: a leg has one size, a drop has one, and a
//! ring has one all round, so that its losses are settled once its size is. The
//! tree is sized exactly ([`sizing`](super::sizing)). Then the network is built
//! anew and solved as a whole; what a tool still lacks, since fittings between
//! two sizes take a little more, is asked for on top until nothing lacks.

mod needs;
mod three;
mod tree;
mod why;

pub(super) use three::stepped;
pub use three::{MainIn, three};
pub use why::{Because, Forced};

use super::demand::Demand;
use super::ladder::cases::cases;
use super::sizing::{self, Best, Outcome, Problem};
use crate::job::{Job, SizeChoice};
use crate::library::Library;
use crate::network::{self, Network, Open};
use crate::quantity::{Size, Speed};
use needs::{Need, lacking, needs};
use std::collections::BTreeMap;
use tree::{Bond, Tree, size_of_drop, size_of_leg};

/// No pipe is chosen smaller than this: common practice, no source.
pub(super) const SMALLEST: Size = Size::Nominal(4);

/// More tools than this are not held against every case: the published chart
/// stands for them.
const MOST_TOOLS: usize = 500;

/// How often what tools lack in the whole network is asked for on top.
const ROUNDS: usize = 6;

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
    /// Tools that no size of pipe helps, by their numbers in the demand.
    pub beyond_help: Vec<usize>,
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
    let tools: usize = job.outlets.iter().map(|outlet| outlet.tools.len()).sum();
    let legs = (0..job.legs.len()).map(|leg| Some(size_of_leg(job, leg)));
    let drops = (0..job.outlets.len()).map(|outlet| size_of_drop(job, outlet));
    let mut sizes = legs.chain(drops);
    let one_supply = job.supplies.len() == 1;
    one_supply
        && (1..=MOST_TOOLS).contains(&tools)
        && sizes.any(|size| size == Some(SizeChoice::Auto))
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
    // A system may lack the fittings between two sizes.
    [Bond::Free, Bond::Main, Bond::All]
        .into_iter()
        .find_map(|bond| chosen(job, network, library, demand, costs, bond))
}

fn chosen(
    job: &Job,
    network: &Network,
    library: &Library,
    demand: &Demand,
    costs: &Costs<'_>,
    bond: Bond,
) -> Option<Sizes> {
    let cases = cases(job, demand);
    let tree = Tree::of(job, network, library, demand, &cases, costs, bond)?;
    let (mut needs, mut beyond_help) = needs(job, network, library, demand, &cases);
    let mut round = 0;
    loop {
        let (problem, found) = solve(&tree, &mut needs, &mut beyond_help)?;
        let (legs, drops) = tree.sizes(&found.choices);
        let mut sizes = Sizes {
            legs,
            drops,
            proven: found.proven,
            cost: found.cost,
            bound: found.bound,
            words: Vec::new(),
            beyond_help: beyond_help.clone(),
            tree: tree.clone(),
            problem,
            choices: found.choices,
            needs: needs.clone(),
        };
        let built = network::build(job, library, Open::Chosen(&sizes)).0?;
        let lacks = lacking(job, &built, library, demand, &cases, &needs);
        round += 1;
        if lacks.is_empty() || round == ROUNDS {
            sizes.words = sizes.told(job, costs, demand);
            return Some(sizes);
        }
        for (need, lacks) in lacks {
            needs[need].least += lacks;
        }
    }
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
                let tool = needs[struck].tool;
                needs.retain(|need| need.tool != tool);
                beyond_help.push(tool);
            }
        }
    }
}

impl Sizes {
    /// How the sizes were chosen.
    fn told(&self, job: &Job, costs: &Costs<'_>, demand: &Demand) -> Vec<String> {
        let [main, drop] = speeds(job).map(|speed| speed.show(job.units));
        let proof = if self.proven {
            "no cheaper ones do".to_owned()
        } else {
            let gap = (1.0 - self.bound / self.cost) * 100.0;
            format!("none that do are more than {gap:.1} % cheaper")
        };
        let mut words = vec![format!(
            "Sizes that the job leaves open are the cheapest by {} at which every tool gets its pressure, with old pipe and filters due for their change, and the air runs at no more than {main} in the main and {drop} in drops (common practice, no source); {proof}. No pipe is smaller than {} (common practice, no source).",
            costs.basis, SMALLEST,
        )];
        if self.tree.too_fast {
            words.push("Some air runs faster than that even in the largest size.".to_owned());
        }
        if !self.beyond_help.is_empty() {
            let mut names: Vec<String> = Vec::new();
            for tool in &self.beyond_help {
                let tool = &demand.tools[*tool];
                let name = format!("{} at {}", tool.name, job.outlets[tool.outlet].name.value);
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            words.push(format!(
                "No size of pipe gives its pressure to: {}.",
                names.join(", ")
            ));
        }
        words
    }
}
