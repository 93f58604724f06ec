//! Rebuilds a circuit of the plan document in ngspice and reads the operating point back.
//!
//! It uses nothing but the document's `source`, `branches` and `loads`, so it also proves that those are complete.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::process::{Command, Stdio};

use serde_json::Value;

/// Node voltages that ngspice finds for one circuit of a plan document, by the document's node ids.
///
/// # Errors
/// Says what ngspice said when it has no operating point.
///
/// # Panics
/// Where the document lacks what the contract promises, or ngspice cannot be started.
pub fn volts(circuit: &Value) -> Result<BTreeMap<String, f64>, String> {
    volts_of_all(&[circuit]).pop().expect("one circuit in, one answer out")
}

/// The same for many circuits in one batch run.
///
/// # Panics
/// As [`volts`].
#[must_use]
pub fn volts_of_all(circuits: &[&Value]) -> Vec<Result<BTreeMap<String, f64>, String>> {
    let nets: Vec<Net> = circuits.iter().map(|c| Net::of(c)).collect();
    let mut deck = String::from("circuits of a plan\n");
    let mut names: Vec<String> = Vec::new();
    for (i, net) in nets.iter().enumerate() {
        deck.push_str(&net.lines.replace('#', &format!("c{i}_")));
        names.extend((0..net.ids.len()).map(|n| format!("v(c{i}_n{n})")));
    }
    deck.push_str(".options reltol=1e-7 abstol=1e-9 vntol=1e-7 itl1=500\n.control\nset numdgt=12\nop\n");
    for name in &names {
        let _ = writeln!(deck, "print {name}");
    }
    deck.push_str(".endc\n.end\n");
    let text = run(&deck);
    let mut read: BTreeMap<&str, f64> = BTreeMap::new();
    for line in text.lines() {
        if let Some((name, value)) = line.split_once(" = ")
            && let Ok(value) = value.trim().parse()
        {
            read.insert(name.trim(), value);
        }
    }
    nets.iter()
        .enumerate()
        .map(|(i, net)| {
            net.ids
                .iter()
                .enumerate()
                .map(|(n, id)| {
                    let name = format!("v(c{i}_n{n})");
                    match read.get(name.as_str()) {
                        Some(value) => Ok((id.clone(), *value)),
                        None => Err(format!("ngspice has no {name}:\n{text}")),
                    }
                })
                .collect()
        })
        .collect()
}

/// Runs one deck and gives back what was printed.
fn run(deck: &str) -> String {
    let folder =
        std::env::temp_dir().join(format!("newel-ngspice-{}-{:?}", std::process::id(), std::thread::current().id()));
    std::fs::create_dir_all(&folder).expect("a folder for ngspice");
    let file = folder.join("deck.cir");
    std::fs::write(&file, deck).expect("a deck for ngspice");
    let done = Command::new("ngspice")
        .arg("-b")
        .arg(&file)
        .stdin(Stdio::null())
        .output()
        .expect("ngspice starts (Debian package ngspice; `make test` installs it)");
    let text = String::from_utf8_lossy(&done.stdout).into_owned() + &String::from_utf8_lossy(&done.stderr);
    // A deck without an operating point stays behind for whoever looks into it.
    if !text.contains("DC solution failed") {
        let _ = std::fs::remove_dir_all(&folder);
    }
    text
}

struct Net {
    ids: Vec<String>,
    lines: String,
}

impl Net {
    fn of(circuit: &Value) -> Self {
        let ids: Vec<String> =
            circuit["nodes"].as_array().expect("nodes").iter().map(|n| text(&n["id"]).to_owned()).collect();
        let index: BTreeMap<&str, usize> = ids.iter().enumerate().map(|(i, id)| (id.as_str(), i)).collect();
        assert_eq!(index.len(), ids.len(), "node ids are unique in {}", circuit["id"]);
        let node = |v: &Value| {
            format!("#n{}", index.get(text(v)).unwrap_or_else(|| panic!("{v} is no node of {}", circuit["id"])))
        };
        let mut lines = String::new();
        let source = &circuit["source"];
        let (plus, minus) = (node(&source["plus"]), node(&source["minus"]));
        // Volts are counted from the source's minus terminal, so that terminal is tied to the simulator's ground.
        let _ = writeln!(lines, "V#g {minus} 0 DC 0\nV#s {plus} {minus} DC {}", number(&source["volts"]));
        for (i, branch) in circuit["branches"].as_array().expect("branches").iter().enumerate() {
            let (from, to, ohms) = (node(&branch["from"]), node(&branch["to"]), number(&branch["ohms"]));
            // A resistor of nothing is a source of nothing to the simulator.
            if ohms == 0.0 {
                let _ = writeln!(lines, "V#b{i} {from} {to} DC 0");
            } else {
                let _ = writeln!(lines, "R#b{i} {from} {to} {ohms:e}");
            }
        }
        for (i, load) in circuit["loads"].as_array().expect("loads").iter().enumerate() {
            let (from, to, value) = (node(&load["from"]), node(&load["to"]), number(&load["value"]));
            // Constant power has two solutions; the simulator's search starts near the upper one.
            let _ = writeln!(lines, ".nodeset v({from})={} v({to})=0", number(&source["volts"]));
            let _ = match text(&load["model"]) {
                "current" => writeln!(lines, "I#l{i} {from} {to} DC {value:e}"),
                // Below half a volt the simulator's search would divide by nothing; no solution lies there.
                "power" => writeln!(lines, "B#l{i} {from} {to} I = {value:e}/max(v({from},{to}),0.5)"),
                "resistance" => writeln!(lines, "R#l{i} {from} {to} {value:e}"),
                other => panic!("unknown load model {other}"),
            };
        }
        Self { ids, lines }
    }
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("{value} is a text"))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is a number"))
}
