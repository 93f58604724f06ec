//! What the locks of the brief cost: the plan with each of them against the same plan without it.
//!
//! Without a driver's lock the feeds of its rail, and of the rails that are fed together with it, are chosen again; without a
//! hole's lock its rail, and the rails that are to match it, are laid out again first. The room at places stays what the
//! groups before have left. Nothing is worked out for rails without locks, and no more than a person waits for where there
//! are very many.

use std::collections::BTreeMap;

use survey::{Locks, RailBrief};
use units::Money;

use super::canonical::Inputs;
use super::draft::RailDraft;
use super::feeding::{FeedCase, feed_case};
use super::modules::feeding::ModuleCase;
use super::points;
use super::rail_case::RailCase;
use super::supply::SiteWays;
use super::together::{Group, proved};
use crate::document::{Lock, LockEffect, LockPlan, SpacingEffect};
use crate::feeds::side_by_side::each;
use crate::feeds::together::RailProblem;
use crate::memory::Memory;
use crate::{feeds, series};

/// The feeds of a site before they are named.
pub(crate) struct Fed<'g, 'a> {
    /// Groups of rails of points.
    pub points: &'g [Group<FeedCase<'a>, feeds::Outcome>],
    /// Groups of rails of modules.
    pub modules: &'g [Group<ModuleCase<'a>, series::Outcome>],
    /// What earlier plans have answered.
    pub memory: &'g Memory,
}

/// Locks of one rail that are weighed one by one at most; of more only what they cost together is worked out. A person locks
/// a few, and each is a plan of its own.
const MOST_ALONE: usize = 24;

/// Plans that are worked out for the locks of a whole site at most.
const MOST: usize = 250;

/// What is taken out of the locks of a rail.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Without {
    Hole(usize),
    Driver(usize),
    All,
}

impl Without {
    fn holes(self, locks: &Locks) -> bool {
        match self {
            Self::Hole(_) => true,
            Self::Driver(_) => false,
            Self::All => !locks.holes.is_empty(),
        }
    }

    fn left(self, locks: &Locks) -> Locks {
        let mut left = locks.clone();
        match self {
            Self::Hole(index) => drop(left.holes.remove(index)),
            Self::Driver(index) => drop(left.drivers.remove(index)),
            Self::All => left = Locks::default(),
        }
        left
    }
}

/// Writes the locks of every draft with their costs into it.
pub(crate) fn weigh<'a>(inputs: &Inputs, ways: &SiteWays<'a>, drafts: &mut [RailDraft<'a>], fed: &Fed<'_, 'a>) {
    let asked = asked(drafts);
    let effects = each(&asked, |(position, without)| effect(inputs, ways, drafts, fed, *position, *without));
    let mut known: BTreeMap<(usize, Without), LockEffect> = asked.into_iter().zip(effects).collect();
    for (position, draft) in drafts.iter_mut().enumerate() {
        let locks = &draft.brief.locks;
        for (without, lock) in named(locks) {
            let effect = known.remove(&(position, without)).unwrap_or_default();
            draft.plan.locks.push(LockPlan { lock, effect });
        }
        // One lock alone is all of them.
        let only = draft.plan.locks.first().map(|lock| lock.effect);
        draft.plan.locks_together = match draft.plan.locks.len() {
            0 | 1 => only,
            _ => Some(known.remove(&(position, Without::All)).unwrap_or_default()),
        };
    }
}

