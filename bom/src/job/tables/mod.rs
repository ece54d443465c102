//! One file for each kind of table in the job file.

mod accept;
mod device;
mod drain;
mod drop;
mod leg;
mod main;
mod outlet;
mod room;
mod shop;
mod supply;
mod together;
mod tool;
mod valve;

pub(super) use accept::accepted;
pub(super) use drain::main_drain;
pub(super) use drop::drop_kind;
pub(super) use leg::leg;
pub(super) use main::main;
pub(super) use outlet::outlet;
pub(super) use room::room;
pub(super) use shop::people;
pub(super) use supply::supply;
pub(super) use together::together;
pub(crate) use tool::share;
pub(super) use valve::line_valve;

use crate::quantity::Length;

/// Where the job says nothing of a drip leg.
const USUAL_DRIP_LEG: Length = Length::from_64ths(8 * 64);
