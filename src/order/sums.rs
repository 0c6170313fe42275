//! What an order comes to, all in: goods, what is set aside, delivery, tax and
//! labour; whether that is within what may be spent, what would be, and what
//! could be given up; and what each delivery brings. It knows lines and money;
//! what is needed of anything was counted by others.

use super::{Group, Line, Needed, Trade};
use crate::job::{Job, OrderRules, Percent};
use crate::money::Money;

/// What an order comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Sums {
    /// All lines that have a price.
    pub goods: Money,
    /// Set aside for what nobody thought of.
    pub contingency: Money,
    /// All deliveries.
    pub delivery: Money,
    /// Tax on goods, contingency and, where it is taxed, delivery.
    pub tax: Money,
    /// Labour, if it is paid.
    pub labour: Money,
    /// All of these together.
    pub all: Money,
}

/// The time it takes to fasten the boards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Labour {
    /// In hundredths of a minute.
    pub time: u64,
    /// What it costs, where an hour has a price.
    pub price: Option<Money>,
}

impl Labour {
    /// So much time, at the job's price of an hour; half a cent rounded up.
    pub(super) fn new(job: &Job, time: u64) -> Labour {
        const HOUR: i128 = 6_000;
        let price = job.order.hour.map(|hour| {
            let cents = i128::from(hour.cents()) * i128::from(time);
            let cents = (2 * cents + HOUR).div_euclid(2 * HOUR);
            Money::from_cents(i64::try_from(cents).unwrap_or(i64::MAX / 4))
        });
        Labour { time, price }
    }
}

/// What may be spent, against what an order comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Budget {
    /// The most that may be spent.
    pub most: Money,
    /// What the order comes to beyond it; below zero where something is left.
    pub over: Money,
    /// What can be paid, in the order it is built, and what that comes to, all
    /// in. Everything, where nothing is over.
    pub fits: Vec<Group>,
    /// What those groups come to, all in.
    pub fits_for: Money,
    /// What could be given up, first what is missed least; nothing where
    /// nothing has to be.
    pub give_up: Vec<Saving>,
}

/// Something that could be given up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Saving {
    /// What it is.
    pub what: String,
    /// What the order would come to less, all in.
    pub saves: Money,
}

/// What one delivery brings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Delivery {
    /// What it is called.
    pub name: String,
    /// When it is wanted, in the person's own words.
    pub when: Option<String>,
    /// The groups it brings, in the order's own sequence.
    pub groups: Vec<Group>,
    /// What its goods come to.
    pub goods: Money,
    /// What bringing them costs.
    pub delivery: Money,
}

/// A share of an amount, half a cent rounded up.
fn share(of: Money, share: Percent) -> Money {
    let cents = i128::from(of.cents()) * i128::from(share.0);
    let cents = (cents + 5_000).div_euclid(10_000);
    Money::from_cents(i64::try_from(cents).unwrap_or(i64::MAX / 4))
}

/// What some lines come to, with labour or without.
fn sums<'a>(rules: &OrderRules, lines: impl Iterator<Item = &'a Line>, labour: Money) -> Sums {
    let mut brought = vec![false; rules.stages.len().max(1)];
    let mut goods = Money::ZERO;
    for line in lines {
        goods += line.price.unwrap_or_default();
        if line.count > 0 {
            brought[stage(rules, line.group)] = true;
        }
    }
    let deliveries = brought.iter().filter(|brought| **brought).count() as i64;
    let contingency = share(goods, rules.contingency);
    let delivery = rules.delivery.unwrap_or_default() * deliveries;
    let taxed = match rules.delivery_taxed {
        true => goods + contingency + delivery,
        false => goods + contingency,
    };
    let tax = share(taxed, rules.tax);
    Sums {
        goods,
        contingency,
        delivery,
        tax,
        labour,
        all: goods + contingency + delivery + tax + labour,
    }
}

/// The delivery a group comes with: what no stage names comes with the last.
fn stage(rules: &OrderRules, group: Group) -> usize {
    let named = rules
        .stages
        .iter()
        .position(|stage| stage.groups.contains(&group));
    named.unwrap_or(rules.stages.len().saturating_sub(1))
}

/// What the whole order comes to.
pub(super) fn all(job: &Job, lines: &[Line], labour: Option<Labour>) -> Sums {
    sums(&job.order, lines.iter(), paid(labour))
}

fn paid(labour: Option<Labour>) -> Money {
    labour.and_then(|labour| labour.price).unwrap_or_default()
}

