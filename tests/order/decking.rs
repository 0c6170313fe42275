//! Boards held against what codes say of decking: how far apart joists may be
//! under them, and on how many of them each piece lies.

use crate::codes::{compared, compared_as, is_within, rules, uncovered};
use crate::common::{job, stock};
use crate::{at, best};
use lastcourse::codes::tables::{self, Spans};
use lastcourse::codes::{Amount, Check, Finding, Outcome};
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};

/// A deck whose widest joist spacing is exactly this.
fn spaced(decking: Decking, spacing: Length) -> Job {
    let mut job = job(spacing * 4, at("10ft"));
    job.joists = Joists::Positions {
        centres: (0..5).map(|k| spacing * k).collect(),
        spacing: None,
        thickness: at("1-1/2in"),
    };
    job.codes = Some(CodeRules {
        edition: Some(Edition::Irc2018),
        decking: Some(decking),
        ..CodeRules::default()
    });
    job
}

#[test]
fn joists_under_boards() {
    for edition in [Edition::Irc2015, Edition::Irc2018] {
        for (decking, spacing, within) in [
            (Decking::FiveQuarter, "16in", true),
            (Decking::FiveQuarter, "16.01in", false),
            (Decking::TwoInch, "24in", true),
            (Decking::TwoInch, "24.01in", false),
            // 5/4 is 1 in as it lies, and 2 in lumber 1-1/2 (PS 20-20, Table 3, memory).
            (Decking::Thick(at("1in")), "16in", true),
            (Decking::Thick(at("1-7/16in")), "24in", false),
            (Decking::Thick(at("1-1/2in")), "24in", true),
        ] {
            let mut job = spaced(decking, at(spacing));
            rules(&mut job).edition = Some(edition);
            assert_eq!(
                is_within(&job, Check::JoistSpacing),
                within,
                "{decking:?} {spacing}"
            );
        }
    }
    // Composite by its own listing only (R507.2); thinner wood is in no table.
    for decking in [Decking::Composite, Decking::Thick(at("15/16in"))] {
        let mut job = spaced(decking, at("12in"));
        uncovered(&job, Check::JoistSpacing);
        rules(&mut job).decking_most = Some(at("12in"));
        assert!(is_within(&job, Check::JoistSpacing));
        rules(&mut job).decking_most = Some(at("11-7/8in"));
        assert!(!is_within(&job, Check::JoistSpacing));
    }
    // The deck guide's is not known here, nor what no board is said to be.
    let mut job = spaced(Decking::TwoInch, at("12in"));
    rules(&mut job).edition = Some(Edition::Dca6);
    uncovered(&job, Check::JoistSpacing);
    let mut job = spaced(Decking::TwoInch, at("12in"));
    rules(&mut job).decking = None;
    uncovered(&job, Check::JoistSpacing);
    rules(&mut job).edition = None;
    assert_eq!(compared(&job), []);
}

#[test]
fn the_codes_tables_of_decking() {
    // International Residential Code 2018, Table R507.7 and note a, as a city's
    // record reproduces it; 2015, Table R507.4, from memory: 5/4 boards 16 in square
    // to the joists and 12 in diagonal, which is up to 45 degrees from square; 2 in
    // boards 24 and 16.
    for edition in [Edition::Irc2015, Edition::Irc2018] {
        for (thick, degrees, spacing, within) in [
            (false, 0, "16in", true),
            (false, 0, "16.01in", false),
            (false, 45, "12in", true),
            (false, 45, "16in", false),
            (false, 1, "12.01in", false),
            (true, 0, "24in", true),
            (true, 45, "16in", true),
            (true, 45, "19.2in", false),
        ] {
            let table = tables::decking(edition, thick).expect("a table");
            for spans in [Spans::Single, Spans::Several] {
                let most = table.most(degrees, spans).expect("a spacing");
                assert_eq!(at(spacing) <= most, within, "{thick} {degrees} {spacing}");
            }
            assert_eq!(table.most(46, Spans::Several), None);
        }
    }
    // International Residential Code 2021, Table R507.7 and its note c, from memory:
    // boards on two joists, square and diagonal, and on three or more.
    for (thick, single, several) in [(false, [12, 8], [16, 12]), (true, [24, 18], [24, 24])] {
        let table = tables::decking(Edition::Irc2021, thick).expect("a table");
        assert!(table.from_memory);
        for (spans, inches) in [(Spans::Single, single), (Spans::Several, several)] {
            let most = [0, 45].map(|degrees| table.most(degrees, spans));
            assert_eq!(most, inches.map(|each| Some(Length::from_inches(each))));
        }
    }
}

/// 40 in of boards on joists 16 in apart, the last one pulled in: at 0, 16, 32 and
/// 40 in; boards of 32 in and their offcuts alone, so that each course is two
/// pieces.
fn two_pieces() -> Job {
    let mut job = job(at("40in"), at("24in"));
    job.joists = Joists::Spaced {
        spacing: at("16in"),
        first: at("16in"),
        thickness: at("0in"),
    };
    job.stock = vec![Stock {
        length: at("33in"),
        ..stock(4, 400)
    }];
    job.joints.end_gap = Length::ZERO;
    job.joints.stagger = Length::ZERO;
    job.joints.shortest_piece = Length::ZERO;
    job.joints.bearing = 2;
    job.codes = Some(CodeRules {
        edition: Some(Edition::Irc2021),
        decking: Some(Decking::FiveQuarter),
        ..CodeRules::default()
    });
    job
}

