//! `catalog`: what is wrong with price lists, and the sheet that asks for
//! prices.

mod blank;
mod check;

use crate::Io;
use crate::args::Catalog;
use crate::exit::{Exit, Failure};

pub(super) fn run(args: &Catalog, io: &mut Io<'_>) -> Result<Exit, Failure> {
    match args {
        Catalog::Check(args) => check::run(args, io),
        Catalog::Blank(args) => blank::run(args, io),
    }
}
