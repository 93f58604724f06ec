//! Real servers for the tests, each on a port and in a folder of its own, ended with the test.

pub mod apache;
pub mod canned;
pub mod certificates;
#[allow(dead_code, reason = "tests of other crates use the rest")]
pub mod drive;
#[path = "../../../exchange/tests/places/scratch.rs"]
mod scratch;
pub mod store;

use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, Command};
use std::thread;
use std::time::{Duration, Instant};

pub use scratch::Scratch;

/// A server at work.
pub struct Server {
    child: Child,
    /// Where it listens on this machine.
    pub port: u16,
}

impl Server {
    /// Starts a server on a free port; `command` tells it the port. It ends with whoever started it, killed or not.
    pub fn start(log: &Path, command: impl Fn(u16) -> Command) -> Self {
        for _ in 0..5 {
            let port = TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr()).expect("a port").port();
            let asked = command(port);
            let out = std::fs::File::create(log).expect("a log");
            let mut child = Command::new("setpriv")
                .args(["--pdeathsig", "TERM", "--"])
                .arg(asked.get_program())
                .args(asked.get_args())
                .stdin(std::process::Stdio::null())
                .stdout(out.try_clone().expect("a log"))
                .stderr(out)
                .spawn()
                .expect("setpriv (Debian: util-linux)");
            let begun = Instant::now();
            while begun.elapsed() < Duration::from_secs(60) {
                if child.try_wait().expect("a child").is_some() {
                    // Another program took the port meanwhile, or the server does not start at all.
                    break;
                }
                if TcpStream::connect(("127.0.0.1", port)).is_ok() {
                    return Self { child, port };
                }
                thread::sleep(Duration::from_millis(20));
            }
            let _ = child.kill();
            let _ = child.wait();
        }
        panic!("the server does not start: {}", std::fs::read_to_string(log).unwrap_or_default());
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // Apache takes its children with it where it is asked to end, not where it is killed.
        let _ = Command::new("kill").args(["-TERM", &self.child.id().to_string()]).status();
        let begun = Instant::now();
        while begun.elapsed() < Duration::from_secs(5) {
            if self.child.try_wait().is_ok_and(|ended| ended.is_some()) {
                return;
            }
            thread::sleep(Duration::from_millis(10));
        }
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
