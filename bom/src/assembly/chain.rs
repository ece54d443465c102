//! What stands between two things, in the order in which it is screwed or pushed
//! together: the count knows which parts there are, their ends say how they go.

use crate::library::{Gender, Library, PartEnd};
use crate::quantity::Size;
use crate::takeoff::PartKey;

/// An end: tube of this system or a thread, its size, its gender.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct End {
    tube: Option<String>,
    size: Size,
    gender: Gender,
}

impl End {
    pub(super) const fn thread(size: Size, gender: Gender) -> Self {
        Self {
            tube: None,
            size,
            gender,
        }
    }

    /// The end of a system's own pipe.
    pub(super) fn of_pipe(library: &Library, system: usize, size: Size) -> Self {
        let own = &library.systems()[system];
        Self {
            tube: (!own.is_threaded()).then(|| own.name.clone()),
            size,
            gender: Gender::Male,
        }
    }

    fn takes(&self, other: &Self) -> bool {
        self.tube == other.tube && self.size == other.size && self.gender != other.gender
    }
}

/// The ends of a part.
pub(super) fn ends_of(library: &Library, key: &PartKey) -> Vec<End> {
    let systems = library.systems();
    let own = systems.iter().find(|system| system.name == key.system);
    let tube = own
        .filter(|own| !own.is_threaded())
        .map(|own| own.name.clone());
    let mut parts = library.parts().iter();
    let part = parts.find(|part| part.name == key.part);
    let ends = part.iter().flat_map(|part| part.ends.iter().enumerate());
    ends.filter_map(|(number, end)| {
        let size = key.size.port(number)?;
        Some(match (*end)? {
            PartEnd::Own(gender) => End {
                tube: tube.clone(),
                size,
                gender,
            },
            PartEnd::Thread(gender) => End::thread(size, gender),
        })
    })
    .collect()
}

/// A thing between, and its ends.
#[derive(Debug, Clone)]
pub(super) struct Between {
    pub(super) name: String,
    pub(super) ends: Vec<End>,
}

/// The things in the order in which they lead from one of the `first` ends to one
/// of the `last`; as they come where no order of them does.
pub(super) fn in_order(first: &[End], things: Vec<Between>, last: &[End]) -> Vec<String> {
    let mut left: Vec<usize> = (0..things.len()).collect();
    let mut order = Vec::new();
    let found = leads(first, &things, &mut left, &mut order, last);
    let order = if found {
        order
    } else {
        (0..things.len()).collect()
    };
    order
        .into_iter()
        .map(|index| things[index].name.clone())
        .collect()
}

fn leads(
    from: &[End],
    things: &[Between],
    left: &mut Vec<usize>,
    order: &mut Vec<usize>,
    last: &[End],
) -> bool {
    let meets = |ends: &[End], others: &[End]| {
        ends.iter()
            .any(|end| others.iter().any(|other| end.takes(other)))
    };
    if left.is_empty() {
        return meets(from, last);
    }
    for at in 0..left.len() {
        let index = left.remove(at);
        order.push(index);
        let ends = &things[index].ends;
        for (number, end) in ends.iter().enumerate() {
            if !meets(from, std::slice::from_ref(end)) {
                continue;
            }
            let mut others = ends.clone();
            others.remove(number);
            if leads(&others, things, left, order, last) {
                return true;
            }
        }
        order.pop();
        left.insert(at, index);
    }
    false
}
