//! Details: how each kind of drop is built, how the tank is connected, and how the
//! main is drained, with the parts of each.

mod built;
mod callouts;
mod chain;
mod elevation;
mod foot;
mod group;
mod ink;
mod listed;
mod low;
mod numbered;
mod outlets;
mod signs;
mod supply;
mod take_off;
#[cfg(test)]
mod tests;
mod words;

use super::tags::tags;
use super::{Named, Pages, Scene, Sheet};
use group::groups;
use listed::Listed;
use low::Drains;
use supply::Supply;

/// A sheet for each kind of drop and size that is built; long tables go on on further
/// sheets.
#[must_use]
pub fn drop(scene: &Scene<'_>) -> Vec<Sheet> {
    let groups = groups(scene.plan);
    let sheets = groups.iter().zip(1..);
    let drops = sheets.flat_map(|(group, number)| group.sheets(scene, number));
    drops.chain(connections(scene)).collect()
}

/// The connections of the tanks and the drains of the main.
fn connections(scene: &Scene<'_>) -> Vec<Sheet> {
    let plan = scene.plan;
    let tags = tags(plan);
    let mut pages = Pages::new(
        scene.field,
        Named {
            id: "connection".to_owned(),
            title: "Tank connection and drains of the main".to_owned(),
            about: "What stands between each tank and the pipe, and how the main is drained, with the parts of each.".to_owned(),
        },
    );
    for supply in Supply::all(scene) {
        let title = format!("Connection of {}", supply.name);
        let listed = |top: f64| supply.listed(scene, top);
        beside(&mut pages, &title, &listed);
    }
    for drains in Drains::all(plan, scene.library, &tags) {
        let listed = |top: f64| drains.listed(scene, top);
        beside(&mut pages, "Drain of the main", &listed);
        pages.list("Where it stands", drains.table(&tags));
    }
    pages.finish()
}

/// A drawing with its list beside it, on the next sheet if this one is too full.
fn beside(pages: &mut Pages, title: &str, listed: &dyn Fn(f64) -> Listed) {
    let first = listed(0.0);
    pages.make_room(first.down() + 12.0, &signs::entries(&first.ink.signs));
    pages.title(title);
    let rest = listed(pages.down()).put(pages);
    pages.list("Parts, continued", rest);
}
