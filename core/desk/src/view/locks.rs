//! What a person has fixed on a rail, and what that costs.

use plan::{Lock, LockEffect, RailPlan};

use super::wire::{KeptThing, LockRow};
use super::{Scheme, words};

/// One row for each lock, and one for all of them where there are several.
pub(super) fn rows(scheme: Scheme<'_>, planned: &RailPlan) -> Vec<LockRow> {
    let each =
        planned.locks.iter().map(|lock| row(scheme, Some(kept(&lock.lock)), name(scheme, &lock.lock), &lock.effect));
    let together = planned.locks_together.as_ref().filter(|_| planned.locks.len() > 1);
    each.chain(together.map(|effect| row(scheme, None, "All of them together".to_owned(), effect))).collect()
}

fn kept(lock: &Lock) -> KeptThing {
    match lock {
        Lock::Hole { chainage } => KeptThing::Hole { at_mm: chainage.to_mm() },
        Lock::Driver { place, part } => KeptThing::Driver { place: place.to_string(), part: part.clone() },
    }
}

fn row(scheme: Scheme<'_>, lock: Option<KeptThing>, what: String, effect: &LockEffect) -> LockRow {
    LockRow {
        lock,
        what,
        cost: cost(scheme, effect),
        departure_mm: effect.spacing.map(|spacing| spacing.departure.to_mm()),
        departure_without_mm: effect.spacing.map(|spacing| spacing.departure_without.to_mm()),
    }
}

/// What is locked, in words.
pub(super) fn name(scheme: Scheme<'_>, lock: &Lock) -> String {
    match lock {
        Lock::Hole { chainage } => format!("Hole at {}", words::mm(*chainage)),
        Lock::Driver { place, part } => {
            let known = scheme.survey.driver_places.iter().find(|known| &known.id == place);
            let place = known.map_or_else(|| place.to_string(), |known| known.label.clone());
            let part = part.as_ref().map(|part| format!(" {part}")).unwrap_or_default();
            format!("Driver{part} at {place}")
        }
    }
}

/// What it costs, in words.
pub(super) fn cost(scheme: Scheme<'_>, effect: &LockEffect) -> String {
    match (effect.cost, effect.exact) {
        (Some(cost), true) => scheme.money(cost),
        (Some(cost), false) => format!("{}, not proved", scheme.money(cost)),
        (None, _) if !effect.weighed => "not worked out, too many locks".to_owned(),
        (None, _) => "not fed within every limit".to_owned(),
    }
}
