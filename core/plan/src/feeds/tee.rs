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
/// With `decide_at`, it is enough to know whether the least margin is above that (negative) value or below: the answer
/// is given as soon as the steps have become too small to change it, ten times over.
pub(super) fn solve(problem: &Problem, limits: &[f64], tee: Tee, decide_at: Option<f64>) -> Option<Spare> {
    let luminaires = &problem.luminaires[tee.first..=tee.last];
    let channels = luminaires[0].channels.len();
    let steps = steps(problem, tee);
    let loads: Vec<LoadModel> = luminaires.iter().flat_map(|own| own.channels.iter().copied()).collect();
    // What resistances would drop with the whole source voltage on each.
    let mut currents: Vec<f64> = loads
        .iter()
        .map(|load| if let LoadModel::Resistance(ohms) = load { tee.source / ohms.get() } else { 0.0 })
        .collect();
    let mut drops = vec![0.0; loads.len()];
    fill_drops(luminaires, &steps, tee, channels, &currents, &mut drops);
    let share = drops.iter().copied().fold(0.0, f64::max) / tee.source;
    let step = 2.0 / (2.0 + share);
    let only_falls = share == 0.0;
    let mut volts = vec![tee.source; loads.len()];
    let mut last_moved = f64::INFINITY;
    for _ in 0..MOST_STEPS {
        for ((current, load), volts) in currents.iter_mut().zip(&loads).zip(&volts) {
            *current = match load {
                LoadModel::Current(amps) => amps.get(),
                LoadModel::Power(watts) => watts.get() / volts,
                LoadModel::Resistance(ohms) => volts / ohms.get(),
            };
        }
        fill_drops(luminaires, &steps, tee, channels, &currents, &mut drops);
        let mut moved = 0.0_f64;
        for (known, drop) in volts.iter_mut().zip(&drops) {
            let change = step * (tee.source - drop - *known);
            *known += change;
            moved = moved.max(change.abs());
        }
        let powered = loads.iter().zip(&volts).any(|(load, volts)| {
            let draws = matches!(load, LoadModel::Power(watts) if watts.get() > 0.0);
            draws && *volts <= 0.0
        });
        if powered || !moved.is_finite() {
            return None;
        }
        if moved <= 1e-13 * tee.source {
            return Some(least(&volts, channels, tee.first, limits));
        }
        if let Some(at) = decide_at {
            let spare = least(&volts, channels, tee.first, limits);
            // Voltages that can only fall do not come up again; others are settled once steps at least halve.
            let hopeless = only_falls && spare.margin < at - 1e-6;
            let settled = moved < 0.5 * last_moved && (spare.margin - at).abs() > 10.0 * moved + 1e-6;
            if hopeless || settled {
                return Some(spare);
            }
        }
        last_moved = moved;
    }
    None
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
fn fill_drops(luminaires: &[Luminaire], steps: &[f64], tee: Tee, channels: usize, currents: &[f64], drops: &mut [f64]) {
    let count = luminaires.len();
    let split = tee.split - tee.first;
    let sum = |index: usize| currents[index * channels..(index + 1) * channels].iter().sum::<f64>();
    for channel in 0..channels {
        let joint = |index: usize| currents[index * channels + channel] + sum(index);
        let left: f64 = (0..split).map(joint).sum();
        let right: f64 = (split..count).map(joint).sum();
        let at_way_in = tee.lead_ohms * (left + right);
        let mut set = |index: usize, beyond: &mut f64, drop: &mut f64| {
            let (own, sum) = (currents[index * channels + channel], sum(index));
            *drop += steps[index] * *beyond;
            *beyond -= own + sum;
            let luminaire = &luminaires[index];
            drops[index * channels + channel] =
                *drop + luminaire.own_channel.get() * own + luminaire.own_common.get() * sum;
        };
        let (mut beyond, mut drop) = (left, at_way_in);
        (0..split).rev().for_each(|index| set(index, &mut beyond, &mut drop));
        let (mut beyond, mut drop) = (right, at_way_in);
        (split..count).for_each(|index| set(index, &mut beyond, &mut drop));
    }
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
