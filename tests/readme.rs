//! The README keeps its word: every command in it is run and prints what is
//! shown, and its tables of the job file are those of the schema.
//!
//! `UPDATE_README=1 cargo test --test readme` writes what is printed now into
//! the README.

use std::path::{Path, PathBuf};
use std::process::Command;

use lastcourse::job;
use serde_json::Value;

const TABLES: &str = "<!-- The tables from here to the end mark are written by the README's test from the schema. -->\n";
const END: &str = "<!-- end of the job file's tables -->";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A folder of its own with the fixtures in it, for commands that write files.
fn folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("readme");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(folder.join("fixtures")).expect("a folder can be made");
    for fixture in std::fs::read_dir(root().join("fixtures")).expect("fixtures") {
        let fixture = fixture.expect("a fixture");
        let copy = folder.join("fixtures").join(fixture.file_name());
        std::fs::copy(fixture.path(), copy).expect("a file can be copied");
    }
    folder
}

/// What a command prints on both streams, run by a shell that knows the program.
fn printed(command: &str, folder: &Path) -> String {
    let program = Path::new(env!("CARGO_BIN_EXE_lastcourse"));
    let path = std::env::var("PATH").expect("a path");
    let path = format!("{}:{path}", program.parent().expect("a folder").display());
    let output = Command::new("sh")
        .args(["-c", &format!("exec 2>&1; {command}")])
        .current_dir(folder)
        .env("PATH", path)
        .env_remove("COLUMNS")
        .output()
        .expect("a shell");
    assert!(output.status.success(), "{command} fails");
    String::from_utf8(output.stdout).expect("text")
}

/// The pictures in the README, and what draws each.
const PICTURES: [(&str, &str); 2] = [
    (
        "fixtures/boathouse-plan.svg",
        "lastcourse sheet fixtures/boathouse-terrace.toml --svg",
    ),
    (
        "fixtures/mill-pond-ends.svg",
        "lastcourse forecast fixtures/mill-pond-landing.toml --svg",
    ),
];

#[test]
fn pictures_are_those_of_now() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    for (picture, command) in PICTURES {
        let now = folder.join(Path::new(picture).file_name().expect("a name"));
        let _ = std::fs::remove_file(&now);
        printed(&format!("{command} {}", now.display()), root());
        let now = std::fs::read_to_string(&now).expect("a picture");
        if std::env::var_os("UPDATE_README").is_some() {
            std::fs::write(root().join(picture), &now).expect("a file can be written");
        }
        let readme = std::fs::read_to_string(root().join("README.md")).expect("the README");
        assert!(readme.contains(&format!("]({picture})")), "{picture}");
        let before = std::fs::read_to_string(root().join(picture)).expect("a picture");
        assert!(now == before, "{picture} is not what `{command}` draws");
    }
}

/// The README with every command's output as it is now.
fn with_outputs(readme: &str) -> String {
    let folder = folder();
    let mut now = String::new();
    let mut lines = readme.lines().peekable();
    while let Some(line) = lines.next() {
        now.push_str(line);
        now.push('\n');
        if line != "```console" {
            continue;
        }
        for line in lines.by_ref() {
            if let Some(command) = line.strip_prefix("$ ") {
                now.push_str(line);
                now.push('\n');
                now.push_str(&printed(command, &folder));
            } else if line == "```" {
                now.push_str("```\n");
                break;
            }
        }
    }
    now
}

/// The job file's tables in Markdown, in the order a job is written.
fn tables() -> String {
    let schema = job::schema();
    let table = |name: &str| &schema["$defs"][name];
    let sections = [
        ("At the top", &schema),
        ("`[deck]`", table("DeckTable")),
        (
            "`[edge.first]`, `[edge.last]`, `[edge.left]`, `[edge.right]`",
            table("EdgeTable"),
        ),
        ("`[board]`", table("BoardTable")),
        ("`[[fastener]]`, one or more", table("FastenerTable")),
        ("`[[stock]]`, one for each length", table("StockTable")),
        (
            "`[[extra]]`, one for each kind of other pieces",
            table("ExtraTable"),
        ),
        ("`[[stairs]]`, one for each flight", table("StairsTable")),
        ("`[joists]`", table("JoistsTable")),
        ("`[courses]`", table("CoursesTable")),
        ("`[joints]`", table("JointsTable")),
        ("`[cutting]`", table("CuttingTable")),
        ("`[order]`", table("OrderTable")),
        (
            "`[[lumber]]`, one for each size and length",
            table("LumberTable"),
        ),
        ("`[frame]`", table("FrameTable")),
        ("`[fascia]`", table("FasciaTable")),
        ("`[base]`", table("BaseTable")),
        ("`[guard]`", table("GuardTable")),
        ("`[codes]`", table("CodesTable")),
        ("`[[item]]`, goods added by hand", table("ItemTable")),
        (
            "`[[reading]]`, what the tape said after a course",
            table("ReadingTable"),
        ),
    ];
    let mut text = String::new();
    for (title, table) in sections {
        text.push_str(&format!("\n**{title}**\n\n| field | is |\n|---|---|\n"));
        let fields = table["properties"].as_object().expect("fields");
        let mut fields: Vec<_> = fields.iter().collect();
        fields.sort_by_key(|(name, _)| in_example(title, name));
        for (name, field) in fields {
            let described = field["description"].as_str().expect("a description");
            // Fields that are tables have a table of their own below.
            let nested = [
                "board", "courses", "cutting", "deck", "edge", "extra", "fastener",
            ];
            let nested = [
                &nested[..],
                &[
                    "base", "codes", "fascia", "frame", "guard", "item", "joints", "joists",
                    "lumber", "order", "reading", "stairs", "stock",
                ],
            ]
            .concat();
            if title == "At the top" && nested.contains(&name.as_str()) {
                continue;
            }
            let described = format!("{described}{}", inside(&schema, field));
            let described = described.replace('\n', " ").replace('|', "\\|");
            text.push_str(&format!("| `{name}` | {described} |\n"));
        }
    }
    text.push('\n');
    text
}

