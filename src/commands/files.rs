//! Texts from files and standard input, and texts into files. It knows how
//! reading and writing fail and says so for the kind of text that was wanted;
//! what the text means is left to others.

use std::fs::File;
use std::io::{self, Read, Write};
use std::path::Path;

use super::failure::Failure;

/// A kind of text that is read.
pub struct Kind {
    /// What it is, as in "this is no job file".
    noun: &'static str,
    /// What such a text looks like.
    help: &'static str,
    /// How to come by one.
    missing: &'static str,
    /// Anything larger is something else.
    largest: u64,
}

/// A job file.
pub const JOB_FILE: Kind = Kind {
    noun: "job file",
    help: "a job file is plain text, as `lastcourse check --example` prints it",
    missing: "`lastcourse check --example > deck.toml` writes a job file to start from",
    largest: 4 << 20,
};

/// A spreadsheet of boards or pieces.
pub const SHEET: Kind = Kind {
    noun: "list of boards or pieces",
    help: "save it as CSV in UTF-8, with its headings in the first line",
    missing: "look at its name and folder",
    largest: 64 << 20,
};

/// A yard's price list.
pub const PRICES: Kind = Kind {
    noun: "price list",
    help: "save it as CSV in UTF-8, with the headings item,unit,pack,price in its first line",
    missing: "look at its name and folder",
    largest: 64 << 20,
};

/// A certificate of a bound.
pub const CERTIFICATE: Kind = Kind {
    noun: "certificate",
    help: "a certificate is JSON, as `plan --certificate` and `cut --certificate` write it",
    missing: "`lastcourse plan deck.toml --certificate FILE` writes one",
    largest: 64 << 20,
};

/// What a file is called in messages.
pub fn name(path: &Path) -> String {
    match path == Path::new("-") {
        true => "standard input".to_owned(),
        false => path.to_string_lossy().into_owned(),
    }
}

/// The text of a file, or of standard input for `-`; when there is none, why,
/// and what would help.
pub fn text(path: &Path, kind: &Kind) -> Result<String, (String, &'static str)> {
    let unreadable = |error: io::Error| match error.kind() {
        io::ErrorKind::NotFound => ("there is no such file".to_owned(), kind.missing),
        io::ErrorKind::IsADirectory => (
            "this is a folder, not a file".to_owned(),
            "name the file in it",
        ),
        io::ErrorKind::PermissionDenied => (
            "this file may not be read".to_owned(),
            "its owner can allow it",
        ),
        _ => (format!("this file cannot be read: {error}"), ""),
    };
    let mut bytes = Vec::new();
    let most = kind.largest + 1;
    if path == Path::new("-") {
        io::stdin().lock().take(most).read_to_end(&mut bytes)
    } else {
        File::open(path).and_then(|file| file.take(most).read_to_end(&mut bytes))
    }
    .map_err(unreadable)?;
    let not_one = |why: String| (format!("this is no {}: {why}", kind.noun), kind.help);
    if bytes.len() as u64 > kind.largest {
        let why = format!("it is larger than {} MB", kind.largest >> 20);
        return Err(not_one(why));
    }
    match String::from_utf8(bytes) {
        Ok(text) if text.contains('\0') => Err(not_one("it is not text".to_owned())),
        // Some editors begin a text with this mark, which is no part of it.
        Ok(text) => Ok(text.trim_start_matches('\u{feff}').to_owned()),
        Err(error) => {
            let good = error.utf8_error().valid_up_to();
            let breaks = error.as_bytes()[..good]
                .iter()
                .filter(|byte| **byte == b'\n');
            let line = breaks.count() + 1;
            Err(not_one(format!("line {line} is not UTF-8 text")))
        }
    }
}

/// That nothing stands in the way of a file: no folder, and no file that is to
/// stay.
///
/// # Errors
/// What stands there.
fn may_be_written(path: &Path, replace: bool) -> Result<(), Failure> {
    let shown = path.display();
    if path.is_dir() {
        return Err(Failure::impossible(
            format!("{shown} is a folder, not a file"),
            "name a file in it",
        ));
    }
    if !replace && path.symlink_metadata().is_ok() {
        return Err(Failure::impossible(
            format!("{shown} is there already and is left as it is"),
            "name another file, or let it be replaced with `--force`",
        ));
    }
    Ok(())
}

/// Writes several files, each whole; none where one of them may not be written.
///
/// # Errors
/// When one of them is there already, is named twice, or cannot be written.
pub fn write_each(files: &[(&Path, Vec<u8>)], replace: bool) -> Result<(), Failure> {
    for (k, (path, _)) in files.iter().enumerate() {
        may_be_written(path, replace)?;
        if files[..k].iter().any(|(before, _)| before == path) {
            return Err(Failure::input(
                format!("{} is named for two files", path.display()),
                "name a file for each",
            ));
        }
    }
    for (path, bytes) in files {
        write_whole(path, bytes, replace)?;
    }
    Ok(())
}

/// Writes a file whole or not at all: it is finished beside the file
/// first and then put in its place. A file that is there stays unless `replace`.
///
/// # Errors
/// When there is such a file already, or it cannot be written.
pub fn write_whole(path: &Path, bytes: impl AsRef<[u8]>, replace: bool) -> Result<(), Failure> {
    may_be_written(path, replace)?;
    let bytes = bytes.as_ref();
    let shown = path.display();
    let failed = |error: io::Error| {
        Failure::impossible(
            format!("{shown} cannot be written: {error}"),
            "look at the folder, and whether you may write in it",
        )
    };
    // A link stays one: what it leads to is replaced.
    let path = path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
    let before = path.metadata().ok();
    if before.as_ref().is_some_and(|before| !before.is_file()) {
        // A pipe or a device takes the text; nothing can be put in its place.
        return std::fs::write(&path, bytes).map_err(failed);
    }
    let Some(file_name) = path.file_name() else {
        return Err(Failure::impossible(
            format!("{shown} is no file that can be written"),
            "name a file",
        ));
    };
    let mut beside = std::ffi::OsString::from(".");
    beside.push(file_name);
    beside.push(format!(".{}.part", std::process::id()));
    let beside = path.with_file_name(beside);
    let finish = || -> io::Result<()> {
        let mut file = File::create_new(&beside)?;
        file.write_all(bytes)?;
        if let Some(before) = &before {
            file.set_permissions(before.permissions())?;
        }
        file.sync_all()?;
        std::fs::rename(&beside, &path)
    };
    finish().map_err(|error| {
        // What is half-written is of no use to anybody.
        let _ = std::fs::remove_file(&beside);
        failed(error)
    })
}
