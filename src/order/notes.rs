//! What a person should know beside an order: cautions, and what it leaves out.

use super::connections::Connections;
use super::{Framing, base, fascia, frame, guard};
use crate::base::Base;
use crate::caution::Caution;
use crate::job::{Finish, FrameRules, Group, Job, Percent};
use crate::plan::Plan;

/// What to look at before ordering; the last one is about safety.
pub(super) fn cautions(job: &Job, plan: &Plan) -> Vec<Caution> {
    let mut found = Vec::new();
    let fastener = &job.fasteners[plan.fastener];
    if fastener.trial.is_none() && fastener.uncertainty > crate::length::Length::ZERO {
        found.push(Caution::new(
            format!(
                "this order stands on a gap of {} for {} that nobody has measured yet",
                plan.gap.show(job.unit),
                fastener.name
            ),
            "fix ten boards together on the ground, measure over them and put it under `fastener.trial` before ordering",
        ));
    }
    found.push(Caution::new(
        match job.frame {
            Some(_) if job.codes.is_some() => {
                "this list counts what the job describes and compares joists and boards with the \
                 tables it names; it designs nothing, and does not check that beams, posts, \
                 footings, the ledger or guards carry what stands on them"
            }
            None => {
                "this list counts boards and fasteners; it does not check that joists, beams, \
                 posts, footings, the ledger or guards carry what stands on them"
            }
            Some(_) => {
                "this list counts boards, fasteners and the frame as the job describes it; it does \
                 not check that joists, beams, posts, footings, the ledger or guards carry what \
                 stands on them"
            }
        },
        "the local building code and, where it asks for one, a licensed engineer decide that",
    ));
    found
}

/// What of stairs and guards no line counts.
fn stairs(job: &Job) -> String {
    let guarded = job.guards.rules.is_some();
    match (job.stairs.is_empty(), guarded) {
        (true, false) => return "stairs and guards".to_owned(),
        (true, true) => return "stairs".to_owned(),
        (false, _) => {}
    }
    let goods = &job.stair_goods;
    let railed = goods.len() == job.stairs.len() && goods.iter().all(|one| one.handrail.is_some());
    let guards = if guarded {
        "guards beside the steps"
    } else {
        "guards"
    };
    let rails = (!railed).then_some("handrails");
    let what: Vec<&str> = match guarded {
        true => rails.into_iter().chain([guards]).collect(),
        false => [guards].into_iter().chain(rails).collect(),
    };
    format!(
        "{}, and what fixes the stringers and bears the landing",
        what.join(", ")
    )
}

/// What is left out of a group. Whether goods added to it by hand are all there
/// are, nobody but the person knows.
pub(super) fn beyond(job: &Job, group: Group, what: &str) -> String {
    match job.order.items.iter().any(|item| item.group == group) {
        true => format!("{what} beyond the job's own items"),
        false => what.to_owned(),
    }
}

/// What else a deck takes that no line counts.
pub(super) fn not_counted(
    job: &Job,
    plan: &Plan,
    framed: Option<((&FrameRules, &Framing), &Connections)>,
    laid_out: Option<&Base>,
) -> Vec<String> {
    let mut left_out = Vec::new();
    let beyond = |group, what: &str| beyond(job, group, what);
    let doubled = plan.totals.doubled_joists;
    let second_joists = job.frame.as_ref().is_some_and(|rules| rules.double_joists);
    if doubled > 0 && !second_joists {
        let second = if doubled == 1 {
            "a second joist under the one support that carries joints".to_string()
        } else {
            format!("a second joist under the {doubled} supports that carry joints")
        };
        left_out.push(beyond(Group::Frame, &second));
    }
    left_out.extend(fascia::not_counted(job));
    // A frame that stands already stands on something.
    let built = job.deck.built;
    match framed {
        Some(((rules, framing), connections)) => {
            left_out.extend(frame::not_counted(rules, framing, connections));
        }
        None if built => {}
        None => left_out.push(beyond(Group::Frame, "frame lumber and its connectors")),
    }
    match job.base.as_ref().zip(laid_out) {
        Some((rules, laid_out)) => left_out.extend(base::not_counted(job, rules, laid_out)),
        None if built => {}
        None => left_out.push(beyond(Group::Base, "footings and base")),
    }
    left_out.push(beyond(Group::Stairs, &stairs(job)));
    let guards = guard::not_counted(job);
    left_out.extend(guards.map(|what| beyond(Group::Guard, &what)));
    if plan.courses.iter().any(|course| course.ripped) && job.courses.finish != Finish::LeaveOut {
        left_out.push(beyond(
            Group::Other,
            "sealer for ripped edges and sawn ends",
        ));
    }
    let rules = &job.order;
    let delivery = rules.delivery.is_none().then_some("delivery");
    let tax = (rules.tax == Percent::default()).then_some("tax");
    let money: Vec<&str> = delivery.into_iter().chain(tax).collect();
    if !money.is_empty() {
        left_out.push(money.join(" and "));
    }
    left_out
}
