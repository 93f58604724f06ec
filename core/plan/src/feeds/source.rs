//! What luminaires draw from a source of one tolerance and what they need, summed so that any stretch is read off at once.

use catalogue::LoadModel;

use super::problem::{DriverOption, Problem};

/// Volts that rounding may eat before a limit counts as missed.
pub(super) const VOLT_ROUNDING: f64 = 1e-9;

/// Worst draws summed over luminaires for one source tolerance; entry `k` covers the luminaires before `k`.
#[derive(Clone, Debug)]
pub(crate) struct SourceSums {
    /// Microamperes.
    amps: Vec<i64>,
    /// Microwatts.
    watts: Vec<i64>,
}

impl SourceSums {
    /// Of the worst current and power of each luminaire, in micro-units.
    pub(crate) fn of(amps: impl Iterator<Item = i64>, watts: impl Iterator<Item = i64>) -> Self {
        Self { amps: running_sums(amps), watts: running_sums(watts) }
    }

    /// Worst current of luminaires `first … last`, microamperes.
    pub(crate) fn micro_amps(&self, first: usize, last: usize) -> i64 {
        self.amps[last + 1] - self.amps[first]
    }

    /// Worst power of luminaires `first … last`, microwatts.
    pub(super) fn micro_watts(&self, first: usize, last: usize) -> i64 {
        self.watts[last + 1] - self.watts[first]
    }
}

/// What points draw from one source tolerance, and what they need.
#[derive(Clone, Debug)]
pub(super) struct Source {
    /// Low end, volts.
    pub(super) low: f64,
    /// High end, volts.
    pub(super) high: f64,
    /// Luminaires that do not stand the high end.
    overdriven: Vec<u32>,
    /// Whether all luminaires draw and need the same.
    pub(super) uniform: bool,
    /// Currents that none exceeds while every luminaire has its least voltage.
    pub(super) most: Vec<ChannelSums>,
    /// Currents that each exceeds while every luminaire has its least voltage; `None` where they are the same.
    pub(super) fewest: Option<Vec<ChannelSums>>,
}

/// Currents of one channel as a constant-current chain: the drop in the channel's conductor plus that in the common is
/// the drop of the channel's current plus the sum over channels.
#[derive(Clone, Debug)]
pub(super) struct ChannelSums {
    /// Σ J, amperes.
    current: Vec<f64>,
    /// Σ J · q with q = chainage + loop × index, ampere metres.
    moment: Vec<f64>,
    /// q, metres.
    position: Vec<f64>,
    /// Distinct needs: least voltage plus the drop of the own branch.
    kinds: Vec<NeedKind>,
}

/// Luminaires with the same need on one channel.
#[derive(Clone, Debug)]
struct NeedKind {
    need: f64,
    /// Least index at or after each index.
    next: Vec<u32>,
    /// Greatest index at or before each index; `u32::MAX` where none.
    previous: Vec<u32>,
}

/// Least voltage in force at each luminaire: the tighter of the drop rule and its own least.
pub(super) fn limits(problem: &Problem) -> Vec<f64> {
    let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
    problem.luminaires.iter().map(|luminaire| luminaire.least.get().max(by_drop)).collect()
}

/// Worst current and power of one channel, without the help of any drop.
pub(super) fn worst_draw(load: LoadModel, low: f64, high: f64, limit: f64) -> (f64, f64) {
    match load {
        LoadModel::Current(amps) => (amps.get(), high * amps.get()),
        LoadModel::Power(watts) => (watts.get() / limit, low.max(limit) * watts.get() / limit),
        LoadModel::Resistance(ohms) => (high / ohms.get(), high * high / ohms.get()),
    }
}

fn is_uniform(problem: &Problem, limits: &[f64]) -> bool {
    let Some(one) = problem.luminaires.first() else { return true };
    let alike = |other: &super::problem::Luminaire| {
        other.channels == one.channels
            && (other.own_channel, other.own_common) == (one.own_channel, one.own_common)
            && other.greatest == one.greatest
    };
    problem.luminaires.iter().all(alike) && limits.iter().all(|limit| *limit == limits[0])
}

/// Millionths, rounded up, with room for the last bits of a float.
fn micro_up(value: f64) -> i64 {
    (value * 1e6 - 1e-3).ceil() as i64
}

/// Millionths, rounded down, with room for the last bits of a float.
pub(super) fn micro_down(value: f64) -> i64 {
    (value * 1e6 + 1e-3).floor() as i64
}

fn running_sums<T: Copy + Default + std::ops::Add<Output = T>>(values: impl Iterator<Item = T>) -> Vec<T> {
    let mut sum = T::default();
    std::iter::once(sum)
        .chain(values.map(|value| {
            sum = sum + value;
            sum
        }))
        .collect()
}

