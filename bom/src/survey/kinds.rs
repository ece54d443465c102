//! Kinds of drops as shops usually have them: common practice, no source.

use super::DropKind;

/// One side, filtered and regulated: what most tools want.
pub const REGULATED: &str = "regulated";
/// One side at line pressure: for a hose reel or a tyre inflator.
pub const LINE: &str = "line";
/// One side at line pressure, one regulated.
pub const TWO_SIDED: &str = "two-sided";
/// Filtered and regulated, with nothing that oils the air: for a spray gun.
pub const PAINT: &str = "paint";

const REGULATED_SIDE: [&str; 4] = ["valve", "filter 1/2in", "regulator", "coupler"];
const LINE_SIDE: [&str; 2] = ["valve", "coupler"];

/// A usual kind of drop by its name.
#[must_use]
pub fn usual_drop(name: &str) -> Option<DropKind> {
    let (remark, sides): (_, &[&[&str]]) = match name {
        REGULATED => ("filtered and regulated, for most tools", &[&REGULATED_SIDE]),
        LINE => ("line pressure, for a hose reel or tyres", &[&LINE_SIDE]),
        TWO_SIDED => (
            "line pressure on one side, regulated on the other",
            &[&LINE_SIDE, &REGULATED_SIDE],
        ),
        PAINT => (
            "filtered and regulated, nothing oils the air of a spray gun",
            &[&REGULATED_SIDE],
        ),
        _ => return None,
    };
    let side = |side: &&[&str]| side.iter().map(|&device| device.to_owned()).collect();
    Some(DropKind {
        name: name.to_owned(),
        remark: Some(remark.to_owned()),
        sides: sides.iter().map(side).collect(),
        ..DropKind::default()
    })
}
