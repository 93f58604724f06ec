//! One large site: read, planned and measured.

use std::path::Path;
use std::time::{Duration, Instant};

use desk::{Planned, read_catalogue, read_survey};

/// A site with its catalogue, read.
pub struct Site {
    survey: survey::Survey,
    catalogue: catalogue::Catalogue,
    read: Duration,
}

/// What was measured on a site.
pub struct Measured {
    /// Length of its rails together.
    pub metres: f64,
    /// Points and modules planned.
    pub points: usize,
    /// Circuits planned.
    pub circuits: usize,
    /// Time to read both files.
    pub read: Duration,
    /// Median time from parsed survey to plan document.
    pub planned: Duration,
    /// Mean processor time of the same over all threads, which other programs on the machine disturb less.
    pub processor: Duration,
    /// Greatest memory of a process that reads, plans and makes the document once.
    pub peak_mb: f64,
}

impl Site {
    /// Reads both files.
    pub fn read(catalogue: &Path, survey: &Path) -> Self {
        let bytes = |path: &Path| {
            std::fs::read(path).unwrap_or_else(|error| panic!("{}: {error}; run .ci/bench", path.display()))
        };
        let (catalogue_bytes, survey_bytes) = (bytes(catalogue), bytes(survey));
        let start = Instant::now();
        let catalogue = read_catalogue(&catalogue_bytes, "catalogue.toml").unwrap_or_else(|faults| panic!("{faults}"));
        let survey = read_survey(&survey_bytes, "site.json").unwrap_or_else(|faults| panic!("{faults}"));
        Self { survey, catalogue, read: start.elapsed() }
    }

    /// Plans it once and makes the document.
    pub fn plan_once(&self) -> Planned {
        let planned = Planned::of(self.survey.clone(), self.catalogue.clone());
        std::hint::black_box(planned.document());
        planned
    }

    /// Measures it; memory in a process of its own, since a peak is never taken back.
    pub fn measure(&self, catalogue: &Path, survey: &Path) -> Measured {
        let mut times = Vec::new();
        let used = processor_time();
        let begun = Instant::now();
        // At least three runs, at most nine, and no more than about two seconds of them.
        while times.len() < 3 || (times.len() < 9 && begun.elapsed() < Duration::from_secs(2)) {
            let (survey, catalogue) = (self.survey.clone(), self.catalogue.clone());
            let start = Instant::now();
            let planned = Planned::of(survey, catalogue);
            let document = std::hint::black_box(planned.document());
            times.push(start.elapsed());
            drop(document);
        }
        let processor = processor_time().saturating_sub(used) / times.len() as u32;
        let planned = self.plan_once();
        Measured {
            metres: planned.plan.rails.iter().map(|rail| rail.length.to_m()).sum(),
            points: planned.plan.rails.iter().map(|rail| rail.luminaires.len()).sum(),
            circuits: planned.plan.circuits.len(),
            read: self.read,
            planned: median(&mut times),
            processor,
            peak_mb: peak_of_child(catalogue, survey),
        }
    }
}

/// The middle of several times.
pub fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

fn peak_of_child(catalogue: &Path, survey: &Path) -> f64 {
    let own = std::env::current_exe().expect("this program has a path");
    let done = std::process::Command::new(own)
        .arg("--once")
        .args([catalogue, survey])
        .output()
        .expect("this program can be started again");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let kb: f64 = String::from_utf8_lossy(&done.stdout).trim().parse().expect("a number of kB");
    kb * 1024.0 / 1e6
}

/// Greatest resident memory of this process so far in kB, as Linux counts it (`VmHWM`).
pub fn peak_kb() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").expect("Linux states a process's memory");
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).expect("the greatest resident memory");
    line.trim().trim_end_matches("kB").trim().parse().expect("a number of kB")
}

/// Processor time of this process so far with all its threads, as Linux counts it: in hundredths of a second, so that
/// only a sum over several runs is worth reading.
fn processor_time() -> Duration {
    let text = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    // The name of the program stands in parentheses and may hold blanks; behind it the times are words 12 and 13.
    let words = text.rsplit_once(')').map_or("", |own| own.1).split_whitespace().skip(11).take(2);
    let hundredths: u64 = words.filter_map(|word| word.parse::<u64>().ok()).sum();
    Duration::from_millis(hundredths * 10)
}
