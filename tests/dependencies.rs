//! What the program stands on: licences that may be shipped with it, no crate
//! twice in two incompatible versions among those it names, nothing that binds
//! to foreign code or solvers (the feature `highs`, off by default, is not looked at).

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;

/// Licences that ask for no more than a notice.
const ALLOWED: [&str; 9] = [
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// What cargo knows of the packages this machine builds; no more than those
/// are on it, and nothing is downloaded for a test.
fn metadata() -> Value {
    let rustc = Command::new("rustc")
        .arg("-vV")
        .output()
        .expect("rustc runs");
    let told = String::from_utf8_lossy(&rustc.stdout);
    let host = told.lines().find_map(|line| line.strip_prefix("host: "));
    let platform = format!("--filter-platform={}", host.expect("rustc names its host"));
    let output = Command::new(env!("CARGO"))
        .args([
            "metadata",
            "--format-version=1",
            "--locked",
            "--offline",
            &platform,
        ])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo runs");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    serde_json::from_slice(&output.stdout).expect("metadata is JSON")
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_default()
}

/// Whether one of the licences offered is allowed, or all that apply are.
fn allowed(licence: &str) -> bool {
    licence.replace('/', " OR ").split(" OR ").any(|choice| {
        choice
            .split(" AND ")
            .all(|one| ALLOWED.contains(&one.trim_matches(['(', ')', ' '])))
    })
}

#[test]
fn every_licence_may_be_shipped() {
    let metadata = metadata();
    let mut refused = BTreeMap::new();
    for package in list(&metadata, "packages") {
        let licence = text(package, "license");
        if !allowed(licence) {
            refused.insert(text(package, "name"), licence);
        }
    }
    assert!(refused.is_empty(), "licences to look at: {refused:#?}");
    assert!(!allowed("GPL-3.0-only"));
    assert!(allowed("(MIT OR Apache-2.0) AND Unicode-3.0"));
}

/// The part of a version that may not differ: `1` of 1.4.2, `0.6` of 0.6.3.
fn series(version: &str) -> String {
    let mut parts = version.split('.');
    match (parts.next(), parts.next()) {
        (Some("0"), Some(minor)) => format!("0.{minor}"),
        (Some(major), _) => major.to_string(),
        _ => String::new(),
    }
}

/// The packages that are built into the program: what its tests and benches
/// take beside them is left out.
fn shipped(metadata: &Value) -> BTreeSet<&str> {
    let nodes: BTreeMap<&str, &Value> = list(&metadata["resolve"], "nodes")
        .iter()
        .map(|node| (text(node, "id"), node))
        .collect();
    let mut shipped = BTreeSet::new();
    let mut open = vec![text(&metadata["resolve"], "root")];
    while let Some(id) = open.pop() {
        if !shipped.insert(id) {
            continue;
        }
        for dependency in list(nodes[id], "deps") {
            let built_in = |kind: &Value| kind["kind"].is_null();
            if list(dependency, "dep_kinds").iter().any(built_in) {
                open.push(text(dependency, "pkg"));
            }
        }
    }
    shipped
}

#[test]
fn what_is_shipped_is_there_once() {
    let metadata = metadata();
    let shipped = shipped(&metadata);
    let mut series_of: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for package in list(&metadata, "packages") {
        if shipped.contains(text(package, "id")) {
            let name = text(package, "name");
            let series = series(text(package, "version"));
            series_of.entry(name).or_default().insert(series);
        }
    }
    assert!(series_of.contains_key("good_lp") && series_of.contains_key("clap"));
    series_of.retain(|_, series| series.len() > 1);
    assert!(series_of.is_empty(), "twice in the program: {series_of:#?}");
}

#[test]
fn everything_comes_from_the_registry() {
    let metadata = metadata();
    for package in list(&metadata, "packages") {
        let name = text(package, "name");
        if name != env!("CARGO_PKG_NAME") {
            let source = text(package, "source");
            assert!(
                source.starts_with("registry+"),
                "{name} comes from {source:?}"
            );
        }
    }
}
