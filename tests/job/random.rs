//! No text makes the reader stumble: whatever is typed, it answers with a job
//! or with messages that can be printed.

use lastcourse::job::{self, Set, edit};
use proptest::prelude::*;

/// Reads a text, and prints what was found whichever way it went.
fn survives(text: &str, sets: &[Set]) {
    let findings = match job::read(text, "deck.toml", sets) {
        Ok(checked) => {
            assert!(!checked.findings.has_errors());
            checked.findings
        }
        Err(findings) => {
            assert!(findings.has_errors());
            findings
        }
    };
    for problem in &findings.problems {
        assert!(!problem.message.is_empty());
        if let Some(place) = &problem.place {
            let (line, column) = findings.line_and_column(place).expect("a place in a text");
            assert!(line > 0 && column > 0);
        }
    }
    assert_eq!(
        findings.to_string().is_empty(),
        findings.problems.is_empty()
    );
    let _ = job::message::styled(&findings);
}

/// Changes made for one reading are the changes made in a file.
fn agrees(text: &str, sets: &[Set]) {
    let Ok(changed) = job::read(text, "deck.toml", sets) else {
        return;
    };
    let written = edit::apply(text, sets).expect("what can be set can be written");
    match job::read(&written, "deck.toml", &[]) {
        Ok(read) => assert_eq!(read.job, changed.job),
        Err(findings) => panic!("{written}\n{findings}"),
    }
}

/// What people type in the wrong place.
fn scrap() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        Just("\"".to_owned()),
        Just("'".to_owned()),
        Just("[".to_owned()),
        Just("]]".to_owned()),
        Just("\n".to_owned()),
        Just("\r".to_owned()),
        Just("= ".to_owned()),
        Just("{".to_owned()),
        Just("-".to_owned()),
        Just("0".to_owned()),
        Just("99999999999999999999".to_owned()),
        Just("1e300".to_owned()),
        Just("nan".to_owned()),
        Just("½\u{2033}".to_owned()),
        Just("\u{0}\u{1b}[31m".to_owned()),
        Just("[[stock]]\n".to_owned()),
        Just("[deck]\n".to_owned()),
        Just("unit = \"mm\"\n".to_owned()),
        Just("\"0.000001mm\"".to_owned()),
        "\\PC{0,12}",
    ]
}

proptest! {
    #[test]
    fn any_text_at_all(text in "\\PC{0,200}|(?s).{0,200}") {
        survives(&text, &[]);
    }

    #[test]
    fn an_example_with_pieces_replaced(
        places in prop::collection::vec((any::<prop::sample::Index>(), 0usize..12, scrap()), 1..6)
    ) {
        let mut text: Vec<char> = job::EXAMPLE.chars().collect();
        for (place, length, scrap) in places {
            let start = place.index(text.len());
            let end = (start + length).min(text.len());
            text.splice(start..end, scrap.chars());
        }
        survives(&text.into_iter().collect::<String>(), &[]);
    }

    #[test]
    fn an_example_with_lines_moved(
        moves in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>()), 1..8)
    ) {
        let mut lines: Vec<&str> = job::EXAMPLE.lines().collect();
        for (one, other) in moves {
            let (one, other) = (one.index(lines.len()), other.index(lines.len()));
            lines.swap(one, other);
        }
        survives(&lines.join("\n"), &[]);
    }

    #[test]
    fn any_path_and_value(
        path in prop_oneof![
            "[a-z_.0-9 \"']{1,30}",
            Just("fastener.1.gap".to_owned()),
            Just("fastener.slim clip.trial".to_owned()),
            Just("stock.5.length".to_owned()),
            Just("edge.last.overhang.most".to_owned()),
            Just("joists.positions".to_owned()),
            Just("deck".to_owned()),
            Just("stock".to_owned()),
            Just("courses.mixed".to_owned()),
        ],
        value in prop_oneof![
            scrap(),
            "[0-9./ -]{0,8}(in|mm|ft)?",
            Just("{ set = 1, least = 2 }".to_owned()),
            Just("[1, 2, \"x\"]".to_owned()),
            Just("[{ length = 1 }]".to_owned()),
            Just("{ boards = 4, over = \"23in\" }".to_owned()),
        ],
    ) {
        let sets = [Set::new(path, value)];
        survives(job::EXAMPLE, &sets);
        agrees(job::EXAMPLE, &sets);
    }
}
