//! Letters that the typeface lacks: told by name, and a box in their place.

use lastcourse::draw::{self, STAND_IN, lacking_letters};

use super::sheets::sheets;
use super::{fixtures, plan_drawing};

#[test]
fn letters_that_are_lacking_are_named_and_shown_as_boxes() {
    let (_, mut job, plan) = fixtures().remove(0);
    let title = |job: &mut lastcourse::job::Job, title: &str| job.title = title.to_owned();
    title(&mut job, "\u{6f22}\u{5b57} \u{e9} deck");
    let all = sheets(&job, &plan);
    let caution = lacking_letters(&all).expect("a caution");
    for named in ["U+6F22", "U+5B57"] {
        assert!(caution.message.contains(named), "{}", caution.message);
    }
    assert!(!caution.message.contains("U+00E9"), "{}", caution.message);
    assert!(caution.help.contains(STAND_IN), "{}", caution.help);
    let first = all[0].texts().map(|text| text.words.as_str());
    let first: Vec<&str> = first.collect();
    assert!(first.join(" ").contains("U+6F22"), "{first:?}");
    // A picture shows the box, and not nothing.
    let png = |words: &str| {
        let mut job = job.clone();
        job.title = words.to_owned();
        draw::png(&plan_drawing(&job, &plan), 60).expect("a picture")
    };
    assert_eq!(png("\u{6f22}"), png(&STAND_IN.to_string()));
    assert_ne!(png("\u{6f22}"), png(" "));
    // SVG keeps what was written.
    let svg = draw::svg(&plan_drawing(&job, &plan), draw::Extent::Sheet);
    assert!(svg.contains('\u{6f22}'));
}

#[test]
fn usual_letters_are_not_lacking() {
    for (name, mut job, plan) in fixtures() {
        job.title.push_str(" \u{fc}\u{df}\u{142}\u{3a9}\u{416}");
        assert_eq!(lacking_letters(&sheets(&job, &plan)), None, "{name}");
    }
}
