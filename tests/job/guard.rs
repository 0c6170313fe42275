//! The guard in a job file: every field reaches the job, and what cannot be says
//! why.

use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;

use super::messages::with;
use super::{accepted, small_and};

fn at(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

fn goods(name: &str, pieces: u32, cents: i64, spare: u32) -> Goods {
    Goods {
        name: name.to_owned(),
        pack: Pack {
            pieces,
            weight: None,
            price: Some(Money::from_cents(cents)),
        },
        spare: Percent(spare),
    }
}

const FRAMED: &str = "[[lumber]]\nsize = \"2x4\"\nlength = \"14ft\"\nprice = 8\n\
                      [[lumber]]\nsize = \"4x4\"\nlength = \"12ft\"\nprice = 17\n\
                      [frame]\njoist = \"2x4\"\n";

#[test]
fn every_field_of_the_guard_reaches_the_job() {
    let text = small_and(&format!(
        r#"{FRAMED}
[edge.first]
wall_clearance = "1/4in"
[[stairs]]
rise = "34in"
width = "3ft"
edge = "left"
at = "2ft"
[[stairs]]
name = "others"
rise = "34in"
width = "4ft"
[guard]
edges = ["left", "last"]
height = "42in"
post = {{ spacing = "5ft", size = "4x4", length = "5ft" }}
rail = {{ rows = 3, size = "2x4" }}
baluster = {{ width = "3/4in", clear_most = "3-1/2in", name = "bar", pack = 10, price = 22, spare = "5%" }}
"#
    ));
    let text = text.replace("[deck]", "[deck]\nheight = \"34in\"");
    let guards = accepted(&text).guards;
    assert_eq!(guards.height, Some(at("34in")));
    // The second flight stands in the middle of the last edge: (240 - 48) / 2.
    let places = [(Side::Left, "2ft"), (Side::Last, "8ft")];
    let places = places.map(|(side, from)| StairsAt {
        side,
        from: at(from),
    });
    assert_eq!(guards.stairs, places);
    let expected = GuardRules {
        edges: vec![Side::Last, Side::Left],
        height: at("42in"),
        post: GuardPost {
            width: at("3-1/2in"),
            spacing: at("5ft"),
            made: Made::Cut {
                size: 1,
                length: Some(at("5ft")),
            },
        },
        rail: Some(Rail {
            rows: 3,
            made: Made::Cut {
                size: 0,
                length: None,
            },
        }),
        baluster: Some(Baluster {
            width: at("3/4in"),
            clear_most: at("3-1/2in"),
            goods: goods("bar", 10, 2200, 500),
        }),
    };
    assert_eq!(guards.rules, Some(expected));
}

#[test]
fn a_guard_that_says_little_is_what_codes_ask_for() {
    let job = accepted(&small_and(
        "[guard]\npost = { spacing = \"6ft\", price = 20 }\n",
    ));
    let rules = job.guards.rules.expect("a guard");
    assert_eq!(rules.edges, Side::ALL);
    assert_eq!(rules.height, at("36in"));
    assert_eq!(rules.post.width, at("3-1/2in"));
    assert_eq!(
        rules.post.made,
        Made::Bought(goods("guard post", 1, 2000, 0))
    );
    assert_eq!((rules.rail, rules.baluster), (None, None));
    // Stairs are at the last edge, or at an open one where that is a wall.
    let stairs = "[[stairs]]\nrise = \"2ft\"\nwidth = \"4ft\"\n";
    assert_eq!(
        accepted(&small_and(stairs)).guards.stairs[0].side,
        Side::Last
    );
    let wall = format!("{stairs}[edge.last]\nwall_clearance = 0\n");
    assert_eq!(
        accepted(&small_and(&wall)).guards.stairs[0].side,
        Side::First
    );
}

#[test]
fn guards_that_cannot_be() {
    let on = |more: &str| format!("[guard]\npost = {{ spacing = \"6ft\" }}\n{more}\n");
    let post = |more: &str| format!("[guard]\npost = {{ {more} }}\n");
    let stairs = |more: &str| {
        format!(
            "{}[[stairs]]\nrise = \"2ft\"\nwidth = \"4ft\"\n{more}\n",
            on("")
        )
    };
    let walls = ["first", "last", "left", "right"]
        .map(|edge| format!("[edge.{edge}]\nwall_clearance = 0\n"))
        .concat();
    let cases = [
        "[guard]\nheight = \"36in\"\n".to_owned(),
        on("edges = []"),
        on("edges = [\"last\", \"left\", \"last\"]"),
        on("edges = [\"bottom\"]"),
        format!(
            "{}[edge.left]\nwall_clearance = 0\n",
            on("edges = [\"left\"]")
        ),
        format!("{}{walls}", on("")),
        post("spacing = 6, width = 4"),
        post("spacing = \"2in\""),
        post("spacing = \"6ft\", size = \"4x4\", length = \"4ft\""),
        post("spacing = \"6ft\", length = \"4ft\""),
        format!("{FRAMED}{}", post("spacing = \"6ft\", size = \"4x4\"")),
        format!(
            "{FRAMED}{}",
            post("spacing = \"6ft\", size = \"6x6\", length = \"4ft\"")
        ),
        on("rail = { rows = 21 }"),
        on("rail = { size = \"2x4\" }"),
        on("baluster = { clear_most = \"4in\" }"),
        on("baluster = { width = \"1/8in\", clear_most = \"1/4in\" }"),
        stairs("at = \"17ft\""),
        stairs("edge = \"back\""),
        format!(
            "{}[edge.left]\nwall_clearance = 0\n",
            stairs("edge = \"left\"")
        ),
        stairs("[[stairs]]\nname = \"others\"\nrise = \"2ft\"\nwidth = \"3ft\""),
    ];
    let cases: Vec<&str> = cases.iter().map(String::as_str).collect();
    snapshot!(with(&cases));
}
