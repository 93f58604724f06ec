//! Whether a driver fits a place, and how many do.

use catalogue::Driver;
use survey::DriverPlace;
use units::Length;

/// How many drivers of one kind stand side by side in a place, none behind another, each turned as suits; 0 where it
/// does not fit. No clearance is added: a surveyor gives the clear space.
pub(crate) fn number_that_fit(driver: &Driver, place: &DriverPlace) -> u32 {
    let sides = [driver.width, driver.height, driver.depth].map(|side| side.max(Length::um(1)));
    let space = [place.width, place.height, place.depth];
    let whole = |space: Length, side: Length| (space.to_um().max(0) / side.to_um()).min(1_000) as u32;
    const TURNS: [[usize; 3]; 6] = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    TURNS
        .into_iter()
        .filter(|turn| sides[turn[2]] <= space[2])
        .map(|turn| whole(space[0], sides[turn[0]]) * whole(space[1], sides[turn[1]]))
        .max()
        .unwrap_or(0)
}
