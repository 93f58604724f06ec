//! Newton's method over the tree: one sweep from the leaves to the source, one back, no matrix of the whole network.
//!
//! The unknowns of a station are its *port voltages* `u`, one per channel: the size of the voltage between that
//! channel and the common. Every load of the subtree stands between a channel and the common, so the common's branch
//! carries the sum of the channels' currents `J`, and a branch reads `u = u_parent − Z J` with
//! `Z = diag(channel ohms) + common ohms · 1 1ᵀ`, symmetric and never negative. Currents follow from voltages by
//! adding up from the leaves, so no resistance is ever divided by and a branch of zero ohms is an ordinary branch.
//!
//! Linearised about `u`, the subtree below a branch draws `δJ = α + G δu`. With `Z = B Bᵀ` its effect on the parent is
//! `G′ = G − XᵀX`, `X = L⁻¹BᵀG`, where `L Lᵀ = 1 + BᵀGB`. That pivot block is positive definite at every station
//! exactly when the operating point is on the stable (upper) branch: it is the Schur complement of the network's
//! symmetric matrix, which constant-power loads alone can make indefinite.

use super::block::Cholesky;
use super::network::LoadModel;

/// A tree of ports. `C` is 1 for a plain pair (both conductors in one figure) and `M + 1` otherwise.
pub(super) struct Tree<const M: usize, const C: usize> {
    /// Parent of each station; the entry of station 0 is not read.
    pub(super) parent: Vec<usize>,
    /// Ohms of the channels, then of the common; or the loop's ohms for a pair.
    pub(super) ohms: Vec<[f64; C]>,
    /// Voltage of the source.
    pub(super) source: f64,
    /// The loads as station, channel, model.
    pub(super) loads: Vec<(usize, usize, LoadModel)>,
}

/// Where Newton's method ended.
pub(super) enum Ending<const M: usize> {
    /// A stable operating point.
    Point(Point<M>),
    /// No operating point above the last one tried; the index of the load that is lowest there.
    Collapsed {
        /// Index of the load.
        load: usize,
    },
    /// The arithmetic could not reach the tolerance; what was left, in volts.
    Rough {
        /// The residual in volts, infinite where numbers overflowed.
        residual: f64,
        /// Index of the load with the lowest voltage.
        load: usize,
    },
}

/// A stable operating point.
pub(super) struct Point<const M: usize> {
    /// Port voltages per station.
    pub(super) ports: Vec<[f64; M]>,
    /// The greatest difference between these voltages and those that their own currents lead to, in volts.
    pub(super) residual: f64,
    /// Steps taken.
    pub(super) steps: usize,
    /// The smallest pivot met, at most 1: it goes to 0 where constant-power loads are about to lose their solution.
    pub(super) stability: f64,
}

/// More steps than quadratic (or, at an exact nose, halving) convergence can ever need.
const MOST_STEPS: usize = 200;

/// Current of a load at a voltage, and its slope. `share` scales constant power.
pub(super) fn current_and_slope(model: LoadModel, volts: f64, share: f64) -> (f64, f64) {
    match model {
        LoadModel::Current(amps) => (amps.get(), 0.0),
        LoadModel::Power(watts) if watts.get() == 0.0 || share == 0.0 => (0.0, 0.0),
        LoadModel::Power(watts) => {
            let amps = share * watts.get() / volts;
            (amps, -amps / volts)
        }
        LoadModel::Resistance(ohms) => (volts / ohms.get(), 1.0 / ohms.get()),
        LoadModel::Supply { emf, ohms } => ((volts - emf.get()) / ohms.get(), 1.0 / ohms.get()),
    }
}

/// Whether a load takes power that does not fall with its voltage.
pub(super) fn is_power(model: LoadModel) -> bool {
    matches!(model, LoadModel::Power(watts) if watts.get() > 0.0)
}

impl<const M: usize, const C: usize> Tree<M, C> {
    /// `Bᵀ x` with the roots of the branch's ohms.
    fn gather(roots: &[f64; C], x: &[f64; M]) -> [f64; C] {
        let mut out = [0.0; C];
        if C == 1 {
            out[0] = roots[0] * x[0];
        } else {
            let mut sum = 0.0;
            for channel in 0..M {
                out[channel] = roots[channel] * x[channel];
                sum += x[channel];
            }
            out[M] = roots[M] * sum;
        }
        out
    }