/// What is compared of the best plan.
fn planned(job: &Job) -> Vec<Finding> {
    compared_as(job, &best(job))
}

#[test]
fn a_piece_on_two_joists_has_the_smaller_limit() {
    // By hand: 40 in out of boards of 33 in is 32 + 8 or 16 + 24 in, and each way
    // one piece spans a single bay: of 8 in beside 32, or of 16 in beside 24.
    let job = two_pieces();
    let spacing = |job: &Job| {
        let found = planned(job).into_iter();
        let found = found.filter(|one| one.check == Check::JoistSpacing);
        let found: Vec<(Amount, Outcome)> = found.map(|one| (one.ours, one.outcome)).collect();
        found
    };
    let most = |inches| Amount::Length(Length::from_inches(inches));
    let found = spacing(&job);
    assert_eq!(found[0], (most(16), Outcome::Within(most(16))));
    // Whichever way the plan goes, the single span is told by its own column.
    match found[1].0 == most(16) {
        true => assert_eq!(found[1].1, Outcome::Beyond(most(12))),
        false => assert_eq!(found[1], (most(8), Outcome::Within(most(12)))),
    }
    assert_eq!(found.len(), 2);
    // With joints kept from the last bay, 16 in on two joists is left.
    let mut forced = two_pieces();
    forced.deck.across = at("5-1/2in");
    forced.joints.keep_out = vec![Zone {
        from: at("30in"),
        to: at("34in"),
    }];
    assert_eq!(spacing(&forced)[1], (most(16), Outcome::Beyond(most(12))));
    let said = planned(&forced)[1].sentence(Unit::Inch);
    assert!(
        said.starts_with("5/4 boards that lie on two joists only lie on joists up to 16 in"),
        "{said}"
    );
    // The older editions have one column; the job's own limit is one too.
    rules(&mut forced).edition = Some(Edition::Irc2018);
    assert_eq!(spacing(&forced), [(most(16), Outcome::Within(most(16)))]);
    rules(&mut forced).edition = Some(Edition::Irc2021);
    rules(&mut forced).decking_most = Some(at("16in"));
    assert_eq!(spacing(&forced).len(), 1);
}

#[test]
fn each_length_lies_on_so_many_joists() {
    let bearing = |job: &Job| {
        let mut found = planned(job).into_iter();
        let found = found.find(|one| one.check == Check::BoardBearing);
        found.map(|found| (found.ours, found.outcome))
    };
    // American Wood Council, DCA 6, decking requirements, as a town's reprint has
    // it: each length of decking on 4 joists at least. Of the two pieces one lies on
    // joists 2 and 3 of four, or on 3 and 4.
    let mut job = two_pieces();
    rules(&mut job).edition = Some(Edition::Dca6);
    let four = Amount::Count(4);
    assert_eq!(
        bearing(&job),
        Some((Amount::Count(2), Outcome::Beyond(four)))
    );
    let mut found = planned(&job).into_iter();
    let found = found.find(|one| one.check == Check::BoardBearing);
    let said = found.expect("a finding").sentence(Unit::Inch);
    assert_eq!(
        said,
        "each length of board lies on 2 joists or more, fewer than 4 joists (DCA 6 (2014, for \
         the IRC 2012), decking requirements; as reprinted by others)"
    );
    // A county's details ask for 3 (Fairfax County, Virginia, as copied by others);
    // whole boards of 40 in lie on all four.
    rules(&mut job).joists_under = Some(3);
    assert_eq!(
        bearing(&job),
        Some((Amount::Count(2), Outcome::Beyond(Amount::Count(3))))
    );
    job.stock = vec![stock(4, 400)];
    assert_eq!(
        bearing(&job),
        Some((four, Outcome::Within(Amount::Count(3))))
    );
    rules(&mut job).joists_under = None;
    assert_eq!(bearing(&job), Some((four, Outcome::Within(four))));
    // The code itself says nothing of it.
    rules(&mut job).edition = Some(Edition::Irc2018);
    assert_eq!(bearing(&job), None);
}

/// Common practice, no source: joists at 12 in on centre are the cautious choice
/// under composite boards.
#[test]
fn composite_without_a_listing_is_told() {
    let mut job = job(at("16ft"), at("12ft"));
    job.codes = None;
    assert_eq!(compared(&job), []);
    job.board.movement = Some(Movement::Composite(Composite {
        coefficient: None,
        laid_at: Temperature::from_tenths_f(600),
        coldest: Temperature::from_tenths_f(0),
        hottest: Temperature::from_tenths_f(1_400),
    }));
    let spaced = |job: &mut Job, spacing: &str| {
        job.joists = Joists::Spaced {
            spacing: at(spacing),
            first: at(spacing),
            thickness: at("1-1/2in"),
        };
        compared(job)
    };
    assert_eq!(spaced(&mut job, "12in"), []);
    let said = spaced(&mut job, "16in")[0].sentence(Unit::Inch);
    assert_eq!(
        said,
        "composite boards lie on joists up to 16 in on centre, over 12 in by 4 in (common \
         practice, no source)"
    );
}

#[test]
fn what_is_known_of_the_code_of_2021_is_its_decking() {
    let mut job = crate::codes::framed(1, "16in", "9ft", &["1-1/2in", "8ft"]);
    rules(&mut job).edition = Some(Edition::Irc2021);
    assert!(is_within(&job, Check::JoistSpacing));
    uncovered(&job, Check::JoistSpan);
    uncovered(&job, Check::JoistCantilever);
}
