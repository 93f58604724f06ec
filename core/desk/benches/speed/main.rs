//! Speed and memory of a whole plan against their goals, on large invented sites.
//!
//! `.ci/bench` writes the sites and runs this. A missed goal is said plainly and makes it end with 1; figures depend on
//! the machine and on what else it is doing, so it is no part of the tests.

mod growth;
mod ngspice;
mod site;
mod solving;

use std::path::PathBuf;
use std::time::Duration;

use site::{Measured, Site};

/// The same as in the command and the window, so that what is measured is what people wait for.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

const USAGE: &str =
    "speed CATALOGUE SITE.json... (the first is the site of the goals), or speed --once CATALOGUE SITE.json";

/// Greatest time from parsed survey to plan document.
const GOAL_MS: f64 = 150.0;
/// Greatest memory of a process that reads, plans and makes the document once.
const GOAL_MB: f64 = 100.0;
/// Greatest exponent of time against length.
const GOAL_EXPONENT: f64 = 1.1;
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
            let sites: Vec<PathBuf> = sites.iter().map(PathBuf::from).collect();
            let goals = run(catalogue, &sites);
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

/// Measures and prints everything; for each goal whether it is met.
fn run(catalogue: &str, sites: &[PathBuf]) -> Vec<bool> {
    let mut goals = Vec::new();
    println!("Whole plan, from parsed survey to plan document (plan, rules, document), median of several runs:");
    println!(
        "{:>10} {:>8} {:>9} {:>10} {:>10} {:>13} {:>9}",
        "length m", "points", "circuits", "read ms", "plan ms", "processor ms", "peak MB"
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
    let named = format!("{:.0} m, {} points", first.metres, first.points);
    goals.push(at_most(&format!("whole plan of {named}"), ms(first.planned), GOAL_MS, "ms"));
    goals.push(at_most(&format!("peak memory of {named}"), first.peak_mb, GOAL_MB, "MB"));
    let line: Vec<(f64, f64)> = measured.iter().map(|found| (found.metres, ms(found.processor))).collect();
    match growth::exponent(&line) {
        Some(exponent) => {
            let what = format!("growth exponent of processor time over {} sizes", line.len());
            goals.push(at_most(&what, exponent, GOAL_EXPONENT, ""));
        }
        None => println!("growth exponent: needs two sizes that differ"),
    }

    let site = Site::read(catalogue.as_ref(), &sites[0]);
    let solved = solving::measure(&site.plan_once().plan.circuits);
    println!(
        "\nSolving step: {} networks of {named}, {} nodes, {} loads; ours {:.2} ms.",
        solved.networks,
        solved.nodes,
        solved.loads,
        ms(solved.ours)
    );
    let Some(witness) = solved.ngspice else {
        println!("ngspice is not installed, so the solving step was compared with nothing");
        goals.push(false);
        return goals;
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
    goals.push(at_least("ngspice (process less empty deck) against our solving step", whole, GOAL_RATIO, "times"));
    if let Some(own) = witness.analysis_ms {
        println!("for comparison, without its reading of the deck: {:.1} times", own / ours);
    }
    goals
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
