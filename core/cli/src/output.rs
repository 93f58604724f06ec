//! What goes to standard output and standard error, and the exit status.

use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

/// Done, and findings stop the job.
const STOPPED: u8 = 3;

/// The exit status, or why the input cannot be used.
pub type Done = Result<ExitCode, Box<dyn std::error::Error>>;

/// The exit status after planning.
pub fn exit(has_stops: bool, strict: bool) -> ExitCode {
    if has_stops && strict { ExitCode::from(STOPPED) } else { ExitCode::SUCCESS }
}

/// Prints the files that were written into a folder.
pub fn list(dir: &Path, names: &[String]) -> io::Result<()> {
    let lines: String = names.iter().map(|name| format!("{}\n", dir.join(name).display())).collect();
    print(&lines)
}

/// Prints, and takes a reader who has seen enough (`newel plan … | head`) for no fault.
pub fn print(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        written => written,
    }
}

/// A remark beside the answer; where standard error is closed there is nobody to tell.
pub fn remark(text: &str) {
    let _ = writeln!(io::stderr(), "newel: {text}");
}

/// Says which catalogue stands in for the one that was not given.
pub fn say_demo_catalogue() {
    remark("no --catalogue was given, so the invented demo catalogue is used");
}
