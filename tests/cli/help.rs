//! What the help says, on every command, short and long.

use super::run;

/// All commands, and the program itself.
const COMMANDS: [&str; 11] = [
    "",
    "check",
    "completions",
    "cut",
    "fit",
    "forecast",
    "man",
    "measure",
    "order",
    "plan",
    "sheet",
];

#[test]
fn help_reads_well_on_every_command() {
    for command in COMMANDS {
        for option in ["-h", "--help"] {
            let words: Vec<&str> = [command, option]
                .into_iter()
                .filter(|word| !word.is_empty())
                .collect();
            let ran = run(&words);
            assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{words:?}");
            let examples = ["Example", "Start with an example"];
            assert!(
                examples.iter().any(|head| ran.out.contains(head)),
                "{words:?}"
            );
            let wide = ran.out.lines().find(|line| line.chars().count() > 80);
            assert_eq!(wide, None, "{words:?} is wider than 80 columns");
            let name = format!("help {command} {option}").replace("  ", " ");
            insta::assert_snapshot!(name.replace(' ', "_"), ran.out);
        }
    }
}

#[test]
fn completions_and_manual_pages_can_be_made() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let ran = run(&["completions", shell]);
        assert_eq!(ran.code, 0, "{shell}");
        assert!(
            ran.out.contains("forecast") && ran.out.contains("lastcourse"),
            "{shell}"
        );
    }
    let page = run(&["man"]);
    assert_eq!(page.code, 0);
    assert!(page.out.contains(".TH lastcourse 1"), "{}", page.out);
    let page = run(&["man", "plan"]);
    assert!(page.out.contains("prefer"), "{}", page.out);
    assert_eq!(run(&["man", "saw"]).code, 2);
}

#[test]
fn the_version_is_that_of_the_package() {
    let ran = run(&["--version"]);
    assert_eq!(
        ran.out,
        format!("lastcourse {}\n", env!("CARGO_PKG_VERSION"))
    );
}
