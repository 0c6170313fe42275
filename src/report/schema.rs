//! The JSON Schemas of the answers, so that a program that reads them knows
//! every key, its unit and when it is null.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;

use super::json::Answer;
use super::{check, cut, fit, forecast, order, plan, sweep};

/// The answers in JSON that have a schema, by their command, or by the option
/// of `plan` that asks for them.
pub const COMMANDS: [&str; 7] = ["check", "cut", "fit", "forecast", "order", "plan", "sweep"];

/// The JSON Schema of a command's answer; nothing for a command without one.
pub fn schema(command: &str) -> Option<Value> {
    let schema = match command {
        "check" => of::<check::Check<'_>>(command),
        "cut" => of::<cut::CutAnswer>(command),
        "fit" => of::<fit::FitAnswer>(command),
        "forecast" => of::<forecast::ForecastAnswer>(command),
        "order" => of::<order::OrderAnswer>(command),
        "plan" => of::<plan::PlanAnswer>(command),
        "sweep" => of::<sweep::SweepAnswer>(command),
        _ => return None,
    };
    Some(schema)
}

fn of<T: JsonSchema>(command: &str) -> Value {
    // As the answer is written: a key that may be null is always there.
    let generator = SchemaSettings::draft2020_12()
        .for_serialize()
        .into_generator();
    let mut schema = generator.into_root_schema_for::<Answer<T>>().to_value();
    let asked = match command {
        "sweep" => "plan --sweep",
        command => command,
    };
    schema["title"] = Value::from(format!("The answer of `lastcourse {asked} --format json`"));
    schema["properties"]["schema"]["const"] = Value::from(format!("lastcourse/{command}/1"));
    schema
}
