//! A stand-in for an S3-compatible store: moto, a program in Python that answers as the S3 API does and keeps everything in
//! memory. `make test` installs it into `target/tools/moto`.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::Command;

use places::{Secret, Settings};

use super::{Scratch, Server};

/// A store at work.
pub struct Store {
    server: Server,
    _scratch: Scratch,
}

impl Store {
    /// With one empty bucket, `a-team`.
    pub fn start() -> Self {
        let program = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../target/tools/moto/bin/moto_server");
        assert!(
            program.exists(),
            "{} is not there; `make target/tools/moto/.installed` installs it",
            program.display()
        );
        let scratch = Scratch::new();
        let server = Server::start(&scratch.0.join("out.log"), |port| {
            let mut command = Command::new(&program);
            command.args(["-H", "127.0.0.1", "-p", &port.to_string()]);
            command
        });
        let mut line = TcpStream::connect(("127.0.0.1", server.port)).expect("a connection");
        let request = "PUT /a-team HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0\r\nConnection: close\r\n\r\n";
        line.write_all(request.as_bytes()).expect("asked");
        let mut answer = String::new();
        line.read_to_string(&mut answer).expect("an answer");
        assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
        Self { server, _scratch: scratch }
    }

    /// What a device says to reach it.
    pub fn settings(&self, prefix: &str) -> Settings {
        let mut settings = Settings::at(&format!("s3://a-team/{prefix}"));
        settings.endpoint = Some(format!("http://127.0.0.1:{}", self.server.port));
        settings.user = Some("AKIAINVENTED".to_owned());
        settings.password = Some(Secret("an invented secret".to_owned()));
        settings
    }
}
