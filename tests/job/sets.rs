//! Changes by path and value: for one reading, and in a file written anew.

use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;

use super::{SMALL, read, small_and};

fn inches(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

#[track_caller]
fn changed(text: &str, sets: &[&str]) -> Job {
    match read(text, sets) {
        Ok(checked) => checked.job,
        Err(findings) => panic!("refused:\n{findings}"),
    }
}

#[track_caller]
fn refused(text: &str, sets: &[&str]) -> String {
    match read(text, sets) {
        Ok(_) => panic!("accepted"),
        Err(findings) => findings.to_string(),
    }
}

#[test]
fn a_set_counts_as_if_the_file_said_so() {
    let job = changed(
        SMALL,
        &[
            "deck.across=13ft 4in",
            "title=22 by 13 = a lot",
            "edge.last.overhang={ set = 1, least = 0.5, most = 2 }",
            "fastener.slim clip.gap=1/4in",
            "joists.positions=[1, 120, 239]",
            "cutting.split_rips=true",
            "joints.price=$1.50",
            "order.spare=5%",
            "board.face_tolerance = 0.03125 ",
        ],
    );
    assert_eq!(job.deck.across, inches("160"));
    assert_eq!(job.title, "22 by 13 = a lot");
    let overhang = Span {
        set: inches("1"),
        least: inches("1/2"),
        most: inches("2"),
    };
    assert!(matches!(job.edges.last, Edge::Open { overhang: o, .. } if o == overhang));
    assert_eq!(job.fasteners[0].gap, Span::fixed(inches("1/4")));
    assert!(matches!(job.joists, Joists::Positions { centres, .. } if centres.len() == 3));
    assert!(job.cutting.split_rips);
    assert_eq!(job.joints.price, Money::from_cents(150));
    assert_eq!(job.order.spare, Spare::Culled(Percent(500)));
    assert_eq!(job.board.face_tolerance, inches("1/32"));
}

#[test]
fn one_of_several_is_named_or_counted() {
    let text = small_and(
        "[[fastener]]\nname = \"No. 8 screw\"\ngap = 0.25\n[[fastener]]\nname = \"No. 8\"\ngap = 0.25\n\
         [[stock]]\nlength = \"12ft\"\nprice = 30\n[[stock]]\nlength = \"16ft\"\nprice = 40\n",
    );
    let gap = |set: &str| -> Vec<Length> {
        changed(&text, &[set])
            .fasteners
            .iter()
            .map(|fastener| fastener.gap.set)
            .collect()
    };
    let [slim, wide, new] = ["3/16", "1/4", "1/8"].map(inches);
    assert_eq!(gap("fastener.Slim Clip.gap=1/8"), [new, wide, wide]);
    assert_eq!(gap("fastener.No. 8 screw.gap=1/8"), [slim, new, wide]);
    assert_eq!(gap("fastener.No. 8.gap=1/8"), [slim, wide, new]);
    assert_eq!(gap("fastener.\"No. 8\".gap=1/8"), [slim, wide, new]);
    assert_eq!(gap("fastener.2.gap=1/8"), [slim, new, wide]);

    let job = changed(
        &text,
        &[
            "stock.2.price=45",
            "stock.3.length=20ft",
            "stock.3.price=60",
        ],
    );
    let prices: Vec<_> = job
        .stock
        .iter()
        .map(|stock| stock.price.map(Money::cents))
        .collect();
    assert_eq!(prices, [Some(3000), Some(4500), Some(6000)]);

    let packs = |sets: &[&str]| -> Vec<(u32, i64)> {
        let packs = changed(&text, sets).fasteners.remove(1).packs;
        let cents = |pack: Pack| pack.price.map_or(-1, Money::cents);
        packs
            .iter()
            .map(|&pack| (pack.pieces, cents(pack)))
            .collect()
    };
    let both =
        "fastener.No. 8 screw.packs=[{ pieces = 90, price = 25 }, { pieces = 350, price = 84 }]";
    assert_eq!(packs(&[both]), [(90, 2500), (350, 8400)]);
    assert_eq!(
        packs(&[both, "fastener.No. 8 screw.packs.2.price=79"]),
        [(90, 2500), (350, 7900)]
    );
    assert_eq!(
        packs(&["fastener.2.packs.1.pieces=50", "fastener.2.packs.1.price=9"]),
        [(50, 900)]
    );
    // A price alone is that of a piece, a size alone that of a pack without one.
    assert_eq!(packs(&["fastener.2.price=0.30"]), [(1, 30)]);
    assert_eq!(packs(&["fastener.2.pack=90"]), [(90, -1)]);
}

#[test]
fn a_table_asked_for_in_brackets_is_told_as_it_is_written() {
    let text = small_and("[[stock]]\nlength = \"12ft\"\nprice = 30\n");
    for (set, help) in [
        (
            "fastener[0].gap=1/8",
            "tables are counted from 1: `fastener.1.gap` is the one meant",
        ),
        (
            "stock[0].price=31",
            "tables are counted from 1: `stock.1.price` is the one meant",
        ),
        (
            "fastener[slim clip].gap=1/8",
            "write `fastener.slim clip.gap`",
        ),
    ] {
        let said = refused(&text, &[set]);
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(help), "{said}");
    }
    assert!(!refused(&text, &["deck[0].along=9ft"]).contains("counted from 1"));
}