    /// `B y` with the roots of the branch's ohms.
    fn spread(roots: &[f64; C], y: &[f64; C]) -> [f64; M] {
        let mut out = [0.0; M];
        if C == 1 {
            out[0] = roots[0] * y[0];
        } else {
            for channel in 0..M {
                out[channel] = roots[channel] * y[channel] + roots[M] * y[M];
            }
        }
        out
    }

    /// `Z J`, the drop along the branch.
    fn drop(ohms: &[f64; C], amps: &[f64; M]) -> [f64; M] {
        let mut out = [0.0; M];
        if C == 1 {
            out[0] = ohms[0] * amps[0];
        } else {
            let common = ohms[M] * amps.iter().sum::<f64>();
            for channel in 0..M {
                out[channel] = ohms[channel] * amps[channel] + common;
            }
        }
        out
    }

    /// Branch currents of every station at these port voltages, by adding up from the leaves.
    pub(super) fn branch_amps(&self, ports: &[[f64; M]], share: f64) -> Vec<[f64; M]> {
        let mut amps = vec![[0.0; M]; self.parent.len()];
        for &(station, channel, model) in &self.loads {
            amps[station][channel] += current_and_slope(model, ports[station][channel], share).0;
        }
        for station in (1..self.parent.len()).rev() {
            let own = amps[station];
            for channel in 0..M {
                amps[self.parent[station]][channel] += own[channel];
            }
        }
        amps
    }

    /// The unloaded profile: no load can have a higher voltage than the highest source.
    pub(super) fn unloaded(&self) -> Vec<[f64; M]> {
        let highest = self.loads.iter().fold(self.source, |highest, (_, _, model)| match model {
            LoadModel::Supply { emf, .. } => highest.max(emf.get()),
            _ => highest,
        });
        let mut ports = vec![[highest; M]; self.parent.len()];
        ports[0] = [self.source; M];
        ports
    }

    /// The load whose voltage is lowest when the drops of these ports' own currents are taken from the source.
    fn lowest_load(&self, ports: &[[f64; M]], share: f64, only_power: bool) -> usize {
        let amps = self.branch_amps(ports, share);
        let mut drops = vec![[0.0; M]; self.parent.len()];
        for station in 1..self.parent.len() {
            let own = Self::drop(&self.ohms[station], &amps[station]);
            let above = drops[self.parent[station]];
            for channel in 0..M {
                drops[station][channel] = above[channel] + own[channel];
            }
        }
        let mut lowest = (0, f64::NEG_INFINITY);
        for (index, &(station, channel, model)) in self.loads.iter().enumerate() {
            if (!only_power || is_power(model)) && drops[station][channel] > lowest.1 {
                lowest = (index, drops[station][channel]);
            }
        }
        lowest.0
    }

