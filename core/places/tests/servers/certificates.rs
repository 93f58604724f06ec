//! An authority of the test's own and what it issues, by OpenSSL.

use std::path::{Path, PathBuf};
use std::process::Command;

/// Files of certificates in a folder.
pub struct Certificates {
    /// The authority's, which a device is given.
    pub ca: PathBuf,
    /// The server's, and its key.
    pub server: PathBuf,
    pub key: PathBuf,
}

impl Certificates {
    /// For a server at `name`, as in `IP:127.0.0.1`, that counts for so many days from now; below nought it has run out.
    pub fn new(folder: &Path, name: &str, days: i32) -> Self {
        let at = |name: &str| folder.join(name);
        let names = at("names");
        std::fs::write(&names, format!("subjectAltName={name}\n")).expect("written");
        let text = |path: &Path| path.to_str().expect("UTF-8").to_owned();
        let key = |more: &[&str]| {
            let mut all = vec!["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes"];
            all.extend_from_slice(more);
            all.iter().map(|&part| part.to_owned()).collect::<Vec<_>>()
        };
        let (ca, ca_key) = (at("ca.pem"), at("ca.key"));
        let mut own = vec!["req".to_owned(), "-x509".to_owned()];
        own.extend(key(&[
            "-keyout",
            &text(&ca_key),
            "-out",
            &text(&ca),
            "-subj",
            "/CN=Authority of a test",
            "-days",
            "2",
        ]));
        openssl(&own);
        let (server, server_key, asked) = (at("server.pem"), at("server.key"), at("server.csr"));
        let mut ask = vec!["req".to_owned()];
        ask.extend(key(&["-keyout", &text(&server_key), "-out", &text(&asked), "-subj", "/CN=Server of a test"]));
        openssl(&ask);
        let days = days.to_string();
        let issue =
            ["x509", "-req", "-in", &text(&asked), "-CA", &text(&ca), "-CAkey", &text(&ca_key), "-CAcreateserial"];
        let mut issue: Vec<String> = issue.iter().map(|&part| part.to_owned()).collect();
        issue.extend(["-extfile", &text(&names), "-days", &days, "-out", &text(&server)].map(str::to_owned));
        openssl(&issue);
        Self { ca, server, key: server_key }
    }
}

fn openssl(args: &[String]) {
    let output = Command::new("openssl").args(args).output().expect("openssl (Debian: openssl)");
    assert!(output.status.success(), "openssl {args:?}: {}", String::from_utf8_lossy(&output.stderr));
}