/// The deliveries of a job that is done in stages; none where it is not.
pub(super) fn deliveries(job: &Job, lines: &[Line]) -> Vec<Delivery> {
    let rules = &job.order;
    let mut deliveries = Vec::new();
    for (place, stage_of) in rules.stages.iter().enumerate() {
        let with = |line: &&Line| line.count > 0 && stage(rules, line.group) == place;
        let brought: Vec<&Line> = lines.iter().filter(with).collect();
        if brought.is_empty() {
            continue;
        }
        let mut groups: Vec<Group> = brought.iter().map(|line| line.group).collect();
        groups.dedup();
        deliveries.push(Delivery {
            name: stage_of.name.clone(),
            when: stage_of.when.clone(),
            groups,
            goods: brought.iter().filter_map(|line| line.price).sum(),
            delivery: rules.delivery.unwrap_or_default(),
        });
    }
    deliveries
}

/// The order in which a deck is built: nothing stands without what is before it.
const BUILT: [Group; 8] = [
    Group::Base,
    Group::Frame,
    Group::Boards,
    Group::Fasteners,
    Group::Stairs,
    Group::Guard,
    Group::Fascia,
    Group::Other,
];

/// How an order stands to what may be spent, if anything was said of that.
pub(super) fn budget(job: &Job, lines: &[Line], labour: Option<Labour>) -> Option<Budget> {
    let most = job.order.budget?;
    let labour = paid(labour);
    let rules = &job.order;
    let whole = sums(rules, lines.iter(), labour).all;
    // Boards and what holds them are laid together; so is the labour paid.
    let up_to = |built: usize| {
        let built = &BUILT[..built];
        let laid = built.contains(&Group::Boards);
        let some = lines.iter().filter(|line| built.contains(&line.group));
        sums(rules, some, if laid { labour } else { Money::ZERO }).all
    };
    let steps = (1..=BUILT.len()).filter(|&step| BUILT[step - 1] != Group::Boards);
    let step = steps.take_while(|&step| up_to(step) <= most).last();
    let needed = |group: &Group| {
        let mut lines = lines.iter();
        lines.any(|line| line.group == *group && line.count > 0)
    };
    let fits = BUILT[..step.unwrap_or(0)].iter().copied().filter(needed);
    let over = whole - most;
    let give_up = match over > Money::ZERO {
        true => savings(rules, lines, labour, whole),
        false => Vec::new(),
    };
    Some(Budget {
        most,
        over,
        fits: fits.collect(),
        fits_for: step.map_or(Money::ZERO, up_to),
        give_up,
    })
}

/// What could be left out with the deck still standing and walked on, first
/// what is missed least, each with what it saves.
fn savings(rules: &OrderRules, lines: &[Line], labour: Money, whole: Money) -> Vec<Saving> {
    let without = |what: String, left_out: &dyn Fn(&Line) -> bool| {
        let kept = lines.iter().filter(|line| !left_out(line));
        let saves = whole - sums(rules, kept, labour).all;
        (saves > Money::ZERO).then_some(Saving { what, saves })
    };
    let others = lines.iter().filter(|line| line.group == Group::Other);
    let mut savings: Vec<Saving> = others
        .filter_map(|other| without(other.item.clone(), &|line| std::ptr::eq(line, other)))
        .collect();
    let fascia = "fascia, which can follow later".to_owned();
    savings.extend(without(fascia, &|line| line.group == Group::Fascia));
    let spares = "spare boards, with nothing left for a spoiled one".to_owned();
    savings.extend(without(spares, &|line| {
        line.group == Group::Boards && line.unit == Trade::Board && line.needed == Needed::Count(0)
    }));
    savings
}

#[cfg(test)]
mod tests {
    use super::super::goods::line;
    use super::*;
    use crate::job::Stage;
    use crate::length::Length;

    fn goods(group: Group, cents: i64) -> Line {
        line(group, "goods".into(), Trade::Piece, Needed::Count(1), 1)
            .priced(Some(Money::from_cents(cents)))
    }

    fn job(rules: OrderRules) -> Job {
        let foot = Length::from_feet(1);
        let unit = crate::length::Unit::Inch;
        let mut job = Job::rectangle(unit, foot * 20, foot * 10, foot, Length::ZERO);
        job.order = rules;
        job
    }

