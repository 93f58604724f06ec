//! Servers that misbehave: each answers what the test says, byte for byte.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;

/// A request as it came.
#[derive(Clone, Debug)]
pub struct Asked {
    pub method: String,
    /// The path as it was sent.
    pub path: String,
    /// Its headers, in lower case.
    pub headers: String,
    pub body: Vec<u8>,
}

/// What a server does with a request, and with the line that it came by.
type Answer = dyn Fn(&Asked, &mut TcpStream) + Send + Sync;

/// A server at work; it ends with the test.
pub struct Canned {
    pub port: u16,
    asked: Arc<Mutex<Vec<Asked>>>,
    ended: Arc<AtomicBool>,
}

impl Canned {
    /// Answers each request as `answer` writes it.
    pub fn start(answer: impl Fn(&Asked, &mut TcpStream) + Send + Sync + 'static) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
        let port = listener.local_addr().expect("an address").port();
        let (asked, ended) = (Arc::new(Mutex::new(Vec::new())), Arc::new(AtomicBool::new(false)));
        let (kept, over, answer): (_, _, Arc<Answer>) = (Arc::clone(&asked), Arc::clone(&ended), Arc::new(answer));
        thread::spawn(move || {
            for line in listener.incoming().map_while(Result::ok) {
                if over.load(Ordering::Relaxed) {
                    return;
                }
                let (kept, answer) = (Arc::clone(&kept), Arc::clone(&answer));
                thread::spawn(move || serve(line, &kept, &*answer));
            }
        });
        Self { port, asked, ended }
    }

    /// Answers each request with the same text.
    pub fn saying(text: &str) -> Self {
        let text = text.to_owned();
        Self::start(move |_, line| {
            let _ = line.write_all(text.as_bytes());
        })
    }

    /// What it was asked so far.
    pub fn asked(&self) -> Vec<Asked> {
        self.asked.lock().expect("a list").clone()
    }
}

impl Drop for Canned {
    fn drop(&mut self) {
        self.ended.store(true, Ordering::Relaxed);
        // Wakes whoever waits for the next line.
        let _ = TcpStream::connect(("127.0.0.1", self.port));
    }
}

/// An answer with a status line, as in `507 Insufficient Storage`, and a body.
pub fn answer(status: &str, body: &str) -> String {
    format!("HTTP/1.1 {status}\r\nContent-Length: {}\r\n\r\n{body}", body.len())
}

fn serve(mut line: TcpStream, kept: &Mutex<Vec<Asked>>, answer: &Answer) {
    let mut from = BufReader::new(line.try_clone().expect("a line"));
    loop {
        let mut head = String::new();
        while !head.ends_with("\r\n\r\n") {
            if from.read_line(&mut head).unwrap_or(0) == 0 {
                return;
            }
        }
        let (first, headers) = head.split_once("\r\n").unwrap_or((&head, ""));
        let mut words = first.split(' ').map(str::to_owned);
        let (method, path) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
        let mut asked = Asked { method, path, headers: headers.to_ascii_lowercase(), body: Vec::new() };
        let length = asked.headers.lines().find_map(|line| line.strip_prefix("content-length: "));
        let length: u64 = length.and_then(|length| length.parse().ok()).unwrap_or(0);
        if from.by_ref().take(length).read_to_end(&mut asked.body).is_err() {
            return;
        }
        kept.lock().expect("a list").push(asked.clone());
        answer(&asked, &mut line);
    }
}
