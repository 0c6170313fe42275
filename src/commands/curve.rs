//! `lastcourse plan --curve`: what each number of joints costs at least.

use std::io::Write;

use lastcourse::draw::{self, Charted};
use lastcourse::job::Job;
use lastcourse::plan::curve;
use lastcourse::report::{Page, Terms, curve as report, json};

use super::common::Format;
use super::console::Console;
use super::failure::{Exit, Failure};
use super::plan::Args;
use super::planning::{failure, say};
use super::pricing::Pricing;
use super::watch::Watching;

/// Plans a job with every sensible number of joints and shows what each costs.
pub fn run(job: &Job, args: &Args, terms: &Terms, console: &mut Console) -> Result<Exit, Failure> {
    let plan = &args.plan;
    let options = plan.options(job)?;
    let watch = Watching::start(plan.limits(), say(options.prefer, terms));
    let pricing = Pricing::asked(&watch, options.clone());
    let found = curve(&options, &|asks| pricing.plan_as(job, asks));
    pricing.sound()?;
    drop(watch);
    let found = found.map_err(failure)?;
    args.picture.write(|| {
        let charted = Charted {
            job,
            fastener: options.fastener,
            terms,
            sheet: args.picture.paper.sheet(job.unit),
            date: args.picture.paper.date.as_deref(),
        };
        draw::curve(&charted, &found)
    })?;
    let text = match args.format {
        Format::Json => json::pretty(&report::json(job, options.fastener, &found)),
        Format::Csv => report::csv(&found),
        Format::Text => {
            let mut page = Page::new(console.width());
            report::text(job, options.fastener, &found, terms, &mut page);
            if let Some(point) = found.points.iter().rev().nth(1) {
                let order = format!(
                    "lastcourse plan {}{} --joints {}",
                    args.job.words(),
                    plan.words(),
                    point.joints
                );
                page.next(&[(
                    "The plan of a line, such as the last but one".to_owned(),
                    order,
                )]);
            }
            page.finish()
        }
    };
    console.write_all(text.as_bytes())?;
    Ok(Exit::Done)
}
