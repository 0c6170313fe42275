//! The keys that programs rely on: every answer has these, each of this kind.
//! The schemas say the same at more length; this list does not follow them, so
//! that a key cannot change together with its schema.

use serde_json::Value;

use super::{JOB, file, json, run};

/// Checks a value against a kind: `length`, `money`, `text`, `count`, `share`,
/// `flag`, `any`, each with `?` where null is allowed.
fn is(kind: &str, value: &Value) -> bool {
    if let Some(kind) = kind.strip_suffix('?') {
        return value.is_null() || is(kind, value);
    }
    match kind {
        "length" => value.is_number(),
        "money" => value.as_str().is_some_and(|text| {
            let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
            let parts = text.trim_start_matches('-').split_once('.');
            parts.is_some_and(|(whole, cents)| digits(whole) && digits(cents) && cents.len() == 2)
        }),
        "text" => value.is_string(),
        "count" => value.is_u64(),
        "share" => value
            .as_f64()
            .is_some_and(|share| (0.0..=1.0).contains(&share)),
        "flag" => value.is_boolean(),
        "two" => value.as_array().is_some_and(|two| {
            let end = |end: &Value| end.is_number() || end.is_array() || end.is_null();
            two.len() == 2 && two.iter().all(end)
        }),
        "list" => value.is_array(),
        "table" => value.is_object(),
        _ => panic!("no kind {kind}"),
    }
}

/// Checks that a table has all of these: `key:kind`, parted by spaces.
#[track_caller]
fn has(what: &str, table: &Value, keys: &str) {
    for key in keys.split_whitespace() {
        let (key, kind) = key.split_once(':').expect("key:kind");
        let value = table.get(key);
        let value = value.unwrap_or_else(|| panic!("{what} has no {key}: {table}"));
        assert!(is(kind, value), "{what}: {key} is no {kind} but {value}");
    }
}

/// The tables of a list, of which there is one at least.
#[track_caller]
fn each<'a>(table: &'a Value, key: &str) -> &'a [Value] {
    let list = table[key].as_array();
    let list = list.unwrap_or_else(|| panic!("{key} is no list in {table}"));
    assert!(!list.is_empty(), "{key} is empty");
    list
}

const COMMON: &str = "schema:text unit:text";
const TOTALS: &str = "boards:count price:money cost:money bound:money gap:share proven:flag \
                      stopped:flag bought:length laid:length waste:share";

fn forecasts(answer: &Value, uncertain: bool) {
    has("forecast", answer, COMMON);
    has("forecast", answer, "surface:length forecasts:list");
    for one in each(answer, "forecasts") {
        has(
            "a forecast",
            one,
            "fastener:text gap:length courses:count last_width:length? ripped_off:length \
             short_by:length short_if_omitted:length? verdict:text gap_holds:two",
        );
        for wrong in each(one, "gap_wrong") {
            has(
                "gap_wrong",
                wrong,
                "by:length courses:count last_width:length? short_by:length verdict:text",
            );
        }
        assert_eq!(each(one, "gap_wrong").len(), 4);
        has(
            "a forecast",
            one,
            match uncertain {
                true => "worst:two rss:two chance_extra_course:share chance_sliver:share",
                false => "worst:two? rss:two? chance_extra_course:share? chance_sliver:share?",
            },
        );
    }
}

fn fits(answer: &Value) {
    has("fit", answer, COMMON);
    for way in each(answer, "ways") {
        has(
            "a way",
            way,
            "kind:text changes:table fastener:text courses:count first_width:length? \
             last_width:length? short_by:length verdict:text price:money? cost:money? \
             bound:money? proven:flag? difference:money? problem:text?",
        );
    }
}

fn plans(answer: &Value) {
    has("plan", answer, COMMON);
    has(
        "plan",
        answer,
        "fastener:text gap:length supports:list totals:table",
    );
    for course in each(answer, "courses") {
        has(
            "a course",
            course,
            "number:count from:length to:length width:length ripped:flag",
        );
        for run in each(course, "runs") {
            has("a run", run, "from:length to:length");
            for piece in each(run, "pieces") {
                has(
                    "a piece",
                    piece,
                    "id:text from:length to:length length:length board:count",
                );
            }
        }
    }
    for board in each(answer, "boards") {
        has(
            "a board",
            board,
            "number:count stock:count length:length price:money on_hand:flag pieces:list \
             strips:two? offcut:length",
        );
    }
    has("totals", &answer["totals"], TOTALS);
    has(
        "totals",
        &answer["totals"],
        "joints:count objective:text joints_proven:flag",
    );
}

