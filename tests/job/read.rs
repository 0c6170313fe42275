//! What a job file says is what the job holds, and what it does not say is
//! filled in as documented.

use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::load::Force;
use lastcourse::money::Money;

use super::{SMALL, accepted, read, small_and};

fn inches(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

fn mm(text: &str) -> Length {
    Length::parse(text, Some(Unit::Millimetre)).expect("a length")
}

fn goods(name: &str, pieces: u32, cents: Option<i64>, spare: u32) -> Goods {
    Goods {
        name: name.to_owned(),
        pack: Pack {
            pieces,
            weight: None,
            price: cents.map(Money::from_cents),
        },
        spare: Percent(spare),
    }
}

/// The frame of the job below.
fn every_member() -> FrameRules {
    FrameRules {
        joist: 0,
        rim: 1,
        rims: 2,
        ledger: Some(0),
        double_joists: false,
        blocking: Some(Blocking {
            rows: 2,
            pattern: BlockingPattern::InLine,
            size: 1,
        }),
        beam: Some(Beam {
            size: 1,
            plies: 2,
            at: BeamPlaces::Centres(vec![mm("2000"), mm("4200")]),
        }),
        tape: Some(Roll {
            width: mm("50"),
            roll: mm("20000"),
            overlap: mm("100"),
            price: Some(Money::from_cents(2100)),
        }),
        hanger: Some(Fixing {
            goods: goods("shoe", 10, Some(1800), 1000),
            nails: 8,
        }),
        double_hanger: Some(Fixing {
            goods: goods("hanger for a doubled joist", 1, None, 0),
            nails: 0,
        }),
        tie: Some(Fixing {
            goods: goods("joist tie", 1, Some(80), 0),
            nails: 6,
        }),
        // 2 kg at 310 to the kilogram.
        nail: Some(Goods {
            pack: Pack {
                pieces: 620,
                weight: Some(Force::kilograms_100(200)),
                price: Some(Money::from_cents(750)),
            },
            ..goods("nail", 1, None, 0)
        }),
        fasteners: vec![
            FrameFastener {
                goods: goods("10d nail", 1, None, 1000),
                joist_end: 3,
                blocking_end: 2,
                plies: Some(Plies {
                    spacing: mm("400"),
                    at_each: 2,
                }),
                beam_plies: None,
            },
            FrameFastener {
                goods: Goods {
                    pack: Pack {
                        pieces: 80,
                        weight: Some(Force::pounds_100(250)),
                        price: None,
                    },
                    ..goods("structural screw", 1, None, 0)
                },
                joist_end: 0,
                blocking_end: 0,
                plies: None,
                beam_plies: Some(Plies {
                    spacing: mm("600"),
                    at_each: 1,
                }),
            },
        ],
        ledger_fastener: Some(Spaced {
            goods: goods("ledger fastener", 1, Some(110), 0),
            spacing: mm("400"),
            at_each: 2,
        }),
        flashing: Some(Flashing {
            length: mm("2000"),
            overlap: mm("80"),
            price: Some(Money::from_cents(1400)),
        }),
        preservative: Some(Preservative {
            ends: 90,
            price: Some(Money::from_cents(1300)),
        }),
        kerf: mm("4"),
        end_trim: mm("15"),
    }
}

#[test]
fn every_field_reaches_the_job() {
    let text = r#"
title = "Terrace"
unit = "mm"
currency = "£"
[deck]
along = "6.2m"
across = 4350.5
frame = "built"
tolerance = 3
[edge.first]
wall_clearance = 6
[edge.last]
fascia = 14
overhang = { set = 20, least = -5, most = 30 }
[edge.left]
overhang = -10
allowance = 12
[edge.right]
fascia = 18
[board]
face = 145
face_tolerance = 0.5
uncertainty = 0.25
narrowest_rip = 60
[[fastener]]
name = "  screws  "
gap = { set = 5, least = 4, most = 8 }
tolerance = 0.5
uncertainty = 1
minutes = 0.45
plug = { name = "plug A", pack = 50, pack_price = 7.40 }
course_minutes = 6
kind = "face"
pack = 500
pack_price = "46.80"
spare = "2.5%"
[[fastener]]
name = "clip"
gap = 6
starter = { pack_price = 0.35, spare = "4%" }
per_pound = 60
packs = [{ pieces = 90, price = 24.90 }, { weight = "5.5 lb", price = "84" }]
[[stock]]
item = "board A"
length = 3000
price = 41.5
on_hand = 2
available = 60
bundle = 4
[[stock]]
length = "2.4m"
price_per_metre = 4.6125
[[stock]]
length = 4800
available = 0
on_hand = 1
[[extra]]
label = "stair tread"
length = "900mm"
count = 6
[[extra]]
name = "hatch"
length = 620
count = 4
[[item]]
group = "base"
item = "crushed stone"
count = 2
unit = "M3"
price = "38.50"
[[item]]
group = "Other"
name = "sealer"
count = 1
[joists]
spacing = 450
first = 400
thickness = 45
[courses]
finish = "balanced"
mixed = { fastener = "Clip", gaps = 8 }
[joints]
stagger = 500
stagger_joists = 2
keep_out = [["-10mm", "600mm"], [3000, 3000]]
same_joist_after = 2
repeat = 3
shortest_piece = 800
bearing = 4
end_gap = 3
price = 1
doubled_joist_price = 2.25
[cutting]
kerf = 2.8
end_trim = 10
split_rips = true
rip_kerf = 3.2
[order]
spare = "5%"
contingency = "7.5 %"
delivery = 85
delivery_taxed = true
tax = "19%"
hour = 52.50
budget = "9,000.00"
[[order.stage]]
name = "first"
groups = ["base", "Frame"]
when = "in May"
[[order.stage]]
name = "second"
groups = ["boards"]
[[lumber]]
size = "45x195"
length = 4800
thickness = 45
depth = 195
treated = true
price_per_metre = 5.25
on_hand = 2
available = 40
bundle = 6
[[lumber]]
size = "45x195"
length = 3600
price = 19
treated = true
[[lumber]]
size = "2x10"
length = 5400
price = 41
[frame]
joist = "45X195"
rim = "2x10"
rims = 2
ledger = "45x195"
double_joists = false
blocking = { rows = 2, pattern = "in line", size = "2x10" }
beam = { size = "2x10", plies = 2, positions = [2000, 4200] }
tape = { width = 50, roll = "20m", overlap = 100, price = 21 }
hanger = { name = "shoe", pack = 10, pack_price = 18, spare = "10%", nails = 8 }
double_hanger = {}
tie = { price = 0.80, nails = 6 }
nail = { name = "nail", pack = "2kg", per_kg = 310, pack_price = 7.50 }
ledger_fastener = { spacing = 400, at_each = 2, price = 1.10 }
flashing = { length = "2m", overlap = 80, price = 14 }
preservative = { ends = 90, price = 13 }
kerf = 4
end_trim = 15
[[frame.fastener]]
name = "10d nail"
joist_end = 3
blocking_end = 2
plies = { spacing = 400, at_each = 2 }
spare = "10%"
[[frame.fastener]]
name = "structural screw"
beam_plies = { spacing = 600 }
pack = "2.5 lbs"
per_lb = 32
"#;
    let open = |fascia, set, least, most, allowance| Edge::Open {
        fascia: mm(fascia),
        overhang: Span {
            set: mm(set),
            least: mm(least),
            most: mm(most),
        },
        allowance: mm(allowance),
    };
    let expected = Job {
        title: "Terrace".to_owned(),
        unit: Unit::Millimetre,
        currency: "£".to_owned(),
        deck: Frame {
            along: mm("6200"),
            across: mm("4350.5"),
            built: true,
            tolerance: mm("3"),
            diagonals: None,
        },
        edges: Edges {
            first: Edge::Wall { clearance: mm("6") },
            last: open("14", "20", "-5", "30", "0"),
            left: open("0", "-10", "-10", "-10", "12"),
            right: open("18", "0", "0", "0", "0"),
        },
        board: Board {
            face: mm("145"),
            face_tolerance: mm("0.5"),
            uncertainty: mm("0.25"),
            narrowest_rip: mm("60"),
            movement: None,
        },
        fasteners: vec![
            Fastener {
                name: "screws".to_owned(),
                gap: Span {
                    set: mm("5"),
                    least: mm("4"),
                    most: mm("8"),
                },
                tolerance: mm("0.5"),
                uncertainty: mm("1"),
                kind: FastenerKind::Face,
                packs: vec![Pack {
                    pieces: 500,
                    weight: None,
                    price: Some(Money::from_cents(4680)),
                }],
                spare: Percent(250),
                trial: None,
                time: FastenerTime {
                    each: 45,
                    course: 600,
                },
                starter: None,
                plug: Some(goods("plug A", 50, Some(740), 0)),
            },
            Fastener {
                packs: vec![
                    Pack {
                        pieces: 90,
                        weight: None,
                        price: Some(Money::from_cents(2490)),
                    },
                    Pack {
                        pieces: 330,
                        weight: Some(Force::pounds_100(550)),
                        price: Some(Money::from_cents(8400)),
                    },
                ],
                starter: Some(goods("starter clip", 1, Some(35), 400)),
                ..Fastener::leaving("clip", mm("6"))
            },
        ],
        stock: vec![
            Stock {
                item: Some("board A".to_owned()),
                length: mm("3000"),
                price: Some(Money::from_cents(4150)),
                on_hand: 2,
                available: Some(60),
                bundle: 4,
            },
            // 2.4 m at 4.6125 is 11.07 exactly.
            Stock::bought(mm("2400"), Money::from_cents(1107)),
            Stock {
                item: None,
                length: mm("4800"),
                price: None,
                on_hand: 1,
                available: Some(0),
                bundle: 1,
            },
        ],
        stairs: Vec::new(),
        stair_goods: Vec::new(),
        extras: vec![
            Extra {
                label: "stair tread".to_owned(),
                length: mm("900"),
                count: 6,
            },
            Extra {
                label: "hatch".to_owned(),
                length: mm("620"),
                count: 4,
            },
        ],
        joists: Joists::Spaced {
            spacing: mm("450"),
            first: mm("400"),
            thickness: mm("45"),
        },
        courses: CourseRules {
            finish: Finish::Balanced,
            mixed: Some(Mixed {
                fastener: 1,
                gaps: 8,
            }),
        },
        joints: JointRules {
            stagger: mm("500"),
            stagger_joists: 2,
            keep_out: vec![
                Zone {
                    from: mm("-10"),
                    to: mm("600"),
                },
                Zone {
                    from: mm("3000"),
                    to: mm("3000"),
                },
            ],
            same_joist_after: 2,
            repeat: Some(3),
            shortest_piece: mm("800"),
            bearing: 4,
            end_gap: mm("3"),
            price: Money::from_cents(100),
            doubled_joist_price: Money::from_cents(225),
        },
        cutting: Cutting {
            kerf: mm("2.8"),
            end_trim: mm("10"),
            split_rips: true,
            rip_kerf: mm("3.2"),
        },
        order: OrderRules {
            spare: Spare::Culled(Percent(500)),
            contingency: Percent(750),
            delivery: Some(Money::from_cents(8_500)),
            delivery_taxed: true,
            tax: Percent(1_900),
            hour: Some(Money::from_cents(5_250)),
            budget: Some(Money::from_cents(900_000)),
            stages: vec![
                Stage {
                    name: "first".to_owned(),
                    groups: vec![Group::Base, Group::Frame],
                    when: Some("in May".to_owned()),
                },
                Stage {
                    name: "second".to_owned(),
                    groups: vec![Group::Boards],
                    when: None,
                },
            ],
            items: vec![
                Item {
                    group: Group::Base,
                    item: "crushed stone".to_owned(),
                    count: 2,
                    unit: SoldBy::new("m³", "m³"),
                    price: Some(Money::from_cents(3850)),
                },
                Item {
                    group: Group::Other,
                    item: "sealer".to_owned(),
                    count: 1,
                    unit: SoldBy::PIECE,
                    price: None,
                },
            ],
        },
        prices: PriceList::default(),
        alternatives: Vec::new(),
        lumber: vec![
            Lumber {
                size: "45x195".to_owned(),
                thickness: mm("45"),
                depth: mm("195"),
                treated: true,
                stock: vec![
                    Stock {
                        item: None,
                        length: mm("4800"),
                        // 5.25 x 4.8
                        price: Some(Money::from_cents(2520)),
                        on_hand: 2,
                        available: Some(40),
                        bundle: 6,
                    },
                    Stock::bought(mm("3600"), Money::from_cents(1900)),
                ],
            },
            Lumber {
                size: "2x10".to_owned(),
                thickness: inches("1-1/2in"),
                depth: inches("9-1/4in"),
                treated: false,
                stock: vec![Stock::bought(mm("5400"), Money::from_cents(4100))],
            },
        ],
        frame: Some(every_member()),
        fascia: None,
        base: None,
        codes: None,
        guards: Guards::default(),
        readings: Vec::new(),
    };
    let checked = read(text, &[]).expect("a job");
    assert_eq!(checked.job, expected);
    assert_eq!(checked.findings.problems, []);
}

#[test]
fn what_is_not_said_is_what_a_job_in_rust_starts_with() {
    let mut expected = Job::rectangle(
        Unit::Inch,
        inches("20ft"),
        inches("13ft 2in"),
        inches("5-1/2in"),
        inches("3/16in"),
    );
    expected.fasteners[0].name = "slim clip".to_owned();
    assert_eq!(accepted(SMALL), expected);
    assert_eq!(expected.joints.stagger, inches("24in"));
    assert_eq!(
        (expected.joints.bearing, expected.joints.same_joist_after),
        (3, 1)
    );
    assert_eq!(expected.cutting.kerf, inches("1/8in"));
    assert_eq!(expected.cutting.rip_kerf, inches("1/8in"));
    assert_eq!(expected.board.narrowest_rip, inches("2in"));

    let metric = accepted(&format!("unit = \"mm\"\n{SMALL}"));
    assert_eq!(metric.joints.stagger, mm("600"));
    assert_eq!(metric.cutting.kerf, mm("3"));
    assert_eq!(metric.board.narrowest_rip, mm("50"));
    assert_eq!(
        metric.joists,
        Joists::Spaced {
            spacing: mm("400"),
            first: mm("400"),
            thickness: mm("38")
        }
    );
}

#[test]
fn the_first_inner_joist_stands_one_spacing_in() {
    let job = accepted(&small_and("[joists]\nspacing = 12\n"));
    let Joists::Spaced { spacing, first, .. } = job.joists else {
        panic!("joists at a spacing");
    };
    assert_eq!((spacing, first), (inches("12"), inches("12")));
}

#[test]
fn positions_are_all_the_joists_there_are() {
    let job = accepted(&small_and(
        "[joists]\npositions = [\"3/4in\", 120, \"19ft\"]\n",
    ));
    assert_eq!(
        job.joists,
        Joists::Positions {
            centres: vec![inches("3/4"), inches("120"), inches("228")],
            spacing: None,
            thickness: inches("1-1/2"),
        }
    );
}

/// A 2x8 is 1-1/2 in thick, 38.1 mm, which metric tables print as 38 mm (PS 20-20,
/// table 3, from memory).
#[test]
fn joists_of_a_nominal_size_are_as_thick_as_metric_tables_print_them() {
    let framed = |joists: &str| {
        format!(
            "unit = \"mm\"\n[deck]\nalong = 6000\nacross = 4000\n[board]\nface = 145\n\
             [[fastener]]\nname = \"spacer\"\ngap = 5\n[[lumber]]\nsize = \"2x8\"\n\
             length = 4200\nprice = 20\n[frame]\njoist = \"2x8\"\n[joists]\n{joists}\n"
        )
    };
    for joists in ["", "thickness = 38", "thickness = 38.1"] {
        accepted(&framed(joists));
    }
    for joists in ["thickness = 39", "thickness = 38.5"] {
        assert!(read(&framed(joists), &[]).is_err(), "{joists}");
    }
}

#[test]
fn a_length_price_is_rounded_half_up_for_each_board() {
    let job = accepted(&small_and(
        "[[stock]]\nlength = \"12ft\"\nprice_per_foot = 2.5938\n\
         [[stock]]\nlength = \"10ft\"\nprice_per_foot = \"2.0005\"\n\
         [[stock]]\nlength = \"10ft\"\nprice_per_foot = 2.0004\navailable = 1\n",
    ));
    // Computed: 12 x 2.5938 = 31.1256; 10 x 2.0005 = 20.005; 10 x 2.0004 = 20.004.
    let prices: Vec<_> = job
        .stock
        .iter()
        .map(|stock| stock.price.map(Money::cents))
        .collect();
    assert_eq!(prices, [Some(3113), Some(2001), Some(2000)]);
}

#[test]
fn the_trades_other_words_are_understood() {
    let text = "units = \"in\"\n\
        [deck]\nalong = 240\nacross = 158\n\
        [edges.first]\nclearance = 1\n[edges.last]\nnosing = 2\n\
        [board]\nwidth = 5.5\n\
        [[fasteners]]\nname = \"clip\"\ngap = 0.1875\n\
        [[boards]]\nlength = 192\nprice_per_ft = 3\n\
        [joist]\non_center = 12\n[saw]\nkerf = 0.25\n";
    let job = accepted(text);
    assert_eq!(job.edges.first, Edge::wall(inches("1")));
    assert_eq!(job.edges.last, Edge::open(inches("2")));
    assert_eq!(job.board.face, inches("5-1/2"));
    assert_eq!(
        job.stock,
        [Stock::bought(inches("16ft"), Money::from_cents(4800))]
    );
    assert_eq!(job.cutting.kerf, inches("1/4"));
}

#[track_caller]
fn trial(fastener: &str) -> Fastener {
    let text = SMALL.replace("gap  = \"3/16in\"\n", fastener);
    accepted(&text).fasteners.remove(0)
}

#[test]
fn a_trial_replaces_the_stated_gap_and_brings_its_own_uncertainty() {
    // Computed: ten boards of 5-1/2 in over 4 ft 8-11/16 in leave nine gaps of 3/16 in.
    let over = "trial = { boards = 10, over = \"4ft 8-11/16in\" }\n";
    let measured = trial(&format!("uncertainty = \"1/8in\"\n{over}"));
    assert_eq!(measured.gap, Span::fixed(inches("3/16")));
    assert_eq!(
        measured.trial,
        Some(Trial {
            boards: 10,
            over: inches("56-11/16")
        })
    );
    // A sixteenth of an inch of reading, 12,700 units, shared among nine gaps.
    assert_eq!(measured.uncertainty, Length::from_units(1_411));

    let fixed = trial(&format!("gap = \"1/4in\"\n{over}"));
    assert_eq!(fixed.gap, Span::fixed(inches("3/16")));

    let held = trial(&format!(
        "gap = {{ set = 0.25, least = 0.125, most = 0.25 }}\n{over}"
    ));
    assert_eq!(
        held.gap,
        Span {
            set: inches("3/16"),
            least: inches("1/8"),
            most: inches("1/4")
        }
    );

    let widened = trial(&format!(
        "gap = {{ set = 0.25, least = 0.25, most = 0.3 }}\n{over}"
    ));
    assert_eq!(
        widened.gap,
        Span {
            set: inches("3/16"),
            least: inches("3/16"),
            most: inches("0.3")
        }
    );
}

#[test]
fn a_metric_trial_is_read_to_a_millimetre_and_a_half() {
    let text = "unit = \"mm\"\n[deck]\nalong = 6000\nacross = 4000\n[board]\nface = 145\n\
        [[fastener]]\nname = \"clip\"\ntrial = { boards = 11, over = 1650 }\n";
    let fastener = accepted(text).fasteners.remove(0);
    assert_eq!(fastener.gap, Span::fixed(mm("5.5")));
    assert_eq!(fastener.uncertainty, mm("0.15"));
}

#[test]
fn spare_boards_are_counted_or_culled() {
    let spare = |text: &str| {
        accepted(&small_and(&format!("[order]\nspare = {text}\n")))
            .order
            .spare
    };
    assert_eq!(spare("2"), Spare::Boards(2));
    assert_eq!(spare("\"7.5 %\""), Spare::Culled(Percent(750)));
}

#[test]
fn words_of_choice_may_be_typed_freely() {
    let job = accepted(&small_and("[courses]\nfinish = \"Leave Out\"\n"));
    assert_eq!(job.courses.finish, Finish::LeaveOut);
}

#[test]
fn a_file_with_other_line_ends_reads_the_same() {
    assert_eq!(accepted(&SMALL.replace('\n', "\r\n")), accepted(SMALL));
}
