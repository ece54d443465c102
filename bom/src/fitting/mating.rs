//! What joins two ends. Nipples, stubs, bushings, couplings, adapters and what
//! keeps unlike metals apart come from here and from nowhere else.

use crate::job::UnlikeMetals;
use crate::library::{Gender, Library};
use crate::quantity::{PartSize, Size};
use crate::system::{Joint, Metal, System};

/// What an end is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Form {
    /// A tapered pipe thread.
    Thread,
    /// Tube of this system: its socket or its end.
    Tube(usize),
}

/// An end that is to be joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct End {
    pub(crate) form: Form,
    pub(crate) gender: Gender,
    pub(crate) size: Size,
    pub(crate) metal: Metal,
    /// The system that it is of; none for devices.
    pub(crate) own: Option<usize>,
}

impl End {
    pub(crate) const fn thread(gender: Gender, size: Size, metal: Metal) -> Self {
        Self {
            form: Form::Thread,
            gender,
            size,
            metal,
            own: None,
        }
    }

    /// A tank's port: tanks are steel.
    pub(crate) fn port(library: &Library, gender: Gender, size: Size) -> Self {
        Self {
            own: library.threaded_of(Metal::BlackSteel),
            ..Self::thread(gender, size, Metal::BlackSteel)
        }
    }

    /// An end as a system's own pipe and fittings have it.
    pub(crate) fn of(library: &Library, system: usize, gender: Gender, size: Size) -> Self {
        let own = &library.systems()[system];
        Self {
            form: if own.is_threaded() {
                Form::Thread
            } else {
                Form::Tube(system)
            },
            gender,
            size,
            metal: own.metal,
            own: Some(system),
        }
    }
}

/// The parts between two ends, the joints that they make up, and the short
/// pieces of tube between sockets.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Join {
    pub(crate) parts: Vec<(&'static str, usize, PartSize)>,
    pub(crate) joints: Vec<MadeJoint>,
    pub(crate) stubs: Vec<(usize, Size)>,
}

/// A joint of a system, how it is made, and its size.
pub(crate) type MadeJoint = (usize, Joint, Size);

/// What joins ends in one place of a layout.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Mating<'a> {
    pub(crate) library: &'a Library,
    /// The system that is built here: its nipples and bushings join threads.
    pub(crate) home: usize,
    pub(crate) unlike: UnlikeMetals,
}

