//! A plain two-core chain as arrays: the same answer as the network solver, for use thousands of times.
//!
//! Seen from its loads a pair is one loop: plus and minus of a section carry the same current, so their ohms add. A
//! colour chain with equal loads on all its channels is the same thing, with `channel ohms + channels · common ohms`
//! and one channel's load.

use super::network::LoadModel;
use super::sweep::{current_and_slope, is_power};

/// One luminaire of a chain and the section that leads to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rung {
    /// Loop resistance from the luminaire before (plus and minus together), in ohms, 0 or more. The first one holds
    /// the source's own resistance and the leads as well.
    pub section_ohms: f64,
    /// Loop resistance of the luminaire's own taps, in ohms, 0 or more.
    pub tap_ohms: f64,
    /// The luminaire. [`LoadModel::Supply`] has no place in a feed and counts as unsolved.
    pub load: LoadModel,
    /// The least voltage at which it works, in volts.
    pub least_volts: f64,
}

/// What a solved chain comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LadderResult {
    /// The least of (voltage at the luminaire − its least voltage), in volts; infinite for an empty chain.
    pub least_margin: f64,
    /// Index of the rung where that is.
    pub at: usize,
    /// The lowest voltage at any luminaire, in volts.
    pub lowest_volts: f64,
    /// Current out of the source, in amperes.
    pub source_amps: f64,
}

/// Room to solve chains in, kept between calls so that none is allocated again.
#[derive(Clone, Debug, Default)]
pub struct Ladder {
    run_volts: Vec<f64>,
    slope: Vec<f64>,
    extra: Vec<f64>,
    slack: Vec<f64>,
}

impl Ladder {
    /// Solves a chain of rungs from its source outwards, upper solution. `None` where it has none.
    ///
    /// Same method and reasons as [`super::solve::solve`], with scalars in place of blocks. Each tap is eliminated
    /// into its station by solving the luminaire behind it exactly.
    ///
    /// # Units
    /// `source_volts` in volts, open circuit.
    pub fn solve(&mut self, source_volts: f64, rungs: &[Rung]) -> Option<LadderResult> {
        let count = rungs.len();
        let sound = |value: f64| value >= 0.0 && value.is_finite();
        if !sound(source_volts) || !rungs.iter().all(|rung| sound(rung.section_ohms) && sound(rung.tap_ohms)) {
            return None;
        }
        self.run_volts.clear();
        self.run_volts.resize(count, source_volts);
        self.slope.resize(count, 0.0);
        self.extra.resize(count, 0.0);
        self.slack.resize(count, 0.0);
        let tolerance = 1e-9_f64.max(1e-12 * source_volts);
        let mut best: Option<(f64, LadderResult)> = None;
        let mut last_residual = f64::INFINITY;
        for step in 0..200 {
            let mut ahead = 0.0;
            for (index, rung) in rungs.iter().enumerate().rev() {
                let Some((_, amps, slope)) = behind_tap(rung, self.run_volts[index]) else {
                    return best.map(|found| found.1);
                };
                ahead += amps;
                self.slope[index] = slope;
                self.extra[index] = ahead;
            }
            let mut above = source_volts;
            let mut exact = source_volts;
            let mut residual = 0.0_f64;
            for (index, rung) in rungs.iter().enumerate() {
                let drop = rung.section_ohms * self.extra[index];
                self.slack[index] = above - drop - self.run_volts[index];
                exact -= drop;
                residual = residual.max((exact - self.run_volts[index]).abs());
                above = self.run_volts[index];
            }
            if !(ahead.is_finite() && residual.is_finite()) {
                return None;
            }
            if residual <= tolerance && best.as_ref().is_none_or(|found| residual < found.0) {
                best = Some((residual, self.measure(source_volts, ahead, rungs)?));
            }
            if let Some((least, result)) = best
                && step > 0
                && (least == 0.0 || residual > 0.5 * last_residual)
            {
                return Some(result).filter(|found| found.lowest_volts >= -tolerance);
            }
            last_residual = residual;
            // The same elimination as in the tree, leaf to source and back.
            let mut carried = (0.0, 0.0);
            for index in (0..count).rev() {
                let slope = self.slope[index] + carried.0;
                let extra = carried.1;
                self.slope[index] = slope;
                self.extra[index] = extra;
                let pivot = 1.0 + rungs[index].section_ohms * slope;
                if !(pivot > 0.0 && pivot.is_finite()) {
                    return best.map(|found| found.1);
                }
                carried = (slope / pivot, (extra + slope * self.slack[index]) / pivot);
            }
            let mut change = 0.0;
            for (index, rung) in rungs.iter().enumerate() {
                let moved = change + self.slack[index];
                let pull = self.extra[index] + self.slope[index] * moved;
                change = moved - rung.section_ohms * pull / (1.0 + rung.section_ohms * self.slope[index]);
                self.run_volts[index] += change;
            }
        }
        None
    }

