//! The order of assembly: all of the count once, and nothing that cannot be
//! turned in.

use crate::support::{Form, read, root, same_cases, shops};
use bom::assembly::{Assembly, Hold, Step, assembly};
use bom::library::Library;
use bom::network::{LinkId, Network, NodeId, NodeKind};
use bom::source::Source;
use bom::system::Joint;
use bom::takeoff::{Of, Seat, Straight};
use bom::{Plan, plan_by};
use proptest::prelude::{prop_assert, proptest};
use proptest::sample::select;
use std::collections::{BTreeMap, BTreeSet};

/// What is wrong with the order of a job, in the order in which it is found.
fn faults(job: &str, system: Option<usize>, library: &Library) -> Option<Vec<String>> {
    tampered(job, system, library, |_| {})
}

/// The same of an order that was changed.
fn tampered(
    job: &str,
    system: Option<usize>,
    library: &Library,
    tamper: impl FnOnce(&mut Assembly),
) -> Option<Vec<String>> {
    let plan = plan_by(&Source::new("job", job), library, system, None).0?;
    let mut built = assembly(&plan.job, &plan.network, library, &plan.takeoff);
    tamper(&mut built);
    let mut faults = uncounted(&plan, &built);
    faults.extend(Site::new(&plan, library).faults(&built));
    Some(faults)
}

fn steps(assembly: &Assembly) -> impl Iterator<Item = &Step> {
    assembly.groups.iter().flat_map(|group| &group.steps)
}

/// Parts, pieces and joints that stand in no step, or in more than one.
pub(crate) fn uncounted(plan: &Plan, assembly: &Assembly) -> Vec<String> {
    let mut balance: BTreeMap<String, i64> = BTreeMap::new();
    let mut add = |name: String, count: i64| *balance.entry(name).or_default() += count;
    let whole = |count: u64| i64::try_from(count).unwrap();
    for line in &plan.takeoff.lines {
        let name = format!("{} {} {}", line.key.part, line.words, line.key.size);
        add(name, whole(line.quantity));
    }
    for joints in &plan.takeoff.joints {
        let name = format!(
            "joints {} {:?} {}",
            joints.system, joints.joint, joints.size
        );
        add(name, whole(joints.count));
    }
    for line in &plan.takeoff.pipe {
        for piece in &line.pieces {
            add(format!("{} {}", piece.label(), line.size), 1);
        }
    }
    for step in steps(assembly) {
        for part in &step.parts {
            let name = format!("{} {} {}", part.part, part.words, part.size);
            add(name, -whole(part.quantity));
        }
        for joints in &step.joints {
            let name = format!(
                "joints {} {:?} {}",
                joints.system, joints.joint, joints.size
            );
            add(name, -whole(joints.count));
        }
        for piece in &step.pieces {
            add(format!("{} {}", piece.piece.label(), piece.size), -1);
        }
    }
    balance
        .into_iter()
        .filter(|(_, left)| *left != 0)
        .map(|(name, left)| format!("{left} left of {name}"))
        .collect()
}

/// A thing that is turned as one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Body {
    /// The floor with the tanks on it, and the main where it was begun.
    Ground,
    Node(NodeId),
    /// The half of a straight at this place, or all of it where it has no union.
    Pipe(usize, bool),
}

/// The shop while the pipe is built.
struct Site<'a> {
    network: &'a Network,
    library: &'a Library,
    straights: &'a [Straight],
    by_link: BTreeMap<(NodeId, LinkId), usize>,
    numbers: BTreeMap<Body, usize>,
    joined: Vec<usize>,
    there: BTreeSet<Body>,
    seats: BTreeSet<Seat>,
}

impl<'a> Site<'a> {
    fn new(plan: &'a Plan, library: &'a Library) -> Self {
        let straights = &plan.takeoff.straights;
        let mut by_link = BTreeMap::new();
        for (index, straight) in straights.iter().enumerate() {
            let [first, last] = straight.links();
            by_link.insert((straight.from(), first), index);
            by_link.insert((straight.to(), last), index);
        }
        let mut bodies = vec![Body::Ground];
        bodies.extend(plan.network.nodes().map(|(node, _)| Body::Node(node)));
        for index in 0..straights.len() {
            bodies.extend([Body::Pipe(index, false), Body::Pipe(index, true)]);
        }
        let numbers: BTreeMap<Body, usize> = bodies.into_iter().zip(0..).collect();
        let mut site = Self {
            network: &plan.network,
            library,
            straights,
            by_link,
            joined: (0..numbers.len()).collect(),
            numbers,
            there: BTreeSet::from([Body::Ground]),
            seats: BTreeSet::new(),
        };
        for port in plan.network.ports() {
            site.there.insert(Body::Node(port));
            site.join(Body::Ground, Body::Node(port));
        }
        site
    }