impl Mating<'_> {
    /// What joins `a` and `b`; none if no part makes a step between them.
    pub(crate) fn join(self, a: End, b: End) -> Option<Join> {
        let mut join = Join::default();
        match (a.form, b.form) {
            (Form::Tube(one), Form::Tube(other)) if one == other => {
                self.in_tube(one, a, b, &mut join)?;
            }
            _ if self.keeps_apart(a, b) => self.apart(a, b, &mut join)?,
            _ => {
                let (a, b) = match (a.form, b.form) {
                    (Form::Thread, _) => {
                        let towards = (opposite(a.gender), a.size);
                        (a, self.threaded(b, towards, &mut join)?)
                    }
                    (_, Form::Thread) => {
                        let towards = (opposite(b.gender), b.size);
                        (self.threaded(a, towards, &mut join)?, b)
                    }
                    (Form::Tube(one), Form::Tube(_)) => {
                        let thread = self.library.systems()[one].thread_of(a.size);
                        let a = self.threaded(a, (Gender::Male, thread), &mut join)?;
                        (a, self.threaded(b, (Gender::Female, a.size), &mut join)?)
                    }
                };
                self.in_threads(self.hardware(), a, b, &mut join)?;
            }
        }
        Some(join)
    }

    /// What joins `from` to the end of a pipe where neither can be turned: a
    /// union of the pipe's size.
    pub(crate) fn close_loop(self, from: End, system: usize, pipe: Size) -> Option<Join> {
        let end = End::of(self.library, system, Gender::Male, pipe);
        let own = &self.library.systems()[system];
        if own.comes_apart {
            return self.join(from, end);
        }
        self.with_between("union", from, system, pipe)
    }

    /// What joins `from` to the end of a pipe that stands on both sides of it: a union,
    /// or for tube a coupling that slides over a short piece.
    pub(crate) fn cut_in(self, from: End, system: usize, pipe: Size) -> Option<Join> {
        let own = &self.library.systems()[system];
        match own.is_threaded() {
            true => self.close_loop(from, system, pipe),
            false if own.comes_apart => self.close_loop(from, system, pipe),
            false => self.with_between("coupling", from, system, pipe),
        }
    }

    /// What joins the ends of two pipes of one size that both stand.
    pub(crate) fn between_pipes(self, system: usize, pipe: Size) -> Option<Join> {
        let end = End::of(self.library, system, Gender::Male, pipe);
        self.close_loop(end, system, pipe)
    }

    /// A part with two sockets of the pipe's size between `from` and the pipe's end.
    fn with_between(
        self,
        part: &'static str,
        from: End,
        system: usize,
        pipe: Size,
    ) -> Option<Join> {
        let end = End::of(self.library, system, Gender::Male, pipe);
        let own = &self.library.systems()[system];
        let union = End {
            gender: Gender::Female,
            ..end
        };
        let mut whole = self.join(from, union)?;
        whole.parts.push((part, system, PartSize::one(pipe)));
        whole.joints.push((system, own.joint, pipe));
        Some(whole)
    }

    /// What joins `from` to the end of a set that comes out in one piece: a
    /// union of the set's size, with what leads to it on both sides.
    pub(crate) fn serviceable(self, from: End, set: End) -> Option<Join> {
        if let Form::Tube(system) = from.form
            && self.library.systems()[system].comes_apart
        {
            return self.join(from, set);
        }
        let hardware = self.hardware();
        let metal = self.library.systems()[hardware].metal;
        let union = End::thread(Gender::Female, set.size, metal);
        let mut whole = self.join(from, union)?;
        whole
            .parts
            .push(("union", hardware, PartSize::one(set.size)));
        self.in_threads(hardware, union, set, &mut whole)?;
        Some(whole)
    }

    /// The system whose nipples and bushings join threads here.
    fn hardware(self) -> usize {
        self.library.hardware(self.home)
    }

    /// The metal that an end meets a thread with.
    fn metal_at_thread(self, end: End) -> Metal {
        match end.form {
            Form::Thread => end.metal,
            Form::Tube(system) => self.library.systems()[system].adapter_metal,
        }
    }

    fn keeps_apart(self, a: End, b: End) -> bool {
        let metals = (self.metal_at_thread(a), self.metal_at_thread(b));
        self.unlike != UnlikeMetals::Bare && self.library.unlike(metals.0, metals.1).is_some()
    }

    /// Something between two metals that must not touch.
    fn apart(self, a: End, b: End, join: &mut Join) -> Option<()> {
        let near = |end: End| match end.form {
            Form::Thread => end.size,
            Form::Tube(system) => self.library.systems()[system].thread_of(end.size),
        };
        let size = near(a).min(near(b));
        let brass = self
            .library
            .threaded_of(Metal::Brass)
            .filter(|_| self.unlike == UnlikeMetals::Brass);
        let between = End::thread(Gender::Female, size, Metal::Brass);
        for end in [a, b] {
            // What leads to an end is of that end's own metal, or brass.
            let own = end.own.map(|own| self.library.hardware(own));
            let hardware = brass.or(own).unwrap_or_else(|| self.hardware());
            let end = self.threaded(end, (Gender::Male, size), join)?;
            self.in_threads(hardware, between, end, join)?;
        }
        let size = PartSize::one(size);
        join.parts.push(match brass {
            Some(brass) => ("coupling", brass, size),
            None => ("insulating-union", self.hardware(), size),
        });
        Some(())
    }

    /// An end as a thread: tube gets the adapter that leads nearest to the
    /// wanted one.
    fn threaded(self, end: End, towards: (Gender, Size), join: &mut Join) -> Option<End> {
        let Form::Tube(index) = end.form else {
            return Some(end);
        };
        let system = &self.library.systems()[index];
        let (gender, near) = towards;
        let thread = system.adapter(end.size, gender, near)?;
        let part = match gender {
            Gender::Male => "adapter-male",
            Gender::Female => "adapter-female",
        };
        join.parts
            .push((part, index, PartSize::pair(end.size, thread)));
        join.joints.push((index, system.joint, end.size));
        if end.gender == Gender::Female {
            join.stubs.push((index, end.size));
            join.joints.push((index, system.joint, end.size));
        }
        Some(End::thread(gender, thread, system.adapter_metal))
    }

    fn in_threads(self, hardware: usize, a: End, b: End, join: &mut Join) -> Option<()> {
        let (parts, joints) = self.between(hardware, a, b)?;
        let made = |size| (hardware, Joint::Threaded, size);
        join.parts
            .extend(parts.into_iter().map(|(part, size)| (part, hardware, size)));
        join.joints.extend(joints.into_iter().map(made));
        Some(())
    }

    fn in_tube(self, index: usize, a: End, b: End, join: &mut Join) -> Option<()> {
        let system = &self.library.systems()[index];
        let (parts, joints) = self.between(index, a, b)?;
        for (part, size) in parts {
            match (part, size.largest()) {
                // What a close nipple is to threads, a stub is to sockets.
                ("close-nipple", Some(size)) => join.stubs.push((index, size)),
                _ => join.parts.push((part, index, size)),
            }
        }
        let made = |size| (index, system.joint, size);
        join.joints.extend(joints.into_iter().map(made));
        Some(())
    }

    /// The parts between two ends of one kind, and the sizes of the joints.
    fn between(self, index: usize, a: End, b: End) -> Option<(Parts, Vec<Size>)> {
        let system = &self.library.systems()[index];
        Some(match (a.gender, b.gender) {
            (Gender::Female, Gender::Female) => {
                let (large, small) = (a.size.max(b.size), a.size.min(b.size));
                let (mut parts, mut joints) = step_down(large, small, system)?;
                parts.push(("close-nipple", PartSize::one(small)));
                joints.extend([small, small]);
                (parts, joints)
            }
            (Gender::Female, Gender::Male) => into_female(a.size, b.size, system)?,
            (Gender::Male, Gender::Female) => into_female(b.size, a.size, system)?,
            (Gender::Male, Gender::Male) if a.size == b.size => (
                vec![("coupling", PartSize::one(a.size))],
                vec![a.size, a.size],
            ),
            (Gender::Male, Gender::Male) => (
                vec![("reducer", PartSize::two(a.size, b.size))],
                vec![a.size, b.size],
            ),
        })
    }
}

