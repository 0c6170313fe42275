//! Certificates as files: written beside an answer, and re-checked.

use std::io::Write;
use std::path::Path;

use lastcourse::job::{Findings, Job, message};
use lastcourse::proof::{self, Certificate, Refused};
use lastcourse::report::certificate as report;
use lastcourse::report::json;

use super::common::{Format, JobArgs, load};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::files::{CERTIFICATE, name, text, write_whole};

/// Writes the certificate of an answer that is about to be shown.
///
/// # Errors
/// When there is none that could be re-checked, or it cannot be written.
pub fn write(path: &Path, proof: Result<Option<Certificate>, Refused>) -> Result<(), Failure> {
    let none = |why: String| {
        Failure::impossible(
            why,
            "without `--certificate` the answer is shown with the bound as it was found",
        )
    };
    if path == Path::new("-") {
        return Err(Failure::input(
            "a certificate goes into a file: the answer itself goes to standard output",
            "name a file: `--certificate proof.json`",
        ));
    }
    let proof = proof.map_err(|refused| none(format!("no certificate is written: {refused}")))?;
    let Some(certificate) = proof else {
        return Err(none(
            "no certificate is written: the bound was found without prices that could be \
             re-checked"
                .to_owned(),
        ));
    };
    // A certificate may follow an older one, but nothing else gives way to it.
    let older = text(path, &CERTIFICATE)
        .is_ok_and(|text| serde_json::from_str::<Certificate>(&text).is_ok());
    if path.symlink_metadata().is_ok() && !older {
        return Err(Failure::impossible(
            format!(
                "{} is there already, is no certificate and is left as it is",
                path.display()
            ),
            "name another file for the certificate",
        ));
    }
    write_whole(path, json::pretty(&certificate), true)
}

/// Re-checks a certificate and says what it proves.
///
/// # Errors
/// When it cannot be read, proves nothing or less than it says.
pub fn check(
    path: &Path,
    job: Option<&JobArgs>,
    format: Format,
    console: &mut Console,
) -> Result<Exit, Failure> {
    let called = name(path);
    let unread = |message: String, help: &str| Failure::Input {
        report: message::styled(&Findings::unread(&called, message, help)),
    };
    let text = text(path, &CERTIFICATE).map_err(|(message, help)| unread(message, help))?;
    let certificate: Certificate = serde_json::from_str(&text).map_err(|error| {
        let why = format!("this is no certificate: {error}");
        unread(
            why,
            "`lastcourse check --schema=certificate` describes what is in one",
        )
    })?;
    let job: Option<Job> = job.map(load).transpose()?;
    let confirmed = match proof::check(&certificate, job.as_ref()) {
        Ok(confirmed) => confirmed,
        Err(refused @ (Refused::NeedsJob | Refused::Unknown(_) | Refused::Broken(_))) => {
            return Err(unread(refused.to_string(), report::way_out(&refused)));
        }
        Err(refused) => {
            return Err(Failure::impossible(
                report::refused(&certificate, &refused, job.as_ref()),
                report::way_out(&refused),
            ));
        }
    };
    let shown = match format {
        Format::Json => json::pretty(&report::json(&certificate, &confirmed, job.as_ref())),
        _ => report::text(&certificate, &confirmed, job.as_ref(), console.width()),
    };
    console.write_all(shown.as_bytes())?;
    Ok(Exit::Done)
}
