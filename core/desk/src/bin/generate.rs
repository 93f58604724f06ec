//! Writes the generated files, or with `--check` says which of them are not current. Run at the root of the repository.

use std::process::ExitCode;

fn main() -> ExitCode {
    let is_check = match std::env::args().nth(1).as_deref() {
        None => false,
        Some("--check") => true,
        Some(other) => {
            eprintln!("generate: {other:?} is not known; accepted: --check, or nothing to write the files");
            return ExitCode::from(2);
        }
    };
    let mut failed = false;
    for (path, text) in desk::generated::files() {
        // A working copy may have other line ends; the text is what counts.
        let is_current = std::fs::read_to_string(&path).is_ok_and(|now| now.replace("\r\n", "\n") == text);
        if is_current {
            continue;
        }
        if is_check {
            eprintln!("generated: {path} is not current; run `make bless`");
            failed = true;
        } else if let Err(error) = write(&path, &text) {
            eprintln!("generated: {path} can't be written: {error}");
            failed = true;
        } else {
            println!("generated: {path}");
        }
    }
    if is_check && !failed {
        println!("generated: every file is current");
    }
    if failed { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

fn write(path: &str, text: &str) -> std::io::Result<()> {
    if let Some(folder) = std::path::Path::new(path).parent() {
        std::fs::create_dir_all(folder)?;
    }
    std::fs::write(path, text)
}
