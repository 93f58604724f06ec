//! The drilling schedule of one rail: running dimensions, so that errors never accumulate.

use survey::Id;

use super::length;
use crate::table::{Column, Table};
use crate::{PaperInput, figures};

/// Holes of a rail by chainage.
#[must_use]
pub fn drilling(input: &PaperInput, rail: &Id) -> Table {
    let mut table = Table::new(vec![
        Column::words("Hole", 14),
        Column::figures("From datum", "mm"),
        Column::words("Straight", 10),
        Column::figures("From its mark", "mm"),
        Column::figures("Spacing", "mm"),
        Column::figures("Diameter", "mm"),
        Column::figures("Around", "mm"),
        Column::words("State", 8),
    ]);
    for hole in input.plan.drilling.iter().filter(|hole| &hole.rail == rail) {
        table.row([
            hole.hole.as_str().into(),
            figures::mm(hole.chainage).into(),
            hole.straight.as_str().into(),
            figures::mm(hole.from_mark).into(),
            length(hole.spacing).into(),
            figures::fine_mm(hole.diameter).into(),
            figures::grouped(&figures::decimals(hole.girth.to_mm(), 1)).into(),
            if hole.existing { "is there" } else { "drill" }.into(),
        ]);
    }
    table
}