fn orders(answer: &Value) {
    has("order", answer, COMMON);
    has("order", answer, "total:money");
    for line in each(answer, "lines") {
        has(
            "a line",
            line,
            "group:text item:text unit:text needed:length count:count price_each:money? \
             price:money?",
        );
    }
}

fn measures(answer: &Value) {
    has("measure", answer, COMMON);
    has(
        "measure",
        answer,
        "fastener:text gap:length tape:length planned:table readings:list pace:table going:table \
         left_open:length? parallel:table? square:table cautions:list",
    );
    for reading in each(answer, "readings") {
        has(
            "a reading",
            reading,
            "after:count at:length left:length? right:length? gap:length? planned:length \
             off:length pitch:length?",
        );
    }
    has(
        "pace",
        &answer["pace"],
        "pitch:length within:length gap:length drift:length off:length allowed:length basis:text",
    );
    let end = "courses:count last_width:length? short_by:length verdict:text";
    has(
        "going",
        &answer["going"],
        "end:table between:list chance_more:share chance_fewer:share chance_sliver:share",
    );
    has("planned", &answer["planned"], end);
    has("an end", &answer["going"]["end"], end);
    for ending in each(answer, "endings") {
        has(
            "an ending",
            ending,
            "aim:text courses:count fastener:text gap:length possible:flag settings:list \
             end:table overhang:length? marks:list",
        );
        for setting in each(ending, "settings") {
            has("a setting", setting, "gap:length gaps:count");
        }
    }
    has(
        "square",
        &answer["square"],
        "diagonal:length on_tape:length measured:two? across:length? along:length? fits:flag? \
         accepted:flag?",
    );
}

#[test]
fn every_answer_has_its_keys() {
    let metric = "--set=unit=mm";
    let unsure = "--set=fastener.1.uncertainty=1mm";
    let thin = "--set=cutting.split_rips=true";
    let small = JOB.replace("7ft 3in", "27in");
    let job = file("keys.toml", small);
    for set in [unsure, metric, thin] {
        let ask = |command: &str| json(&[command, &job, set]);
        forecasts(&ask("forecast"), false);
        fits(&ask("fit"));
        plans(&ask("plan"));
        orders(&ask("order"));
        let tape = ["--after=2", "--left=284mm", "--right=11-3/16in"];
        measures(&json(&[&["measure", &job, set], &tape[..]].concat()));
        let unit = if set == metric { "mm" } else { "in" };
        assert_eq!(ask("plan")["unit"], unit);
    }
    let sure = json(&["forecast", &job, unsure, "--fastener", "slim clip"]);
    forecasts(&sure, true);

    let cut = json(&[
        "cut",
        "--stock=4m@20",
        "--piece=rail=3x1.2m",
        "--piece=2x90cm",
    ]);
    has("cut", &cut, COMMON);
    assert_eq!(cut["unit"], "mm");
    for board in each(&cut, "boards") {
        has(
            "a board",
            board,
            "number:count count:count stock:count length:length price:money offcut:length",
        );
        for piece in each(board, "pieces") {
            has("a piece", piece, "label:text? length:length");
        }
    }
    has("totals", &cut["totals"], TOTALS);
}

#[test]
fn a_check_has_its_keys_whatever_it_finds() {
    let sound = json(&["check", &file("keys-sound.toml", JOB)]);
    has("check", &sound, COMMON);
    has("check", &sound, "ok:flag problems:list");
    assert_eq!(sound["ok"], true);
    let wrong = file("keys-wrong.toml", JOB.replace("7ft 3in", "-7ft 3in"));
    for (job, place) in [(wrong.as_str(), true), ("no such file.toml", false)] {
        let ran = run(&["check", job, "--format", "json"]);
        assert_eq!(ran.code, 2);
        let answer: Value = serde_json::from_str(&ran.out).expect("JSON");
        has("check", &answer, COMMON);
        assert_eq!(answer["ok"], false);
        for problem in each(&answer, "problems") {
            let line = if place {
                "line:count column:count"
            } else {
                "line:count? column:count?"
            };
            has("a problem", problem, line);
            has("a problem", problem, "severity:text message:text help:text");
        }
    }
}

/// A length in an answer leads back to the very length it was.
#[test]
fn lengths_in_answers_are_exact() {
    let job = file("keys-exact.toml", JOB);
    let set = "--set=fastener.slim clip.gap=0.1968in";
    let answer = json(&["forecast", &job, set, "--fastener", "slim clip"]);
    let units = |value: &Value| (value.as_f64().expect("a number") * 203_200.0).round() as i64;
    // 0.1968 in are 39,989.76 eighths of a micrometre: 39,990 of them.
    assert_eq!(units(&answer["forecasts"][0]["gap"]), 39_990);
}
