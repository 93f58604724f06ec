//! The least of a WebDAV drive, over a folder of this machine: it can be slow, fall silent, or live in another year.

use std::fmt::Write as _;
use std::fs;
use std::io::Write;
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

use super::Scratch;
use super::canned::{Asked, Canned};

/// What a drive says of the time where nobody asks for another.
const DATE: &str = "Date: Mon, 01 Jan 2001 00:00:00 GMT\r\n";
/// A silent drive looks so often whether it is to speak again.
const LOOK_EVERY: Duration = Duration::from_millis(10);

/// How a drive answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mood {
    /// At once.
    Quick,
    /// Each request so much later.
    Slow(Duration),
    /// It takes requests and never answers.
    Silent,
    /// It does what it is asked, and never says so.
    Mute,
    /// It has no room for another file.
    Full,
}

/// A drive at work; it ends with the test.
pub struct Drive {
    server: Canned,
    mood: Arc<Mutex<Mood>>,
    /// What lies in it.
    pub shared: PathBuf,
    _scratch: Scratch,
}

impl Drive {
    /// An empty one.
    pub fn start(mood: Mood) -> Self {
        Self::telling(mood, "")
    }

    /// An empty one, by whose clock it is 2001.
    pub fn of_2001() -> Self {
        Self::telling(Mood::Quick, DATE)
    }

    fn telling(mood: Mood, date: &'static str) -> Self {
        let scratch = Scratch::new();
        let shared = scratch.0.join("shared");
        fs::create_dir(&shared).expect("a folder");
        let mood = Arc::new(Mutex::new(mood));
        let (root, told) = (shared.clone(), Arc::clone(&mood));
        let server = Canned::start(move |asked, line| {
            let begun = Instant::now();
            let mut answer = None;
            loop {
                let mood = *told.lock().expect("a mood");
                match mood {
                    Mood::Quick => break,
                    Mood::Full if asked.method == "PUT" => {
                        answer = Some(b"HTTP/1.1 507 Insufficient Storage\r\nContent-Length: 0\r\n\r\n".to_vec());
                        break;
                    }
                    Mood::Full => break,
                    Mood::Slow(late) if begun.elapsed() >= late => break,
                    Mood::Mute => answer = Some(answer.take().unwrap_or_else(|| answered(&root, date, asked))),
                    Mood::Slow(_) | Mood::Silent => {}
                }
                // Whoever asked has given up, or the test is over.
                if gone(line) {
                    return;
                }
                thread::sleep(LOOK_EVERY);
            }
            let _ = line.write_all(&answer.unwrap_or_else(|| answered(&root, date, asked)));
        });
        Self { server, mood, shared, _scratch: scratch }
    }

    /// Its address.
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/team", self.server.port)
    }

    /// Answers so from now on, what it was asked before among it.
    pub fn turn(&self, mood: Mood) {
        *self.mood.lock().expect("a mood") = mood;
    }

    /// So many requests came so far.
    pub fn requests(&self) -> usize {
        self.server.asked().len()
    }
}

/// Whether the other end of a line was closed.
fn gone(line: &TcpStream) -> bool {
    let _ = line.set_nonblocking(true);
    let seen = line.peek(&mut [0]);
    let _ = line.set_nonblocking(false);
    matches!(seen, Ok(0)) || seen.is_err_and(|why| why.kind() != std::io::ErrorKind::WouldBlock)
}

/// Files are kept under the paths that they are put at.
fn answered(root: &Path, date: &str, asked: &Asked) -> Vec<u8> {
    let told = |status: &str, body: &[u8]| {
        let head = format!("HTTP/1.1 {status}\r\n{date}Content-Length: {}\r\n\r\n", body.len());
        [head.as_bytes(), body].concat()
    };
    let at = root.join(asked.path.trim_start_matches("/team").trim_matches('/'));
    match asked.method.as_str() {
        "PROPFIND" if at.is_dir() => told("207 Multi-Status", listing(&at, &asked.path).as_bytes()),
        "MKCOL" => match fs::create_dir(&at) {
            Ok(()) => told("201 Created", b""),
            Err(_) => told("405 Method Not Allowed", b""),
        },
        "PUT" => match fs::write(&at, &asked.body) {
            Ok(()) => told("201 Created", b""),
            Err(_) => told("409 Conflict", b""),
        },
        "GET" => fs::read(&at).map_or_else(|_| told("404 Not Found", b""), |bytes| told("200 OK", &bytes)),
        "DELETE" => {
            let _ = fs::remove_file(&at);
            told("204 No Content", b"")
        }
        _ => told("404 Not Found", b""),
    }
}

fn listing(folder: &Path, path: &str) -> String {
    let mut listing = "<?xml version=\"1.0\"?><D:multistatus xmlns:D=\"DAV:\">".to_owned();
    let mut entry = |href: &str, path: &Path| {
        // It may have gone meanwhile.
        let Ok(found) = fs::metadata(path) else { return };
        let kind = if found.is_dir() { "<D:collection/>" } else { "" };
        let _ = write!(
            listing,
            "<D:response><D:href>{href}</D:href><D:propstat><D:prop><D:getlastmodified>Mon, 01 Jan 2001 00:00:00 \
             GMT</D:getlastmodified><D:getcontentlength>{}</D:getcontentlength><D:resourcetype>{kind}</D:resourcetype>\
             </D:prop><D:status>HTTP/1.1 200 OK</D:status></D:propstat></D:response>",
            found.len()
        );
    };
    let base = path.trim_end_matches('/');
    entry(&format!("{base}/"), folder);
    for found in fs::read_dir(folder).expect("a folder").flatten() {
        let slash = if found.path().is_dir() { "/" } else { "" };
        entry(&format!("{base}/{}{slash}", found.file_name().display()), &found.path());
    }
    listing.push_str("</D:multistatus>");
    listing
}
