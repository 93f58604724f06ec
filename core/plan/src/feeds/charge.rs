//! What a block of one rail pays of a driver that other rails may share, so that a floor can be found rail by rail.
//!
//! A driver of cost `D` with `K` outputs and usable power `W` feeds at most one block of each rail `r`, with chains `k` and
//! power `w`: `Σ k ≤ K`, `Σ w ≤ W`. With weights `Σ α_r + β + γ = 1` the block of rail `r` pays
//! `D · (α_r + β · k / K + γ · w / W)`. Together blocks pay at most `D`, so that the sum over rails of what each pays at
//! least is a floor under the cost of all of them. A block that leaves no output, or too little power for any luminaire of
//! another rail, has its driver to itself and pays all of it.
//!
//! Such weights are a dual feasible function of the packing of blocks into drivers (term of Lueker 1983; from memory). The
//! best of them are found by [`super::together`].

use super::lead::Fine;
use super::source::SourceSums;

/// The whole of a driver's cost, in the unit of [`Part`].
pub(super) const WHOLE: i64 = 1 << 20;

/// The part of the cost of a shared driver that a block of one rail pays; parts of [`WHOLE`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Part {
    /// For being there.
    pub(super) block: i64,
    /// By chains: what it would pay with all outputs.
    pub(super) chain: i64,
    /// By power: what it would pay with all of it.
    pub(super) power: i64,
}

/// What is shared.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shareable {
    /// Cost of the driver on this rail.
    pub(super) cost: Fine,
    /// Its outputs.
    pub(super) outputs: u8,
    /// Its power on this rail, microwatts.
    pub(super) usable: i64,
    /// The least power of a luminaire of the others, microwatts.
    pub(super) least_other: i64,
}

/// What a block pays of one stand.
#[derive(Clone, Debug)]
pub(super) struct Charge {
    cost: Fine,
    outputs: usize,
    /// Power beyond which a block has the driver to itself, microwatts.
    pub(super) alone_above: i64,
    /// What each block pays.
    pub(super) per_block: Fine,
    /// What each chain pays.
    pub(super) per_chain: Fine,
    /// What the power of the luminaires before each pays, rounded down.
    by_power: Vec<Fine>,
}

/// A share of a cost, `cost · weight · part / whole` with the weight in parts of [`WHOLE`], rounded down.
pub(super) fn share(cost: Fine, weight: i64, part: i64, whole: i64) -> Fine {
    if whole <= 0 || weight == 0 {
        return 0;
    }
    let exact = i128::from(cost) * i128::from(weight) * i128::from(part) / (i128::from(whole) * i128::from(WHOLE));
    Fine::try_from(exact).unwrap_or(Fine::MAX)
}

impl Charge {
    /// For a stand that draws from a source with these sums over `count` luminaires.
    pub(super) fn of(what: Shareable, part: Part, count: usize, sums: &SourceSums) -> Self {
        let before = |end: usize| if end == 0 { 0 } else { sums.micro_watts(0, end - 1) };
        let by_power = match part.power {
            0 => Vec::new(),
            weight => (0..=count).map(|end| share(what.cost, weight, before(end), what.usable)).collect(),
        };
        Self {
            cost: what.cost,
            outputs: usize::from(what.outputs),
            alone_above: what.usable - what.least_other,
            per_block: share(what.cost, part.block, 1, 1),
            per_chain: share(what.cost, part.chain, 1, i64::from(what.outputs)),
            by_power,
        }
    }

    /// What any block pays at least.
    pub(super) fn least(&self) -> Fine {
        (self.per_block + self.per_chain).min(self.cost)
    }

    /// What a chain of luminaires `first … end − 1` pays, its power counted.
    #[inline]
    pub(super) fn chain(&self, first: usize, end: usize) -> Fine {
        self.per_chain + self.without_chains(first, end) - self.per_block
    }

    /// What a block of luminaires `first … end − 1` pays apart from its chains, where others can share its driver.
    #[inline]
    pub(super) fn without_chains(&self, first: usize, end: usize) -> Fine {
        let by_power = match &self.by_power[..] {
            [] => 0,
            // Of two sums rounded down the difference may be one too great.
            sums => (sums[end] - sums[first] - 1).max(0),
        };
        self.per_block + by_power
    }

    /// What a block of luminaires `first … end − 1` with this power pays.
    #[inline]
    pub(super) fn block(&self, chains: usize, first: usize, end: usize, micro_watts: i64) -> Fine {
        if chains >= self.outputs || micro_watts > self.alone_above {
            return self.cost;
        }
        (self.without_chains(first, end) + self.per_chain * chains as i64).min(self.cost)
    }
}
