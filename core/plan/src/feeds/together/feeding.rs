//! Which blocks the rails of a group have, and which of them share a driver.

use super::group::Readied;
use super::pool::Open;
use super::walk::Step;
use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;

/// A block with its chains in order.
#[derive(Clone, Debug)]
pub(super) struct Block {
    pub(super) rail: usize,
    /// Number of its driver; blocks with one number share it.
    pub(super) driver: usize,
    pub(super) chosen: Vec<Chosen>,
}

impl Block {
    pub(super) fn stand(&self) -> usize {
        self.chosen[0].stand
    }

    /// Its first luminaire, and one past its last.
    pub(super) fn span(&self) -> (usize, usize) {
        (self.chosen[0].first, self.chosen[self.chosen.len() - 1].last + 1)
    }
}

/// Blocks of a group, by rail and along it.
#[derive(Clone, Debug, Default)]
pub(super) struct Feeding {
    pub(super) blocks: Vec<Block>,
}

/// A driver by its blocks so far.
#[derive(Clone, Copy, Debug)]
pub(super) struct Standing {
    /// Index of its place in the group.
    pub(super) place: usize,
    /// The greatest cost that it has for any of its rails.
    pub(super) cost: Fine,
    /// As it is left; `None` where no other rail can use it.
    pub(super) open: Option<Open>,
}

impl Standing {
    /// As it is left to rails that have not used it, in so far as it matters to them.
    pub(super) fn left_open(&self, group: &Readied<'_>) -> Option<Open> {
        self.open.map(|open| group.classes[open.class as usize].as_it_matters(open))
    }
}

impl Feeding {
    /// These blocks with those that a walk chose beside them.
    pub(super) fn with(&self, group: &Readied<'_>, steps: &[Step]) -> Self {
        let mut blocks = self.blocks.clone();
        let mut standing = self.standing(group);
        for step in steps {
            if !step.chosen.starts {
                if let Some(last) = blocks.last_mut() {
                    last.chosen.push(step.chosen);
                    stand(group, &mut standing, last.driver, last.rail, &[step.chosen], false);
                }
                continue;
            }
            let open =
                |own: &Option<Standing>| step.taken.is_some() && own.and_then(|own| own.left_open(group)) == step.taken;
            let driver = standing.iter().position(open).unwrap_or(standing.len());
            stand(group, &mut standing, driver, step.rail, &[step.chosen], true);
            blocks.push(Block { rail: step.rail, driver, chosen: vec![step.chosen] });
        }
        blocks.sort_by_key(|block| (block.rail, block.span()));
        Self { blocks }
    }

    /// Without the blocks that lie in these stretches of the rails.
    pub(super) fn without(&self, spans: &[(u32, u32)]) -> Self {
        let lies_in = |block: &Block| {
            let (span, (first, end)) = (spans[block.rail], block.span());
            span.0 as usize <= first && end <= span.1 as usize
        };
        Self { blocks: self.blocks.iter().filter(|block| !lies_in(block)).cloned().collect() }
    }

    /// Its drivers by number; `None` where a number has no block.
    pub(super) fn standing(&self, group: &Readied<'_>) -> Vec<Option<Standing>> {
        let mut standing = Vec::new();
        for block in &self.blocks {
            stand(group, &mut standing, block.driver, block.rail, &block.chosen, true);
        }
        standing
    }

    /// Its cost: each driver once, and every chain.
    pub(super) fn cost(&self, group: &Readied<'_>) -> Fine {
        let drivers: Fine = self.standing(group).iter().flatten().map(|own| own.cost).sum();
        drivers + self.blocks.iter().map(|block| chains(group, block)).sum::<Fine>()
    }

    /// The chains of a rail in order.
    pub(super) fn on(&self, rail: usize) -> Vec<Chosen> {
        self.blocks.iter().filter(|own| own.rail == rail).flat_map(|own| own.chosen.iter().copied()).collect()
    }
}

/// What the chains of a block cost.
pub(super) fn chains(group: &Readied<'_>, block: &Block) -> Fine {
    let prepared = &group.rails[block.rail];
    let table = prepared.stands[block.stand()].table;
    block.chosen.iter().map(|own| prepared.tables.costs(table, own.first)[own.last - own.first]).sum()
}

/// Gives a driver chains of a block, which is new or goes on.
fn stand(
    group: &Readied<'_>,
    standing: &mut Vec<Option<Standing>>,
    driver: usize,
    rail: usize,
    chosen: &[Chosen],
    is_new: bool,
) {
    let prepared = &group.rails[rail];
    let (index, sums) = (chosen[0].stand, prepared.sums());
    let own = &prepared.stands[index];
    if standing.len() <= driver {
        standing.resize(driver + 1, None);
    }
    let class = group.classes.iter().position(|class| class.stand(rail) == Some(index));
    let one = standing[driver].get_or_insert_with(|| Standing {
        place: group.place_of[rail][own.place],
        cost: own.cost,
        open: class.map(|class| Open {
            class: class as u32,
            outputs: own.outputs,
            used: 0,
            left: own.usable,
            load: 0,
            paid: own.cost,
        }),
    });
    one.cost = one.cost.max(own.cost);
    let Some(open) = &mut one.open else { return };
    if is_new {
        open.used |= group.classes[open.class as usize].bit(rail).unwrap_or(0);
        open.left = open.left.min(own.usable - open.load);
        open.paid = one.cost;
    }
    for chain in chosen {
        let power = sums[own.table].micro_watts(chain.first, chain.last);
        open.outputs = open.outputs.saturating_sub(1);
        open.left -= power;
        open.load += power;
    }
}
