//! Code tables in a job file: what cannot be says why.

use super::messages::with;

#[test]
fn code_tables_that_cannot_be() {
    let on = |more: &str| format!("[codes]\nedition = \"IRC 2018\"\n{more}\n");
    let line = "[[codes.span]]\nsize = \"2x8\"\nspacing = \"16in\"\nmost = \"12ft\"\n";
    let cases = [
        "[codes]\nsource = \"county handout\"\n".to_owned(),
        "[codes]\nedition = \"IRC 2024\"\n".to_owned(),
        "[codes]\nedition = 2018\n".to_owned(),
        on("species = \"southern-yellow-pine\""),
        on("species = \"teak\""),
        on("decking = \"composit\""),
        on("decking = \"0in\""),
        on("decking = true"),
        on("decking_most = \"-16in\""),
        on("span = { size = \"2x8\", spacing = \"16in\", most = \"12ft\" }"),
        on("[[codes.span]]\nsize = \"2x8\"\nspacing = \"16in\""),
        format!(
            "[codes]\n{line}{}",
            line.replace("2x8", "2X8").replace("12ft", "11ft")
        ),
        on("spans = [{ size = \"2x8\", spacing = \"16in\", most = 0, canti = 3 }]"),
    ];
    let cases: Vec<&str> = cases.iter().map(String::as_str).collect();
    snapshot!(with(&cases));
}
