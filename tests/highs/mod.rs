//! HiGHS, a solver of mixed-integer programs, as a witness of what the choice of feeds proves.
//!
//! What is feasible and what it costs is worked out here with code of its own from the plain data of a problem; HiGHS then
//! picks the cheapest set. The program is Python's `highspy` in `target/tools/highs`, which `make test` sets up; HiGHS is
//! described by Huangfu and Hall, *Parallelizing the dual revised simplex method* (2018).

mod blocks;
pub mod cases;
pub mod compare;
mod lead;
pub mod modules;
pub mod points;
pub mod together;

use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::Duration;

use serde_json::{Value, json};
use units::{Length, Money};

use crate::tree;

/// Ten-thousandths of the currency times micrometres, so that metres are charged exactly.
pub type Fine = i128;

/// Fine costs to one of the currency.
const FINE_TO_ONE: f64 = 1e10;

/// Rounding that a sum of floats may bring before a limit counts as passed.
const ROUNDING: f64 = 1e-9;

/// An amount as a fine cost.
fn fine(amount: Money) -> Fine {
    Fine::from(amount.to_ten_thousandths()) * 1_000_000
}

/// A metre price over a length as a fine cost.
fn metres(per_metre: Money, length: Length) -> Fine {
    Fine::from(per_metre.to_ten_thousandths()) * Fine::from(length.to_um())
}

/// A fine cost in ten-thousandths of the currency, rounded to the nearest.
#[must_use]
pub fn ten_thousandths(cost: Fine) -> i64 {
    i64::try_from((cost + 500_000).div_euclid(1_000_000)).expect("costs of invented rails are small")
}

/// A program of choices: each is taken or not, and sums over those taken stay between limits.
#[derive(Clone, Debug, Default)]
pub struct Program {
    choices: Vec<Choice>,
    /// Least and greatest sum of each row; `None` where there is no limit.
    rows: Vec<(Option<f64>, Option<f64>)>,
}

#[derive(Clone, Debug)]
struct Choice {
    cost: Fine,
    entries: Vec<(usize, f64)>,
}

/// What HiGHS answers.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Whether it proves its answer the cheapest; where not, it proves that nothing is feasible.
    pub optimal: bool,
    /// Exact cost of the choices taken.
    pub cost: Fine,
    /// The choices taken.
    pub taken: Vec<usize>,
    /// Its own proven bound, in the currency.
    pub bound: f64,
    /// Time that it spent solving, by its own account, without reading the program.
    pub took: Duration,
}

impl Program {
    /// A sum with its least and greatest value; the number to name it by.
    pub fn row(&mut self, least: Option<f64>, greatest: Option<f64>) -> usize {
        self.rows.push((least, greatest));
        self.rows.len() - 1
    }

    /// A choice with its cost and its share of each row; its number.
    pub fn choice(&mut self, cost: Fine, entries: Vec<(usize, f64)>) -> usize {
        self.choices.push(Choice { cost, entries });
        self.choices.len() - 1
    }

    /// How many choices there are.
    #[must_use]
    pub fn size(&self) -> usize {
        self.choices.len()
    }

    /// The cheapest set of choices, by HiGHS.
    ///
    /// # Panics
    /// Where the program cannot be started or ends without a proof.
    #[must_use]
    pub fn solve(&self) -> Answer {
        let mut starts = vec![0];
        let (mut rows, mut values) = (Vec::new(), Vec::new());
        for choice in &self.choices {
            rows.extend(choice.entries.iter().map(|entry| entry.0));
            values.extend(choice.entries.iter().map(|entry| entry.1));
            starts.push(rows.len());
        }
        let costs: Vec<f64> = self.choices.iter().map(|choice| choice.cost as f64 / FINE_TO_ONE).collect();
        let program = json!({ "costs": costs, "starts": starts, "rows": rows, "values": values, "limits": self.rows });
        let said = run(&program);
        let status = said["status"].as_str().unwrap_or_default();
        assert!(matches!(status, "optimal" | "infeasible"), "HiGHS ends without a proof: {status}");
        let taken: Vec<usize> =
            said["taken"].as_array().into_iter().flatten().filter_map(Value::as_u64).map(|n| n as usize).collect();
        Answer {
            optimal: status == "optimal",
            cost: taken.iter().map(|choice| self.choices[*choice].cost).sum(),
            taken,
            bound: said["bound"].as_f64().unwrap_or(f64::NAN),
            took: Duration::from_secs_f64(said["seconds"].as_f64().expect("HiGHS states its time")),
        }
    }
}

fn run(program: &Value) -> Value {
    let python = python();
    let mut child = Command::new(&python)
        .arg(tree::path("tests/highs/solve.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap_or_else(|error| panic!("{} cannot be started ({error}); run make test", python.display()));
    let input = child.stdin.take().expect("its input was asked for");
    serde_json::to_writer(input, program).expect("it reads the program");
    let output = child.wait_with_output().expect("it ends");
    assert!(output.status.success(), "HiGHS fails");
    serde_json::from_slice(&output.stdout).expect("it prints JSON")
}

/// The Python that has HiGHS: the one in `target/tools`, or what `NEWEL_HIGHS_PYTHON` names.
fn python() -> PathBuf {
    std::env::var_os("NEWEL_HIGHS_PYTHON").map_or_else(|| tree::path("target/tools/highs/bin/python"), PathBuf::from)
}
