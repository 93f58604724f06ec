//! What a person has fixed on a rail, and what that costs.

use plan::document::{Lock, LockEffect, RailPlan};

use crate::table::{Column, Table};
use crate::{PaperInput, figures, wording};

/// The locks of a rail, each alone and all of them together.
#[must_use]
pub fn locks(input: &PaperInput, rail: &RailPlan) -> Table {
    let mut table = Table::new(vec![
        Column::words("Kept where it is", 34),
        Column::words("Costs more than without", 24),
        Column::figures("Off target", "mm"),
        Column::figures("without", "mm"),
        Column::figures("Lamps", ""),
        Column::figures("without", ""),
    ]);
    let mut row = |what: String, effect: &LockEffect| {
        let spacing = effect.spacing.as_ref();
        let or_dash = |text: Option<String>| text.unwrap_or_else(|| figures::NONE.to_owned());
        table.row([
            what.into(),
            cost(input, effect).into(),
            or_dash(spacing.map(|spacing| figures::tenths_mm(spacing.departure))).into(),
            or_dash(spacing.map(|spacing| figures::tenths_mm(spacing.departure_without))).into(),
            or_dash(spacing.map(|spacing| spacing.luminaires.to_string())).into(),
            or_dash(spacing.map(|spacing| spacing.luminaires_without.to_string())).into(),
        ]);
    };
    for lock in &rail.locks {
        row(name(input, &lock.lock), &lock.effect);
    }
    if let (Some(together), true) = (&rail.locks_together, rail.locks.len() > 1) {
        row("all of them together".to_owned(), together);
    }
    table
}

/// What is locked, in words.
fn name(input: &PaperInput, lock: &Lock) -> String {
    match lock {
        Lock::Hole { chainage } => format!("hole {} mm from the datum", figures::tenths_mm(*chainage)),
        Lock::Driver { place, part } => {
            let part = part.as_ref().map_or_else(|| "a driver".to_owned(), |part| format!("driver {part}"));
            format!("{part} at {}", wording::place_name(place, input.survey))
        }
    }
}

fn cost(input: &PaperInput, effect: &LockEffect) -> String {
    let words = |cost: units::Money| format!("{} {}", cost.to_hundredths(), input.catalogue.currency);
    match (effect.cost, effect.exact) {
        (Some(cost), true) => words(cost),
        (Some(cost), false) => format!("{}, not proved", words(cost)),
        (None, _) if !effect.weighed => "not worked out, too many locks".to_owned(),
        (None, _) => "not fed within every limit".to_owned(),
    }
}
