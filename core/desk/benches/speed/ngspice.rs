//! The same networks in ngspice, all in one batch run, with every node's voltage written to a binary file.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::site::median;

/// What ngspice took and how far its answers lie from ours.
pub struct Witness {
    /// Median time of a whole process: start, reading the deck, operating point, writing the answers.
    pub process: Duration,
    /// Median time of a process with a deck of one resistor.
    pub empty: Duration,
    /// Its own account of the analysis alone.
    pub analysis_ms: Option<f64>,
    /// Greatest difference of a node's voltage from ours, in millivolts.
    pub worst_mv: f64,
}

const EMPTY: &str = "nothing to do\nV1 1 0 DC 1\nR1 1 0 1\n.op\n.end\n";
const RUNS: usize = 3;

/// Runs the batch; `None` where there is no ngspice.
pub fn measure(circuits: &[plan::Circuit], ours: &[BTreeMap<String, f64>]) -> Option<Witness> {
    let folder = std::env::temp_dir().join(format!("newel-bench-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder for ngspice");
    let deck = deck(circuits);
    let found = (|| {
        let (empty, _) = timed(&folder, EMPTY)?;
        let (process, said) = timed(&folder, &deck)?;
        let analysis_ms = said
            .lines()
            .find_map(|line| line.strip_prefix("Total analysis time (seconds) ="))
            .and_then(|text| text.trim().parse::<f64>().ok())
            .map(|seconds| seconds * 1000.0);
        let worst_mv = worst_mv(&answers(&folder.join("answers.raw")), circuits, ours);
        Some(Witness { process, empty, analysis_ms, worst_mv })
    })();
    let _ = std::fs::remove_dir_all(&folder);
    found
}

/// Median time over several runs, and what the last one said.
fn timed(folder: &Path, deck: &str) -> Option<(Duration, String)> {
    let file = folder.join("deck.cir");
    std::fs::write(&file, deck).expect("a deck for ngspice");
    let mut times = Vec::new();
    let mut said = String::new();
    for _ in 0..RUNS {
        let start = Instant::now();
        let done = Command::new("ngspice")
            .args(["-b", "-r"])
            .arg(folder.join("answers.raw"))
            .arg(&file)
            .stdin(Stdio::null())
            .output()
            .ok()?;
        times.push(start.elapsed());
        said = String::from_utf8_lossy(&done.stdout).into_owned();
    }
    Some((median(&mut times), said))
}

/// Every circuit with node names of its own, by number, as short as they come.
fn deck(circuits: &[plan::Circuit]) -> String {
    let mut deck = String::from("circuits of a plan\n");
    for (c, circuit) in circuits.iter().enumerate() {
        let index: BTreeMap<&str, usize> =
            circuit.nodes.iter().enumerate().map(|(n, node)| (node.id.as_str(), n)).collect();
        let node = |id: &String| format!("c{c}_{}", index[id.as_str()]);
        let (plus, minus) = (node(&circuit.source.plus), node(&circuit.source.minus));
        let _ = writeln!(deck, "V{c}_g {minus} 0 DC 0\nV{c}_s {plus} {minus} DC {}", circuit.source.volts.get());
        for (b, branch) in circuit.branches.iter().enumerate() {
            let _ = writeln!(deck, "R{c}_{b} {} {} {:e}", node(&branch.from), node(&branch.to), branch.ohms.get());
        }
        for (l, load) in circuit.loads.iter().enumerate() {
            let (from, to) = (node(&load.from), node(&load.to));
            let _ = match load.model {
                catalogue::LoadModel::Current(amps) => writeln!(deck, "I{c}_{l} {from} {to} DC {:e}", amps.get()),
                catalogue::LoadModel::Power(watts) => {
                    // Below half a volt the search would divide by nothing; no solution lies there.
                    writeln!(deck, "B{c}_{l} {from} {to} I = {:e}/max(v({from},{to}),0.5)", watts.get())
                }
                catalogue::LoadModel::Resistance(ohms) => writeln!(deck, "R{c}_l{l} {from} {to} {:e}", ohms.get()),
            };
        }
    }
    deck.push_str(".options reltol=1e-9 abstol=1e-12 vntol=1e-10 itl1=2000 gmin=1e-15 acct\n.op\n.end\n");
    deck
}

/// Reads a binary answer file of one point: a header of lines, then one double a variable.
fn answers(file: &Path) -> BTreeMap<String, f64> {
    let bytes = std::fs::read(file).expect("ngspice wrote its answers");
    let mark = b"Binary:\n";
    let end = bytes.windows(mark.len()).position(|window| window == mark).expect("binary answers");
    let header = String::from_utf8_lossy(&bytes[..end]).into_owned();
    let names = header.split("\nVariables:").nth(1).expect("a list of variables").lines().filter_map(|line| {
        let mut words = line.split_whitespace();
        words.next().filter(|word| word.parse::<usize>().is_ok())?;
        words.next().map(str::to_owned)
    });
    let values = bytes[end + mark.len()..]
        .chunks_exact(8)
        .map(|chunk| f64::from_le_bytes(chunk.try_into().expect("eight bytes make a double")));
    names.zip(values).collect()
}

fn worst_mv(found: &BTreeMap<String, f64>, circuits: &[plan::Circuit], ours: &[BTreeMap<String, f64>]) -> f64 {
    let mut worst: f64 = 0.0;
    for (c, (circuit, own)) in circuits.iter().zip(ours).enumerate() {
        for (n, node) in circuit.nodes.iter().enumerate() {
            let name = format!("c{c}_{n}");
            let theirs = found.get(&format!("v({name})")).or_else(|| found.get(&name));
            let theirs = theirs.unwrap_or_else(|| panic!("ngspice has no voltage for {name}"));
            worst = worst.max((theirs - own[&node.id]).abs() * 1000.0);
        }
    }
    worst
}
