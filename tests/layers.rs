//! The shape of the house, held to: imports run downward only, the core does
//! nothing but compute, and every file says what it knows.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// What each module may import, from the ground up. `length` and `money` know
/// nothing else; a later stage is never imported by an earlier one.
const MAY_IMPORT: &[(&str, &[&str])] = &[
    ("text", &[]),
    ("sheet", &[]),
    ("caution", &[]),
    ("watch", &[]),
    ("length", &[]),
    ("money", &["length", "text"]),
    ("load", &["length", "text"]),
    ("volume", &["length"]),
    ("program", &[]),
    ("stairs", &["caution", "length", "money"]),
    (
        "job",
        &[
            "length", "load", "money", "sheet", "stairs", "text", "volume",
        ],
    ),
    ("deck", &["caution", "job", "length"]),
    ("courses", &["caution", "deck", "job", "length"]),
    ("frame", &["job", "length"]),
    ("base", &["frame", "job", "length", "load", "volume"]),
    ("guard", &["job", "length"]),
    ("joints", &["courses", "deck", "job", "length"]),
    ("stock", &["length", "money", "program", "watch"]),
    ("cutlist", &["job", "length", "money", "sheet", "stock"]),
    (
        "plan",
        &[
            "courses", "deck", "job", "joints", "length", "money", "program", "stock", "watch",
        ],
    ),
    (
        "codes",
        &["base", "caution", "frame", "job", "length", "plan"],
    ),
    ("movement", &["caution", "job", "length", "plan"]),
    // The verifier shares types with the planner, and no code.
    (
        "verify",
        &["courses", "deck", "job", "length", "money", "plan", "stock"],
    ),
    // So does the checker of proofs, and takes the verifier's geometry.
    (
        "proof",
        &["job", "length", "money", "plan", "stock", "verify", "watch"],
    ),
    (
        "fit",
        &["courses", "deck", "job", "length", "money", "plan"],
    ),
    ("measure", &["caution", "courses", "deck", "job", "length"]),
    (
        "order",
        &[
            "base", "caution", "codes", "courses", "deck", "frame", "guard", "job", "length",
            "load", "money", "plan", "stairs", "stock", "volume", "watch",
        ],
    ),
    (
        "report",
        &[
            "base", "caution", "codes", "courses", "cutlist", "deck", "fit", "frame", "guard",
            "job", "length", "measure", "money", "movement", "order", "plan", "proof", "stairs",
            "stock", "text", "volume",
        ],
    ),
    (
        "draw",
        &[
            "caution", "courses", "deck", "fit", "job", "length", "money", "order", "plan",
            "report", "text",
        ],
    ),
    ("commands", &[]),
];

/// What only the commands may touch.
const OUTSIDE: [&str; 12] = [
    "std::fs",
    "std::env",
    "std::io",
    "std::net",
    "std::process",
    "std::thread",
    "std::time",
    "println!",
    "eprintln!",
    "print!",
    "eprint!",
    "dbg!",
];

/// No file is longer than this.
const LONGEST: usize = 600;

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// All Rust files below `src`, by their path from there.
fn files() -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let mut open = vec![source()];
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(&folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                let name = path.strip_prefix(source()).expect("below src");
                let text = std::fs::read_to_string(&path).expect("a source file");
                found.insert(name.to_string_lossy().replace('\\', "/"), text);
            }
        }
    }
    assert!(found.len() > 50, "the sources are found");
    found
}

/// The module a file belongs to; nothing for the crate's own two files.
fn module(file: &str) -> Option<&str> {
    let module = file.split('/').next()?.trim_end_matches(".rs");
    (module != "lib" && module != "main").then_some(module)
}

/// The code of a file: comments, and tests at its end, left off.
fn code(text: &str) -> String {
    let text = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or("");
    let lines = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

fn is_test(file: &str) -> bool {
    file.contains("/tests/") || file.ends_with("/tests.rs")
}

#[test]
fn imports_run_downward() {
    let may_import: BTreeMap<&str, &[&str]> = MAY_IMPORT.iter().copied().collect();
    let mut wrong = Vec::new();
    for (file, text) in files() {
        let Some(own) = module(&file).filter(|_| !is_test(&file)) else {
            continue;
        };
        let Some(allowed) = may_import.get(own) else {
            wrong.push(format!("{file}: {own} has no place among the modules"));
            continue;
        };
        for (at, _) in code(&text).match_indices("crate::") {
            let code = code(&text);
            let rest = &code[at + "crate::".len()..];
            let named = rest
                .split(|c: char| !c.is_ascii_lowercase() && c != '_')
                .next();
            let named = named.unwrap_or("");
            if named != own && !allowed.contains(&named) {
                wrong.push(format!("{file} imports {named}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_core_only_computes() {
    let mut wrong = Vec::new();
    for (file, text) in files() {
        if module(&file).is_none_or(|own| own == "commands") || is_test(&file) {
            continue;
        }
        let code = code(&text);
        for outside in OUTSIDE {
            let touched = code.match_indices(outside).any(|(at, _)| {
                // `print!` is part of `println!` and `eprint!`.
                !code[..at].ends_with(|c: char| c.is_alphanumeric())
            });
            if touched {
                wrong.push(format!("{file} touches {outside}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn solver_types_are_no_file_format() {
    let mut wrong = Vec::new();
    for (file, text) in files() {
        let solver = matches!(module(&file), Some("stock" | "plan" | "joints" | "program"));
        if solver
            && ["serde", "schemars"]
                .iter()
                .any(|format| text.contains(format))
        {
            wrong.push(file);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_file_says_what_it_knows_and_stays_short() {
    let mut wrong = Vec::new();
    let mut lengths = Vec::new();
    for (file, text) in files() {
        let lines = text.lines().count();
        lengths.push(lines);
        if !text.starts_with("//! ") {
            wrong.push(format!("{file} does not say what it knows"));
        }
        if lines > LONGEST {
            wrong.push(format!("{file} has {lines} lines"));
        }
    }
    lengths.sort_unstable();
    let median = lengths[lengths.len() / 2];
    assert!(median <= 200, "the median file has {median} lines");
    assert!(wrong.is_empty(), "{wrong:#?}");
}