    /// Joins two bodies; says whether they hung together already.
    fn join(&mut self, one: Body, other: Body) -> bool {
        let (one, other) = (self.root(one), self.root(other));
        self.joined[other] = one;
        one == other
    }

    fn stands(&self, body: Body) -> bool {
        self.root(body) == self.root(Body::Ground)
    }

    /// The number by which all that hangs together is known.
    fn root(&self, body: Body) -> usize {
        let mut at = self.numbers[&body];
        while self.joined[at] != at {
            at = self.joined[at];
        }
        at
    }

    /// The half of a straight that begins at a place.
    fn pipe(&self, index: usize, at: NodeId) -> Body {
        let straight = &self.straights[index];
        Body::Pipe(index, straight.has_union() && at == straight.to())
    }

    fn faults(mut self, assembly: &Assembly) -> Vec<String> {
        let mut faults = Vec::new();
        for step in steps(assembly) {
            let said = self.step(step);
            faults.extend(
                said.into_iter()
                    .map(|fault| format!("{}: {fault}", step.title)),
            );
        }
        for (node, _) in self.network.nodes() {
            let body = Body::Node(node);
            if self.there.contains(&body) && !self.stands(body) {
                faults.push(format!("{} hangs in the air", self.network.place(node)));
            }
        }
        for (index, straight) in self.straights.iter().enumerate() {
            if !self.there.contains(&Body::Pipe(index, false)) {
                let place = self.network.place(straight.from());
                faults.push(format!("the straight from {place} is not laid"));
            }
        }
        faults
    }

    fn step(&mut self, step: &Step) -> Vec<String> {
        let mut faults = Vec::new();
        let mut built = Vec::new();
        for seat in &step.seats {
            if !self.seats.insert(*seat) {
                faults.push(format!("{seat:?} is built twice"));
            }
            match seat.of {
                Of::Place => built.push(Body::Node(seat.place)),
                Of::Straight(link) => {
                    let index = self.by_link[&(seat.place, link)];
                    built.push(Body::Pipe(index, false));
                    if self.straights[index].has_union() {
                        built.push(Body::Pipe(index, true));
                    }
                }
                Of::End(_) | Of::Supports(_) | Of::AtHand => {}
            }
        }
        if let Hold::Onto(place) = step.hold {
            let saddle = built.contains(&Body::Node(place));
            let begun = self.there.contains(&Body::Node(place)) && self.stands(Body::Node(place));
            if !saddle && !begun {
                faults.push(format!("{} does not stand", self.network.place(place)));
            }
            if saddle {
                // A saddle is clamped on the main, and turns nothing.
                self.join(Body::Ground, Body::Node(place));
            }
        }
        self.there.extend(built.iter().copied());
        for seat in &step.seats {
            if let Of::End(link) = seat.of {
                faults.extend(self.joint(step, *seat, link));
            }
        }
        // What lies in its hangers stands, though no tank holds it yet.
        if step.hold == Hold::Start
            && let Some(first) = built.first()
        {
            self.join(Body::Ground, *first);
        }
        for (index, straight) in self.straights.iter().enumerate() {
            // A union's nut is turned, and no pipe.
            if straight.has_union() && built.contains(&Body::Pipe(index, false)) {
                if !matches!(step.hold, Hold::Between(_)) {
                    faults.push("a ring's union is not closed between two ends".to_owned());
                }
                self.join(Body::Pipe(index, false), Body::Pipe(index, true));
            }
        }
        for body in built {
            if self.stands(body) == (step.hold == Hold::Bench) {
                faults.push(format!("{body:?} is not where it should be"));
            }
        }
        faults
    }

