//! What the tools of a shop want, over shops of any tools.

use crate::support::{Form, Plan, Shop, same_cases};
use bom::air::Site;
use bom::air::demand::{Load, demand};
use bom::air::supply::verdict;
use bom::job::{Job, read};
use bom::library::Library;
use bom::quantity::AirFlow;
use bom::source::Source;
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};

/// A shop whose outlets have the tools with these numbers in the list.
fn job(library: &Library, tools: &[Vec<u8>], people: Option<u8>) -> Job {
    let mut text = Shop::new(Plan::Tree, tools.len(), 7).job(Form::default());
    for (at, numbers) in tools.iter().enumerate() {
        let names = numbers.iter().map(|number| {
            let kinds = library.tools();
            let kind = &kinds[usize::from(*number) % kinds.len()];
            format!("{{ tool = \"{}\" }}", kind.name)
        });
        let names = names.collect::<Vec<_>>().join(", ");
        let outlets: Vec<usize> = text.match_indices("[outlet.").map(|(at, _)| at).collect();
        let line = text[outlets[at]..].find('\n').unwrap() + outlets[at] + 1;
        text.insert_str(line, &format!("tools = [{names}]\n"));
    }
    if let Some(people) = people {
        text.push_str(&format!("[shop]\npeople = {people}\n"));
    }
    let (job, mut findings) = read(&Source::new("job", &*text), library);
    findings.retain(|finding| finding.rule != "nobody-holds-tools");
    assert_eq!(findings, [], "{text}");
    job.unwrap()
}

fn in_order(load: &Load) -> bool {
    load.average <= load.peak && load.peak <= load.connected
}

fn sum(loads: &[Load], of: fn(&Load) -> AirFlow) -> f64 {
    loads.iter().map(|load| of(load).cfm()).sum()
}

proptest! {
    #![proptest_config(same_cases(48))]

    #[test]
    fn average_peak_and_connected_stand_in_order(
        tools in proptest::collection::vec(proptest::collection::vec(any::<u8>(), 0..5), 1..8),
        people in proptest::option::of(0_u8..8),
    ) {
        let library = Library::shipped().unwrap();
        let job = job(&library, &tools, people);
        let shop = demand(&job, &library);
        prop_assert!(in_order(&shop.total), "{:?}", shop.total);
        prop_assert!(shop.outlets.iter().all(in_order));
        prop_assert_eq!(shop.tools.len(), tools.iter().map(Vec::len).sum::<usize>());
        let average = sum(&shop.outlets, |load| load.average);
        prop_assert!((average - shop.total.average.cfm()).abs() < 1e-6);
        let connected = sum(&shop.outlets, |load| load.connected);
        prop_assert!((connected - shop.total.connected.cfm()).abs() < 1e-6);
        // Fewer people never want more, and none hold nothing.
        let mut fewer = job.clone();
        fewer.people = Some(0);
        let fewer = demand(&fewer, &library);
        prop_assert!(fewer.total.average.cfm() <= shop.total.average.cfm() + 1e-9);
        let held = fewer.tools.iter().filter(|tool| tool.by_hand);
        prop_assert!(held.map(|tool| tool.average.cfm()).sum::<f64>() <= 0.0);
        // 24 cfm, against every demand.
        let answer = verdict(&job, &shop, &Site::SEA_LEVEL);
        let stops = !answer.line.contains("never stops");
        prop_assert_eq!(stops, shop.total.average.cfm() <= 24.0 || shop.tools.is_empty());
        for burst in answer.tank.unwrap().bursts {
            prop_assert!(burst.until_cut_in.is_none_or(|minutes| minutes.is_finite() && minutes > 0.0));
            // Nobody can say which of two equal flows is larger.
            let more = burst.flow.cfm() - 24.0;
            let falls = burst.then_falls.unwrap().kpa() > 0.0;
            prop_assert!(falls == (more > 0.0) || more.abs() < 1e-9, "{more}");
        }
    }
}
