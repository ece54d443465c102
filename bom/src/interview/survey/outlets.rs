//! The outlets, and how their drops are built.

use crate::interview::answers::Answers;
use crate::library::Library;
use crate::quantity::{AirFlow, Pressure};
use crate::survey::{DropKind, LINE, Outlet, PAINT, REGULATED, Tool, usual_drop};
use std::collections::BTreeSet;

/// What works best above this wants the pressure of the line. Common practice, no
/// source.
const LINE_PRESSURE: f64 = 105.0;

impl Answers {
    /// The kinds of drops, where they are not as usual.
    pub(super) fn drops(&self, library: &Library) -> Vec<DropKind> {
        let Some([_, size]) = self.stand_in_sizes(library) else {
            return Vec::new();
        };
        let kinds: BTreeSet<String> = self
            .outlets(library)
            .into_iter()
            .filter_map(|one| one.drop)
            .collect();
        let kinds = kinds.iter().filter_map(|kind| usual_drop(kind));
        kinds
            .map(|kind| DropKind {
                size: Some(size.to_string()),
                ..kind
            })
            .collect()
    }

    pub(super) fn outlets(&self, library: &Library) -> Vec<Outlet> {
        let height = self.outlets_at.map(|height| self.text(height));
        let spots = self.spots.iter().enumerate();
        spots
            .map(|(number, spot)| {
                let tools = self.tools.get(number).map_or(&[][..], Vec::as_slice);
                let paint = self.paint.iter().flatten().any(|name| *name == spot.name);
                let drop = match () {
                    () if paint => PAINT,
                    () if at_line_pressure(tools, library) => LINE,
                    () => REGULATED,
                };
                Outlet {
                    name: spot.name.clone(),
                    drop: Some(drop.to_owned()),
                    height: height.clone(),
                    paint,
                    tools: tools
                        .iter()
                        .map(|(tool, air)| Tool {
                            tool: Some(tool.clone()),
                            air: air.map(|air| air.show(self.in_units())),
                            ..Tool::default()
                        })
                        .collect(),
                    ..Outlet::default()
                }
            })
            .collect()
    }
}

/// Whether all that is used there wants what the line has.
fn at_line_pressure(tools: &[(String, Option<AirFlow>)], library: &Library) -> bool {
    let wants = |(name, _): &(String, _)| {
        let kind = library.tool_called(name).map(|tool| &library.tools()[tool]);
        kind.is_some_and(|kind| kind.best.kpa() > Pressure::from_psi(LINE_PRESSURE).kpa())
    };
    !tools.is_empty() && tools.iter().all(wants)
}
