//! A test that starts itself as a child, which works without end, says each thing that it acknowledges and is killed at any
//! moment.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

/// By this variable the child knows that it is one, its round and its home folder.
const CHILD: &str = "NEWEL_CRASH_CHILD";

/// Says that something is acknowledged.
pub fn say(what: &str) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "acknowledged {what}").and_then(|()| out.flush()).expect("said");
}

/// The round and the home folder, where this process is the child.
pub fn child() -> Option<(u64, PathBuf)> {
    let child = std::env::var(CHILD).ok()?;
    let (round, home) = child.split_once(' ').expect("round and home");
    Some((round.parse().expect("a round"), home.into()))
}

/// The same numbers at every run: xorshift (Marsaglia 2003).
pub struct Chance(u64);

impl Chance {
    pub fn new() -> Self {
        Self(0xD1CE)
    }

    pub fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }
}

/// Starts a test as a child with a home folder, waits until it has said so many things and a moment more, and kills it.
/// Gives everything that it said.
pub fn killed(test: &str, round: u64, home: &Path, waits: u64, moment: Duration) -> Vec<String> {
    let mut child = Command::new(std::env::current_exe().expect("this test"))
        .args(["--exact", test, "--nocapture"])
        .env(CHILD, format!("{round} {}", home.display()))
        .stdout(Stdio::piped())
        .spawn()
        .expect("a child");
    let out = BufReader::new(child.stdout.take().expect("its output"));
    let mut lines = out.lines().map_while(Result::ok);
    let mut said = || lines.by_ref().find_map(|l| l.split_once("acknowledged ").map(|(_, said)| said.to_owned()));
    let mut acknowledged: Vec<String> = (0..waits).map_while(|_| said()).collect();
    std::thread::sleep(moment);
    child.kill().expect("killed");
    child.wait().expect("ended");
    acknowledged.extend(std::iter::from_fn(said));
    acknowledged
}
