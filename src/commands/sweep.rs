//! `lastcourse plan --sweep`: what a job comes to over a range of values.

use std::io::Write;

use lastcourse::draw::{self, Charted};
use lastcourse::fit::{Point, sweep};
use lastcourse::job::{Findings, Sweep, edit, message};
use lastcourse::plan::PlanOptions;
use lastcourse::report::{Page, Terms, json, sweep as report};
use lastcourse::text::shell_word;

use super::common::{Format, JobArgs, accept, again, first, prices, source};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::plan::Args;
use super::planning::{PlanArgs, say};
use super::pricing::Pricing;
use super::watch::Watching;

/// Plans a job at every value of a sweep and shows what it comes to.
pub fn run(asked: &Args, swept: &Sweep, console: &mut Console) -> Result<Exit, Failure> {
    let (args, plan) = (&asked.job, &asked.plan);
    let text = source(args)?;
    let job = accept(args, &text)?;
    let terms = Terms::of(&job, asked.fraction.fraction.denominator());
    let wrong = |findings: Findings| Failure::Input {
        report: message::styled(&findings),
    };
    let changed = edit::apply(&text, &args.sets.set).map_err(wrong)?;
    let steps = swept.steps(&changed, job.unit).map_err(wrong)?;
    let options = PlanOptions {
        brief: true,
        ..plan.options(&job)?
    };
    let listed = prices(&args.sets.prices).map_err(wrong)?;
    let mut refused: Option<Findings> = None;
    let values: Vec<_> = steps
        .into_iter()
        .map(|step| {
            let job = again(args, &text, std::slice::from_ref(&step.set), &listed);
            let job = job.map_err(|findings| {
                let why = first(&findings);
                refused.get_or_insert(findings);
                why
            });
            (step, job)
        })
        .collect();
    if let Some(findings) = refused
        && values.iter().all(|(_, job)| job.is_err())
    {
        return Err(wrong(findings));
    }
    let watch = Watching::start(plan.limits(), say(options.prefer, &terms));
    let fastener = options.fastener;
    let pricing = Pricing::asked(&watch, options);
    let points = sweep(values, fastener, &|tasks| pricing.plan(tasks));
    pricing.sound()?;
    drop(watch);
    asked.picture.write(|| {
        let charted = Charted {
            job: &job,
            fastener,
            terms: &terms,
            sheet: asked.picture.paper.sheet(job.unit),
            date: asked.picture.paper.date.as_deref(),
        };
        draw::sweep(&charted, swept.path(), &points)
    })?;
    let text = match asked.format {
        Format::Json => json::pretty(&report::json(&job, swept.path(), fastener, &points)),
        Format::Csv => report::csv(&job, swept.path(), &points),
        Format::Text => {
            let mut page = Page::new(console.width());
            report::text(&job, swept.path(), fastener, &points, &terms, &mut page);
            if let Some(words) = best(args, plan, &points) {
                page.next(&[("The cheapest one's plan".to_owned(), words)]);
            }
            page.finish()
        }
    };
    console.write_all(text.as_bytes())?;
    Ok(Exit::Done)
}

/// The words that plan the first of the cheapest values.
fn best(args: &JobArgs, plan: &PlanArgs, points: &[Point]) -> Option<String> {
    let point = points.iter().find(|point| point.cheapest)?;
    Some(format!(
        "lastcourse plan {} --set {}{}",
        args.words(),
        shell_word(&point.step.set.text()),
        plan.words()
    ))
}
