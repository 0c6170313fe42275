//! Readings of a tape and diagonals in a job file.

use lastcourse::job::{Tape, TapeReading};
use lastcourse::length::{Length, Unit};

use super::{accepted, read, small_and};

fn inch(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

#[test]
fn readings_are_taken_as_they_were_read_by_course() {
    let job = accepted(&small_and(
        "[[reading]]\nafter = 9\nleft = \"4ft 3-1/8in\"\nright = \"4ft 3-1/4in\"\ngap = \"1/4in\"\n\
         [[reading]]\nafter = 5\nat = 28.25\n",
    ));
    let first = TapeReading {
        after: 5,
        tape: Tape::Once(inch("28-1/4")),
        gap: None,
    };
    let second = TapeReading {
        after: 9,
        tape: Tape::Ends {
            left: inch("51-1/8"),
            right: inch("51-1/4"),
        },
        gap: Some(inch("1/4")),
    };
    assert_eq!(job.readings, [first, second]);
    assert_eq!(job.readings[1].tape.middle(), inch("51-3/16"));
    assert_eq!(accepted(super::SMALL).readings, []);
}

#[test]
fn diagonals_are_two() {
    let set = "deck.diagonals=[\"23ft 11-5/8in\", \"24ft\"]";
    let job = read(super::SMALL, &[set]).expect("a job").job;
    assert_eq!(job.deck.diagonals, Some([inch("287-5/8"), inch("288")]));
    for set in [
        "deck.diagonals=[\"24ft\"]",
        "deck.diagonals=24ft",
        "deck.diagonals=[1, 0]",
    ] {
        assert!(read(super::SMALL, &[set]).is_err(), "{set}");
    }
}

#[test]
fn readings_that_cannot_be_are_told() {
    let text = small_and(
        "[[reading]]\nafter = 9\nat = \"4ft 3in\"\nleft = \"4ft 3in\"\n\
         [[reading]]\nafter = 9\nleft = \"4ft 3in\"\n\
         [[reading]]\nafter = 40\nat = \"15ft\"\n\
         [[reading]]\nafter = 0\n\
         [[reading]]\nafter = 3\n\
         [deck.x]\n",
    );
    let findings = read(&text, &[]).expect_err("mistakes");
    snapshot!(findings.to_string());
}
