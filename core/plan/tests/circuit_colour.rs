//! Colour chains of four conductors against ngspice, rebuilt from the flat lists that a plan carries.
//!
//! Source: the netlists `fixtures/reference/netlists/C1.cir` and `C2.cir` are written from the reports of the networks
//! below (the test compares them), and `fixtures/reference/colour_ngspice.csv` holds ngspice 39's operating points of
//! them, every node. The networks are invented; their ohms are IEC 60228 class 5 at 20 °C.

mod circuit_support;

use std::fmt::Write as _;
use std::path::Path;

use circuit_support::{core, reference, rows};
use plan::circuit::{
    Branch, BranchKind, CircuitReport, CommonSide, Conductor, LoadModel, Network, Wiring, report, solve,
};
use units::{Amps, Ohms, Volts, Watts};

fn colour(common: CommonSide, source: f64) -> Network {
    let channels = ["red", "green", "blue"].map(str::to_owned).to_vec();
    Network::new(Wiring::Colour { common, channels }, Volts::new(source), "s")
}

/// Three channels of some ohms and a common of others.
fn four(channel: f64, common: f64) -> Vec<Branch> {
    let mut branches: Vec<Branch> = (0..3).map(|index| core(Conductor::Channel(index), channel)).collect();
    branches.push(core(Conductor::Common, common));
    branches
}

/// Common anode: a two-core trunk to the decoder, a four-core lead, five modules in series with plugs between, each of
/// unequal constant power per channel.
fn c1() -> Network {
    let mut network = colour(CommonSide::Plus, 24.0);
    let trunk = vec![core(Conductor::Trunk, 0.0399), core(Conductor::Common, 0.0399)];
    let decoder = network.add_station("decoder", None, 0, trunk);
    let mut last = network.add_station("lead", None, decoder, four(0.078, 0.078));
    for index in 1..=5 {
        let mut plug = four(0.005, 0.005);
        plug.iter_mut().for_each(|branch| branch.kind = BranchKind::Plug);
        let plug = network.add_station(format!("plug{index}"), None, last, plug);
        last = network.add_station(format!("module{index}"), None, plug, four(0.039, 0.026));
        for (channel, watts) in [4.0, 3.5, 5.0].into_iter().enumerate() {
            network.add_load(format!("M{index}"), last, channel, LoadModel::Power(Watts::new(watts)));
        }
    }
    network
}

/// Common cathode: a tee of two runs with taps, channels of constant power, constant current and resistance.
fn c2() -> Network {
    let mut network = colour(CommonSide::Minus, 12.0);
    let tee = network.add_station("tee", None, 0, four(0.0665, 0.0665));
    for (arm, count) in [("a", 4), ("b", 3)] {
        let mut last = tee;
        for index in 1..=count {
            last = network.add_station(format!("{arm}{index}"), None, last, four(0.0195, 0.0133));
            let mut taps = four(0.03, 0.03);
            taps.iter_mut().for_each(|branch| branch.kind = BranchKind::Tap);
            let tap = network.add_station(format!("{arm}tap{index}"), None, last, taps);
            let name = format!("{arm}{index}");
            network.add_load(&name, tap, 0, LoadModel::Power(Watts::new(1.5)));
            network.add_load(&name, tap, 1, LoadModel::Current(Amps::new(0.1)));
            network.add_load(&name, tap, 2, LoadModel::Resistance(Ohms::new(100.0)));
        }
    }
    network
}

/// A report as a netlist, from its lists alone.
fn netlist(title: &str, report: &CircuitReport) -> String {
    let node = |id: &str| if *id == report.source_minus { "0".to_owned() } else { id.to_owned() };
    let mut text = format!("* {title}\nV1 {} 0 DC {}\n", node(&report.source_plus), report.source_volts.get());
    for (index, branch) in report.branches.iter().enumerate() {
        let (from, to) = (node(&branch.from), node(&branch.to));
        writeln!(text, "R{index} {from} {to} {}", branch.ohms.get()).unwrap();
    }
    for (index, load) in report.loads.iter().enumerate() {
        let (from, to) = (node(&load.from), node(&load.to));
        match load.model {
            LoadModel::Current(amps) => writeln!(text, "I{index} {from} {to} DC {}", amps.get()).unwrap(),
            LoadModel::Power(watts) => {
                writeln!(text, "B{index} {from} {to} I = {}/max(v({from})-v({to}),0.5)", watts.get()).unwrap();
            }
            LoadModel::Resistance(ohms) => writeln!(text, "RL{index} {from} {to} {}", ohms.get()).unwrap(),
            LoadModel::Supply { .. } => panic!("no second supply here"),
        }
    }
    text.push_str(".nodeset");
    for found in report.nodes.iter().filter(|found| found.id != report.source_minus) {
        // The unloaded profile: a plus-side node starts at the source, a minus-side one at zero.
        let plus_side = report.branches.iter().any(|branch| branch.to == found.id && branch.amps > Some(Amps::ZERO))
            && report.loads.iter().any(|load| same_side(&load.from, &found.id));
        let start = if plus_side || found.id == report.source_plus { report.source_volts.get() } else { 0.0 };
        write!(text, " v({})={start}", found.id).unwrap();
    }
    text.push_str(
        "\n.options reltol=1e-9 abstol=1e-15 vntol=1e-12 gmin=1e-15 itl1=1000\n.control\nset numdgt=10\nop\n",
    );
    for found in report.nodes.iter().filter(|found| found.id != report.source_minus) {
        writeln!(text, "print v({})", found.id).unwrap();
    }
    text.push_str("print i(v1)\n.endc\n.end\n");
    text
}

/// Whether two node ids end in the same conductor.
fn same_side(a: &str, b: &str) -> bool {
    a.rsplit('_').next() == b.rsplit('_').next()
}

fn check(net: &str, title: &str, network: &Network) {
    let outcome = solve(network);
    let report = report(network, &outcome);
    let solution = outcome.unwrap();
    let text = netlist(title, &report);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../fixtures/reference/netlists/{net}.cir"));
    if std::fs::read_to_string(&path).ok().as_deref() != Some(text.as_str()) {
        let written = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{net}.cir"));
        std::fs::write(&written, text).unwrap();
        panic!("{} differs from {}; run ngspice on the latter anew", path.display(), written.display());
    }
    let mut checked = 0;
    for row in rows(&reference("colour_ngspice.csv")).iter().filter(|row| row[0] == net) {
        let expected: f64 = row[3].parse().unwrap();
        let found = match report.nodes.iter().find(|found| found.id == row[1]) {
            Some(found) => found.volts.unwrap().get(),
            None => solution.source_amps.get(),
        };
        assert!((found - expected).abs() < 1e-6, "{net} {}: {found} against {expected}", row[1]);
        checked += 1;
    }
    // Every node but the minus terminal, which is zero by definition, and the source current in its place.
    assert_eq!(checked, report.nodes.len());
    for load in &report.loads {
        let volts = |id: &str| report.nodes.iter().find(|found| found.id == id).unwrap().volts.unwrap().get();
        assert!((load.volts.unwrap().get() - (volts(&load.from) - volts(&load.to))).abs() < 1e-9);
    }
}

#[test]
fn a_common_anode_chain_of_modules_agrees_with_ngspice() {
    check("C1", "common anode, trunk to a decoder, five modules of unequal constant power in series", &c1());
}

#[test]
fn a_common_cathode_tee_with_taps_agrees_with_ngspice() {
    check("C2", "common cathode, tee of taps with constant power, constant current and resistance", &c2());
}
