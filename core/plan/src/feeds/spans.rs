//! How far one output and one driver reach from each luminaire, by current and by power alone.

use super::source::SourceSums;
use super::stand::Stand;

/// How far the chains and the power of each stand go.
pub(super) struct Spans {
    /// By stand and first luminaire, one past the last that one output can feed.
    pub(super) output: Vec<Vec<u32>>,
    /// By stand and first luminaire, one past the last that one driver can feed.
    pub(super) power: Vec<Vec<u32>>,
}

impl Spans {
    /// Where `sums` gives what luminaires draw from each stand.
    pub(super) fn of<'a>(count: usize, stands: &[Stand], sums: impl Fn(&Stand) -> &'a SourceSums) -> Self {
        let spans = |draw: &dyn Fn(usize, usize) -> i64, limit: i64| {
            let mut end = 0;
            (0..count)
                .map(|first| {
                    end = end.max(first);
                    while end < count && draw(first, end) <= limit {
                        end += 1;
                    }
                    end as u32
                })
                .collect::<Vec<u32>>()
        };
        let each = |what: &dyn Fn(&Stand) -> Vec<u32>| stands.iter().map(what).collect();
        Self {
            output: each(&|stand| spans(&|first, last| sums(stand).micro_amps(first, last), stand.output_limit)),
            power: each(&|stand| spans(&|first, last| sums(stand).micro_watts(first, last), stand.usable)),
        }
    }

    /// By first luminaire, one past the last that any stand of a chain table can feed with one output.
    pub(super) fn of_table(&self, count: usize, stands: &[Stand], table: usize) -> Vec<u32> {
        let mut farthest: Vec<u32> = (0..count as u32).collect();
        for (index, _) in stands.iter().enumerate().filter(|(_, stand)| stand.table == table) {
            for (known, (output, power)) in farthest.iter_mut().zip(self.output[index].iter().zip(&self.power[index])) {
                *known = (*known).max(*output.min(power));
            }
        }
        farthest
    }
}