/// What is worked out, in order of draft: all locks of a rail together, and each alone where they are not too many.
fn asked(drafts: &[RailDraft<'_>]) -> Vec<(usize, Without)> {
    let mut asked = Vec::new();
    for (position, draft) in drafts.iter().enumerate() {
        let alone: Vec<Without> = named(&draft.brief.locks).into_iter().map(|own| own.0).collect();
        let all = (alone.len() > 1).then_some(Without::All);
        let alone = if alone.len() <= MOST_ALONE { alone } else { vec![] };
        if asked.len() + alone.len() < MOST {
            asked.extend(all.into_iter().chain(alone).map(|without| (position, without)));
        }
    }
    asked
}

/// The locks of a rail, holes before drivers.
fn named(locks: &Locks) -> Vec<(Without, Lock)> {
    let holes = locks.holes.iter().enumerate();
    let holes = holes.map(|(index, at)| (Without::Hole(index), Lock::Hole { chainage: *at }));
    let drivers = locks.drivers.iter().enumerate().map(|(index, lock)| {
        (Without::Driver(index), Lock::Driver { place: lock.place.clone(), part: lock.part.clone() })
    });
    holes.chain(drivers).collect()
}

fn effect<'a>(
    inputs: &Inputs,
    ways: &SiteWays<'a>,
    drafts: &[RailDraft<'a>],
    fed: &Fed<'_, 'a>,
    position: usize,
    without: Without,
) -> LockEffect {
    let draft = &drafts[position];
    let left = without.left(&draft.brief.locks);
    if without.holes(&draft.brief.locks) && draft.chosen.is_some() {
        return laid_out_again(inputs, ways, drafts, fed, position, left);
    }
    // Modules stand in a slot and need no hole, so there only drivers' locks count.
    let again = |group: &Group<_, _>| fed_again(group, position, &left, fed.memory);
    let again_modules = |group: &Group<_, _>| fed_again(group, position, &left, fed.memory);
    let compared = fed
        .points
        .iter()
        .find(|group| group.drafts.contains(&position))
        .map(again)
        .or_else(|| fed.modules.iter().find(|group| group.drafts.contains(&position)).map(again_modules))
        .flatten();
    effect_of(compared, None)
}

fn effect_of(compared: Option<(Money, bool)>, spacing: Option<SpacingEffect>) -> LockEffect {
    LockEffect {
        cost: compared.map(|(cost, _)| cost),
        exact: compared.is_some_and(|(_, exact)| exact),
        weighed: true,
        spacing,
    }
}

/// What a group costs more than with these locks on one of its rails.
fn fed_again<'a, C: RailCase<'a>>(
    group: &Group<C, C::Outcome>,
    position: usize,
    locks: &Locks,
    memory: &Memory,
) -> Option<(Money, bool)> {
    let mut cases: Vec<Option<C>> = group.cases.iter().cloned().map(Some).collect();
    for (draft, case) in group.drafts.iter().zip(&mut cases) {
        if let (true, Some(case)) = (*draft == position, case) {
            case.problem_mut().locks_mut().clone_from(&locks.drivers);
        }
    }
    compared(group, position, &cases, memory)
}

/// What a group costs more than with other cases in it, `None` for a rail that then has no luminaires, and whether that is
/// exact; nothing where the rail in question, or another only one way, cannot be fed within every limit.
fn compared<'a, C: RailCase<'a>>(
    group: &Group<C, C::Outcome>,
    position: usize,
    cases: &[Option<C>],
    memory: &Memory,
) -> Option<(Money, bool)> {
    let (with, exact) = proved::<C>(&group.answer);
    let lit: Vec<&C> = cases.iter().flatten().collect();
    let (again, exact_again) = proved::<C>(&C::cheapest(&lit, memory));
    let mut again = again.into_iter();
    let without = cases.iter().map(|case| match case {
        Some(_) => again.next().flatten(),
        None => Some(Money::ZERO),
    });
    let mut more = Money::ZERO;
    for ((draft, with), without) in group.drafts.iter().zip(&with).zip(without) {
        match (with, without) {
            (Some(with), Some(without)) => more += *with - without,
            (None, None) if *draft != position => {}
            _ => return None,
        }
    }
    Some((more, exact && exact_again))
}

/// What follows where a rail has these locks only: it and the rails that match it are laid out again, and fed again.
fn laid_out_again<'a>(
    inputs: &Inputs,
    ways: &SiteWays<'a>,
    drafts: &[RailDraft<'a>],
    fed: &Fed<'_, 'a>,
    position: usize,
    locks: Locks,
) -> LockEffect {
    let alike = points::groups(drafts).into_iter().find(|group| group.contains(&position)).unwrap_or(vec![position]);
    let mut survey = inputs.survey.clone();
    survey.brief.rails = alike.iter().map(|draft| drafts[*draft].brief.clone()).collect();
    let own = &drafts[position].rail.id;
    if let Some(brief) = survey.brief.rails.iter_mut().find(|brief| &brief.rail == own) {
        *brief = RailBrief { locks, ..brief.clone() };
    }
    let other = Inputs { survey, catalogue: inputs.catalogue.clone(), labels: inputs.labels.clone() };
    let (again, _) = points::drafts(&other);
    let draft_again = |draft: usize| again.iter().find(|own| own.rail.id == drafts[draft].rail.id);
    let spacing = draft_again(position).and_then(|again| spacing(&drafts[position], again));
    // Where it cannot be laid out there is nothing to compare with.
    let mut whole = spacing.map(|_| (Money::ZERO, true));
    let mut found = false;
    for group in fed.points.iter().filter(|group| group.drafts.iter().any(|draft| alike.contains(draft))) {
        let cases: Vec<Option<FeedCase<'_>>> = group
            .drafts
            .iter()
            .zip(&group.cases)
            .map(|(draft, case)| match draft_again(*draft).filter(|_| alike.contains(draft)) {
                Some(again) => feed_case(&other, ways, again).map(|again| with_room_of(again, case)),
                None => Some(case.clone()),
            })
            .collect();
        found |= group.drafts.contains(&position);
        let here = compared(group, position, &cases, fed.memory);
        whole = whole.zip(here).map(|(sum, here)| (sum.0 + here.0, sum.1 && here.1));
    }
    effect_of(whole.filter(|_| found), spacing)
}

/// A case with the room that another had at the same places.
fn with_room_of<'b>(mut case: FeedCase<'b>, other: &FeedCase<'_>) -> FeedCase<'b> {
    for place in &mut case.problem.places {
        if let Some(known) = other.problem.places.iter().find(|known| known.id == place.id) {
            place.room = known.room;
        }
    }
    case
}

fn spacing(with: &RailDraft<'_>, without: &RailDraft<'_>) -> Option<SpacingEffect> {
    let (one, other) = (with.plan.pattern.as_ref()?, without.plan.pattern.as_ref()?);
    Some(SpacingEffect {
        departure: one.worst_departure,
        departure_without: other.worst_departure,
        luminaires: one.count,
        luminaires_without: other.count,
    })
}
