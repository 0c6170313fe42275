//! Square frames and skew ones, against published triangles and figures worked
//! out by themselves.

use crate::common::{inches, job};
use lastcourse::job::Job;
use lastcourse::length::{Length, Unit};
use lastcourse::measure::{Asked, Square, measure};

fn inch(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

fn feet(along: i64, across: i64) -> Job {
    job(Length::from_feet(along), Length::from_feet(across))
}

#[track_caller]
fn square(job: &Job, diagonals: Option<[&str; 2]>) -> Square {
    let surface = crate::common::surface_of(job);
    let asked = Asked {
        fastener: 0,
        readings: &[],
        diagonals: diagonals.map(|pair| pair.map(inch)),
        tape: inch("1/16"),
        step: inch("1/64"),
    };
    measure(job, &surface, &asked)
        .expect("no reading to doubt")
        .square
}

#[test]
fn published_triangles_have_their_third_side() {
    // 3-4-5 and its multiples, 15-20-25 as a large one: framing text at
    // boulderlibrary.net.
    for (along, across, diagonal) in [(4, 3, 5), (20, 15, 25), (16, 12, 20)] {
        let square = square(&feet(along, across), None);
        assert_eq!(square.diagonal, Length::from_feet(diagonal));
        assert_eq!(square.on_tape, Length::from_feet(diagonal));
    }
}

#[test]
fn a_tenth_of_a_foot_is_no_inch() {
    // 60 by 100 ft: 116.619 ft, which a post on tractorbynet.com reads as six
    // tenths of an inch; it is 7-7/16 in. The other two are computed.
    for (along, across, tape) in [
        (100, 60, "116ft 7-7/16in"),
        (12, 10, "15ft 7-7/16in"),
        (20, 14, "24ft 4-15/16in"),
    ] {
        assert_eq!(square(&feet(along, across), None).on_tape, inch(tape));
    }
}

#[test]
fn metric_diagonals_are_read_to_the_millimetre() {
    // Computed; no published source: 6200 by 4350 mm make 7573.8 mm.
    let mut job = job(Length::from_mm(6200), Length::from_mm(4350));
    job.unit = Unit::Millimetre;
    assert_eq!(square(&job, None).on_tape, Length::from_mm(7574));
}

#[test]
fn equal_diagonals_are_of_a_square_frame() {
    // A rectangle is square where its diagonals are equal: boulderlibrary.net.
    let skew = square(&feet(16, 12), Some(["20ft", "20ft"]))
        .measured
        .unwrap();
    assert_eq!((skew.across, skew.along), (Length::ZERO, Length::ZERO));
    assert!(skew.misfit.is_none() && skew.accepted);
}

#[test]
fn the_difference_of_the_diagonals_is_how_far_it_is_out() {
    // Offset over the side W of a frame W by L: W d 2 Dm / (4 W L), d the
    // difference of the diagonals and Dm their mean. 12 by 16 ft: 1/4 in is
    // 0.156 in over 12 ft, 1/2 in 0.3125, 1 in 0.625 (computed).
    for (longer, shorter, out) in [
        ("20ft 1/8in", "19ft 11-7/8in", 0.15625),
        ("20ft 1/4in", "19ft 11-3/4in", 0.3125),
        ("20ft 1/2in", "19ft 11-1/2in", 0.625),
    ] {
        let skew = square(&feet(16, 12), Some([longer, shorter]))
            .measured
            .unwrap();
        assert!(
            (skew.across.inches() - out).abs() < 1e-5,
            "{:?}",
            skew.across
        );
        // The same angle over 16 ft.
        assert!((skew.along.inches() - out * 16.0 / 12.0).abs() < 1e-5);
        let other = square(&feet(16, 12), Some([shorter, longer]))
            .measured
            .unwrap();
        assert_eq!(other.across, -skew.across, "the other way");
        assert!(skew.misfit.is_none());
    }
}

#[test]
fn half_an_inch_on_a_triangle_of_12_and_16_ft_is_accepted() {
    // A performance standard for remodelers, as faq.constructionplace.com quotes
    // it: the third side of a triangle of 12 and 16 ft is 20 ft give or take
    // 1/2 in. The angle is then 89.752 to 90.249 degrees (computed), 0.62 in out
    // over 12 ft.
    let skew = square(&feet(16, 12), Some(["20ft 1/2in", "19ft 11-1/2in"]))
        .measured
        .unwrap();
    assert!(skew.accepted);
    let degrees = (skew.across.inches() / 144.0).asin().to_degrees();
    assert!((degrees - 0.249).abs() < 0.001, "{degrees}");
    let skew = square(&feet(16, 12), Some(["20ft 17/32in", "19ft 11-15/32in"]))
        .measured
        .unwrap();
    assert!(!skew.accepted);
    // The same angle on another frame: 6 by 8 ft, 1/4 in.
    let skew = square(&feet(8, 6), Some(["10ft 1/4in", "9ft 11-3/4in"]))
        .measured
        .unwrap();
    assert!(skew.accepted);
}

/// The diagonals of a frame whose last edge is moved sideways, by coordinates.
fn diagonals(along: f64, across: f64, by: f64) -> [Length; 2] {
    // The sides stay as long as they are.
    let height = (across * across - by * by).sqrt();
    [(along + by).hypot(height), (along - by).hypot(height)]
        .map(|inches| Length::from_units((inches * Length::UNITS_PER_INCH as f64).round() as i64))
}

#[test]
fn a_frame_pushed_out_of_square_is_measured_back() {
    for (along, across) in [(268.0, 158.0), (96.0, 144.0), (378.0, 216.0)] {
        for by in [-3.0, -0.25, 0.0625, 0.5, 2.0] {
            let job = job(inches(along as i64), inches(across as i64));
            let asked = Asked {
                fastener: 0,
                readings: &[],
                diagonals: Some(diagonals(along, across, by)),
                tape: inch("1/16"),
                step: inch("1/64"),
            };
            let measured = measure(&job, &crate::common::surface_of(&job), &asked).unwrap();
            let skew = measured.square.measured.unwrap();
            assert!((skew.across.inches() - by).abs() < 1e-4, "{by}: {skew:?}");
            assert!((skew.along.inches() - by * along / across).abs() < 1e-4);
            assert!(skew.misfit.is_none(), "{by}: {skew:?}");
        }
    }
}

#[test]
fn diagonals_of_no_such_frame_are_told() {
    // p² + q² = 2 (a² + b²) in every parallelogram: where one is 20 ft 2 in on a
    // frame of 16 by 12 ft, the other is 238 - 1/60 in (computed).
    let skew = square(&feet(16, 12), Some(["20ft 2in", "20ft 2in"]))
        .measured
        .unwrap();
    let misfit = skew.misfit.expect("a misfit");
    assert_eq!(misfit.by, inch("2"));
    let other = (2.0 * 240.0f64.powi(2) - 242.0f64.powi(2)).sqrt();
    assert!((misfit.second.unwrap().inches() - other).abs() < 1e-5);
    assert_eq!(misfit.first, misfit.second);
    // A frame that may be 2 in off either way may have them.
    let mut loose = feet(16, 12);
    loose.deck.tolerance = inch("2");
    assert!(
        square(&loose, Some(["20ft 2in", "20ft 2in"]))
            .measured
            .unwrap()
            .misfit
            .is_none()
    );
    // No frame at all has a diagonal longer than both of its sides together.
    let skew = square(&feet(16, 12), Some(["40ft", "20ft"]))
        .measured
        .unwrap();
    assert_eq!(skew.misfit.unwrap().second, None);
}
