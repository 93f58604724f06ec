//! The weights by which blocks pay for shared drivers that raise the floor highest.
//!
//! The floor is the Lagrangian dual of the choice of all rails, relaxed in what joins them: that a driver has so many
//! outputs, so much power and one block of each rail at most. It is concave in the weights. Where a way along the rails
//! uses a driver's outputs more than its power, say, paying by outputs raises the floor; so each weight grows or shrinks by
//! the exponential of how much it is used (exponentiated subgradient; Kivinen and Warmuth 1997, from memory). Any weights
//! give a floor; these steps only look for a high one.

use super::group::{Priced, Readied, Weights, known};
use crate::feeds::charge::WHOLE;
use crate::feeds::lead::Fine;
use crate::feeds::missing::Kinds;

/// Steps at most.
const STEPS: u32 = 10;
/// How much a weight whose use is one more than another's grows against it in the first step, as a natural logarithm.
const STRIDE: f64 = 1.0;
/// The stride at which the search ends.
const LEAST_STRIDE: f64 = 0.01;
/// No weight is less than this part of the whole before it is rounded; it could not grow again.
const LEAST: f64 = 1e-4;

/// Higher floors by better weights, as far as a cost that is known to be possible; `None` where none are found.
pub(super) fn raised(group: &Readied<'_>, start: &Priced, kinds: &[Kinds], known_cost: Option<Fine>) -> Option<Priced> {
    let (mut best, mut spare): (Option<Priced>, Option<Priced>) = (None, None);
    let mut highest = start.floor();
    let mut laid: Vec<Laid> = start.weights.iter().map(Laid::of).collect();
    let mut uses = uses(group, start);
    for _ in 0..STEPS {
        if known_cost.is_some_and(|known| highest >= known) || laid.iter().all(|own| own.stride < LEAST_STRIDE) {
            break;
        }
        laid.iter_mut().zip(&uses).for_each(|(own, uses)| own.step(uses));
        let found = group.priced_again(laid.iter().map(Laid::weights).collect(), kinds, spare.take());
        uses = self::uses(group, &found);
        if found.floor() > highest {
            highest = found.floor();
            spare = best.replace(found);
        } else {
            spare = Some(found);
        }
    }
    best
}

/// How the cost of one class is laid.
struct Laid {
    /// Parts of one: each rail's block, chains, power.
    shares: Vec<f64>,
    /// Where the last step went.
    last: Vec<f64>,
    stride: f64,
}

impl Laid {
    fn of(weights: &Weights) -> Self {
        let parts = weights.blocks.iter().chain([&weights.chain, &weights.power]);
        let mut shares: Vec<f64> = parts.map(|part| *part as f64).collect();
        settle(&mut shares);
        Self { last: vec![0.0; shares.len()], shares, stride: STRIDE }
    }

    fn weights(&self) -> Weights {
        // Rounded down, so that they never add up to more than the whole.
        let whole = (WHOLE - self.shares.len() as i64) as f64;
        let parts: Vec<i64> = self.shares.iter().map(|share| (share * whole) as i64).collect();
        let rails = parts.len() - 2;
        Weights { blocks: parts[..rails].to_vec(), chain: parts[rails], power: parts[rails + 1] }
    }

    /// Goes where the uses point: farther while they point the same way, less far where they point back.
    fn step(&mut self, uses: &[f64]) {
        let mean: f64 = self.shares.iter().zip(uses).map(|(share, used)| share * used).sum();
        let way: Vec<f64> = uses.iter().map(|used| used - mean).collect();
        let along: f64 = way.iter().zip(&self.last).zip(&self.shares).map(|((a, b), share)| a * b * share).sum();
        if along > 0.0 {
            self.stride = (self.stride * 1.3).min(STRIDE);
        } else if along < 0.0 {
            self.stride *= 0.7;
        }
        for (share, way) in self.shares.iter_mut().zip(&way) {
            *share *= libm::exp((self.stride * way).clamp(-4.0, 4.0));
        }
        settle(&mut self.shares);
        self.last = way;
    }
}

/// Makes shares add up to one, none of them too little to grow again.
fn settle(shares: &mut [f64]) {
    for _ in 0..2 {
        let sum: f64 = shares.iter().sum();
        shares.iter_mut().for_each(|share| *share = if sum > 0.0 { (*share / sum).max(LEAST) } else { 1.0 });
    }
    let sum: f64 = shares.iter().sum();
    shares.iter_mut().for_each(|share| *share /= sum);
}

/// By class, how many drivers a way along all rails would need by each thing that is paid for.
fn uses(group: &Readied<'_>, priced: &Priced) -> Vec<Vec<f64>> {
    let mut uses: Vec<Vec<f64>> = group.classes.iter().map(|class| vec![0.0; class.rails.len() + 2]).collect();
    for (rail, prepared) in group.rails.iter().enumerate() {
        let sums = prepared.sums();
        let ground = known(prepared, &sums, &priced.charges[rail]);
        for block in priced.rails[rail].way(ground) {
            let on = |own: &(usize, usize)| *own == (rail, block.stand);
            let found =
                group.classes.iter().enumerate().find_map(|(index, class)| {
                    class.rails.iter().position(on).map(|position| (index, position, class))
                });
            let Some((index, position, class)) = found else { continue };
            let stand = &prepared.stands[block.stand];
            let power = sums[stand.table].micro_watts(block.first, block.end - 1);
            let rails = class.rails.len();
            uses[index][position] += 1.0;
            uses[index][rails] += f64::from(block.chains) / f64::from(class.outputs);
            uses[index][rails + 1] += power as f64 / stand.usable.max(1) as f64;
        }
    }
    uses
}
