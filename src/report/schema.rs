//! The JSON Schemas of the answers, so that a program that reads them knows
//! every key, its unit and when it is null.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;

use super::json::Answer;
use super::{check, compare, cut, fit, forecast, measure, order, plan, sweep};
use crate::proof::certificate::{Certificate, SCHEMA};

/// What has a schema: answers in JSON, by their command or by the option of
/// `plan` that asks for them, and certificates.
pub const COMMANDS: [&str; 12] = [
    "certificate",
    "check",
    "compare",
    "confirmed",
    "curve",
    "cut",
    "fit",
    "forecast",
    "measure",
    "order",
    "plan",
    "sweep",
];

/// The JSON Schema of a command's answer; nothing for a command without one.
pub fn schema(command: &str) -> Option<Value> {
    let schema = match command {
        "certificate" => certificate(),
        "check" => of::<check::Check<'_>>(command),
        "compare" => of::<compare::CompareAnswer>(command),
        "confirmed" => of::<super::certificate::CertificateAnswer>(command),
        "curve" => of::<super::curve::CurveAnswer>(command),
        "cut" => of::<cut::CutAnswer>(command),
        "fit" => of::<fit::FitAnswer>(command),
        "forecast" => of::<forecast::ForecastAnswer>(command),
        "measure" => of::<measure::MeasureAnswer>(command),
        "order" => of::<order::OrderAnswer>(command),
        "plan" => of::<plan::PlanAnswer>(command),
        "sweep" => of::<sweep::SweepAnswer>(command),
        _ => return None,
    };
    Some(schema)
}

/// The JSON Schema of a certificate, which is a file and no answer.
fn certificate() -> Value {
    let generator = SchemaSettings::draft2020_12().into_generator();
    let mut schema = generator.into_root_schema_for::<Certificate>().to_value();
    schema["title"] = Value::from("The file of `lastcourse plan --certificate`");
    schema["properties"]["schema"]["const"] = Value::from(SCHEMA);
    schema
}

fn of<T: JsonSchema>(command: &str) -> Value {
    // As the answer is written: a key that may be null is always there.
    let generator = SchemaSettings::draft2020_12()
        .for_serialize()
        .into_generator();
    let mut schema = generator.into_root_schema_for::<Answer<T>>().to_value();
    let asked = match command {
        "compare" => "order --compare WHAT",
        "curve" => "plan --curve",
        "sweep" => "plan --sweep",
        "confirmed" => "check --certificate FILE",
        command => command,
    };
    schema["title"] = Value::from(format!("The answer of `lastcourse {asked} --format json`"));
    schema["properties"]["schema"]["const"] = Value::from(format!("lastcourse/{command}/1"));
    schema
}
