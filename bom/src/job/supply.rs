//! Rooms, and the supplies that stand in them.

use super::State;
use crate::library::Gender;
use crate::quantity::{AirFlow, Length, Pressure, Size, Temperature, Volume};
use crate::source::Spanned;

/// A room, which checks the walk; outdoors is one without walls, of no size.
#[derive(Debug, Clone)]
pub struct Room {
    /// Its name.
    pub name: Spanned<String>,
    /// Inside, from the west wall to the east wall.
    pub east_west: Length,
    /// Inside, from the south wall to the north wall.
    pub north_south: Length,
    /// Height of the eave, if given.
    pub eave: Option<Spanned<Length>>,
    /// The coldest that it gets in it, if given.
    pub coldest: Option<Temperature>,
    /// The hottest that it gets in it, if given.
    pub hottest: Option<Temperature>,
}

/// The compressor and its connection.
#[derive(Debug, Clone)]
pub struct Supply {
    /// Its name, from which its first leg starts.
    pub name: Spanned<String>,
    /// The line of its table.
    pub line: usize,
    /// Free air delivered.
    pub free_air: Option<AirFlow>,
    /// Pressure at which the machine starts.
    pub cut_in: Option<Pressure>,
    /// Pressure at which it stops.
    pub cut_out: Option<Pressure>,
    /// Setting of the relief valve.
    pub relief: Option<Pressure>,
    /// The air where it leaves the tank.
    pub discharge: Option<Temperature>,
    /// The air as it is taken in.
    pub intake: Option<Temperature>,
    /// Its relative humidity, from 0 to 1.
    pub humidity: Option<f64>,
    /// Hours of full delivery each day.
    pub running: Option<f64>,
    /// Volume of the tank.
    pub tank: Option<Volume>,
    /// Size of the tank's port.
    pub port: Size,
    /// Thread of the tank's port.
    pub port_gender: Gender,
    /// Height of the port above the floor.
    pub height: Spanned<Length>,
    /// What stands between port and pipe, in order.
    pub connect: Vec<Spanned<DeviceUse>>,
    /// Whether its connection stands already, if the job says so.
    pub state: Option<Spanned<State>>,
}

/// A device as used: which, and what the job says of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DeviceUse {
    /// Index into the library's devices.
    pub device: usize,
    /// Its size, if the job gives it.
    pub size: Option<Size>,
    /// Its length, for hoses.
    pub length: Option<Length>,
    /// What it is set to, for regulators.
    pub set: Option<Pressure>,
}