type Parts = Vec<(&'static str, PartSize)>;

const fn opposite(gender: Gender) -> Gender {
    match gender {
        Gender::Male => Gender::Female,
        Gender::Female => Gender::Male,
    }
}

fn into_female(female: Size, male: Size, system: &System) -> Option<(Parts, Vec<Size>)> {
    if male > female {
        return Some((
            vec![
                ("reducer", PartSize::two(male, female)),
                ("close-nipple", PartSize::one(female)),
            ],
            vec![male, female, female],
        ));
    }
    let (parts, mut joints) = step_down(female, male, system)?;
    joints.push(male);
    Some((parts, joints))
}

/// Bushings from a female end of `large` to a female end of `small`.
fn step_down(large: Size, small: Size, system: &System) -> Option<(Parts, Vec<Size>)> {
    let steps = system.bushings(large, small)?;
    let parts = steps
        .iter()
        .map(|(outside, inside)| ("bushing", PartSize::two(*outside, *inside)))
        .collect();
    Some((parts, steps.iter().map(|(outside, _)| *outside).collect()))
}

#[cfg(test)]
mod tests {
    use super::{End, Join, Mating};
    use crate::job::UnlikeMetals;
    use crate::library::{Gender, Library};
    use crate::quantity::Size;
    use crate::system::Metal;

    /// The parts and the joints, as a fitter would say them.
    fn said(a: &str, b: &str) -> String {
        let library = Library::shipped().unwrap();
        let end = |text: &str| {
            let (gender, size) = text.split_once(' ').unwrap();
            let size = Size::parse(size).unwrap();
            match gender {
                "F" => End::thread(Gender::Female, size, Metal::BlackSteel),
                _ => End::thread(Gender::Male, size, Metal::BlackSteel),
            }
        };
        let join = iron(&library).join(end(a), end(b));
        join.map_or_else(
            || "nothing".to_owned(),
            |join| format!("{}; {} joints", parts(&join), join.joints.len()),
        )
    }

    fn iron(library: &Library) -> Mating<'_> {
        Mating {
            library,
            home: 0,
            unlike: UnlikeMetals::default(),
        }
    }

    fn parts(join: &Join) -> String {
        let parts: Vec<String> = join
            .parts
            .iter()
            .map(|(part, _, size)| format!("{part} {size}"))
            .collect();
        parts.join(", ")
    }

    #[test]
    fn the_mating_table() {
        let cases = [
            ("F 3/4in", "F 3/4in", "close-nipple 3/4in; 2 joints"),
            (
                "F 3/4in",
                "F 1/2in",
                "bushing 3/4in x 1/2in, close-nipple 1/2in; 3 joints",
            ),
            ("F 3/4in", "M 3/4in", "; 1 joints"),
            ("F 3/4in", "M 1/4in", "bushing 3/4in x 1/4in; 2 joints"),
            (
                "M 3/4in",
                "F 1/2in",
                "reducer 3/4in x 1/2in, close-nipple 1/2in; 3 joints",
            ),
            ("M 3/4in", "M 3/4in", "coupling 3/4in; 2 joints"),
            ("M 1in", "M 3/4in", "reducer 1in x 3/4in; 2 joints"),
            (
                "F 2in",
                "M 1/4in",
                "bushing 2in x 1/2in, bushing 1/2in x 1/4in; 3 joints",
            ),
        ];
        for (a, b, wanted) in cases {
            assert_eq!(said(a, b), wanted, "{a} to {b}");
            assert_eq!(said(b, a), wanted, "{b} to {a}");
        }
    }

    #[test]
    fn a_hose_that_meets_pipe_gets_a_union() {
        let library = Library::shipped().unwrap();
        let size = |text| Size::parse(text).unwrap();
        let said = |hose, pipe| {
            let hose = End::thread(Gender::Male, size(hose), Metal::Brass);
            parts(&iron(&library).close_loop(hose, 0, size(pipe)).unwrap())
        };
        assert_eq!(said("1in", "1in"), "union 1in");
        assert_eq!(
            said("1in", "3/4in"),
            "reducer 1in x 3/4in, close-nipple 3/4in, union 3/4in"
        );
    }

    /// What joins an end of a copper system to a thread or to iron, as parts
    /// with their systems, stubs and joints.
    fn met(home: &str, a: &str, b: &str, unlike: UnlikeMetals) -> String {
        let library = Library::shipped().unwrap();
        let system = |name: &str| {
            let mut systems = library.systems().iter();
            systems.position(|system| system.name == name).unwrap()
        };
        let end = |text: &str| {
            let words: Vec<&str> = text.split(' ').collect();
            let [of, gender, size] = words[..] else {
                panic!()
            };
            let gender = if gender == "F" {
                Gender::Female
            } else {
                Gender::Male
            };
            let size = Size::parse(size).unwrap();
            match of {
                "device" => End::thread(gender, size, Metal::Brass),
                "tank" => End::port(&library, gender, size),
                of => End::of(&library, system(of), gender, size),
            }
        };
        let mating = Mating {
            library: &library,
            home: system(home),
            unlike,
        };
        let Some(join) = mating.join(end(a), end(b)) else {
            return "nothing".to_owned();
        };
        let name = |system: usize| &library.systems()[system].name;
        let parts = join
            .parts
            .iter()
            .map(|(part, system, size)| format!("{part} {size} of {}", name(*system)));
        let stubs = join
            .stubs
            .iter()
            .map(|(system, size)| format!("stub {size} of {}", name(*system)));
        let said: Vec<String> = parts.chain(stubs).collect();
        format!("{}; {} joints", said.join(", "), join.joints.len())
    }

    #[test]
    fn tube_meets_threads_through_adapters() {
        let copper =
            |a: &str, b: &str| met("copper-l-soldered", a, b, UnlikeMetals::InsulatingUnion);
        let cases = [
            (
                "copper-l-soldered M 3/4in",
                "device F 1/2in",
                "adapter-male 3/4in x 1/2in of copper-l-soldered; 2 joints",
            ),
            (
                "copper-l-soldered F 3/4in",
                "device F 3/4in",
                "adapter-male 3/4in of copper-l-soldered, stub 3/4in of copper-l-soldered; 3 joints",
            ),
            (
                "copper-l-soldered M 3/4in",
                "device M 1in",
                "adapter-female 3/4in x 1in of copper-l-soldered; 2 joints",
            ),
            (
                "copper-l-soldered F 3/4in",
                "copper-l-soldered F 1/2in",
                "bushing 3/4in x 1/2in of copper-l-soldered, stub 1/2in of copper-l-soldered; 3 joints",
            ),
            (
                "copper-l-soldered M 3/4in",
                "device F 1/4in",
                "adapter-male 3/4in x 1/2in of copper-l-soldered, reducer 1/2in x 1/4in of brass, close-nipple 1/4in of brass; 4 joints",
            ),
        ];
        for (a, b, wanted) in cases {
            assert_eq!(copper(a, b), wanted, "{a} to {b}");
            assert_eq!(copper(b, a), wanted, "{b} to {a}");
        }
    }

    #[test]
    fn unlike_metals_never_meet() {
        let (iron, copper) = ("black-iron F 3/4in", "copper-l-soldered M 3/4in");
        let kept = |unlike| met("black-iron", iron, copper, unlike);
        assert_eq!(
            kept(UnlikeMetals::InsulatingUnion),
            "close-nipple 3/4in of black-iron, adapter-male 3/4in of copper-l-soldered, insulating-union 3/4in of black-iron; 4 joints"
        );
        assert_eq!(
            kept(UnlikeMetals::Brass),
            "close-nipple 3/4in of brass, adapter-male 3/4in of copper-l-soldered, coupling 3/4in of brass; 4 joints"
        );
        assert_eq!(
            kept(UnlikeMetals::Bare),
            "adapter-male 3/4in of copper-l-soldered; 2 joints"
        );
        // What is screwed into the tank is as the tank is.
        assert_eq!(
            met(
                "stainless-40s-threaded",
                "tank F 1in",
                "stainless-40s-threaded M 3/4in",
                UnlikeMetals::InsulatingUnion
            ),
            "bushing 1in x 3/4in of black-iron, close-nipple 3/4in of black-iron, insulating-union 3/4in of stainless-40s-threaded; 4 joints"
        );
    }
}
