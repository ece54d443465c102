//! The sizes that a job leaves open, over generated shops and in every system.

use crate::support::{Form, Shop, forms, same_cases, shops};
use bom::air::sizes::{Costs, Sizes, metal};
use bom::job::Job;
use bom::library::Library;
use bom::network::{Open, build};
use bom::quantity::Size;
use bom::source::Source;
use proptest::prelude::{any, prop_assert, prop_assert_eq, prop_assume, proptest};
use std::collections::BTreeMap;

const TOOLS: [&str; 4] = [
    "orbital sander",
    "ratchet",
    "hvlp spray gun",
    "finish nailer",
];

/// The shop with every size open and a tool at every outlet.
fn with_tools(shop: &Shop, form: Form) -> String {
    let mut text = String::new();
    for line in shop.job(form).lines() {
        let open = line.starts_with("size = ") && !line.contains(" x ");
        text += if open { "size = \"auto\"" } else { line };
        text.push('\n');
        if let Some(name) = line.strip_prefix("[outlet.") {
            let tool = TOOLS[number(name.trim_end_matches(']')) % TOOLS.len()];
            text += &format!("tools = [{{ tool = \"{tool}\" }}]\n");
        }
    }
    text
}

/// An outlet's number, by its name in any form.
fn number(name: &str) -> usize {
    let number: usize = name.rsplit('-').next().unwrap().parse().unwrap();
    if name.starts_with("z-") {
        1_000_000 - number
    } else {
        number
    }
}

fn read(text: &str, library: &Library) -> Job {
    let (job, findings) = bom::job::read(&Source::new("job", text), library);
    job.unwrap_or_else(|| panic!("{findings:#?}\n{text}"))
}

fn chosen(text: &str, library: &Library) -> (Job, Sizes) {
    let job = read(text, library);
    let sizes = bom::sizes(&job, library, None);
    let sizes = sizes.unwrap_or_else(|| panic!("no sizes:\n{text}"));
    (job, sizes)
}

/// The sizes of the legs, sorted, and of each outlet's drop.
fn plain(job: &Job, sizes: &Sizes) -> (Vec<Size>, BTreeMap<usize, Size>) {
    let mut legs: Vec<Size> = sizes.legs.values().copied().collect();
    legs.sort_unstable();
    let drops = sizes.drops.iter();
    let drops = drops.map(|(outlet, size)| (number(&job.outlets[*outlet].name.value), *size));
    (legs, drops.collect())
}

proptest! {
    #![proptest_config(same_cases(24))]

    #[test]
    fn turning_renaming_reordering_and_metric_change_no_chosen_size(
        shop in shops(1..8), form in forms()
    ) {
        let library = Library::shipped().unwrap();
        let (job, sizes) = chosen(&with_tools(&shop, Form::default()), &library);
        let (other_job, other) = chosen(&with_tools(&shop, form), &library);
        prop_assert_eq!(plain(&job, &sizes), plain(&other_job, &other));
        prop_assert!((sizes.cost - other.cost).abs() <= 1e-9 * sizes.cost);
        prop_assert_eq!(sizes.proven, other.proven);
    }

    #[test]
    fn a_higher_cut_in_never_costs_more(shop in shops(1..8)) {
        let library = Library::shipped().unwrap();
        let text = with_tools(&shop, Form::default());
        let low = chosen(&text.replace("cut_in = \"125 psi\"", "cut_in = \"104 psi\""), &library).1;
        let high = chosen(&text, &library).1;
        // A tool that no size helped may be helped by more pressure, and pipe.
        prop_assume!(low.beyond_help.is_empty() && low.proven);
        prop_assert!(high.bound <= low.cost * (1.0 + 1e-9));
        prop_assert!(!high.proven || high.cost <= low.cost * (1.0 + 1e-9));
    }

    #[test]
    fn one_tool_more_never_costs_less(shop in shops(1..8), at in 0_usize..8) {
        let library = Library::shipped().unwrap();
        let text = with_tools(&shop, Form::default());
        let at = at % text.matches("tools = [").count();
        let place = text.match_indices("tools = [").nth(at).unwrap().0 + "tools = [".len();
        let more = format!("{}{{ tool = \"die grinder\" }}, {}", &text[..place], &text[place..]);
        let (few, many) = (chosen(&text, &library).1, chosen(&more, &library).1);
        prop_assume!(few.beyond_help.is_empty() && many.beyond_help.is_empty() && few.proven);
        prop_assert!(many.cost >= few.cost * (1.0 - 1e-9));
    }

    #[test]
    fn the_same_job_gets_the_same_sizes_in_the_same_words(shop in shops(1..8)) {
        let library = Library::shipped().unwrap();
        let text = with_tools(&shop, Form::default());
        let (one, two) = (chosen(&text, &library).1, chosen(&text, &library).1);
        prop_assert_eq!((one.legs, one.drops, one.words), (two.legs, two.drops, two.words));
    }

    #[test]
    fn every_system_is_built_of_sizes_that_it_has(shop in shops(1..8), which in any::<usize>()) {
        let library = Library::shipped().unwrap();
        let text = with_tools(&shop, Form::default());
        let mains = library.systems().iter().enumerate();
        let mains: Vec<_> = mains.filter(|(_, system)| system.carries_main).collect();
        let (number, system) = mains[which % mains.len()];
        let job = read(&text, &library).in_system(number, &library);
        // The second smallest is not to be had.
        let gone = system.sizes().nth(1).unwrap().size;
        let of = |of, size| metal(&library, of, size).filter(|_| (of, size) != (number, gone));
        let costs = Costs { of: &of, basis: "metal" };
        let sizes = bom::sizes(&job, &library, Some(&costs));
        let sizes = sizes.unwrap_or_else(|| panic!("{}\n{text}", system.name));
        prop_assert!(sizes.words[0].contains("are the cheapest"), "{}", system.name);
        prop_assert!(sizes.words[0].contains(" by metal at which"), "{}", system.name);
        let (network, findings) = build(&job, &library, Open::Chosen(&sizes));
        let network = network.unwrap_or_else(|| panic!("{}: {findings:#?}\n{text}", system.name));
        let pipe = network.links().filter(|(_, _, _, link)| link.pipe.is_some());
        for (_, _, _, link) in pipe {
            prop_assert!(library.systems()[link.system].row(link.size).is_some());
        }
        let mut chosen = sizes.legs.values().chain(sizes.drops.values());
        prop_assert!(chosen.all(|size| *size != gone), "{}", system.name);
    }

    #[test]
    fn sizes_that_are_given_stay(shop in shops(1..8)) {
        let library = Library::shipped().unwrap();
        let text = with_tools(&shop, Form::default());
        let given = text.replacen("size = \"auto\"", "size = \"1-1/4in\"", 1);
        prop_assume!(bom::air::sizes::wanted(&read(&given, &library)));
        let (job, sizes) = chosen(&given, &library);
        let network = build(&job, &library, Open::Chosen(&sizes)).0.unwrap();
        for (leg, one) in job.legs.iter().enumerate() {
            let open = one.size.map_or(job.main.size, |size| size.value) == bom::job::SizeChoice::Auto;
            prop_assert_eq!(open, sizes.legs.contains_key(&leg));
            prop_assert_eq!(open, sizes.why_leg(leg).is_some());
            let inch = Size::Nominal(10);
            let built = network.links().filter(|(_, _, _, link)| link.leg == Some(leg));
            let size = sizes.legs.get(&leg).copied().unwrap_or(inch);
            for (_, _, _, link) in built {
                prop_assert_eq!(link.size, size);
            }
        }
    }
}