    /// Newton's method from the given ports, to a residual of at most `tolerance` volts and as much below as it goes.
    pub(super) fn newton(&self, start: Vec<[f64; M]>, share: f64, tolerance: f64) -> Ending<M> {
        let count = self.parent.len();
        let roots: Vec<[f64; C]> = self.ohms.iter().map(|ohms| ohms.map(f64::sqrt)).collect();
        let mut ports = start;
        let mut best: Option<Point<M>> = None;
        let mut stability = 1.0_f64;
        let mut last_residual = f64::INFINITY;
        let mut slack = vec![[0.0; M]; count];
        let mut astray = vec![[0.0; M]; count];
        let mut slope = vec![[[0.0; M]; M]; count];
        let mut extra = vec![[0.0; M]; count];
        let mut factors: Vec<Option<Cholesky<C>>> = vec![None; count];
        for steps in 0..MOST_STEPS {
            if self.loads.iter().any(|&(station, channel, model)| is_power(model) && ports[station][channel] <= 0.0) {
                // Iterates stay at or above the operating point, so one at zero proves that there is none.
                return match best {
                    Some(point) => Ending::Point(point),
                    None => Ending::Collapsed { load: self.lowest_port(&ports) },
                };
            }
            let amps = self.branch_amps(&ports, share);
            let mut residual = 0.0_f64;
            for station in 1..count {
                let parent = self.parent[station];
                let drop = Self::drop(&self.ohms[station], &amps[station]);
                for channel in 0..M {
                    slack[station][channel] = ports[parent][channel] - drop[channel] - ports[station][channel];
                    astray[station][channel] = astray[parent][channel] + slack[station][channel];
                    let size = astray[station][channel].abs();
                    residual = if size.is_finite() { residual.max(size) } else { f64::INFINITY };
                }
                if residual == f64::INFINITY {
                    return Ending::Rough { residual, load: 0 };
                }
            }
            let better = best.as_ref().is_none_or(|point| residual < point.residual);
            if residual <= tolerance && better {
                best = Some(Point { ports: ports.clone(), residual, steps, stability });
            }
            if let Some(point) = &best
                && (point.residual == 0.0 || residual > 0.5 * last_residual)
                && steps > 0
            {
                break;
            }
            last_residual = residual;

            slope.fill([[0.0; M]; M]);
            extra.fill([0.0; M]);
            for &(station, channel, model) in &self.loads {
                slope[station][channel][channel] += current_and_slope(model, ports[station][channel], share).1;
            }
            let mut stable = true;
            for station in (1..count).rev() {
                let root = &roots[station];
                let own = slope[station];
                let columns = own.map(|row| Self::gather(root, &row));
                let mut pivot = [[0.0; C]; C];
                for column in 0..C {
                    let weighted = Self::gather(root, &columns.map(|row| row[column]));
                    for row in 0..C {
                        pivot[row][column] = weighted[row] + if row == column { 1.0 } else { 0.0 };
                    }
                }
                let Some(factor) = Cholesky::of(&pivot) else {
                    stable = false;
                    break;
                };
                stability = if steps == 0 { stability } else { stability.min(factor.least_pivot) };
                let halves = columns.map(|row| factor.forward(row));
                let mut pull = extra[station];
                for row in 0..M {
                    for column in 0..M {
                        pull[row] += own[row][column] * slack[station][column];
                    }
                }
                let shrunk = factor.forward(Self::gather(root, &pull));
                let parent = self.parent[station];
                for row in 0..M {
                    for column in 0..M {
                        slope[parent][row][column] += if C == 1 {
                            own[row][column] / pivot[0][0]
                        } else {
                            own[row][column] - dot(&halves[row], &halves[column])
                        };
                    }
                    extra[parent][row] +=
                        if C == 1 { pull[row] / pivot[0][0] } else { pull[row] - dot(&halves[row], &shrunk) };
                }
                factors[station] = Some(factor);
            }
            if !stable {
                return match best {
                    // At an exact nose the pivot vanishes with the residual: the double root is the answer.
                    Some(point) => Ending::Point(point),
                    None => Ending::Collapsed { load: self.lowest_load(&ports, share, true) },
                };
            }
            // From here on `astray` holds the change of each port.
            let change = &mut astray;
            change[0] = [0.0; M];
            for station in 1..count {
                let Some(factor) = &factors[station] else { continue };
                let parent = self.parent[station];
                let mut moved = change[parent];
                for channel in 0..M {
                    moved[channel] += slack[station][channel];
                }
                let mut pull = extra[station];
                for row in 0..M {
                    for column in 0..M {
                        pull[row] += slope[station][row][column] * moved[column];
                    }
                }
                let weights = factor.back(factor.forward(Self::gather(&roots[station], &pull)));
                let held = Self::spread(&roots[station], &weights);
                for channel in 0..M {
                    change[station][channel] = moved[channel] - held[channel];
                    ports[station][channel] += change[station][channel];
                }
            }
            astray[0] = [0.0; M];
        }
        match best {
            Some(point) => Ending::Point(Point { stability, ..point }),
            None => Ending::Rough { residual: last_residual, load: self.lowest_load(&ports, share, false) },
        }
    }

    /// The constant-power load with the lowest port voltage.
    fn lowest_port(&self, ports: &[[f64; M]]) -> usize {
        let mut lowest = (0, f64::INFINITY);
        for (index, &(station, channel, model)) in self.loads.iter().enumerate() {
            if is_power(model) && ports[station][channel] < lowest.1 {
                lowest = (index, ports[station][channel]);
            }
        }
        lowest.0
    }
}

fn dot<const N: usize>(a: &[f64; N], b: &[f64; N]) -> f64 {
    let mut sum = 0.0;
    for index in 0..N {
        sum += a[index] * b[index];
    }
    sum
}