    #[test]
    fn tax_is_on_goods_and_what_is_set_aside() {
        let rules = OrderRules {
            contingency: Percent(500),
            delivery: Some(Money::from_cents(9_500)),
            tax: Percent(825),
            ..OrderRules::default()
        };
        let lines = [goods(Group::Frame, 100_010), goods(Group::Boards, 200_000)];
        let labour = Labour {
            time: 9_000,
            price: Some(Money::from_cents(7_200)),
        };
        // By hand: goods 3,000.10; 5 % of it 150.005, so 150.01; tax 8.25 % of
        // 3,150.11 is 259.884..., so 259.88; delivery once, 95.00; labour 72.00.
        let sums = all(&job(rules.clone()), &lines, Some(labour));
        assert_eq!(sums.contingency, Money::from_cents(15_001));
        assert_eq!(sums.tax, Money::from_cents(25_988));
        assert_eq!(sums.all.cents(), 300_010 + 15_001 + 25_988 + 9_500 + 7_200);
        // With delivery taxed: 8.25 % of 3,245.11 is 267.721..., so 267.72.
        let taxed = OrderRules {
            delivery_taxed: true,
            ..rules
        };
        assert_eq!(
            all(&job(taxed), &lines, None).tax,
            Money::from_cents(26_772)
        );
    }

    #[test]
    fn an_hour_is_sixty_minutes() {
        let rules = OrderRules {
            hour: Some(Money::from_cents(4_800)),
            ..OrderRules::default()
        };
        // By hand: 90 minutes at 48.00 an hour are 72.00; 0.01 minute is 0.8 cents.
        let of = |time| Labour::new(&job(rules.clone()), time).price;
        assert_eq!(of(9_000), Some(Money::from_cents(7_200)));
        assert_eq!(of(1), Some(Money::from_cents(1)));
        assert_eq!(Labour::new(&job(OrderRules::default()), 9_000).price, None);
    }

    #[test]
    fn each_delivery_that_brings_something_is_paid() {
        let stage = |name: &str, groups: &[Group]| Stage {
            name: name.to_owned(),
            groups: groups.to_vec(),
            when: None,
        };
        let rules = OrderRules {
            delivery: Some(Money::from_cents(8_000)),
            stages: vec![
                stage("ground", &[Group::Base]),
                stage("frame", &[Group::Frame]),
                stage("deck", &[Group::Boards, Group::Fasteners]),
            ],
            ..OrderRules::default()
        };
        let lines = [
            goods(Group::Boards, 500),
            goods(Group::Frame, 300),
            goods(Group::Other, 20),
        ];
        let job = job(rules);
        // Nothing comes for the ground; what no stage names comes with the last.
        assert_eq!(all(&job, &lines, None).delivery, Money::from_cents(16_000));
        let brought = deliveries(&job, &lines);
        let told = |delivery: &Delivery| (delivery.name.clone(), delivery.goods.cents());
        let told: Vec<_> = brought.iter().map(told).collect();
        assert_eq!(told, [("frame".to_owned(), 300), ("deck".to_owned(), 520)]);
    }

    #[test]
    fn what_fits_is_built_from_the_ground_up() {
        let rules = |budget: i64| OrderRules {
            budget: Some(Money::from_cents(budget)),
            tax: Percent(1_000),
            ..OrderRules::default()
        };
        let spare = Line {
            needed: Needed::Count(0),
            unit: Trade::Board,
            ..goods(Group::Boards, 4_000)
        };
        let lines = [
            goods(Group::Boards, 200_000),
            spare,
            goods(Group::Fasteners, 30_000),
            goods(Group::Frame, 100_000),
            goods(Group::Fascia, 20_000),
        ];
        // By hand, with a tenth for tax: the frame 1,100.00; with boards, spares
        // and fasteners 3,674.00; with the fascia 3,894.00.
        let of = |budget| budget_of(&job(rules(budget)), &lines);
        let rich = of(389_400);
        assert_eq!((rich.over, rich.give_up.len()), (Money::ZERO, 0));
        let short = of(389_399);
        assert_eq!(short.over, Money::from_cents(1));
        assert_eq!(short.fits, [Group::Frame, Group::Boards, Group::Fasteners]);
        assert_eq!(short.fits_for, Money::from_cents(367_400));
        let saves: Vec<i64> = short.give_up.iter().map(|s| s.saves.cents()).collect();
        assert_eq!(saves, [22_000, 4_400]);
        // Boards without what holds them are no deck.
        assert_eq!(of(367_399).fits, [Group::Frame]);
        assert_eq!(of(109_999).fits, []);
    }

    fn budget_of(job: &Job, lines: &[Line]) -> Budget {
        budget(job, lines, None).expect("a budget")
    }
}
