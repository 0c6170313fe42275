//! The base in a job file: every field reaches the job, and what cannot be says
//! why.

use lastcourse::job::base::*;
use lastcourse::job::{Fixing, Flashing, Goods, Pack, Percent, Roll};
use lastcourse::length::{Length, Unit};
use lastcourse::load::{Force, Pressure};
use lastcourse::money::Money;
use lastcourse::volume::Volume;

use super::messages::with;
use super::{accepted, small_and};

fn inches(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

fn goods(name: &str, cents: Option<i64>) -> Goods {
    Goods {
        name: name.to_owned(),
        pack: Pack {
            pieces: 1,
            weight: None,
            price: cents.map(Money::from_cents),
        },
        spare: Percent(0),
    }
}

fn fixing(name: &str, cents: Option<i64>, nails: u32) -> Fixing {
    Fixing {
        goods: goods(name, cents),
        nails,
    }
}

const BEAMS: &str = r#"
[[lumber]]
size = "2x8"
length = "20ft"
price = 30
[[lumber]]
size = "4x4"
length = "8ft"
price = 12
[frame]
joist = "2x8"
beam = { size = "2x8", count = 2 }
"#;

#[test]
fn every_field_of_the_base_reaches_the_job() {
    let job = accepted(&small_and(&format!(
        r#"{BEAMS}
[base]
support = {{ kind = "footing", name = "tube", spacing = "7ft", capacity = "8 kN", pack = 4, pack_price = 60, spare = "5%" }}
inset = "9in"
load = {{ live = 40, dead = "0.5 kPa" }}
soil = "1500 psf"
footing = {{ side = "16in", depth = "10in" }}
bag = {{ name = "mix", yields = "0.45 cu ft", price = 5.25 }}
post = {{ size = "4x4", height = "2ft 3in" }}
post_base = {{ name = "foot", price = 11 }}
post_cap = {{ nails = 12 }}
gravel = {{ name = "chips", depth = "3in", beyond = "1ft", compaction = "12.5%", sold_by = "cu ft", step = "quarter", price = 1.50 }}
fabric = {{ width = "4ft", roll = "75ft", overlap = "6in", price = 28 }}
edging = {{ length = "6ft", overlap = "2in", price = 9 }}
"#
    )));
    let expected = BaseRules {
        support: Support {
            goods: Goods {
                name: "tube".to_owned(),
                pack: Pack {
                    pieces: 4,
                    weight: None,
                    price: Some(Money::from_cents(6000)),
                },
                spare: Percent(500),
            },
            kind: SupportKind::Footing,
            spacing: inches("7ft"),
            capacity: Some(Force::newtons(8000)),
        },
        inset: inches("9in"),
        row_spacing: None,
        load: Some(Pressure::psf_100(4000).and(Pressure::pascals(500))),
        soil: Some(Pressure::psf_100(150_000)),
        footing: Some(Footing {
            outline: Outline::Square(inches("16in")),
            depth: inches("10in"),
            bag: Some(Bag {
                name: "mix".to_owned(),
                yields: Volume::ten_thousandths(4500, Volume::CUBIC_FOOT).expect("a volume"),
                price: Some(Money::from_cents(525)),
            }),
        }),
        post: Some(Post {
            size: 1,
            heights: vec![inches("2ft 3in")],
        }),
        post_base: Some(fixing("foot", Some(1100), 0)),
        post_cap: Some(fixing("post cap", None, 12)),
        gravel: Some(Gravel {
            name: "chips".to_owned(),
            depth: inches("3in"),
            beyond: inches("1ft"),
            compaction: Percent(1250),
            // A quarter of 1.50 is 37.5 cents, rounded up.
            portion: Portion {
                unit: Bulk::CubicFoot.sold_by(Step::Quarter),
                volume: Volume::CUBIC_FOOT.part(4),
                price: Some(Money::from_cents(38)),
            },
        }),
        fabric: Some(Roll {
            width: inches("4ft"),
            roll: inches("75ft"),
            overlap: inches("6in"),
            price: Some(Money::from_cents(2800)),
        }),
        edging: Some(Flashing {
            length: inches("6ft"),
            overlap: inches("2in"),
            price: Some(Money::from_cents(900)),
        }),
    };
    assert_eq!(job.base, Some(expected));
}

#[test]
fn a_base_that_says_little_is_blocks_under_every_joist() {
    let base = "[base]\nsupport = { spacing = 1500 }\ngravel = { depth = 60 }\n";
    let text = small_and(base).replace("[deck]", "unit = \"mm\"\n[deck]");
    let base = accepted(&text).base.expect("a base");
    assert_eq!(base.support.kind, SupportKind::Block);
    assert_eq!(base.support.goods, goods("deck block", None));
    assert_eq!((base.inset, base.row_spacing), (Length::from_mm(150), None));
    let gravel = base.gravel.expect("stone");
    assert_eq!(gravel.portion.volume, Volume::CUBIC_METRE);
    assert_eq!(
        (gravel.beyond, gravel.compaction),
        (Length::ZERO, Percent(0))
    );
}

#[test]
fn bases_that_cannot_be() {
    let on = |more: &str| format!("[base]\nsupport = {{ spacing = \"5ft\" }}\n{more}\n");
    let poured = |more: &str| {
        format!("[base]\nsupport = {{ kind = \"footing\", spacing = \"5ft\" }}\n{more}\n")
    };
    let beams = |more: &str| format!("{BEAMS}{}", on(more));
    let cases = [
        "[base]\nload = { live = 40 }\n".to_owned(),
        "[base]\nsupport = { spacing = \"1in\", kind = \"pier\" }\n".to_owned(),
        "[base]\nsupport = { spacing = \"1in\", capacity = 1800 }\n".to_owned(),
        "[base]\nsupport = { spacing = \"5ft\", capacity = \"1800 lb\" }\nsoil = 1500\n".to_owned(),
        on("inset = \"6ft\""),
        on("load = { live = \"40 lb\", dead = 0 }"),
        on("load = { live = 1500, dead = 10 }"),
        on("footing = { side = \"16in\", depth = \"10in\" }"),
        on("bag = { yields = \"0.6\" }"),
        poured("bag = { yields = \"0.6 cu ft\" }"),
        poured("footing = { depth = \"10in\" }"),
        poured("footing = { side = \"16in\", diameter = \"16in\", depth = \"10in\" }"),
        poured("footing = { side = \"16ft\", depth = \"10in\" }"),
        on("post = { size = \"4x4\", height = \"3ft\" }"),
        beams("post = { size = \"6x6\", height = \"3ft\" }"),
        beams("post = { size = \"4x4\" }"),
        beams("post = { size = \"4x4\", height = \"3ft\", heights = [\"3ft\"] }"),
        beams("post = { size = \"4x4\", heights = [] }"),
        beams("post = { size = \"4x4\", heights = [\"3ft\", 0, \"-2in\"] }"),
        beams("post_cap = { price = 3 }\nrow_spacing = \"4ft\""),
        on("gravel = { depth = \"20ft\", beyond = \"50ft\" }"),
        on("gravel = { depth = \"2in\", sold_by = \"bag\" }"),
        on("gravel = { depth = \"2in\", sold_by = \"ton\" }"),
        on("gravel = { depth = \"2in\", bag = \"0.5 cu ft\" }"),
        on("gravel = { depth = \"2in\", sold_by = \"bag\", bag = \"0.5 cu ft\", step = \"half\" }"),
        on("fabric = { width = \"1ft\", roll = \"50ft\", overlap = \"1ft\" }"),
        on("edging = { length = \"1ft\", overlap = \"1ft\" }"),
    ];
    let cases: Vec<&str> = cases.iter().map(String::as_str).collect();
    snapshot!(with(&cases));
}
