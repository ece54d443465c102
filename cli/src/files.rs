//! Files in and out. Nothing is ever left half-written.

use crate::exit::{Exit, Failure};
use bom::source::Source;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;

/// Reads a text file.
pub(crate) fn read(path: &Path) -> Result<Source, Failure> {
    let name = path.display().to_string();
    let bytes = fs::read(path).map_err(|error| {
        let exit = match error.kind() {
            io::ErrorKind::NotFound | io::ErrorKind::IsADirectory => Exit::Unreadable,
            _ => Exit::Outside,
        };
        Failure::Untold(exit, format!("`{name}` could not be read: {error}"))
    })?;
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Source::new(
            name,
            text.strip_prefix('\u{feff}').unwrap_or(&text),
        )),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let line = error.as_bytes()[..at]
                .iter()
                .filter(|byte| **byte == b'\n')
                .count()
                + 1;
            Err(Failure::Untold(
                Exit::Unreadable,
                format!(
                    "`{name}` is not plain text: line {line} is not UTF-8; save it as UTF-8 text"
                ),
            ))
        }
    }
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
