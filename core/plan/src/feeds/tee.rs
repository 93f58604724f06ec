//! A chain as the network it is: one lead, up to two arms, channels on a common conductor; the upper solution.
//!
//! Seen from the loads, the drop on a channel is the drop of `J` = that channel's current plus the sum over channels,
//! along conductors of equal resistance. So with `v = U − Z · i(v)` the currents are repeated from the voltages, from
//! above: with constant power the voltages only ever fall, towards the upper solution. A share of resistances would
//! swing about its solution, so each step is shortened by the greatest share of the voltage that resistances alone
//! would drop, which makes the step a contraction whatever that share is.

use catalogue::LoadModel;

use super::problem::{Luminaire, Problem};

/// The steps after which a chain that still moves is taken to have no solution.
const MOST_STEPS: usize = 20_000;

/// A chain to solve.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tee {
    /// Source voltage.
    pub(super) source: f64,
    /// Resistance of one conductor of the lead, ohms.
    pub(super) lead_ohms: f64,
    /// Resistance of one running conductor for a metre, ohms.
    pub(super) ohms_per_m: f64,
    /// Chainage of the way in, micrometres.
    pub(super) way_in: i64,
    /// First luminaire.
    pub(super) first: usize,
    /// First luminaire of the right arm.
    pub(super) split: usize,
    /// Last luminaire.
    pub(super) last: usize,
}

/// What a luminaire of a solved chain has to spare: its index, volts, and volts above its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spare {
    pub(super) luminaire: usize,
    pub(super) volts: f64,
    pub(super) margin: f64,
}

/// Solves a chain and finds the luminaire with the least to spare, `None` where the network has no solution.
///
/// With `stop_below`, a chain whose loads all are currents or powers is given up as soon as a voltage is below its
/// limit less that many volts, for it can only fall further; the margin is then only known to be worse.
pub(super) fn solve(problem: &Problem, limits: &[f64], tee: Tee, stop_below: Option<f64>) -> Option<Spare> {
    let luminaires = &problem.luminaires[tee.first..=tee.last];
    let channels = luminaires[0].channels.len();
    let steps = steps(problem, tee);
    let drops = |currents: &[f64]| -> Vec<f64> { drops(luminaires, &steps, tee, channels, currents) };
    // What resistances would drop with the whole source voltage on each.
    let resistive: Vec<f64> = each_load(luminaires)
        .map(|load| if let LoadModel::Resistance(ohms) = load { tee.source / ohms.get() } else { 0.0 })
        .collect();
    let share = drops(&resistive).into_iter().fold(0.0, f64::max) / tee.source;
    let step = 2.0 / (2.0 + share);
    let only_falls = share == 0.0;
    let mut volts = vec![tee.source; luminaires.len() * channels];
    for _ in 0..MOST_STEPS {
        let currents: Vec<f64> = each_load(luminaires)
            .zip(&volts)
            .map(|(load, volts)| match load {
                LoadModel::Current(amps) => amps.get(),
                LoadModel::Power(watts) => watts.get() / volts,
                LoadModel::Resistance(ohms) => volts / ohms.get(),
            })
            .collect();
        let mut moved = 0.0_f64;
        for (known, drop) in volts.iter_mut().zip(drops(&currents)) {
            let change = step * (tee.source - drop - *known);
            *known += change;
            moved = moved.max(change.abs());
        }
        let powered = each_load(luminaires).zip(&volts).any(|(load, volts)| {
            let draws = matches!(load, LoadModel::Power(watts) if watts.get() > 0.0);
            draws && *volts <= 0.0
        });
        if powered || !moved.is_finite() {
            return None;
        }
        let spare = least(&volts, channels, tee.first, limits);
        let hopeless = only_falls && stop_below.is_some_and(|below| spare.margin < -below - 1e-6);
        if moved <= 1e-13 * tee.source || hopeless {
            return Some(spare);
        }
    }
    None
}

fn each_load(luminaires: &[Luminaire]) -> impl Iterator<Item = LoadModel> + '_ {
    luminaires.iter().flat_map(|luminaire| luminaire.channels.iter().copied())
}

/// Resistance of one conductor from each luminaire's neighbour towards the way in.
fn steps(problem: &Problem, tee: Tee) -> Vec<f64> {
    let at = |index: usize| problem.luminaires[index].chainage.to_um();
    (tee.first..=tee.last)
        .map(|index| {
            let nearer = if index < tee.split {
                (if index + 1 == tee.split { tee.way_in } else { at(index + 1) }) - at(index)
            } else {
                at(index) - (if index == tee.split { tee.way_in } else { at(index - 1) })
            };
            tee.ohms_per_m * (nearer + problem.loop_per_hole.to_um()) as f64 / 1e6
        })
        .collect()
}

/// The drop up to each load's terminals for given currents.
fn drops(luminaires: &[Luminaire], steps: &[f64], tee: Tee, channels: usize, currents: &[f64]) -> Vec<f64> {
    let count = luminaires.len();
    let split = tee.split - tee.first;
    let joint = |index: usize, channel: usize| {
        let own = &currents[index * channels..(index + 1) * channels];
        own[channel] + own.iter().sum::<f64>()
    };
    let mut drops = vec![0.0; count * channels];
    for channel in 0..channels {
        let whole: f64 = (0..count).map(|index| joint(index, channel)).sum();
        let at_way_in = tee.lead_ohms * whole;
        let mut arm = |outwards: &mut dyn Iterator<Item = usize>| {
            let order: Vec<usize> = outwards.collect();
            let mut beyond: f64 = order.iter().map(|index| joint(*index, channel)).sum();
            let mut drop = at_way_in;
            for index in order {
                drop += steps[index] * beyond;
                beyond -= joint(index, channel);
                let luminaire = &luminaires[index];
                let own = currents[index * channels + channel];
                let sum = joint(index, channel) - own;
                drops[index * channels + channel] =
                    drop + luminaire.own_channel.get() * own + luminaire.own_common.get() * sum;
            }
        };
        arm(&mut (0..split).rev());
        arm(&mut (split..count));
    }
    drops
}

fn least(volts: &[f64], channels: usize, first: usize, limits: &[f64]) -> Spare {
    let mut found = Spare { luminaire: first, volts: f64::INFINITY, margin: f64::INFINITY };
    for (index, volts) in volts.iter().enumerate() {
        let luminaire = first + index / channels;
        let margin = volts - limits[luminaire];
        if margin < found.margin {
            found = Spare { luminaire, volts: *volts, margin };
        }
    }
    found
}
