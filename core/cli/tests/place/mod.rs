//! A folder of a test's own, the `newel` command on a store in it, and pictures made for it.

#![allow(dead_code, reason = "each test file uses its own share of this module")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

const SURVEY: &str = include_str!("../../../desk/tests/files/survey.json");

/// A folder of this test's own, empty at its start, with a survey file in it.
pub struct Place(pub PathBuf);

impl Place {
    pub fn new(group: &str, test: &str) -> Self {
        let dir = Path::new(env!("CARGO_TARGET_TMPDIR")).join(group).join(test);
        let _ = std::fs::remove_dir_all(&dir);
        std::fs::create_dir_all(&dir).expect("a folder for the test");
        std::fs::write(dir.join("yard.json"), SURVEY).expect("the survey");
        Self(dir)
    }

    pub fn file(&self, name: &str) -> String {
        self.0.join(name).display().to_string()
    }

    /// The command on the store `home` in this folder.
    pub fn command(&self, home: &str, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_newel"));
        command.args(args).arg("--home").arg(self.0.join(home)).env_remove("NEWEL_HOME");
        command.env("NEWEL_PERSON", format!("Invented {home}"));
        command
    }

    /// Runs `newel` on the store `home` in this folder.
    pub fn on(&self, home: &str, args: &[&str]) -> Output {
        self.command(home, args).output().expect("newel runs")
    }

    pub fn run(&self, args: &[&str]) -> Output {
        self.on("home", args)
    }

    /// Runs it and expects it to be done; the standard output.
    pub fn done(&self, args: &[&str]) -> String {
        let output = self.run(args);
        assert_eq!(code(&output), 0, "{args:?}: {}", text(&output.stderr));
        text(&output.stdout)
    }

    /// Runs it and expects a refusal; the standard error.
    pub fn refused(&self, args: &[&str]) -> String {
        let output = self.run(args);
        assert_eq!((code(&output), text(&output.stdout).as_str()), (2, ""), "{args:?}");
        text(&output.stderr)
    }

    pub fn json(&self, args: &[&str]) -> Value {
        serde_json::from_str(&self.done(args)).expect("one JSON document and nothing else")
    }
}

pub fn code(output: &Output) -> i32 {
    output.status.code().expect("newel ends by itself")
}

pub fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is UTF-8")
}

/// A picture of the invented demo site.
pub fn demo_photo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/demo/photos").join(name)
}

/// A picture of its own: a comment after the first marker (ITU-T T.81, B.2.4.5) makes other bytes of the demo's.
pub fn other_photo(name: &str, comment: &str) -> Vec<u8> {
    let picture = std::fs::read(demo_photo(name)).expect("the demo's picture");
    let length = u16::try_from(comment.len() + 2).expect("short").to_be_bytes();
    [&picture[..2], &[0xff, 0xfe], &length, comment.as_bytes(), &picture[2..]].concat()
}
