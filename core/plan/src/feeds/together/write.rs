//! From the blocks of a group to a scheme for each rail, with drivers that several rails share told apart.

use units::{Money, Watts};

use super::feeding::{Feeding, chains};
use super::group::Readied;
use crate::feeds::lead::{Fine, money};
use crate::feeds::scheme::Scheme;
use crate::feeds::stand::usable;

/// A driver that several rails share: for each rail in the group's order, the driver's position in its scheme.
pub(super) type Sharers = Vec<(usize, usize)>;

/// The schemes of all rails, with the drivers that they share. `asked` gives the order in which rails were asked for: a
/// driver is paid for by the first of its rails.
pub(super) fn schemes(group: &Readied<'_>, feeding: &Feeding, asked: &[usize]) -> (Vec<Scheme>, Vec<Sharers>) {
    let standing = feeding.standing(group);
    // Rail and number of each driver's blocks.
    let mut blocks: Vec<Sharers> = vec![Vec::new(); standing.len()];
    let mut costs: Vec<Fine> = vec![0; group.rails.len()];
    let mut numbers = vec![0; group.rails.len()];
    for block in &feeding.blocks {
        blocks[block.driver].push((block.rail, numbers[block.rail]));
        numbers[block.rail] += 1;
        costs[block.rail] += chains(group, block);
    }
    let rails = group.rails.iter().enumerate();
    let mut schemes: Vec<Scheme> = rails.map(|(rail, prepared)| prepared.scheme(0, &feeding.on(rail))).collect();
    let mut shared = Vec::new();
    for (driver, blocks) in standing.iter().zip(blocks) {
        let (Some(driver), Some(payer)) = (driver, blocks.iter().copied().min_by_key(|block| asked[block.0])) else {
            continue;
        };
        let least = blocks.iter().map(|(rail, number)| {
            let (problem, fed) = (group.rails[*rail].problem, &schemes[*rail].drivers[*number]);
            let fits = &problem.places[fed.place].fits;
            let share = fits.iter().find(|fit| fit.driver == fed.driver).map_or(0.0, |fit| fit.share);
            usable(problem, fed.driver, share)
        });
        let least = least.fold(f64::INFINITY, f64::min);
        for block in &blocks {
            let fed = &mut schemes[block.0].drivers[block.1];
            fed.cost = if *block == payer { money(driver.cost) } else { Money::ZERO };
            fed.usable = Watts::new(least);
        }
        costs[payer.0] += driver.cost;
        if blocks.len() > 1 {
            shared.push(blocks);
        }
    }
    for (scheme, cost) in schemes.iter_mut().zip(costs) {
        scheme.cost = money(cost);
    }
    (schemes, shared)
}
