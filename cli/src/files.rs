//! Files in and out. Nothing is ever left half-written.

use crate::exit::{Exit, Failure};
use bom::source::Source;
use std::fs::{self, File};
use std::io::{self, BufWriter, Read, Write};
use std::path::Path;

/// The largest price list that is read: 64 MiB, some 500,000 rows.
const LARGEST_LIST: u64 = 64 << 20;

/// Reads a text file.
pub(crate) fn read(path: &Path) -> Result<Source, Failure> {
    let name = path.display().to_string();
    let bytes = fs::read(path).map_err(|error| unread(&name, &error))?;
    text_of(name, bytes)
}

/// Reads a price list that is text.
pub(crate) fn read_list(path: &Path) -> Result<Source, Failure> {
    let name = path.display().to_string();
    let bytes = bytes_of_list(path)?;
    if let Some(at) = bytes.iter().position(|byte| *byte == 0) {
        let line = line_at(&bytes[..at]);
        return Err(Failure::Untold(
            Exit::Unreadable,
            format!(
                "`{name}` is not plain text: line {line} holds a zero byte; save it as CSV (UTF-8), or name a workbook .xlsx"
            ),
        ));
    }
    text_of(name, bytes)
}

/// Reads a price list as it is, up to a size that no price list has.
pub(crate) fn bytes_of_list(path: &Path) -> Result<Vec<u8>, Failure> {
    let name = path.display().to_string();
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LARGEST_LIST + 1).read_to_end(&mut bytes))
        .map_err(|error| unread(&name, &error))?;
    if u64::try_from(bytes.len()).is_ok_and(|size| size <= LARGEST_LIST) {
        return Ok(bytes);
    }
    Err(Failure::Untold(
        Exit::Unreadable,
        format!(
            "`{name}` is larger than {} MB; split it, or keep only what you buy",
            LARGEST_LIST >> 20
        ),
    ))
}

fn unread(name: &str, error: &io::Error) -> Failure {
    let exit = match error.kind() {
        io::ErrorKind::NotFound | io::ErrorKind::IsADirectory => Exit::Unreadable,
        _ => Exit::Outside,
    };
    Failure::Untold(exit, format!("`{name}` could not be read: {error}"))
}

fn text_of(name: String, bytes: Vec<u8>) -> Result<Source, Failure> {
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Source::new(
            name,
            text.strip_prefix('\u{feff}').unwrap_or(&text),
        )),
        Err(error) => {
            let line = line_at(&error.as_bytes()[..error.utf8_error().valid_up_to()]);
            Err(Failure::Untold(
                Exit::Unreadable,
                format!(
                    "`{name}` is not plain text: line {line} is not UTF-8; save it as UTF-8 text"
                ),
            ))
        }
    }
}

/// The line that the bytes before a place end on.
fn line_at(before: &[u8]) -> usize {
    before.iter().filter(|byte| **byte == b'\n').count() + 1
}

/// Writes a file under a temporary name beside it, and renames it when whole.
/// A link is followed, a read-only file or one of the `inputs` is refused, and
/// what is no plain file (a device, a pipe) is written to as it is.
pub(crate) fn write(
    path: &Path,
    inputs: &[&Path],
    content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), Failure> {
    let failed = |error: io::Error| {
        Failure::Untold(
            Exit::Outside,
            format!("`{}` could not be written: {error}", path.display()),
        )
    };
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let is_input = |input: &&Path| fs::canonicalize(input).is_ok_and(|input| input == target);
    if inputs.iter().any(is_input) {
        return Err(Failure::Untold(
            Exit::Unreadable,
            format!(
                "`{}` is an input of this command: name another --out",
                path.display()
            ),
        ));
    }
    if let Ok(there) = fs::metadata(&target) {
        if there.permissions().readonly() {
            return Err(failed(io::Error::other("it is read-only")));
        }
        if !there.is_file() && !there.is_dir() {
            let file = fs::OpenOptions::new()
                .write(true)
                .open(&target)
                .map_err(failed)?;
            let mut file = BufWriter::new(file);
            return content(&mut file)
                .and_then(|()| file.flush())
                .map_err(failed);
        }
    }
    let Some(name) = target.file_name() else {
        return Err(failed(io::Error::other("it names no file")));
    };
    let mut temporary = std::ffi::OsString::from(".");
    temporary.push(name);
    temporary.push(format!(".{}.part", std::process::id()));
    let temporary = target.with_file_name(temporary);
    let written = File::create(&temporary)
        .map(BufWriter::new)
        .and_then(|mut file| {
            content(&mut file)?;
            file.flush()
        })
        .and_then(|()| fs::rename(&temporary, &target));
    written.map_err(|error| {
        // The half-written file is no use to anybody; that it could not be
        // removed either adds nothing to the message.
        let _ = fs::remove_file(&temporary);
        failed(error)
    })
}

/// Refuses what is there already, an empty folder apart: a folder that stands on its own
/// is never mixed with another.
pub(crate) fn is_free(path: &Path) -> Result<(), Failure> {
    let is_empty = |path: &Path| fs::read_dir(path).is_ok_and(|mut inside| inside.next().is_none());
    if fs::symlink_metadata(path).is_err() || is_empty(path) {
        return Ok(());
    }
    Err(Failure::Untold(
        Exit::Unreadable,
        format!(
            "`{}` is there already and not an empty folder: name a new one",
            path.display()
        ),
    ))
}

/// Writes a new folder under a temporary name beside it, and renames it when whole. Names
/// may have one folder in them.
pub(crate) fn new_folder(path: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Failure> {
    is_free(path)?;
    let failed = |error: io::Error| {
        Failure::Untold(
            Exit::Outside,
            format!(
                "the folder `{}` could not be written: {error}",
                path.display()
            ),
        )
    };
    let Some(name) = path.file_name() else {
        return Err(failed(io::Error::other("it names no folder")));
    };
    let mut temporary = std::ffi::OsString::from(".");
    temporary.push(name);
    temporary.push(format!(".{}.part", std::process::id()));
    let temporary = path.with_file_name(temporary);
    let written = fs::create_dir(&temporary)
        .and_then(|()| {
            for (name, bytes) in files {
                let file = temporary.join(name);
                if let Some(folder) = file.parent() {
                    fs::create_dir_all(folder)?;
                }
                fs::write(file, bytes)?;
            }
            Ok(())
        })
        .and_then(|()| {
            if path.is_dir() {
                fs::remove_dir(path)
            } else {
                Ok(())
            }
        })
        .and_then(|()| fs::rename(&temporary, path));
    written.map_err(|error| {
        // What is half-written is no use to anybody.
        let _ = fs::remove_dir_all(&temporary);
        failed(error)
    })
}

/// Removes a file that has done its work, if it is there.
pub(crate) fn remove(path: &Path) -> Result<(), Failure> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(Failure::Untold(
            Exit::Outside,
            format!("`{}` could not be removed: {error}", path.display()),
        )),
        _ => Ok(()),
    }
}

/// Makes a folder for results unless there is one.
pub(crate) fn folder(path: &Path) -> Result<(), Failure> {
    if path.is_dir() {
        return Ok(());
    }
    fs::create_dir(path).map_err(|error| {
        Failure::Untold(
            Exit::Outside,
            format!("the folder `{}` could not be made: {error}", path.display()),
        )
    })
}
