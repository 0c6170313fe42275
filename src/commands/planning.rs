//! A verified plan for a job, for every command that needs one: which fastener,
//! what is minimised, how long, and what becomes of failures.

use lastcourse::caution::Caution;
use lastcourse::codes;
use lastcourse::courses;
use lastcourse::deck::{Surface, supports, surface};
use lastcourse::job::Job;
use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::movement;
use lastcourse::plan::{Objective, Plan, PlanError, PlanOptions, plan};
use lastcourse::report::Terms;
use lastcourse::report::terms::counted;
use lastcourse::text::shell_option;
use lastcourse::verify;

use super::failure::Failure;
use super::watch::{LimitArgs, Watching};

/// How a plan is asked for.
#[derive(Debug, Clone, clap::Args)]
pub struct PlanArgs {
    /// Lay the courses with this fastener [default: the job's first]
    #[arg(long, value_name = "NAME")]
    fastener: Option<String>,

    /// What is put first; what is equal in it is then decided by cost, then by joints
    #[arg(long, value_enum, default_value_t, value_name = "WHAT")]
    prefer: Prefer,

    /// Allow so many joints at most
    #[arg(long, value_name = "N")]
    joints: Option<u32>,

    #[command(flatten)]
    limits: LimitArgs,
}

/// What is minimised first.
#[derive(Debug, Clone, Copy, Default, clap::ValueEnum)]
enum Prefer {
    /// The least money, joints at the price the job gives them
    #[default]
    Cost,
    /// The fewest joints
    Joints,
    /// The least length of boards
    Waste,
}

impl PlanArgs {
    /// What is asked of the planner for a job.
    ///
    /// # Errors
    /// When there is no such fastener, or the job has no boards to plan with.
    pub fn options(&self, job: &Job) -> Result<PlanOptions, Failure> {
        let fastener = match &self.fastener {
            None => 0,
            Some(name) => fastener(job, name)?,
        };
        if job.stock.is_empty() {
            return Err(Failure::impossible(
                format!("{} has no boards to plan with", job.title),
                "add the lengths the yard sells, each a `[[stock]]` with `length` and `price`",
            ));
        }
        Ok(PlanOptions {
            fastener,
            prefer: match self.prefer {
                Prefer::Cost => Objective::Cost,
                Prefer::Joints => Objective::Joints,
                Prefer::Waste => Objective::Waste,
            },
            joints_at_most: self.joints,
            ..PlanOptions::default()
        })
    }

    /// The same with another fastener.
    pub fn with_fastener(&self, name: &str) -> PlanArgs {
        PlanArgs {
            fastener: Some(name.to_owned()),
            ..self.clone()
        }
    }

    /// The limits of the search.
    pub fn limits(&self) -> LimitArgs {
        self.limits
    }

    /// The same plan again, as words to copy into a shell behind the job's.
    pub fn words(&self) -> String {
        let mut words = String::new();
        if let Some(name) = &self.fastener {
            words.push_str(&format!(" {}", shell_option("--fastener", name)));
        }
        words.push_str(match self.prefer {
            Prefer::Cost => "",
            Prefer::Joints => " --prefer joints",
            Prefer::Waste => " --prefer waste",
        });
        if let Some(most) = self.joints {
            words.push_str(&format!(" --joints {most}"));
        }
        words
    }
}

/// A plan and what goes with it.
pub struct Planned {
    /// The deck's surface.
    pub surface: Surface,
    /// The plan, verified.
    pub plan: Plan,
    /// What a person should look at.
    pub cautions: Vec<Caution>,
}

/// Plans a job and has the plan verified before anybody sees it.
///
/// # Errors
/// When there is no such fastener, when no plan obeys the job's rules, or when
/// the search was stopped before it found one.
pub fn planned(job: &Job, args: &PlanArgs, terms: &Terms) -> Result<Planned, Failure> {
    let options = args.options(job)?;
    let surface = surface(job).map_err(|error| Failure::no_deck(&error))?;
    let watch = Watching::start(args.limits, say(options.prefer, terms));
    let plan = plan(job, &options, &watch).map_err(failure)?;
    drop(watch);
    let violations = verify::plan(job, &plan);
    if !violations.is_empty() {
        return Err(Failure::unsound(&violations));
    }
    let mut cautions = courses::cautions(job, &surface, plan.fastener);
    cautions.extend(supports(job).cautions);
    let boards = codes::decking(job, &plan.supports);
    cautions.extend(codes::cautions(boards.as_slice(), job.unit));
    cautions.extend(movement::across(job, plan.fastener));
    cautions.extend(movement::along(job, &plan));
    Ok(Planned {
        surface,
        plan,
        cautions,
    })
}

/// The fastener of a name, by its place in the job.
///
/// # Errors
/// When the job has none of that name.
pub fn fastener(job: &Job, name: &str) -> Result<usize, Failure> {
    let known = || job.fasteners.iter().map(|fastener| fastener.name.as_str());
    // Capitals make no difference, as in a path of `--set`.
    let wanted = name.trim().to_lowercase();
    let found = known().position(|known| known.to_lowercase() == wanted);
    found.ok_or_else(|| {
        let names: Vec<String> = known().map(|name| format!("\"{name}\"")).collect();
        Failure::input(
            format!("{} has no fastener \"{name}\"", job.title),
            format!("it has {}", names.join(", ")),
        )
    })
}

/// How the objective's value is put into words while the search runs.
pub fn say(objective: Objective, terms: &Terms) -> impl Fn(i64) -> String + Send + Sync + 'static {
    let terms = terms.clone();
    move |value| match objective {
        Objective::Cost => terms.money(Money::from_cents(value)),
        Objective::Joints => counted(value.unsigned_abs(), "joint"),
        Objective::Waste => terms.length(Length::from_units(value)),
    }
}

/// What becomes of a plan that could not be made.
pub fn failure(error: PlanError) -> Failure {
    let message = error.to_string();
    match error {
        PlanError::Impossible { message, help } | PlanError::NotFound { message, help } => {
            Failure::impossible(message, help)
        }
        PlanError::Stopped => Failure::Stopped { message },
    }
}