#[test]
fn a_plain_length_moves_within_its_range_and_not_out_of_it() {
    let text = small_and("[edge.last]\noverhang = { set = 1, least = 0.5, most = 1.5 }\n");
    let job = changed(&text, &["edge.last.overhang=3/4"]);
    let moved = Span {
        set: inches("3/4"),
        least: inches("1/2"),
        most: inches("1-1/2"),
    };
    assert!(matches!(job.edges.last, Edge::Open { overhang, .. } if overhang == moved));

    let said = refused(&text, &["edge.last.overhang=2"]);
    assert!(said.contains("is 2 in, above its most, 1-1/2 in"), "{said}");
    assert!(said.contains("--set:1:20"), "{said}");

    let job = changed(
        &text,
        &["edge.last.overhang=2", "edge.last.overhang.most=2"],
    );
    assert!(matches!(job.edges.last, Edge::Open { overhang, .. } if overhang.set == inches("2")));
}

#[test]
fn a_plain_length_can_be_given_a_range() {
    let job = changed(
        SMALL,
        &["fastener.1.gap.most=1/4", "fastener.1.gap.least=1/8"],
    );
    let range = Span {
        set: inches("3/16"),
        least: inches("1/8"),
        most: inches("1/4"),
    };
    assert_eq!(job.fasteners[0].gap, range);
}

#[test]
fn an_empty_value_takes_a_field_out() {
    let text = small_and("[edge.last]\nwall_clearance = 1\n");
    let job = changed(
        &text,
        &["edge.last.wall_clearance=", "edge.last.overhang=1"],
    );
    assert_eq!(job.edges.last, Edge::open(inches("1")));
    // What is not there can be taken out too.
    assert_eq!(changed(SMALL, &["edge.left.fascia="]), changed(SMALL, &[]));
}

#[test]
fn a_gap_that_is_set_counts_before_a_measured_one() {
    let text = small_and("trial = { boards = 10, over = \"4ft 8in\" }\n");
    let checked = read(&text, &["fastener.slim clip.gap=1/4"]).expect("a job");
    let fastener = &checked.job.fasteners[0];
    assert_eq!(
        (fastener.gap, fastener.trial),
        (Span::fixed(inches("1/4")), None)
    );
    assert_eq!(checked.findings.problems.len(), 1);
    assert!(checked.findings.problems[0].message.contains("trial"));
    let inline = "deck = { along = 240, across = 158 }\nboard = { face = 5.5 }\n\
        fastener = [{ name = \"a\", gap = 0.2, trial = { boards = 3, over = 17 } }]\n";
    let job = changed(inline, &["fastener.a.gap=1/4"]);
    assert_eq!(
        (job.fasteners[0].gap, job.fasteners[0].trial),
        (Span::fixed(inches("1/4")), None)
    );
    // Its range alone leaves the measured gap what it is.
    let range = read(&text, &["fastener.slim clip.gap.most=1/4"]).expect("a job");
    assert!(range.job.fasteners[0].trial.is_some());
}

#[test]
fn the_unit_can_be_set_and_bare_numbers_follow() {
    let text = SMALL
        .replace("\"20ft\"", "6000")
        .replace("\"13ft 2in\"", "4000");
    let job = changed(&text, &["unit=mm"]);
    assert_eq!(job.deck.along, Length::from_mm(6000));
}

