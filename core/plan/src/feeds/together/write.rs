//! From the blocks of a group to a scheme for each rail, with drivers that several rails share told apart.

use units::{Money, Watts};

use super::feeding::{Feeding, chains};
use super::group::Readied;
use super::rail_problem::RailProblem;
use crate::feeds::lead::{Fine, money};
use crate::feeds::rail::Rail;
use crate::feeds::scheme::Scheme;

/// A driver that several rails share: for each rail in the group's order, the driver's position in its scheme.
pub(super) type Sharers = Vec<(usize, usize)>;

/// The schemes of all rails, with the drivers that they share. `asked` gives the order in which rails were asked for: a
/// driver is paid for by the first of its rails.
pub(super) fn schemes<P: RailProblem>(
    (group, problems): (&Readied<'_>, &[(&P, P::Made<'_>)]),
    feeding: &Feeding,
    asked: &[usize],
) -> (Vec<Scheme<P::Chain>>, Vec<Sharers>) {
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
    let rails = group.rails.iter().zip(problems).enumerate();
    let scheme = |(rail, (prepared, (problem, made))): (usize, (&Rail<'_>, &(&P, P::Made<'_>)))| {
        prepared.scheme(0, &feeding.on(rail), |own| problem.chain(prepared, made, own))
    };
    let mut schemes: Vec<Scheme<P::Chain>> = rails.map(scheme).collect();
    let mut shared = Vec::new();
    for (driver, blocks) in standing.iter().zip(blocks) {
        let (Some(driver), Some(payer)) = (driver, blocks.iter().copied().min_by_key(|block| asked[block.0])) else {
            continue;
        };
        let least = blocks.iter().map(|(rail, number)| schemes[*rail].drivers[*number].usable.get());
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
    // Rounded along the sum, so that all rails together cost the rounded whole, whoever pays for what is shared.
    let mut order: Vec<usize> = (0..schemes.len()).collect();
    order.sort_by_key(|rail| asked[*rail]);
    let mut sum: Fine = 0;
    for rail in order {
        let before = money(sum);
        sum = sum.saturating_add(costs[rail]);
        schemes[rail].cost = money(sum) - before;
    }
    (schemes, shared)
}
