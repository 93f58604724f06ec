//! How the place of a team's files is reached, as it is typed; passwords come from a terminal, a file or standard input, and
//! never from the command's own line, which others on the machine can read.

use std::fs::File;
use std::io::{self, BufRead, BufReader, IsTerminal, Read};
use std::path::{Path, PathBuf};

use clap::Args;
use desk::wire::exchange::{Password, PlaceForm};

/// No password is longer, bytes.
const MOST_PASSWORD: u64 = 4 << 10;

/// How a place is reached.
#[derive(Args, Debug)]
pub struct Access {
    /// The name for a drive on the web, or the id of the key for an object store. Its password is asked for.
    #[arg(long, value_name = "NAME")]
    user: Option<String>,
    /// Read the password, or the secret of the key, from the first line of this file; - stands for standard input.
    #[arg(long, value_name = "FILE")]
    password_file: Option<PathBuf>,
    /// Of an object store: the address of its server, as https://host.
    #[arg(long, value_name = "URL")]
    server: Option<String>,
    /// Of an object store: its region; us-east-1 where absent.
    #[arg(long)]
    region: Option<String>,
    /// A file with certificates, in PEM form, of authorities that count beside those that this machine knows.
    #[arg(long, value_name = "FILE")]
    ca: Option<String>,
    /// The address of a proxy, as http://host:port; what the machine says where absent.
    #[arg(long, value_name = "URL")]
    proxy: Option<String>,
    /// Read the name and password for the proxy, as name:password, from the first line of this file; - stands for standard
    /// input.
    #[arg(long, value_name = "FILE")]
    proxy_login_file: Option<PathBuf>,
}

/// What rounds may use.
#[derive(Args, Debug)]
pub struct Use {
    /// Carry so much at most, as 500kB/s, both ways together.
    #[arg(long, value_name = "RATE", conflicts_with = "no_limit", value_parser = desk::exchange::rate)]
    at_most: Option<u64>,
    /// Carry as much as the line lets through.
    #[arg(long)]
    no_limit: bool,
    /// Share on this network alone: the hardware address of its gateway, or here for the one that this device is on. It may
    /// be given several times.
    #[arg(long, value_name = "NETWORK", conflicts_with = "any_network")]
    only_on: Vec<String>,
    /// Share on every network.
    #[arg(long)]
    any_network: bool,
}

/// When a password is asked for that no file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ask {
    /// Where a name is given.
    IfNamed,
    /// In any case.
    Always,
}

impl Access {
    /// Whether anything is to be changed.
    pub fn says_something(&self) -> bool {
        let texts = [&self.user, &self.server, &self.region, &self.ca, &self.proxy];
        texts.iter().any(|text| text.is_some()) || self.password_file.is_some() || self.proxy_login_file.is_some()
    }

    /// What was typed over what was there before.
    ///
    /// # Errors
    /// There is no password where one is to be.
    pub fn form(self, before: PlaceForm, ask: Ask) -> Result<PlaceForm, Box<dyn std::error::Error>> {
        let is_input = |file: &Option<PathBuf>| file.as_deref() == Some(Path::new("-"));
        if is_input(&self.password_file) && is_input(&self.proxy_login_file) {
            return Err("standard input holds one secret; accepted: a file for the other one".into());
        }
        let is_named = self.user.as_ref().is_some_and(|user| !user.trim().is_empty());
        let password = match (&self.password_file, ask) {
            (Some(file), _) => Some(first_line(file, "the password")?),
            (None, Ask::IfNamed) if !is_named => None,
            (None, _) => Some(asked("Password: ")?),
        };
        let mut proxy = self.proxy.or(before.proxy);
        if let Some(file) = &self.proxy_login_file {
            let login = first_line(file, "the name and password for the proxy")?;
            let whole = proxy.as_deref().and_then(|proxy| desk::exchange::with_login(proxy, &login));
            proxy = Some(whole.ok_or("--proxy-login-file needs a proxy; accepted: --proxy http://host:port")?);
        }
        Ok(PlaceForm {
            user: self.user.or(before.user),
            password: password.map(Password),
            server: self.server.or(before.server),
            region: self.region.or(before.region),
            ca: self.ca.or(before.ca),
            proxy,
            ..before
        })
    }
}

impl Use {
    /// Whether anything is to be changed.
    pub fn says_something(&self) -> bool {
        self.at_most.is_some() || self.no_limit || !self.only_on.is_empty() || self.any_network
    }

    /// What was typed over what was there before; `here` is the network that this device is on.
    ///
    /// # Errors
    /// The network of this device cannot be told.
    pub fn form(self, before: PlaceForm, here: Option<String>) -> Result<PlaceForm, String> {
        let known = |name: String| {
            if name != "here" {
                return Ok(name);
            }
            here.clone().ok_or_else(|| {
                "--only-on here: the network of this device cannot be told; accepted: the hardware address of its gateway"
                    .to_owned()
            })
        };
        let only_on = self.only_on.into_iter().map(known).collect::<Result<Vec<_>, _>>()?;
        Ok(PlaceForm {
            bytes_per_second: if self.no_limit { None } else { self.at_most.or(before.bytes_per_second) },
            only_on: if self.any_network || !only_on.is_empty() { only_on } else { before.only_on },
            ..before
        })
    }
}

/// A password typed at a terminal, where nobody sees it, or else the first line of standard input.
fn asked(prompt: &str) -> Result<String, Box<dyn std::error::Error>> {
    if io::stdin().is_terminal() {
        return Ok(rpassword::prompt_password(prompt)?);
    }
    first_line(Path::new("-"), "the password")
}

/// The first line of a file, or of standard input.
fn first_line(file: &Path, what: &str) -> Result<String, Box<dyn std::error::Error>> {
    let is_input = file == Path::new("-");
    let name = if is_input { "standard input".to_owned() } else { file.display().to_string() };
    let wrong = |why: String| format!("{name}: {what} cannot be read: {why}; accepted: one line of text");
    let from: Box<dyn Read> = if is_input {
        Box::new(io::stdin())
    } else {
        Box::new(File::open(file).map_err(|why| wrong(why.to_string()))?)
    };
    let mut line = String::new();
    // What is wrong with it is told without a byte of it.
    BufReader::new(from.take(MOST_PASSWORD + 1)).read_line(&mut line).map_err(|why| wrong(why.kind().to_string()))?;
    let line = line.trim_end_matches(['\n', '\r']);
    if line.len() as u64 > MOST_PASSWORD {
        return Err(wrong(format!("its first line is longer than {MOST_PASSWORD} bytes")).into());
    }
    if line.is_empty() { Err(wrong("it is empty".to_owned()).into()) } else { Ok(line.to_owned()) }
}
