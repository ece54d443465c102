//! Running the tool inside the test, with everything that the outside world
//! would decide held still.

use dripleg::{Exit, Io};
use jiff::civil::{Date, date};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

/// What a command left behind.
pub(crate) struct Outcome {
    pub(crate) exit: Exit,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// The workspace's folder.
pub(crate) fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}

/// Runs `dripleg` with these words.
pub(crate) fn run(words: &[&str]) -> Outcome {
    run_in(100, words)
}

/// The same in a terminal of so many columns.
pub(crate) fn run_in(width: usize, words: &[&str]) -> Outcome {
    run_on(width, "", words)
}

/// The same with these lines as its input, in a pipe.
pub(crate) fn run_on(width: usize, input: &str, words: &[&str]) -> Outcome {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let exit = dripleg::run(
        std::iter::once("dripleg")
            .chain(words.iter().copied())
            .map(Into::into),
        &mut Io {
            out: &mut out,
            err: &mut err,
            input: &mut input.as_bytes(),
            at_terminal: false,
            width,
            today,
        },
    );
    Outcome {
        exit,
        out: plain(&out),
        err: plain(&err),
    }
}

fn today() -> Date {
    date(2026, 11, 2)
}

/// The text without colours, and without the place where it was checked out.
fn plain(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    let text = anstream::adapter::strip_str(&text).to_string();
    text.replace(&format!("{}/", root().display()), "")
}

/// A path below the workspace, as an argument.
pub(crate) fn path(relative: &str) -> String {
    root().join(relative).display().to_string()
}

/// A file's text.
pub(crate) fn read(path: impl AsRef<Path>) -> String {
    let path = path.as_ref();
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The files of a folder below the workspace with this ending, sorted.
pub(crate) fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(root().join(folder))
        .unwrap_or_else(|error| panic!("{folder}: {error}"))
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|found| found == ending))
        .collect();
    files.sort();
    files
}

/// Compares with the expected text that stands in a file, or writes it there
/// if `DRIPLEG_REWRITE` is set. A person reads the difference.
pub(crate) fn matches_file(expected: &Path, found: &str, wrong: &mut String) {
    #[expect(clippy::disallowed_methods, reason = "the one switch of the tests")]
    if std::env::var("DRIPLEG_REWRITE").is_ok() {
        std::fs::create_dir_all(expected.parent().unwrap()).unwrap();
        std::fs::write(expected, found).unwrap();
        return;
    }
    let wanted = std::fs::read_to_string(expected).unwrap_or_default();
    if wanted != found {
        let _ = writeln!(
            wrong,
            "== {}\n-- expected\n{wanted}\n-- found\n{found}",
            expected.display()
        );
    }
}

/// An empty folder of a test's own.
pub(crate) fn folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}
