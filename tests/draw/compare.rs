//! Pictures that compare: how the deck ends with each fastener, joints against
//! money, money over a range of values; their figures against what they are of.

use lastcourse::courses::{Forecast, forecast};
use lastcourse::deck::surface;
use lastcourse::draw::scene::Shape;
use lastcourse::draw::{self, Charted, Forecasts, Layer, Scene, Sheet};
use lastcourse::fit::sweep;
use lastcourse::job::{self, Job, Sweep, edit};
use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::plan::{Curve, CurvePoint, PlanOptions, plan};
use lastcourse::report::Terms;
use lastcourse::watch::Unwatched;

use super::{fixtures, reads_well};

fn ends(job: &Job) -> (Vec<Forecast>, Scene) {
    let surface = surface(job).expect("a surface");
    let forecasts: Vec<Forecast> = (0..job.fasteners.len())
        .map(|fastener| forecast(job, &surface, fastener))
        .collect();
    let scene = draw::forecasts(&Forecasts {
        job,
        forecasts: &forecasts,
        terms: &Terms::of(job, 16),
        sheet: Sheet::of(job.unit),
        date: None,
    });
    (forecasts, scene)
}

/// How wide the boards of a layer are drawn, in the order they are drawn.
fn widths(scene: &Scene) -> Vec<i64> {
    let boards = scene
        .items
        .iter()
        .filter(|item| matches!(item.layer, Layer::Board | Layer::Ripped) && item.name.is_some());
    boards.map(|item| item.bounds().width()).collect()
}

#[test]
fn ends_are_drawn_as_the_forecast_has_them() {
    for (name, job, _) in fixtures() {
        let (forecasts, scene) = ends(&job);
        reads_well(&name, &scene);
        let scale: i64 = scene
            .texts()
            .find_map(|text| text.words.strip_prefix("Scale 1:"))
            .map(|words| words.split([',', ';']).next().unwrap_or_default())
            .and_then(|words| words.parse().ok())
            .expect("a scale");
        // From the last course back, up to three of each end that there is.
        let expected: Vec<Length> = forecasts
            .iter()
            .flat_map(|forecast| {
                let across = forecast.across;
                let wrong = [forecast.gap_wrong.first(), forecast.gap_wrong.last()];
                let wrong = wrong
                    .into_iter()
                    .flatten()
                    .filter_map(|wrong| wrong.outcome);
                let outcomes = [forecast.outcome].into_iter().chain(wrong);
                outcomes.flat_map(move |outcome| {
                    let courses = (0..outcome.laid).rev().take(3);
                    courses.map(move |k| across.course_width(&outcome, k))
                })
            })
            .collect();
        let drawn = widths(&scene);
        assert_eq!(drawn.len(), expected.len(), "{name}");
        for (drawn, width) in drawn.iter().zip(expected) {
            let exact = width.mm() * 1_000.0 / scale as f64;
            assert!(
                (*drawn as f64 - exact).abs() <= 1.5,
                "{name}: {drawn}, {width}"
            );
        }
        for forecast in &forecasts {
            let fastener = &job.fasteners[forecast.fastener].name;
            let told = scene
                .texts()
                .any(|text| text.words.starts_with(fastener.as_str()));
            assert!(told, "{name}: {fastener}");
        }
    }
}

#[test]
fn many_fasteners_make_a_higher_picture() {
    let (_, mut job, _) = fixtures().remove(0);
    let fastener = job.fasteners[0].clone();
    for more in 0..12 {
        let mut fastener = fastener.clone();
        fastener.name = format!("clip {more}");
        fastener.gap.set = Length::from_64ths(4 + more);
        job.fasteners.push(fastener);
    }
    let (_, scene) = ends(&job);
    reads_well("many", &scene);
}

/// Where the points of a chart are drawn, by what they are called.
fn points(scene: &Scene) -> Vec<(String, i64, i64)> {
    let filled = scene
        .items
        .iter()
        .filter(|item| item.layer == Layer::Filled);
    let named = filled.filter_map(|item| {
        let middle = item.bounds().middle();
        Some((item.name.clone()?, middle.x, middle.y))
    });
    named.collect()
}

fn charted(job: &Job) -> (Terms, Sheet) {
    (Terms::of(job, 16), Sheet::of(job.unit))
}

#[test]
fn a_curve_has_every_point_in_its_place() {
    let (_, job, _) = fixtures().remove(0);
    let (terms, sheet) = charted(&job);
    for points_there in [1_u32, 2, 7, 60, 200] {
        let curve = Curve {
            points: (0..points_there)
                .map(|k| CurvePoint {
                    joints: 20 + k * (1 + k % 3),
                    boards: 40 + k,
                    price: Money::from_cents(300_000 - i64::from(k) * 731),
                    bound: Money::from_cents(300_000 - i64::from(k) * 731 - i64::from(k % 2)),
                })
                .collect(),
            fewest_proven: true,
            complete: false,
            stopped: false,
        };
        let mut curve = curve;
        curve.points.sort_by_key(|point| point.joints);
        curve.points.dedup_by_key(|point| point.joints);
        let asked = Charted {
            job: &job,
            fastener: 0,
            terms: &terms,
            sheet,
            date: Some("12 May"),
        };
        let scene = draw::curve(&asked, &curve);
        reads_well(&format!("{points_there} points"), &scene);
        let drawn = points(&scene);
        assert_eq!(drawn.len(), curve.points.len());
        // Further right with more joints, higher with more money, to scale.
        for (pair, plan) in drawn.windows(2).zip(curve.points.windows(2)) {
            assert!(pair[0].1 < pair[1].1, "{pair:?}");
            let dearer = plan[0].price.cmp(&plan[1].price);
            assert_eq!(pair[1].2.cmp(&pair[0].2), dearer, "{pair:?}");
        }
    }
}

#[test]
fn a_sweep_s_figures_are_those_of_its_plans() {
    let text = std::fs::read_to_string(
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/quince-corner.toml"),
    )
    .expect("a job file");
    let job = job::read(&text, "quince-corner.toml", &[])
        .expect("a job")
        .job;
    let asked = Sweep::parse("deck.across=9ft..9ft6in:1in").expect("a sweep");
    let values: Vec<_> = asked
        .steps(&text, job.unit)
        .expect("values")
        .into_iter()
        .map(|step| {
            let changed = edit::apply(&text, std::slice::from_ref(&step.set)).expect("a text");
            let job = job::read(&changed, "changed", &[]).map(|checked| checked.job);
            (step, job.map_err(|_| "no job".to_owned()))
        })
        .collect();
    let points_found = sweep(values, 0, &|tasks| {
        let options = PlanOptions::default();
        tasks
            .iter()
            .map(|task| plan(&task.job, &options, &Unwatched).map(|plan| plan.totals))
            .collect()
    });
    let (terms, sheet) = charted(&job);
    let asked_for = Charted {
        job: &job,
        fastener: 0,
        terms: &terms,
        sheet,
        date: None,
    };
    let scene = draw::sweep(&asked_for, "deck.across", &points_found);
    reads_well("sweep", &scene);
    assert_eq!(points(&scene).len(), points_found.len());
    for point in &points_found {
        let cost = terms.money(point.plan.as_ref().expect("a plan").cost);
        assert!(scene.texts().any(|text| text.words == cost), "{cost}");
    }
    let accents = scene
        .items
        .iter()
        .filter(|item| item.layer == Layer::Accent && matches!(item.shape, Shape::Rect(_)));
    let cheapest = points_found.iter().filter(|point| point.cheapest).count();
    assert_eq!(accents.count(), cheapest);
}
