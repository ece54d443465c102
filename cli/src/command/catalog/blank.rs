//! `catalog blank`: the request for prices, one sheet for everybody or one for
//! each supplier.

use crate::args::{CatalogBlank, SheetFormat};
use crate::command::lists::{lists, prices};
use crate::command::{deliver, format_of, library, paper, plan};
use crate::exit::{Exit, Failure};
use crate::{Io, files, output};
use bom::finding::did_you_mean;
use pricing::catalog::Catalog;
use pricing::request::{Request, request, requests, suppliers};
use std::path::{Path, PathBuf};

pub(super) fn run(args: &CatalogBlank, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(None, args.out.as_deref(), SheetFormat::Csv)?;
    let (library, _) = library(&args.own, io)?;
    let job = files::read(&args.job)?;
    let lists = lists(&args.catalog, library.parts(), io)?;
    let stated = args.currency.or_else(|| Catalog::currency(&lists.sheets));
    let catalog = match stated {
        Some(currency) if !args.catalog.is_empty() => {
            Some(prices(&lists, library.parts(), currency, io)?)
        }
        None if !args.catalog.is_empty() => {
            return Err(unreadable(
                "no price list says its currency: add --currency".to_owned(),
            ));
        }
        _ => None,
    };
    let plan = plan(&job, &library, None, io)?;
    let code = stated
        .map(|currency| currency.code().to_owned())
        .unwrap_or_default();
    let wanted = match (&args.supplier, &catalog) {
        (Some(name), Some(catalog)) => {
            known(name, catalog)?;
            vec![request(&plan.takeoff, catalog, name, &code)]
        }
        (Some(name), None) => vec![request(&plan.takeoff, &Catalog::default(), name, &code)],
        (None, catalog) => requests(&plan.takeoff, catalog.as_ref(), &code),
    };
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(&lists.files)
        .chain(args.own.files())
        .map(PathBuf::as_path)
        .collect();
    for (one, out) in wanted.iter().zip(outs(&wanted, args.out.as_deref())?) {
        deliver(out.as_deref(), &inputs, io, |out| match format {
            SheetFormat::Csv => output::csv::request(one, out),
            SheetFormat::Xlsx => output::xlsx::request(one, paper(args.paper), out),
        })?;
    }
    Ok(Exit::Done)
}

/// Refuses a supplier of whom no list has anything.
fn known(name: &str, catalog: &Catalog) -> Result<(), Failure> {
    let names = suppliers(catalog);
    if names.contains(name) {
        return Ok(());
    }
    let near = did_you_mean(name, names.iter().copied())
        .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
    let names: Vec<&str> = names.into_iter().filter(|name| !name.is_empty()).collect();
    Err(unreadable(format!(
        "no price list has anything of `{name}`: {near}they are of {}",
        names.join(", ")
    )))
}

/// The file of each request: the one that was named, or that name with the
/// supplier's behind it.
fn outs(wanted: &[Request], out: Option<&Path>) -> Result<Vec<Option<PathBuf>>, Failure> {
    let Some(out) = out else {
        return match wanted.len() {
            0 | 1 => Ok(vec![None]),
            several => Err(unreadable(format!(
                "there are {several} suppliers to ask: add --out prices.csv for a sheet each, or --supplier"
            ))),
        };
    };
    if wanted.len() == 1 {
        return Ok(vec![Some(out.to_owned())]);
    }
    let stem = out.file_stem().unwrap_or_default().to_string_lossy();
    let ending = out.extension().unwrap_or_default().to_string_lossy();
    let words: Vec<String> = wanted.iter().map(|one| file_word(&one.supplier)).collect();
    let names = words.iter().enumerate().map(|(at, word)| {
        // Two names may have the same letters.
        match words[..at]
            .iter()
            .filter(|earlier| *earlier == word)
            .count()
        {
            0 => format!("{stem}-{word}.{ending}"),
            same => format!("{stem}-{word}-{}.{ending}", same + 1),
        }
    });
    Ok(names.map(|name| Some(out.with_file_name(name))).collect())
}

/// A name in letters and digits that every file system takes.
fn file_word(name: &str) -> String {
    let words = name.split(|c: char| !c.is_alphanumeric());
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    match words.is_empty() {
        true => "no-supplier".to_owned(),
        false => words.join("-").to_lowercase(),
    }
}

fn unreadable(message: String) -> Failure {
    Failure::Untold(Exit::Unreadable, message)
}
