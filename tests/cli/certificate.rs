//! `--certificate`: proofs of bounds, written and checked again.

use super::{JOB, cents, file, json, run};

/// A place for a file that is not there yet.
fn place(name: &str) -> String {
    let path = file(name, "");
    std::fs::remove_file(&path).expect("a file");
    path
}

/// A message without its line breaks.
fn in_a_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_plans_proof_is_written_and_checked_with_its_job() {
    let job = file("certificate.toml", JOB);
    let proof = place("certificate.json");
    let plain = run(&["plan", &job]);
    let plan = run(&["plan", &job, "--certificate", &proof]);
    assert_eq!(plan.code, 0, "{}", plan.err);
    // The answer is the same with or without it.
    assert_eq!(plan.out, plain.out);
    let checked = run(&["check", "--certificate", &proof, &job]);
    assert_eq!(checked.code, 0, "{}", checked.err);
    assert!(
        checked.out.starts_with("Confirmed: no plan can be below $"),
        "{}",
        checked.out
    );
    let plan = json(&["plan", &job, "--certificate", &proof]);
    let checked = json(&["check", "--certificate", &proof, &job]);
    assert_eq!(checked["value"], plan["totals"]["value"]);
    assert_eq!(checked["stated"], plan["totals"]["bound"]);
    assert!(cents(&checked["bound"]) <= cents(&plan["totals"]["bound"]));
    assert!(cents(&checked["bound"]) * 100 >= cents(&plan["totals"]["bound"]) * 98);
    assert_eq!(checked["complete"], checked["bound"] == checked["stated"]);
    assert_eq!(checked["best"], checked["bound"] == checked["value"]);
    // Dearer boards make nothing cheaper; cheaper ones break the proof.
    let set = |price: &str| {
        let set = format!("stock.1.price={price}");
        run(&["check", "--certificate", &proof, &job, "--set", &set])
    };
    assert_eq!(set("99").code, 0);
    let cheaper = set("10");
    assert_eq!((cheaper.code, cheaper.out.as_str()), (1, ""));
    assert!(cheaper.err.contains("`--set` options"), "{}", cheaper.err);
}

#[test]
fn a_cut_lists_proof_needs_no_job() {
    let proof = place("certificate-cut.json");
    let cut = [
        "cut",
        "--stock=12ft@19.80",
        "--stock=16ft@27.40",
        "--piece=14x3ft4in",
    ];
    let plan = json(&[&cut[..], &["--certificate", &proof]].concat());
    let checked = json(&["check", "--certificate", &proof]);
    assert_eq!(checked["of"], "cut");
    assert_eq!(checked["stated"], plan["totals"]["bound"]);
    // Numbers of boards that the first prices leave are refuted by prices of their own.
    let cut = [
        "cut",
        "--stock=12ft@19.80x8",
        "--stock=16ft@27.40x6",
        "--stock=20ft@35",
        "--piece=16x3ft4in",
        "--piece=9x5ft7in",
        "--piece=6x7ft3in",
    ];
    let plan = json(&[&cut[..], &["--certificate", &proof]].concat());
    let checked = json(&["check", "--certificate", &proof]);
    assert_eq!(checked["bound"], plan["totals"]["bound"]);
    assert_eq!(checked["complete"], true);
    assert_eq!(checked["best"], true);
    let checked = in_a_line(&run(&["check", "--certificate", &proof]).out);
    assert!(checked.contains("in 2 sets"), "{checked}");
    // Length is minimised where nothing has a price.
    let cut = ["cut", "--stock=12ft", "--stock=16ft", "--piece=14x3ft4in"];
    json(&[&cut[..], &["--certificate", &proof]].concat());
    let checked = run(&["check", "--certificate", &proof]);
    assert!(
        checked
            .out
            .starts_with("Confirmed: no cut list can be below "),
        "{}",
        checked.out
    );
    assert!(checked.out.contains(" ft"), "{}", checked.out);
}

#[test]
fn what_is_no_certificate_is_refused_and_left_alone() {
    let job = file("certificate-wrong.toml", JOB);
    let ran = run(&["plan", &job, "--certificate", &job]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    assert!(
        in_a_line(&ran.err).contains("is no certificate and is left as it is"),
        "{}",
        ran.err
    );
    assert_eq!(std::fs::read_to_string(&job).expect("the job"), JOB);
    let ran = run(&["plan", &job, "--certificate", "-"]);
    assert_eq!(ran.code, 2);
    let ran = run(&["check", "--certificate", &job, &job]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("this is no certificate"), "{}", ran.err);
    let ran = run(&["check", "--certificate", "no such file.json"]);
    assert_eq!(ran.code, 2);
    let proof = place("certificate-alone.json");
    assert_eq!(run(&["plan", &job, "--certificate", &proof]).code, 0);
    let ran = run(&["check", "--certificate", &proof]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("no job is named"), "{}", ran.err);
    // One digit more in what it says.
    let text = std::fs::read_to_string(&proof).expect("a certificate");
    let touched = file(
        "certificate-touched.json",
        text.replacen("\"bound\": ", "\"bound\": 1", 1),
    );
    let ran = run(&["check", "--certificate", &touched, &job]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    assert!(
        in_a_line(&ran.err).contains("but proves it only for $"),
        "{}",
        ran.err
    );
}
