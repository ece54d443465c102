//! The user's price lists: CSV, workbooks, and mappings that name either.

use super::{stopped, tell};
use crate::exit::{Exit, Failure};
use crate::{Io, files};
use bom::finding::{Finding, stops};
use bom::library::Part;
use bom::source::Source;
use pricing::catalog::{Catalog, Mapping, Sheet, workbook};
use pricing::money::Currency;
use std::io;
use std::path::{Path, PathBuf};

/// Price lists, and the files that they came from.
pub(super) struct Lists {
    pub(super) sheets: Vec<Sheet>,
    /// Every file that was read: the lists and their mappings.
    pub(super) files: Vec<PathBuf>,
}

impl Lists {
    /// All texts that prices come from.
    pub(super) fn sources(&self) -> impl Iterator<Item = &Source> {
        self.sheets.iter().flat_map(Sheet::sources)
    }

    /// The lists themselves, in whose lines findings point.
    pub(super) fn texts(&self) -> impl Iterator<Item = &Source> {
        self.sheets.iter().map(Sheet::list)
    }
}

/// Reads the files of price lists; a mapping (TOML) names its sheet's file,
/// which lies beside it. `parts` are those that a mapping's words may name.
pub(super) fn lists(paths: &[PathBuf], parts: &[Part], io: &mut Io<'_>) -> Result<Lists, Failure> {
    let mut lists = Lists {
        sheets: Vec::new(),
        files: Vec::new(),
    };
    let mut wrong = Vec::new();
    for path in paths {
        lists.files.push(path.clone());
        if !ends_in(path, "toml") {
            let (list, workbook) = list(path, None)?;
            let sheet = Sheet::from(list);
            lists
                .sheets
                .push(if workbook { sheet.of_workbook() } else { sheet });
            continue;
        }
        let source = files::read(path)?;
        match Mapping::read(&source, parts) {
            Ok(mapping) => {
                let beside = path.with_file_name(mapping.file());
                let (list, workbook) = list(&beside, Some(&mapping))?;
                let sheet = Sheet::mapped(list, source, mapping);
                lists
                    .sheets
                    .push(if workbook { sheet.of_workbook() } else { sheet });
                lists.files.push(beside);
            }
            Err(findings) => {
                let found: Vec<(usize, Finding)> =
                    findings.into_iter().map(|finding| (0, finding)).collect();
                tell(&found, [&source], io)?;
                wrong.extend(found.into_iter().map(|(_, finding)| finding));
            }
        }
    }
    if wrong.is_empty() {
        Ok(lists)
    } else {
        Err(stopped(&wrong, "the mapping cannot be used"))
    }
}

fn ends_in(path: &Path, ending: &str) -> bool {
    path.extension()
        .is_some_and(|found| found.eq_ignore_ascii_case(ending))
}

/// The text of a list, and whether it was a workbook.
fn list(path: &Path, mapping: Option<&Mapping>) -> Result<(Source, bool), Failure> {
    if !ends_in(path, "xlsx") {
        return Ok((files::read_list(path)?, false));
    }
    let bytes = files::bytes_of_list(path)?;
    let name = path.display().to_string();
    let sheet = mapping.and_then(Mapping::sheet);
    let decimal = mapping.map_or('.', Mapping::decimal_mark);
    match workbook::text(&bytes, sheet, decimal) {
        Ok(text) => Ok((Source::new(name, text), true)),
        Err(error) => Err(Failure::Untold(
            Exit::Unreadable,
            format!("`{name}`: {error}"),
        )),
    }
}

/// Reads price lists, and tells what was found.
pub(super) fn prices(
    lists: &Lists,
    parts: &[Part],
    currency: Currency,
    io: &mut Io<'_>,
) -> Result<Catalog, Failure> {
    let (catalog, found) = Catalog::read_sheets(&lists.sheets, parts, currency);
    tell(&found, lists.texts(), io)?;
    let findings: Vec<Finding> = found.into_iter().map(|(_, finding)| finding).collect();
    if stops(&findings) {
        return Err(stopped(&findings, "the price list cannot be used"));
    }
    tell_unknown(lists, &catalog, io)?;
    Ok(catalog)
}

/// Says how many rows of a supplier's sheet are for other things.
fn tell_unknown(lists: &Lists, catalog: &Catalog, io: &mut Io<'_>) -> io::Result<()> {
    for (list, facts) in lists.texts().zip(catalog.lists()) {
        let unknown = facts.unknown.len();
        if unknown > 0 {
            writeln!(
                io.err,
                "{}: {unknown} of {} rows name no part that is known; `dripleg catalog check` lists them",
                list.name(),
                facts.rows,
            )?;
        }
    }
    Ok(())
}