    /// What is wrong with the joints at an end.
    fn joint(&mut self, step: &Step, seat: Seat, link: LinkId) -> Option<String> {
        let other = match self.by_link.get(&(seat.place, link)) {
            Some(index) => self.pipe(*index, seat.place),
            None => {
                let ends = self.network.ends_of(link);
                let far = ends.into_iter().find(|end| *end != seat.place)?;
                Body::Node(far)
            }
        };
        let own = Body::Node(seat.place);
        for body in [own, other] {
            if !self.there.contains(&body) {
                return Some(format!("{body:?} is not there yet"));
            }
        }
        let closes = self.join(own, other);
        let joint = self.library.systems()[self.network.link(link).system].joint;
        let turns = joint == Joint::Threaded;
        let union = step.parts.iter().any(|part| part.part.ends_with("union"));
        let hose = self.network.nodes().any(|(node, what)| {
            matches!(
                what.kind,
                NodeKind::Device {
                    length: Some(_),
                    ..
                }
            ) && step.seats.contains(&Seat::from(node))
        });
        let said = !step.remarks.is_empty();
        (closes && turns && !union && !hose && !said).then(|| {
            format!(
                "{} is turned between two ends",
                self.network.place(seat.place)
            )
        })
    }
}

#[test]
fn every_job_can_be_put_together() {
    let library = Library::shipped().unwrap();
    let mut jobs = Vec::new();
    for folder in std::fs::read_dir(root().join("tests/cases")).unwrap() {
        let file = folder.unwrap().path().join("job.toml");
        if file.is_file() {
            jobs.push(file);
        }
    }
    for file in std::fs::read_dir(root().join("catalogs-demo")).unwrap() {
        let file = file.unwrap().path();
        let name = file.file_name().unwrap().to_string_lossy().into_owned();
        if name.ends_with(".toml") && !name.contains("rates") {
            jobs.push(file);
        }
    }
    jobs.sort();
    let mut looked_at = 0;
    for file in jobs {
        if let Some(faults) = faults(&read(&file), None, &library) {
            looked_at += 1;
            assert!(faults.is_empty(), "{}: {faults:#?}", file.display());
        }
    }
    assert!(looked_at > 20, "{looked_at} jobs");
}

#[test]
fn each_fault_can_be_found() {
    let library = Library::shipped().unwrap();
    let job = read(root().join("catalogs-demo/millrace.toml"));
    // The main is the third stage, and its fourth step leads to the bench.
    let found = |tamper: fn(&mut Assembly)| tampered(&job, None, &library, tamper).unwrap();
    let left_out = found(|order| {
        order.groups[2].steps.remove(3);
    });
    assert_eq!(left_out[0], "1 left of 4.1 3/4in");
    assert!(left_out.contains(&"the straight from leg 2, its end is not laid".to_owned()));
    let too_early = found(|order| order.groups[2].steps.swap(3, 4));
    assert_eq!(
        too_early[0],
        "5.1 from leg 3 (north wall), at bench to leg 3 (north wall), at router: leg 3 (north wall), at bench does not stand"
    );
    let no_union = found(|order| {
        for part in &mut order.groups[3].steps[0].parts {
            part.quantity -= u64::from(part.part == "union");
        }
    });
    assert_eq!(no_union, ["1 left of union black iron union female 3/4in"]);
    let turned = found(|order| {
        let last = order.groups[5].steps.last_mut().unwrap();
        last.parts.retain(|part| part.part != "union");
        last.seats.retain(|seat| seat.of != Of::Place);
    });
    assert!(
        turned
            .iter()
            .any(|fault| fault.contains("is not there yet")),
        "{turned:?}"
    );
}

proptest! {
    #![proptest_config(same_cases(96))]

    #[test]
    fn all_of_the_count_is_put_together_once_and_in_an_order_that_can_be_built(
        shop in shops(1..14),
        system in select(&["black-iron", "black-iron", "copper-l-soldered", "aluminium-push-fit"][..]),
    ) {
        let library = Library::shipped().unwrap();
        let mut systems = library.systems().iter();
        let system = systems.position(|one| one.name == system);
        let job = shop.job(Form::default()).replace("175 psi\"", "175 psi\"\ndischarge = \"90 F\"");
        // The sockets of tube leave some short offsets no room.
        if let Some(faults) = faults(&job, system, &library) {
            prop_assert!(faults.is_empty(), "{faults:#?}\n{job}");
        }
    }
}
