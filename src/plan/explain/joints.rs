//! A limit on the number of joints that no plan keeps: what the courses take
//! at least, and how to find what can be had.

use crate::plan::PlanError;
use crate::plan::model::Model;

/// That the courses take more joints than there may be, whatever else is asked.
pub(in crate::plan) fn too_few_joints(model: &Model) -> Option<PlanError> {
    let most = model.joints_at_most?;
    let each = model.run.fewest_joints()? as i64;
    let needed = each.checked_mul(model.materials.len() as i64)?;
    (most < needed).then(|| PlanError::Impossible {
        message: format!(
            "{most} {} at most are asked for; each of the {} courses has {each} at least, {needed} \
             in all",
            word(most),
            model.materials.len(),
        ),
        help: format!("allow {needed} joints or more, or add longer boards"),
    })
}

/// That no plan was found with so few joints; the bound says whether there is any.
pub(in crate::plan) fn joints_not_found(model: &Model, bound: i64) -> PlanError {
    let most = model.joints_at_most.unwrap_or(0);
    let help = "allow more joints; `plan --prefer joints` finds the fewest, `plan --curve` every \
                sensible number with its price"
        .to_owned();
    match bound > model.conceivable {
        true => PlanError::Impossible {
            message: format!("no plan has {most} {} or fewer", word(most)),
            help,
        },
        false => PlanError::NotFound {
            message: format!(
                "no plan with {most} {} or fewer was found, and it is not proven that there is none",
                word(most)
            ),
            help,
        },
    }
}

fn word(count: i64) -> &'static str {
    if count == 1 { "joint" } else { "joints" }
}