    /// Luminaire voltages at the present run voltages.
    fn measure(&self, source_volts: f64, source_amps: f64, rungs: &[Rung]) -> Option<LadderResult> {
        let mut result = LadderResult { least_margin: f64::INFINITY, at: 0, lowest_volts: source_volts, source_amps };
        for (index, rung) in rungs.iter().enumerate() {
            let (volts, ..) = behind_tap(rung, self.run_volts[index])?;
            result.lowest_volts = result.lowest_volts.min(volts);
            if volts - rung.least_volts < result.least_margin {
                (result.least_margin, result.at) = (volts - rung.least_volts, index);
            }
        }
        Some(result)
    }
}

/// Voltage, current and slope of a luminaire behind its tap, by the voltage of the run. `None` where it has none.
fn behind_tap(rung: &Rung, run: f64) -> Option<(f64, f64, f64)> {
    let tap = rung.tap_ohms;
    match rung.load {
        LoadModel::Supply { .. } => None,
        LoadModel::Power(watts) if is_power(rung.load) => {
            // Upper root of v² − run·v + tap·P = 0.
            let room = run * run - 4.0 * tap * watts.get();
            if !(run > 0.0 && room >= 0.0) {
                return None;
            }
            let volts = 0.5 * (run + room.sqrt());
            let (amps, slope) = current_and_slope(rung.load, volts, 1.0);
            Some((volts, amps, slope / (1.0 + tap * slope)))
        }
        _ => {
            let (amps_at_zero, slope) = current_and_slope(rung.load, 0.0, 1.0);
            let amps = (amps_at_zero + slope * run) / (1.0 + tap * slope);
            Some((run - tap * amps, amps, slope / (1.0 + tap * slope)))
        }
    }
}

/// A chain of constant-current luminaires that grows at its far end, each step in time that does not depend on its
/// length (but on how many different needs its luminaires have).
#[derive(Clone, Debug, PartialEq)]
pub struct ConstantCurrentChain {
    /// Loop ohms from the source to the last luminaire.
    path_ohms: f64,
    /// Current out of the source.
    source_amps: f64,
    /// Voltage of the run at the last luminaire.
    end_volts: f64,
    /// For each different need (least voltage plus the drop of its own tap), the farthest luminaire with it: the
    /// nearer ones of that need have more volts. Need, path ohms there, run volts there.
    needs: Vec<(f64, f64, f64)>,
}

impl ConstantCurrentChain {
    /// A chain with no luminaire yet.
    ///
    /// # Units
    /// Volts, open circuit; ohms of the source and the leads, plus and minus together.
    #[must_use]
    pub fn new(source_volts: f64, lead_ohms: f64) -> Self {
        Self { path_ohms: lead_ohms, source_amps: 0.0, end_volts: source_volts, needs: Vec::new() }
    }

    /// Adds a luminaire beyond the last one.
    ///
    /// # Units
    /// Ohms of the section and of the taps, plus and minus together; amperes; volts.
    pub fn append(&mut self, section_ohms: f64, tap_ohms: f64, amps: f64, least_volts: f64) {
        self.path_ohms += section_ohms;
        // The new current flows along the whole path to each luminaire it passes.
        for (_, path, volts) in &mut self.needs {
            *volts -= *path * amps;
        }
        self.source_amps += amps;
        self.end_volts -= self.path_ohms * amps;
        let need = least_volts + tap_ohms * amps;
        let here = (need, self.path_ohms, self.end_volts);
        match self.needs.iter_mut().find(|known| known.0 == need) {
            Some(known) => *known = here,
            None => self.needs.push(here),
        }
    }

    /// The least of (voltage at a luminaire − its least voltage), in volts; infinite for an empty chain.
    #[must_use]
    pub fn least_margin(&self) -> f64 {
        self.needs.iter().map(|(need, _, volts)| volts - need).fold(f64::INFINITY, f64::min)
    }

    /// Voltage of the run at the last luminaire, in volts.
    #[must_use]
    pub const fn end_volts(&self) -> f64 {
        self.end_volts
    }

    /// Current out of the source, in amperes.
    #[must_use]
    pub const fn source_amps(&self) -> f64 {
        self.source_amps
    }
}
