//! One shop, one network: written as legs and marks, filled in on a run sheet, or given
//! as points.

use crate::support::{files, read, root};
use bom::Plan;
use bom::library::Library;
use bom::network::{NodeId, NodeKind, Point};
use bom::source::Source;
use bom::survey::{sheet, write};

/// A network as nobody wrote it: its places and its pipes, in an order of their own.
fn network(plan: &Plan) -> Vec<String> {
    let network = &plan.network;
    let at = |id: NodeId| place(network.node(id).at);
    let nodes = network.nodes().map(|(_, node)| {
        let kind = match &node.kind {
            NodeKind::Fitting(fitting) => format!("{fitting:?}"),
            other => format!("{other:?}"),
        };
        format!("{} {kind}", place(node.at))
    });
    let links = network.links().map(|(_, from, to, link)| {
        let mut ends = [at(from), at(to)];
        ends.sort();
        format!("{} {:?} {}", ends.join(" to "), link.pipe, link.size)
    });
    let lines = plan.takeoff.lines.iter();
    let lines = lines.map(|line| format!("{:?} {}", line.key, line.quantity));
    let names = network
        .drops
        .iter()
        .map(|drop| format!("{} {}", drop.name, at(drop.foot_at)));
    let mut all: Vec<String> = nodes.chain(links).chain(lines).chain(names).collect();
    all.sort();
    all
}

fn place(at: Point) -> String {
    format!("{},{},{}", at.east.nm(), at.north.nm(), at.up.nm())
}

fn plan(name: &str, text: String, library: &Library) -> Plan {
    let source = Source::new(name, text);
    let (plan, findings) = bom::plan(&source, library);
    plan.unwrap_or_else(|| panic!("{name}: {findings:#?}\n{}", source.text()))
}

#[test]
fn ten_shops_are_one_network_each_whichever_way_they_are_written() {
    let library = Library::shipped().unwrap();
    let sheets = files("tests/three_ways", "csv");
    assert_eq!(sheets.len(), 10);
    // A point is measured, and those of an offset at 45 degrees are no whole nanometres.
    let points = sheets
        .iter()
        .filter(|sheet| sheet.with_extension("points.toml").exists());
    assert_eq!(points.count(), 8);
    for file in sheets {
        let name = file.file_stem().unwrap().to_string_lossy().into_owned();
        let source = Source::new(file.display().to_string(), read(&file));
        let (found, findings) = sheet::read(&source, &library);
        let found = found.unwrap_or_else(|| panic!("{name}: {findings:#?}"));
        assert_eq!(findings, [], "{name}");
        let wanted = network(&plan(&name, write(&found.survey), &library));

        // The kinds of drops are those of the sheet, so that the other files are short.
        let head = read(root().join(match found.survey.units {
            bom::quantity::Units::Feet => "tests/three_ways/feet.head",
            bom::quantity::Units::Metric => "tests/three_ways/metric.head",
        }));
        for way in ["legs", "points"] {
            let other = file.with_file_name(format!("{name}.{way}.toml"));
            if way == "legs" || other.exists() {
                let job = format!("{head}\n{}", read(&other));
                let same = network(&plan(&format!("{name}, {way}"), job, &library));
                assert_eq!(same, wanted, "{name}, {way}");
            }
        }
    }
}
