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
        let mut ports = start;
        let mut room = Room::for_tree(self);
        let mut best: Option<Point<M>> = None;
        let mut stability = 1.0_f64;
        let mut last_residual = f64::INFINITY;
        for steps in 0..MOST_STEPS {
            if self.loads.iter().any(|&(station, channel, model)| is_power(model) && ports[station][channel] <= 0.0) {
                // Iterates stay at or above the operating point, so one at zero proves that there is none.
                let load = self.lowest_port(&ports);
                return best.map_or(Ending::Collapsed { load }, Ending::Point);
            }
            let residual = self.measure(&ports, share, &mut room);
            if residual == f64::INFINITY {
                return Ending::Rough { residual, load: 0 };
            }
            if residual <= tolerance && best.as_ref().is_none_or(|point| residual < point.residual) {
                best = Some(Point { ports: ports.clone(), residual, steps, stability });
            }
            if let Some(point) = &best
                && steps > 0
                && (point.residual == 0.0 || residual > 0.5 * last_residual)
            {
                break;
            }
            last_residual = residual;
            let Some(least_pivot) = self.eliminate(&ports, share, &mut room) else {
                // At an exact nose the pivot vanishes with the residual: the double root is the answer.
                let load = self.lowest_load(&ports, share, true);
                return best.map_or(Ending::Collapsed { load }, Ending::Point);
            };
            if steps > 0 {
                stability = stability.min(least_pivot);
            }
            self.advance(&mut ports, &mut room);
        }
        match best {
            Some(point) => Ending::Point(Point { stability, ..point }),
            None => Ending::Rough { residual: last_residual, load: self.lowest_load(&ports, share, false) },
        }
    }

    /// Fills in by how much each branch misses its own equation, and returns the greatest difference in volts between
    /// a port and what the currents of all ports lead to there (infinite where a number overflows).
    fn measure(&self, ports: &[[f64; M]], share: f64, room: &mut Room<M, C>) -> f64 {
        let amps = self.branch_amps(ports, share);
        let mut residual = 0.0_f64;
        for station in 1..ports.len() {
            let parent = self.parent[station];
            let drop = Self::drop(&self.ohms[station], &amps[station]);
            for channel in 0..M {
                let slack = ports[parent][channel] - drop[channel] - ports[station][channel];
                let astray = room.astray[parent][channel] + slack;
                room.slack[station][channel] = slack;
                room.astray[station][channel] = astray;
                if !astray.is_finite() {
                    return f64::INFINITY;
                }
                residual = residual.max(astray.abs());
            }
        }
        residual
    }

    /// Eliminates every station into its parent, leaves first. Returns the least pivot, or `None` where a pivot is not
    /// positive definite.
    fn eliminate(&self, ports: &[[f64; M]], share: f64, room: &mut Room<M, C>) -> Option<f64> {
        room.slope.fill([[0.0; M]; M]);
        room.extra.fill([0.0; M]);
        for &(station, channel, model) in &self.loads {
            room.slope[station][channel][channel] += current_and_slope(model, ports[station][channel], share).1;
        }
        let mut least_pivot = f64::INFINITY;
        for station in (1..ports.len()).rev() {
            let roots = &room.roots[station];
            let own = room.slope[station];
            // G is symmetric, so these rows are the columns of BᵀG.
            let halves = own.map(|row| Self::gather(roots, &row));
            let mut pivot = [[0.0; C]; C];
            for column in 0..C {
                let weighted = Self::gather(roots, &halves.map(|row| row[column]));
                for row in 0..C {
                    pivot[row][column] = weighted[row] + if row == column { 1.0 } else { 0.0 };
                }
            }
            let factor = Cholesky::of(&pivot)?;
            least_pivot = least_pivot.min(factor.least_pivot);
            let pull = pulled(&room.extra[station], &own, &room.slack[station]);
            let parent = self.parent[station];
            if C == 1 {
                // One division in place of a difference of nearly equal figures.
                room.slope[parent][0][0] += own[0][0] / pivot[0][0];
                room.extra[parent][0] += pull[0] / pivot[0][0];
            } else {
                let halves = halves.map(|half| factor.forward(half));
                let shrunk = factor.forward(Self::gather(roots, &pull));
                for row in 0..M {
                    for column in 0..M {
                        room.slope[parent][row][column] += own[row][column] - dot(&halves[row], &halves[column]);
                    }
                    room.extra[parent][row] += pull[row] - dot(&halves[row], &shrunk);
                }
            }
            room.factors[station] = Some(factor);
        }
        Some(least_pivot)
    }

    /// Moves every port by Newton's step, source first.
    fn advance(&self, ports: &mut [[f64; M]], room: &mut Room<M, C>) {
        for (station, port) in ports.iter_mut().enumerate().skip(1) {
            let Some(factor) = &room.factors[station] else { continue };
            let mut moved = room.change[self.parent[station]];
            for (moved, slack) in moved.iter_mut().zip(&room.slack[station]) {
                *moved += slack;
            }
            let pull = pulled(&room.extra[station], &room.slope[station], &moved);
            let weights = factor.back(factor.forward(Self::gather(&room.roots[station], &pull)));
            let held = Self::spread(&room.roots[station], &weights);
            for channel in 0..M {
                room.change[station][channel] = moved[channel] - held[channel];
                port[channel] += room.change[station][channel];
            }
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

/// What Newton's method works in, kept from step to step.
struct Room<const M: usize, const C: usize> {
    /// Square roots of each branch's ohms.
    roots: Vec<[f64; C]>,
    /// By how much each branch misses its equation.
    slack: Vec<[f64; M]>,
    /// The same, added up from the source; nothing at the source itself.
    astray: Vec<[f64; M]>,
    /// The step of each port; nothing at the source.
    change: Vec<[f64; M]>,
    /// `G` of each station, its own loads and all that hangs below.
    slope: Vec<[[f64; M]; M]>,
    /// `α` of each station.
    extra: Vec<[f64; M]>,
    /// The pivot of each station.
    factors: Vec<Option<Cholesky<C>>>,
}

impl<const M: usize, const C: usize> Room<M, C> {
    fn for_tree(tree: &Tree<M, C>) -> Self {
        let count = tree.parent.len();
        Self {
            roots: tree.ohms.iter().map(|ohms| ohms.map(f64::sqrt)).collect(),
            slack: vec![[0.0; M]; count],
            astray: vec![[0.0; M]; count],
            change: vec![[0.0; M]; count],
            slope: vec![[[0.0; M]; M]; count],
            extra: vec![[0.0; M]; count],
            factors: vec![None; count],
        }
    }
}

/// `α + G δ`.
fn pulled<const M: usize>(extra: &[f64; M], slope: &[[f64; M]; M], change: &[f64; M]) -> [f64; M] {
    let mut pull = *extra;
    for row in 0..M {
        pull[row] += dot(&slope[row], change);
    }
    pull
}

fn dot<const N: usize>(a: &[f64; N], b: &[f64; N]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