#[test]
fn an_alias_in_the_file_is_the_field_itself() {
    let text = SMALL.replace("face", "width");
    assert_eq!(changed(&text, &["board.face=6"]).board.face, inches("6"));
}

#[test]
fn paths_that_lead_nowhere_say_where_they_went_wrong() {
    let text = small_and("[[stock]]\nlength = \"16ft\"\nprice = 40\n");
    let sets = [
        "deck.acros=1",
        "fastener.slim clop.gap=1",
        "stock.3.price=4",
        "stock.1=4",
        "stock.first.price=4",
        "title.x=4",
        "edge.last.overhang.mots=4",
        "deck=[1, 2",
        "joints.kerf=1",
        ".=1",
    ];
    snapshot!(refused(&text, &sets));
}

#[test]
fn a_problem_in_a_set_value_points_at_the_option() {
    let sets = [
        "deck.across=thirteen",
        "fastener.slim clip.gap=1/4 inn",
        "edge.left.overhang={ set = 1, leest = 0 }",
        "order.spare=many",
        "edge.last.wall_clearance=-1",
        "stock.1.length=20ft",
    ];
    snapshot!(refused(SMALL, &sets));
}

#[track_caller]
fn written(text: &str, sets: &[&str], expected: &str) {
    let sets: Vec<Set> = sets
        .iter()
        .map(|set| Set::parse(set).expect("a set"))
        .collect();
    match edit::apply(text, &sets) {
        Ok(new) => assert_eq!(new, expected),
        Err(findings) => panic!("refused:\n{findings}"),
    }
}

#[test]
fn a_file_written_anew_keeps_its_comments_and_order() {
    written(
        "# Ours\n[deck] # the frame\nacross = \"13ft\"  # measured\nalong = 240\n\n[board]\nface = 5.5\n",
        &[
            "deck.across=13ft 4in",
            "deck.along=250",
            "edge.last.overhang=1/2in",
            "deck.frame=built",
        ],
        "# Ours\n[deck] # the frame\nacross = \"13ft 4in\"  # measured\nalong = 250\nframe = \"built\"\n\n\
         [board]\nface = 5.5\n\n[edge.last]\noverhang = \"1/2in\"\n",
    );
    written(
        "[[fastener]]\nname = \"a\"\ngap = { set = 1, least = 0, most = 2 } # free\ntrial = { boards = 3, over = 9 }\n",
        &["fastener.a.gap=2", "fastener.2.name=b"],
        "[[fastener]]\nname = \"a\"\ngap = { set = 2, least = 0, most = 2 } # free\n\n[[fastener]]\nname = \"b\"\n",
    );
    written(
        "fastener = [{ name = \"a\", gap = 1 }]\n",
        &["fastener.a.gap=2", "fastener.a.gap.most=3"],
        "fastener = [{ name = \"a\", gap = { set = 2, most = 3 } }]\n",
    );
}

#[test]
fn a_file_written_anew_reads_as_the_sets_did() {
    let sets = [
        "fastener.slim clip.gap=0.2",
        "deck.across=13ft 3in",
        "courses.finish=balanced",
    ];
    let parsed: Vec<Set> = sets
        .iter()
        .map(|set| Set::parse(set).expect("a set"))
        .collect();
    let text = edit::apply(EXAMPLE, &parsed).expect("a text");
    assert_eq!(changed(&text, &[]), changed(EXAMPLE, &sets));
}

#[test]
fn a_name_may_have_anything_in_it() {
    for name in ["a = b", "a.gap", "7", "it's", "half \"open\""] {
        let text = small_and(&format!("[[fastener]]\nname = '''{name}'''\ngap = 1\n"));
        let job = changed(&text, &[]);
        let path = job.fastener_path(1, "gap");
        let job = changed(&text, &[&format!("{path}=1/4in")]);
        assert_eq!(job.fasteners[1].gap, Span::fixed(inches("1/4")), "{path}");
        assert_eq!(job.fastener_path(0, "gap"), "fastener.slim clip.gap");
    }
}

#[test]
fn a_set_without_a_path_or_value_is_refused() {
    for text in ["", "deck.across", "=3", "  =3"] {
        assert!(Set::parse(text).is_err(), "{text}");
    }
}