impl Source {
    /// For the tolerance of one driver part, with limits lowered by `slack` volts where the best effort is sought.
    pub(super) fn of(problem: &Problem, driver: &DriverOption, slack: f64) -> (Self, SourceSums) {
        let (low, high) = (driver.low.get(), driver.high.get());
        let limits = limits(problem);
        let lowered: Vec<f64> = limits.iter().map(|limit| (limit - slack).max(1e-3)).collect();
        let draws: Vec<(f64, f64)> = problem
            .luminaires
            .iter()
            .zip(&limits)
            .map(|(luminaire, limit)| {
                let each = luminaire.channels.iter().map(|load| worst_draw(*load, low, high, *limit));
                each.fold((0.0, 0.0), |sum, draw| (sum.0 + draw.0, sum.1 + draw.1))
            })
            .collect();
        let steady = problem
            .luminaires
            .iter()
            .all(|luminaire| luminaire.channels.iter().all(|load| matches!(load, LoadModel::Current(_))));
        let at = |load: LoadModel, limit: f64, most: bool| match load {
            LoadModel::Current(amps) => amps.get(),
            LoadModel::Power(watts) => watts.get() / if most { limit } else { low },
            LoadModel::Resistance(ohms) => (if most { low } else { limit }) / ohms.get(),
        };
        let sums = |most: bool| {
            let currents: Vec<Vec<f64>> = problem
                .luminaires
                .iter()
                .zip(&lowered)
                .map(|(luminaire, limit)| luminaire.channels.iter().map(|load| at(*load, *limit, most)).collect())
                .collect();
            let channels = problem.luminaires.first().map_or(0, |luminaire| luminaire.channels.len());
            (0..channels).map(|channel| ChannelSums::of(problem, &lowered, &currents, channel)).collect::<Vec<_>>()
        };
        let drawn =
            SourceSums::of(draws.iter().map(|draw| micro_up(draw.0)), draws.iter().map(|draw| micro_up(draw.1)));
        let source = Self {
            low,
            high,
            overdriven: running_sums(
                problem.luminaires.iter().map(|luminaire| u32::from(high > luminaire.greatest.get() + VOLT_ROUNDING)),
            ),
            uniform: is_uniform(problem, &limits),
            most: sums(true),
            fewest: (!steady).then(|| sums(false)),
        };
        (source, drawn)
    }

    /// Whether any of luminaires `first … last` does not stand the high end.
    pub(super) fn overdrives(&self, first: usize, last: usize) -> bool {
        self.overdriven[last + 1] > self.overdriven[first]
    }
}

impl ChannelSums {
    fn of(problem: &Problem, limits: &[f64], currents: &[Vec<f64>], channel: usize) -> Self {
        let count = problem.luminaires.len();
        let position: Vec<f64> = problem
            .luminaires
            .iter()
            .enumerate()
            .map(|(index, luminaire)| {
                // Summed in whole micrometres so that a mirrored rail has the same differences.
                (luminaire.chainage.to_um() + problem.loop_per_hole.to_um() * index as i64) as f64 / 1e6
            })
            .collect();
        let sum = |index: usize| currents[index].iter().sum::<f64>();
        let joint: Vec<f64> = (0..count).map(|index| currents[index][channel] + sum(index)).collect();
        let needs: Vec<f64> = problem
            .luminaires
            .iter()
            .enumerate()
            .map(|(index, luminaire)| {
                limits[index]
                    + luminaire.own_channel.get() * currents[index][channel]
                    + luminaire.own_common.get() * sum(index)
            })
            .collect();
        let mut distinct = needs.clone();
        distinct.sort_by(f64::total_cmp);
        distinct.dedup();
        let kinds = distinct
            .into_iter()
            .map(|need| {
                let mut next = vec![u32::MAX; count + 1];
                let mut previous = vec![u32::MAX; count];
                for index in (0..count).rev() {
                    next[index] = if needs[index] == need { index as u32 } else { next[index + 1] };
                }
                for index in 0..count {
                    let before = if index == 0 { u32::MAX } else { previous[index - 1] };
                    previous[index] = if needs[index] == need { index as u32 } else { before };
                }
                NeedKind { need, next, previous }
            })
            .collect();
        Self {
            current: running_sums(joint.iter().copied()),
            moment: running_sums(joint.iter().zip(&position).map(|(current, position)| current * position)),
            position,
            kinds,
        }
    }

    /// Σ J over luminaires `first … last`.
    #[inline]
    pub(super) fn between(&self, first: usize, last: usize) -> f64 {
        self.current[last + 1] - self.current[first]
    }

    #[inline]
    fn moment_between(&self, first: usize, last: usize) -> f64 {
        self.moment[last + 1] - self.moment[first]
    }

    /// Volts needed at the way in for a left arm that serves `first … last`.
    ///
    /// # Units
    /// `way_in` and `loop_length` in metres, `ohms_per_m` of one conductor.
    #[inline]
    pub(super) fn left_need(&self, first: usize, last: usize, way_in: f64, loop_length: f64, ohms_per_m: f64) -> f64 {
        let origin = way_in + loop_length * (last as f64 + 1.0);
        let mut need = f64::NEG_INFINITY;
        for kind in &self.kinds {
            let farthest = kind.next[first] as usize;
            if farthest <= last {
                let nearer = origin * self.between(farthest, last) - self.moment_between(farthest, last);
                let beyond = if farthest > first { self.between(first, farthest - 1) } else { 0.0 };
                let ampere_metres = nearer + (origin - self.position[farthest]) * beyond;
                need = need.max(kind.need + ohms_per_m * ampere_metres);
            }
        }
        need
    }

    /// Volts needed at the way in for a right arm that serves `first … last`.
    #[inline]
    pub(super) fn right_need(&self, first: usize, last: usize, way_in: f64, loop_length: f64, ohms_per_m: f64) -> f64 {
        let origin = way_in + loop_length * (first as f64 - 1.0);
        let mut need = f64::NEG_INFINITY;
        for kind in &self.kinds {
            let farthest = kind.previous[last] as usize;
            if farthest != u32::MAX as usize && farthest >= first {
                let nearer = self.moment_between(first, farthest) - origin * self.between(first, farthest);
                let beyond = if farthest < last { self.between(farthest + 1, last) } else { 0.0 };
                let ampere_metres = nearer + (self.position[farthest] - origin) * beyond;
                need = need.max(kind.need + ohms_per_m * ampere_metres);
            }
        }
        need
    }
}
