//! Which sheets a set of drawings has.

use crate::Io;
use crate::args::{ALL_DRAWINGS, Draw};
use crate::command::compare::{self, comparison};
use crate::command::counted::Counted;
use crate::exit::{Exit, Failure};
use bom::drawing::{SIGNS, Sheet};
use jiff::civil::Date;
use pricing::drawing::{compare as compared, cut};
use std::collections::BTreeMap;

/// What a comparison is made of.
const LACKING: &str = "`compare` needs --systems, --catalog and --rates";

/// Every drawing of the job, and those of its prices, in the order in which a set lies;
/// and how it ends.
pub(super) fn sheets(
    args: &Draw,
    job: &Counted,
    date: Date,
    io: &mut Io<'_>,
) -> Result<(Vec<Sheet>, Exit), Failure> {
    let named = |word: &str| args.sheet.iter().any(|asked| asked == word);
    let all = named(ALL_DRAWINGS);
    let scene = job.scene();
    let mut sheets = scene.sheets(|word| all || named(word));
    let mut exit = Exit::Done;
    if all || named("cut") {
        sheets.extend(cut(
            &job.cut_sheet(None, BTreeMap::new(), date)?,
            scene.field,
        ));
    }
    if all || named("compare") {
        match &args.prices.rates {
            Some(rates) if !args.compared.systems.is_empty() => {
                let asked = compare::Asked {
                    job: &args.job,
                    systems: &args.compared.systems,
                    catalog: &args.prices.catalog,
                    rates,
                    buying: &args.buying,
                    own: &args.own,
                    date,
                };
                let (comparison, _) = comparison(&asked, io)?;
                sheets.extend(compared(&comparison, scene.field));
                exit = compare::tell_open(&comparison, io)?;
            }
            _ if named("compare") => {
                return Err(Failure::Untold(Exit::Unreadable, LACKING.to_owned()));
            }
            _ => writeln!(io.err, "left out: {LACKING}")?,
        }
    }
    if named(SIGNS.word) {
        sheets.extend((SIGNS.sheets)(&scene));
    }
    Ok((sheets, exit))
}
