//! The job file as a JSON Schema, so that editors complete its fields and mark
//! mistakes while they are typed.

use schemars::generate::SchemaSettings;
use serde_json::Value;

use super::document::Document;

/// The JSON Schema of a job file.
pub fn schema() -> Value {
    let schema = SchemaSettings::draft2020_12()
        .into_generator()
        .into_root_schema_for::<Document>();
    let mut schema = schema.to_value();
    schema["title"] = Value::from("A job file of lastcourse");
    schema
}
