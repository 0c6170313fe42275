//! Answers for programs are what their published schemas say.

use serde_json::Value;

use super::{JOB, file, json, run};

/// Checks a value against a schema: the part of JSON Schema that ours use, and
/// no key that the schema does not know.
fn conforms(root: &Value, schema: &Value, value: &Value, path: &str) -> Result<(), String> {
    if let Some(name) = schema["$ref"].as_str() {
        let name = name.trim_start_matches("#/$defs/");
        return conforms(root, &root["$defs"][name], value, path);
    }
    let any = schema["anyOf"].as_array();
    if let Some(any) = any.or(schema["oneOf"].as_array()) {
        let mut fits = any.iter().map(|schema| conforms(root, schema, value, path));
        return match fits.any(|fit| fit.is_ok()) {
            true => Ok(()),
            false => Err(format!("{path}: {value} is none of {any:?}")),
        };
    }
    if !schema["const"].is_null() && schema["const"] != *value {
        return Err(format!("{path}: {value} is not {}", schema["const"]));
    }
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(number) if number.is_f64() => "number",
        Value::Number(_) => "integer",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    };
    let allowed = |name: &str| name == kind || (name == "number" && kind == "integer");
    let fits = match &schema["type"] {
        Value::String(name) => allowed(name),
        Value::Array(names) => names.iter().filter_map(Value::as_str).any(allowed),
        _ => false,
    };
    if !fits {
        return Err(format!("{path}: {kind} where {} is said", schema["type"]));
    }
    if let Value::Array(items) = value {
        for (k, item) in items.iter().enumerate() {
            let schema = match schema["prefixItems"].get(k) {
                Some(schema) => schema,
                None => &schema["items"],
            };
            conforms(root, schema, item, &format!("{path}[{k}]"))?;
        }
    }
    if let Value::Object(keys) = value {
        for required in schema["required"].as_array().into_iter().flatten() {
            let required = required.as_str().unwrap_or_default();
            if !keys.contains_key(required) {
                return Err(format!("{path}: {required} is missing"));
            }
        }
        for (key, value) in keys {
            let known = &schema["properties"][key];
            let path = format!("{path}.{key}");
            match (known.is_null(), &schema["additionalProperties"]) {
                (false, _) => {
                    if known["description"].as_str().unwrap_or_default().is_empty() {
                        return Err(format!("{path} is not described"));
                    }
                    conforms(root, known, value, &path)?;
                }
                (true, Value::Object(_)) => {
                    conforms(root, &schema["additionalProperties"], value, &path)?;
                }
                _ => return Err(format!("{path} is not in the schema")),
            }
        }
    }
    Ok(())
}

#[track_caller]
fn check(command: &str, answer: &Value) {
    let schema = run(&["check", &format!("--schema={command}")]);
    assert_eq!(schema.code, 0, "{}", schema.err);
    let schema: Value = serde_json::from_str(&schema.out).expect("a schema");
    if let Err(why) = conforms(&schema, &schema, answer, command) {
        panic!("{why}");
    }
}

#[test]
fn answers_are_what_their_schemas_say() {
    let job = file("schema.toml", JOB);
    for command in ["check", "forecast", "fit", "plan", "order"] {
        check(command, &json(&[command, &job]));
    }
    let split = ["--set", "cutting.split_rips=true"];
    check(
        "plan",
        &json(&[&["plan", job.as_str()], &split[..]].concat()),
    );
    check("measure", &json(&["measure", &job]));
    let measured = ["--after=4", "--left=22-1/2in", "--right=22-5/8in"];
    let both = [&["measure", job.as_str()][..], &measured].concat();
    check("measure", &json(&both));
    let diagonals = ["--diagonals", "21ft", "22ft"];
    check("measure", &json(&[&both[..], &diagonals].concat()));
    check("curve", &json(&["plan", &job, "--curve"]));
    let swept = ["plan", &job, "--sweep", "deck.across=7ft..8ft:6in"];
    check("sweep", &json(&swept));
    let priced = ["plan", &job, "--sweep", "stock.2.price=0..40:40"];
    check("sweep", &json(&priced));
    let proof = file("schema-proof.json", "{}");
    std::fs::remove_file(&proof).expect("a file");
    json(&["plan", &job, "--certificate", &proof]);
    let written = std::fs::read_to_string(&proof).expect("a certificate");
    check(
        "certificate",
        &serde_json::from_str(&written).expect("JSON"),
    );
    check(
        "confirmed",
        &json(&["check", "--certificate", &proof, &job]),
    );
    let cut = [
        "cut",
        "--piece",
        "rail=3x4ft",
        "--piece",
        "2x1ft",
        "--stock",
    ];
    check("cut", &json(&[&cut[..], &["8ft"]].concat()));
    check("cut", &json(&[&cut[..], &["8ft@9.50"]].concat()));
}

#[test]
fn a_schema_refuses_what_it_does_not_know() {
    let job = file("schema-refuses.toml", JOB);
    let answer = json(&["check", &job]);
    let schema = run(&["check", "--schema=check"]);
    let schema: Value = serde_json::from_str(&schema.out).expect("a schema");
    let mut more = answer.clone();
    more["novelty"] = Value::from(1);
    assert!(conforms(&schema, &schema, &more, "check").is_err());
    let mut other = answer;
    other["ok"] = Value::from("yes");
    assert!(conforms(&schema, &schema, &other, "check").is_err());
}
