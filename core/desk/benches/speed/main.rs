//! Speed and memory of a whole plan against their goals, on large invented sites.
//!
//! `.ci/bench` writes the sites and runs this. A missed goal is said plainly and makes it end with 1; figures depend on
//! the machine and on what else it is doing, so it is no part of the tests.

mod growth;
mod ngspice;
mod site;
mod solving;

use std::path::{Path, PathBuf};
use std::time::Duration;

use site::{Measured, Site};

/// The same as in the command and the window, so that what is measured is what people wait for.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

const USAGE: &str = "speed CATALOGUE SITE.json... [--whole SITE.json...] (the first of either is the site of the goals), \
                     or speed --once CATALOGUE SITE.json";

/// What sites of one kind have to reach.
struct Goals {
    /// What the kind has.
    kind: &'static str,
    /// Greatest time from parsed survey to plan document, milliseconds.
    ms: f64,
    /// Greatest memory of a process that reads, plans and makes the document once, megabytes.
    mb: f64,
    /// Greatest exponent of time against length; `None` where it is printed only.
    exponent: Option<f64>,
}

/// Rails of points alone, in one zone.
const POINTS: Goals = Goals { kind: "points", ms: 150.0, mb: 100.0, exponent: Some(1.1) };
/// Rails of points and of modules in pairs that share places, with controls.
const WHOLE: Goals = Goals { kind: "points, modules, controls, shared places", ms: 300.0, mb: 150.0, exponent: None };

/// Least ratio of ngspice's time to ours.
const GOAL_RATIO: f64 = 20.0;

fn main() -> std::process::ExitCode {
    // Cargo adds --bench by itself.
    let args: Vec<String> = std::env::args().skip(1).filter(|arg| arg != "--bench").collect();
    match args.as_slice() {
        [once, catalogue, site] if once == "--once" => {
            let site = Site::read(catalogue.as_ref(), site.as_ref());
            site.plan_once();
            println!("{}", site::peak_kb());
            std::process::ExitCode::SUCCESS
        }
        [catalogue, sites @ ..] if !sites.is_empty() => {
            let (points, whole) = sites.split_at(sites.iter().position(|own| own == "--whole").unwrap_or(sites.len()));
            let paths = |sites: &[String]| sites.iter().map(PathBuf::from).collect::<Vec<_>>();
            let (points, whole) = (paths(points), paths(whole.get(1..).unwrap_or_default()));
            let mut goals = plans(catalogue, &points, &POINTS);
            goals.extend(plans(catalogue, &whole, &WHOLE));
            goals.extend(points.first().map(|site| solving(catalogue, site)));
            let missed = goals.iter().filter(|met| !**met).count();
            println!("\n{} of {} goals met", goals.len() - missed, goals.len());
            std::process::ExitCode::from(u8::from(missed > 0))
        }
        _ => {
            eprintln!("{USAGE}");
            std::process::ExitCode::from(2)
        }
    }
}

/// Measures and prints whole plans; for each goal whether it is met.
fn plans(catalogue: &str, sites: &[PathBuf], wanted: &Goals) -> Vec<bool> {
    let mut goals = Vec::new();
    if sites.is_empty() {
        return goals;
    }
    println!("\nWhole plan of {}, from parsed survey to plan document (plan, rules, document), median:", wanted.kind);
    println!(
        "{:>10} {:>8} {:>9} {:>10} {:>10} {:>13} {:>9}",
        "length m", "lights", "circuits", "read ms", "plan ms", "processor ms", "peak MB"
    );
    let mut measured: Vec<Measured> = Vec::new();
    for path in sites {
        let found = Site::read(catalogue.as_ref(), path).measure(catalogue.as_ref(), path);
        println!(
            "{:>10.0} {:>8} {:>9} {:>10.1} {:>10.1} {:>13.1} {:>9.1}",
            found.metres,
            found.points,
            found.circuits,
            ms(found.read),
            ms(found.planned),
            ms(found.processor),
            found.peak_mb
        );
        measured.push(found);
    }
    let Some(first) = measured.first() else { return goals };
    println!();
    let named = format!("{:.0} m, {} lights", first.metres, first.points);
    goals.push(at_most(&format!("whole plan of {named}"), ms(first.planned), wanted.ms, "ms"));
    goals.push(at_most(&format!("peak memory of {named}"), first.peak_mb, wanted.mb, "MB"));
    let line: Vec<(f64, f64)> = measured.iter().map(|found| (found.metres, ms(found.processor))).collect();
    let what = format!("growth exponent of processor time over {} sizes", line.len());
    match (growth::exponent(&line), wanted.exponent) {
        (Some(exponent), Some(goal)) => goals.push(at_most(&what, exponent, goal, "")),
        (Some(exponent), None) => println!("{what}: {exponent:.2}"),
        (None, _) => println!("growth exponent: needs two sizes that differ"),
    }
    goals
}

/// Measures and prints the solving step of a site; whether its goal is met.
fn solving(catalogue: &str, site: &Path) -> bool {
    let site = Site::read(catalogue.as_ref(), site);
    let solved = solving::measure(&site.plan_once().plan.circuits);
    println!(
        "\nSolving step: {} networks, {} nodes, {} loads; ours {:.2} ms.",
        solved.networks,
        solved.nodes,
        solved.loads,
        ms(solved.ours)
    );
    let Some(witness) = solved.ngspice else {
        println!("ngspice is not installed, so the solving step was compared with nothing");
        return false;
    };
    println!(
        "ngspice, one batch of the same networks: process {:.1} ms, of it {:.1} ms for an empty deck; its analysis \
         alone, by its own account, {}. Greatest difference of a node: {:.6} mV.",
        ms(witness.process),
        ms(witness.empty),
        witness.analysis_ms.map_or("not stated".into(), |own| format!("{own:.1} ms")),
        witness.worst_mv
    );
    let ours = ms(solved.ours);
    let whole = (ms(witness.process) - ms(witness.empty)) / ours;
    if let Some(own) = witness.analysis_ms {
        println!("for comparison, without its reading of the deck: {:.1} times", own / ours);
    }
    at_least("ngspice (process less empty deck) against our solving step", whole, GOAL_RATIO, "times")
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}

fn at_most(what: &str, figure: f64, goal: f64, unit: &str) -> bool {
    verdict(what, figure, "at most", goal, unit, figure <= goal)
}

fn at_least(what: &str, figure: f64, goal: f64, unit: &str) -> bool {
    verdict(what, figure, "at least", goal, unit, figure >= goal)
}

fn verdict(what: &str, figure: f64, side: &str, goal: f64, unit: &str, met: bool) -> bool {
    let word = if met { "met" } else { "MISSED" };
    println!("{what}: {figure:.2} {unit}; goal {side} {goal} {unit}: {word}");
    met
}
