//! What every tool gets, in a table.

use crate::air::answer::Air;
use crate::drawing::page::Block;
use crate::drawing::{Column, Scene, tags};
use crate::quantity::{Pressure, Units};

pub(super) fn tables(scene: &Scene<'_>, air: &Air, across: f64, down: f64) -> Vec<Block> {
    let plan = scene.plan;
    let units = plan.summary.units;
    let unit = match units {
        Units::Feet => "psi",
        Units::Metric => "bar",
    };
    let figure = |pressure: Option<Pressure>| {
        let text = pressure.map(|pressure| pressure.show_fine(units, 1));
        let figure = text.as_deref().and_then(|text| text.split(' ').next());
        figure.unwrap_or("-").to_owned()
    };
    let columns = [
        Column::figures("no."),
        Column::words("outlet"),
        Column::words("tool"),
        Column::figures("least"),
        Column::figures("best"),
        Column::figures("new"),
        Column::figures("worn"),
        Column::figures("to spare"),
        Column::words("verdict"),
    ];
    let tags = tags(plan);
    let rows = air
        .demand
        .tools
        .iter()
        .zip(&air.tools)
        .map(|(tool, judged)| {
            let outlet = &plan.job.outlets[tool.outlet].name.value;
            let verdict = match (judged.new.state, judged.aged.state) {
                (new, worn) if new == worn => new.word().to_owned(),
                (new, worn) => format!("{}, worn {}", new.word(), worn.word()),
            };
            let row = vec![
                tags.outlet(outlet).to_string(),
                outlet.clone(),
                tool.name.clone(),
                figure(tool.least.map(|one| one.value)),
                figure(tool.best.map(|one| one.value)),
                figure(judged.new.gets),
                figure(judged.aged.gets),
                figure(judged.to_spare),
                verdict,
            ];
            (tags.outlet(outlet), row)
        });
    let mut rows: Vec<(usize, Vec<String>)> = rows.collect();
    rows.sort_by_key(|row| row.0);
    let rows: Vec<Vec<String>> = rows.into_iter().map(|row| row.1).collect();
    let head = Block::heading(
        &format!("What every tool gets at its inlet, {unit}"),
        across,
    );
    let room = (down - head.down - 2.0).max(20.0);
    let mut tables = Block::tables(&columns, &rows, across, room).into_iter();
    let first = tables.next().map(|first| head.above(first, 1.0));
    first.into_iter().chain(tables).collect()
}
