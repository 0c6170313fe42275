//! What a certificate was found to prove, for people and for programs.

use schemars::JsonSchema;
use serde::Serialize;

use super::json::{Amount, Answer, Measure, Value};
use super::terms::counted;
use super::{Page, Terms};
use crate::job::Job;
use crate::length::{Length, Unit};
use crate::money::Money;
use crate::proof::certificate::{Certificate, Objective, Of};
use crate::proof::{Confirmed, Refused};

/// What a certificate proves.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CertificateAnswer {
    /// What it is of: `plan` or `cut`.
    of: &'static str,
    /// What was minimised: `cost`, `joints` or `waste`.
    objective: &'static str,
    /// The value that was reached.
    value: Value,
    /// No answer has a lower value: confirmed from the certificate alone.
    bound: Value,
    /// The bound that was stated beside the answer.
    stated: Value,
    /// Whether all that was stated is confirmed.
    complete: bool,
    /// Whether it is confirmed that no answer is better than the one that was reached.
    best: bool,
}

fn value(certificate: &Certificate, value: i64, unit: Unit) -> Value {
    let by_length = certificate.cut.as_ref().and_then(|cut| cut.cent_is);
    match (certificate.objective, by_length) {
        (Objective::Cost, None) => Value::Money(Amount(Money::from_cents(value))),
        (Objective::Cost, Some(step)) => {
            let length = Length::from_units(step.saturating_mul(value));
            Value::Length(Measure::new(length, unit))
        }
        (Objective::Joints, _) => Value::Count(value),
        (Objective::Waste, _) => Value::Length(Measure::new(Length::from_units(value), unit)),
    }
}

/// What a certificate proves, as a JSON answer; without a job in inches.
pub fn json(
    certificate: &Certificate,
    confirmed: &Confirmed,
    job: Option<&Job>,
) -> Answer<CertificateAnswer> {
    let unit = job.map_or(Unit::Inch, |job| job.unit);
    let value = |count| value(certificate, count, unit);
    let body = CertificateAnswer {
        of: match certificate.of {
            Of::Plan => "plan",
            Of::Cut => "cut",
        },
        objective: match certificate.objective {
            Objective::Cost => "cost",
            Objective::Joints => "joints",
            Objective::Waste => "waste",
        },
        value: value(certificate.value),
        bound: value(confirmed.bound),
        stated: value(certificate.stated),
        complete: confirmed.complete,
        best: confirmed.bound >= certificate.value,
    };
    Answer::new("confirmed", unit, body)
}

/// A value of the objective as people read it; without a job in inches.
fn shown(certificate: &Certificate, value: i64, job: Option<&Job>) -> String {
    let terms = match job {
        Some(job) => Terms::of(job, 16),
        None => Terms {
            unit: Unit::Inch,
            finest: 16,
            currency: "$".to_owned(),
        },
    };
    let by_length = certificate.cut.as_ref().and_then(|cut| cut.cent_is);
    match (certificate.objective, by_length) {
        (Objective::Cost, None) => terms.money(Money::from_cents(value)),
        (Objective::Cost, Some(step)) => {
            terms.length(Length::from_units(step.saturating_mul(value)))
        }
        (Objective::Joints, _) => counted(value.unsigned_abs(), "joint"),
        (Objective::Waste, _) => terms.length(Length::from_units(value)),
    }
}

/// Why a certificate is refused, for people.
pub fn refused(certificate: &Certificate, refused: &Refused, job: Option<&Job>) -> String {
    match refused {
        Refused::Less { stated, proved } => format!(
            "the certificate says that nothing is below {}, but proves it only for {}",
            shown(certificate, *stated, job),
            shown(certificate, *proved, job)
        ),
        other => other.to_string(),
    }
}

/// What a certificate proves, for people.
pub fn text(
    certificate: &Certificate,
    confirmed: &Confirmed,
    job: Option<&Job>,
    width: usize,
) -> String {
    let show = |value| shown(certificate, value, job);
    let answer = match certificate.of {
        Of::Plan => "plan",
        Of::Cut => "cut list",
    };
    let limited = certificate
        .plan
        .as_ref()
        .and_then(|plan| plan.joints.as_ref());
    let limited = limited.map_or_else(String::new, |limit| {
        format!(" with {} at most", counted(u64::from(limit.most), "joint"))
    });
    let mut page = Page::new(width);
    page.answer(&match confirmed.bound >= certificate.value {
        true => format!(
            "Confirmed: no {answer}{limited} can be below {}, which was reached.",
            show(confirmed.bound)
        ),
        false => format!(
            "Confirmed: no {answer}{limited} can be below {}; {} was reached.",
            show(confirmed.bound),
            show(certificate.value)
        ),
    });
    let prices = counted(confirmed.pieces as u64, "price");
    let sets = match confirmed.sets {
        1 => String::new(),
        sets => format!(" in {}", counted(sets as u64, "set")),
    };
    let boards = format!("{prices} of pieces{sets} were set against every way to cut a board");
    page.line(&match certificate.of {
        Of::Plan => format!(
            "{boards}, and {} of neighbouring courses summed.",
            counted(confirmed.blocks.unsigned_abs(), "block")
        ),
        Of::Cut => format!("{boards}."),
    });
    if confirmed.sets > 1 {
        let counts = match certificate.of {
            Of::Plan => "numbers of boards and joints",
            Of::Cut => "numbers of boards",
        };
        page.line(&format!(
            "No {counts} that come to less can hold what the pieces are worth in every set."
        ));
    }
    if !confirmed.complete {
        page.space();
        page.line(&format!(
            "Beside the answer {} was stated; {}.",
            show(certificate.stated),
            certificate
                .beyond
                .as_deref()
                .unwrap_or("how it goes beyond the prices is not said")
        ));
    }
    page.finish()
}

/// What helps where a certificate is refused.
pub fn way_out(refused: &Refused) -> &'static str {
    match refused {
        Refused::NeedsJob => "name its job: `lastcourse check --certificate FILE JOB`",
        Refused::OtherJob(_) | Refused::Blocks | Refused::Less { .. } => {
            "check it with the job and the `--set` options it was written for; if they are the \
             same, the bound is not to be trusted"
        }
        Refused::Unknown(_) | Refused::Broken(_) => {
            "write it anew with `plan --certificate` or `cut --certificate`"
        }
        Refused::TooLarge(_) => "",
    }
}
