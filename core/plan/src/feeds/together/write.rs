//! From the chains of a group's scheme to a scheme for each rail, with drivers that several rails share told apart.

use units::{Money, Watts};

use super::group::Readied;
use super::pool::Open;
use super::rail_problem::RailProblem;
use super::walk::Step;
use crate::feeds::choose::Chosen;
use crate::feeds::lead::{Fine, money};
use crate::feeds::scheme::Scheme;

/// A driver as it stands, whichever rails it feeds.
struct Standing {
    /// As it is left after the blocks so far; `None` where no other rail can use it.
    left: Option<Open>,
    cost: Fine,
    usable: f64,
    /// Rail and number of the block there.
    blocks: Vec<(usize, usize)>,
}

/// A driver that several rails share: for each rail in the group's order, the driver's position in its scheme.
pub(super) type Sharers = Vec<(usize, usize)>;

/// The schemes of all rails, with the drivers that they share. `asked` gives the order in which rails were asked for: a
/// driver is paid for by the first of its rails.
pub(super) fn schemes<P: RailProblem>(
    (group, problems): (&Readied<'_>, &[(&P, P::Made)]),
    steps: &[Step],
    asked: &[usize],
) -> (Vec<Scheme<P::Chain>>, Vec<Sharers>) {
    let standing = standing(group, steps);
    let mut schemes = Vec::new();
    let mut costs: Vec<Fine> = Vec::new();
    for (rail, (prepared, (problem, made))) in group.rails.iter().zip(problems).enumerate() {
        let chosen: Vec<Chosen> = steps.iter().filter(|step| step.rail == rail).map(|step| step.chosen).collect();
        let chains = chosen
            .iter()
            .map(|own| prepared.tables[prepared.stands[own.stand].table].costs(own.first)[own.last - own.first]);
        costs.push(chains.sum());
        schemes.push(prepared.scheme(0, &chosen, |own| problem.chain(prepared, made, own)));
    }
    let mut shared = Vec::new();
    for driver in standing {
        let payer = driver.blocks.iter().copied().min_by_key(|block| asked[block.0]);
        for (rail, number) in &driver.blocks {
            let pays = payer == Some((*rail, *number));
            let fed = &mut schemes[*rail].drivers[*number];
            fed.cost = if pays { money(driver.cost) } else { Money::ZERO };
            fed.usable = Watts::new(driver.usable);
            costs[*rail] += if pays { driver.cost } else { 0 };
        }
        if driver.blocks.len() > 1 {
            shared.push(driver.blocks);
        }
    }
    for (scheme, cost) in schemes.iter_mut().zip(costs) {
        scheme.cost = money(cost);
    }
    (schemes, shared)
}

/// Replays the chains and finds which blocks have the same driver.
fn standing(group: &Readied<'_>, steps: &[Step]) -> Vec<Standing> {
    let mut all: Vec<Standing> = Vec::new();
    let mut numbers = vec![0; group.rails.len()];
    // Index of the driver that the last block has.
    let mut last = 0;
    for step in steps {
        let prepared = &group.rails[step.rail];
        let stand = &prepared.stands[step.chosen.stand];
        if step.chosen.starts {
            let own = prepared.usable(stand);
            let block = (step.rail, numbers[step.rail]);
            numbers[step.rail] += 1;
            let known = step.taken.and_then(|taken| {
                all.iter().position(|one| {
                    one.left == Some(taken) && one.blocks.last().is_some_and(|block| block.0 != step.rail)
                })
            });
            last = known.unwrap_or(all.len());
            match known {
                Some(index) => {
                    let one = &mut all[index];
                    one.cost = one.cost.max(stand.cost);
                    one.usable = one.usable.min(own);
                    one.blocks.push(block);
                    if let Some(open) = &mut one.left {
                        open.left = open.left.min(stand.usable - open.load);
                        open.paid = open.paid.max(stand.cost);
                    }
                }
                None => {
                    let class =
                        group.classes.iter().position(|class| class.stand(step.rail) == Some(step.chosen.stand));
                    let left = class.map(|class| Open {
                        class,
                        outputs: stand.outputs,
                        left: stand.usable,
                        load: 0,
                        paid: stand.cost,
                    });
                    all.push(Standing { left, cost: stand.cost, usable: own, blocks: vec![block] });
                }
            }
        }
        if let Some(open) = &mut all[last].left {
            let power = prepared.sums()[stand.table].micro_watts(step.chosen.first, step.chosen.last);
            open.outputs = open.outputs.saturating_sub(1);
            open.left -= power;
            open.load += power;
        }
    }
    all
}