/// What stands inside a field that is a table in one line, if it is or may be.
fn inside(schema: &Value, field: &Value) -> String {
    if let Some(name) = field["$ref"].as_str() {
        let name = name.trim_start_matches("#/$defs/");
        let table = &schema["$defs"][name];
        let Some(fields) = table["properties"].as_object() else {
            return inside(schema, table);
        };
        let required = table["required"].as_array().cloned().unwrap_or_default();
        let mut fields: Vec<_> = fields.iter().collect();
        fields.sort_by_key(|(name, _)| !required.iter().any(|must| must == name.as_str()));
        let fields = fields.into_iter().map(|(name, field)| {
            let described = field["description"].as_str().expect("a description");
            let mut letters = described.trim_end_matches('.').chars();
            let first = letters.next().map(|c| c.to_lowercase().to_string());
            let described = first.unwrap_or_default() + &letters.as_str().replace(';', ",");
            // A table in this one is told in brackets.
            let deeper = inside(schema, field)
                .replace(';', ",")
                .replace(" In it", "in it");
            let deeper = match deeper.trim_end_matches('.') {
                "" => String::new(),
                deeper => format!(" ({deeper})"),
            };
            format!("`{name}`, {described}{deeper}")
        });
        return format!(" In it: {}.", fields.collect::<Vec<_>>().join("; "));
    }
    let choices = field["anyOf"].as_array().into_iter().flatten();
    let parts = choices.chain(field.get("items"));
    parts.map(|part| inside(schema, part)).collect()
}

/// Where the example job first writes a field, at or below its table's head.
fn in_example(title: &str, field: &str) -> usize {
    let head = title
        .trim_start_matches('`')
        .split('`')
        .next()
        .unwrap_or("");
    let start = match job::EXAMPLE.find(&format!("\n{head}")) {
        Some(start) => start,
        // Shown in one line, in no order of its own.
        None if head.starts_with('[') => return usize::MAX,
        None => 0,
    };
    let mut at = start;
    for line in job::EXAMPLE[start..].lines() {
        let name = line.trim_start_matches(['#', ' ']);
        let name = name.split(['=', ' ']).next().unwrap_or("");
        if name == field {
            return at;
        }
        at += line.len() + 1;
    }
    usize::MAX
}

fn with_tables(readme: &str) -> String {
    let (before, rest) = readme.split_once(TABLES).expect("the tables' first mark");
    let (_, after) = rest.split_once(END).expect("the tables' end mark");
    format!("{before}{TABLES}{}{END}{after}", tables())
}

#[test]
fn the_readme_shows_what_is_printed() {
    let path = root().join("README.md");
    let readme = std::fs::read_to_string(&path).expect("a README");
    let now = with_tables(&with_outputs(&readme));
    if std::env::var_os("UPDATE_README").is_some() {
        std::fs::write(&path, now).expect("the README can be written");
        return;
    }
    for (shown, printed) in readme.lines().zip(now.lines()) {
        assert_eq!(
            shown, printed,
            "the README shows the first, the second is true"
        );
    }
    assert_eq!(readme.lines().count(), now.lines().count());
}

#[test]
fn every_command_is_in_the_readme() {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("a README");
    let help = printed(
        "lastcourse --help",
        &PathBuf::from(env!("CARGO_TARGET_TMPDIR")),
    );
    let commands = help
        .lines()
        .skip_while(|line| *line != "Commands:")
        .skip(1)
        .take_while(|line| !line.trim().is_empty())
        .filter(|line| !line.starts_with("   "))
        // A description that is broken into lines goes on further in.
        .filter(|line| !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .collect::<Vec<_>>();
    assert!(commands.len() >= 8, "{commands:?}");
    for command in commands {
        assert!(
            readme.contains(&format!("| `lastcourse {command}")),
            "{command}"
        );
    }
}

#[test]
fn the_tables_say_all_there_is() {
    let tables = tables();
    let schema = job::schema();
    for (name, table) in schema["$defs"].as_object().expect("definitions") {
        let Some(fields) = table["properties"].as_object() else {
            continue;
        };
        // The edges have no table but one each.
        if name == "EdgesTable" {
            continue;
        }
        for field in fields.keys() {
            let there = [format!("| `{field}` |"), format!("`{field}`, ")];
            assert!(
                there.iter().any(|there| tables.contains(there)),
                "{name}.{field}"
            );
        }
    }
    let top: Vec<&String> = schema["properties"]
        .as_object()
        .map(|p| p.keys().collect())
        .expect("fields");
    for field in top {
        let there = [
            format!("`{field}` |"),
            format!("[{field}]"),
            format!("[{field}."),
        ];
        assert!(there.iter().any(|there| tables.contains(there)), "{field}");
    }
}
