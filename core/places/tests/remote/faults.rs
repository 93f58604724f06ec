//! What people are told where a place cannot be used. Each is a clause that says what to do, and none holds a password.

use std::fs;
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::thread;
use std::time::{Duration, Instant};

use exchange::layout::{ABOUT, About};
use exchange::place::{Span, Trouble};
use places::{Fault, Look, Secret, Settings, open};

use crate::servers::Scratch;
use crate::servers::apache::{Apache, PASSWORD, Wish};
use crate::servers::canned::{Canned, answer};

const ALL: Span = Span { from: 0, most: u64::MAX };

/// What a first look says; the clocks agree unless said otherwise.
fn look(settings: &Settings) -> Result<Look, Fault> {
    let opened = open(settings, [1; 8])?;
    let found = opened.look(now_ms());
    if let Err(fault) = &found {
        let told = fault.to_string();
        assert!(!told.contains(PASSWORD) && !told.ends_with('.') && told.len() > 20, "{told}");
    }
    found
}

fn now_ms() -> i64 {
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).expect("after 1970");
    now.as_millis() as i64
}

fn certificate(fault: Fault) -> String {
    if let Fault::Certificate(why) = fault { why } else { panic!("{fault:?}") }
}

#[test]
fn a_drive_is_looked_at_and_told_apart() {
    let apache = Apache::start(Wish::default());
    let settings = apache.settings();
    assert_eq!(look(&settings), Ok(Look { about: None, clock: None }));
    let mut wrong = settings.clone();
    wrong.password = Some(Secret("guessed".to_owned()));
    assert_eq!(look(&wrong), Err(Fault::Password));
    wrong.user = None;
    assert_eq!(look(&wrong), Err(Fault::Password));
    let mut unknown = settings.clone();
    unknown.ca = None;
    assert!(certificate(look(&unknown).expect_err("unknown")).contains("certificate of their authority"));
    let mut elsewhere = settings.clone();
    elsewhere.address.push_str("/nowhere");
    assert_eq!(look(&elsewhere), Err(Fault::NoFolder));
    let written = open(&elsewhere, [1; 8]).expect("a place").place().write_new("heads/x", b"x").expect_err("no folder");
    assert_eq!((written.trouble, written.why), (Trouble::Wrong, Fault::NoFolder.to_string()));
    let mut site = settings.clone();
    site.address = format!("https://127.0.0.1:{}/", apache.port());
    assert_eq!(look(&site), Err(Fault::OtherServer("WebDAV drive")));
    // A day ahead, and two hours behind.
    let opened = open(&settings, [1; 8]).expect("a place");
    let clock = |ms| opened.look(now_ms() + ms).expect("a look").clock;
    assert!(matches!(clock(86_400_000), Some(Fault::Clock { ahead_s: 86_380..=86_420 })));
    assert!(matches!(clock(-7_200_000), Some(Fault::Clock { ahead_s: -7_220..=-7_180 })));
    assert_eq!(clock(60_000), None);
    // Somebody else's files, what systems leave about, a team's, and a team's whose first file is gone.
    fs::create_dir(apache.shared.join("lost+found")).expect("made");
    fs::write(apache.shared.join(".hidden"), b"x").expect("written");
    assert_eq!(look(&settings), Ok(Look { about: None, clock: None }));
    fs::write(apache.shared.join("letters.odt"), b"somebody's").expect("written");
    assert_eq!(look(&settings), Err(Fault::Foreign("letters.odt".to_owned())));
    let about = About { team: [7; 32], sealed: true };
    opened.place().write_new(ABOUT, about.text().as_bytes()).expect("written");
    assert_eq!(look(&settings).expect("a look").about, Some(about));
    opened.place().write_new("heads/x", b"x").expect("written");
    opened.place().delete(ABOUT).expect("deleted");
    assert_eq!(look(&settings), Err(Fault::Stripped));
    fs::write(apache.shared.join(ABOUT), b"Newel exchange, format 9, folded").expect("written");
    assert!(look(&settings).expect_err("newer").to_string().contains("update Newel"));
}

#[test]
fn a_folder_is_looked_at_as_a_drive_is() {
    let scratch = Scratch::new();
    let settings = Settings::at(scratch.0.to_str().expect("UTF-8"));
    assert_eq!(look(&settings), Ok(Look { about: None, clock: None }));
    fs::write(scratch.0.join("letters.odt"), b"somebody's").expect("written");
    assert_eq!(look(&settings), Err(Fault::Foreign("letters.odt".to_owned())));
    fs::remove_file(scratch.0.join("letters.odt")).expect("removed");
    fs::create_dir(scratch.0.join("heads")).expect("made");
    assert_eq!(look(&settings), Err(Fault::Stripped));
    let away = look(&Settings::at(scratch.0.join("away").to_str().expect("UTF-8"))).expect_err("away");
    assert!(away.trouble() == Trouble::Away && away.to_string().contains("connect the drive"), "{away}");
}

#[test]
fn a_certificate_that_is_out_of_date_or_for_another_name_is_refused() {
    let old = Apache::start(Wish { days: -1, ..Wish::default() });
    assert!(certificate(look(&old.settings()).expect_err("old")).contains("look at the clock"));
    let other = Apache::start(Wish { name: "DNS:elsewhere.example", ..Wish::default() });
    assert!(certificate(look(&other.settings()).expect_err("another's")).contains("for another name"));
    let scratch = Scratch::new();
    let mut settings = old.settings();
    settings.ca = Some(scratch.0.join("none.pem"));
    assert!(matches!(look(&settings), Err(Fault::CaFile { .. })));
    fs::write(scratch.0.join("none.pem"), b"no certificate").expect("written");
    assert!(look(&settings).expect_err("no certificate").to_string().contains("PEM"));
}

#[test]
fn a_drive_that_may_only_be_read_says_so() {
    let apache = Apache::start(Wish { may_write: false, ..Wish::default() });
    fs::create_dir(apache.shared.join("heads")).expect("made");
    fs::write(apache.shared.join("heads/a.1"), b"one").expect("written");
    let opened = open(&apache.settings(), [1; 8]).expect("a place");
    let place = opened.place();
    assert_eq!(place.read("heads/a.1", ALL).expect("read"), b"one");
    assert_eq!(place.list("heads").expect("a list").len(), 1);
    for refused in [place.write_new("heads/a.2", b"two"), place.write_new("new/a", b"x"), place.delete("heads/a.1")] {
        let error = refused.expect_err("read only");
        assert_eq!((error.trouble, error.why), (Trouble::Refused, Fault::ReadOnly.to_string()));
    }
    assert!(apache.shared.join("heads/a.1").exists());
}

/// A drive on which a server of the test answers everything with one text.
fn drive(port: u16) -> Settings {
    let mut settings = Settings::at(&format!("http://127.0.0.1:{port}/team"));
    settings.user = Some("anna".to_owned());
    settings.password = Some(Secret(PASSWORD.to_owned()));
    settings.patience = Duration::from_millis(400);
    settings
}

#[test]
fn what_a_server_answers_is_told_as_what_to_do() {
    let html = "<html><body>Welcome</body></html>";
    let moved =
        "HTTP/1.1 302 Found\r\nLocation: https://portal.example/login?token=secret\r\nContent-Length: 0\r\n\r\n";
    let cases = [
        (answer("401 Unauthorized", ""), Fault::Password),
        (answer("403 Forbidden", ""), Fault::Forbidden),
        (answer("407 Proxy Authentication Required", ""), Fault::ProxyPassword),
        (answer("423 Locked", ""), Fault::Locked),
        (answer("429 Too Many Requests", ""), Fault::Busy(429)),
        (answer("500 Internal Server Error", html), Fault::Server(500)),
        (answer("503 Service Unavailable", html), Fault::Busy(503)),
        (answer("507 Insufficient Storage", ""), Fault::Full),
        (moved.to_owned(), Fault::Moved("https://portal.example/login".to_owned())),
    ];
    // Those that pass are tried again for some seconds; so all are asked at once.
    thread::scope(|scope| {
        for (text, fault) in cases {
            scope.spawn(move || {
                let server = Canned::saying(&text);
                assert_eq!(look(&drive(server.port)), Err(fault.clone()), "{text}");
                let opened = open(&drive(server.port), [1; 8]).expect("a place");
                let written = opened.place().write_new("heads/x", b"x").expect_err("not written");
                let expected = if fault == Fault::Forbidden { Fault::ReadOnly } else { fault };
                assert_eq!(written.why, expected.to_string());
            });
        }
    });
    // A site that knows nothing of WebDAV.
    let site = Canned::start(move |asked, line| {
        let text = if asked.method == "GET" { answer("404 Not Found", html) } else { answer("200 OK", html) };
        let _ = line.write_all(text.as_bytes());
    });
    assert_eq!(look(&drive(site.port)), Err(Fault::OtherServer("WebDAV drive")));
    // One that takes no large files.
    let small = Canned::start(|asked, line| {
        let status = if asked.method == "PUT" { "413 Content Too Large" } else { "201 Created" };
        let _ = line.write_all(answer(status, "").as_bytes());
    });
    let opened = open(&drive(small.port), [1; 8]).expect("a place");
    let error = opened.place().write_new("objects/ab/x", &[7; 5000]).expect_err("too large");
    assert_eq!(error.why, Fault::TooLarge(5000).to_string());
}

#[test]
fn what_passes_is_tried_again_after_a_pause() {
    let first = std::sync::atomic::AtomicUsize::new(0);
    let server = Canned::start(move |asked, line| {
        let n = first.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        let text = match n {
            0 | 1 => answer("503 Service Unavailable", ""),
            _ if asked.method == "GET" => answer("200 OK", "one"),
            _ => answer("404 Not Found", ""),
        };
        let _ = line.write_all(text.as_bytes());
    });
    let begun = Instant::now();
    let opened = open(&drive(server.port), [1; 8]).expect("a place");
    assert_eq!(opened.place().read("heads/a.1", ALL).expect("read"), b"one");
    assert_eq!(server.asked().len(), 3);
    assert!(
        begun.elapsed() > Duration::from_millis(500),
        "two pauses of 0.2 s and 0.6 s at least, with more by chance"
    );
    // So is the making of folders, which is asked beside what OpenDAL asks.
    let made = std::sync::atomic::AtomicUsize::new(0);
    let busy = Canned::start(move |asked, line| {
        let text = match asked.method.as_str() {
            "MKCOL" if made.fetch_add(1, std::sync::atomic::Ordering::Relaxed) == 0 => {
                answer("503 Service Unavailable", "")
            }
            "MKCOL" => answer("201 Created", ""),
            _ => answer("409 Conflict", ""),
        };
        let _ = line.write_all(text.as_bytes());
    });
    let opened = open(&drive(busy.port), [1; 8]).expect("a place");
    let error = opened.place().write_new("heads/a.1", b"one").expect_err("it never takes the file");
    assert_eq!(error.why, Fault::NoFolder.to_string());
    assert_eq!(busy.asked().iter().filter(|asked| asked.method == "MKCOL").count(), 2);
    // What does not pass is asked once.
    let refusing = Canned::saying(&answer("401 Unauthorized", ""));
    let opened = open(&drive(refusing.port), [1; 8]).expect("a place");
    opened.place().read("heads/a.1", ALL).expect_err("refused");
    assert_eq!(refusing.asked().len(), 1);
}

#[test]
fn a_slow_server_is_given_up_and_a_steady_one_is_not() {
    let silent = Canned::start(|_, _| thread::sleep(Duration::from_secs(2)));
    let begun = Instant::now();
    assert!(matches!(look(&drive(silent.port)), Err(Fault::Slow(_))));
    assert!(begun.elapsed() < Duration::from_secs(2), "{:?}", begun.elapsed());
    // It begins to answer and stops.
    let stuck = Canned::start(|_, line| {
        let _ = line.write_all(b"HTTP/1.1 200 OK\r\nContent-Length: 100\r\n\r\nonly this");
        thread::sleep(Duration::from_secs(2));
    });
    assert!(matches!(look(&drive(stuck.port)), Err(Fault::Slow(_))));
    // It takes longer than anybody's patience in all, and never stops for long.
    let steady = Canned::start(|_, line| {
        let _ = line.write_all(b"HTTP/1.1 200 OK\r\nContent-Length: 8\r\n\r\n");
        for byte in *b"steadily" {
            thread::sleep(Duration::from_millis(100));
            let _ = line.write_all(&[byte]);
        }
    });
    let opened = open(&drive(steady.port), [1; 8]).expect("a place");
    assert_eq!(opened.place().read("heads/a.1", ALL).expect("read"), b"steadily");
}

#[test]
fn nothing_that_a_hostile_server_sends_does_harm() {
    // A file without end, and no more of it than was asked for.
    let endless = Canned::start(|_, line| {
        let _ = line.write_all(b"HTTP/1.1 200 OK\r\nContent-Length: 1099511627776\r\n\r\n");
        while line.write_all(&[7; 1 << 16]).is_ok() {}
    });
    let opened = open(&drive(endless.port), [1; 8]).expect("a place");
    let read = opened.place().read("heads/a.1", Span { from: 0, most: 100_000 }).expect("read");
    assert_eq!(read, vec![7; 100_000]);
    // Parts of a file that are the whole of it.
    let whole = Canned::saying(&answer("200 OK", "the whole"));
    let opened = open(&drive(whole.port), [1; 8]).expect("a place");
    let error = opened.place().read("heads/a.1", Span { from: 4, most: 2 }).expect_err("no part");
    assert_eq!(error.why, Fault::NoParts.to_string());
    // Listings: without end, of elsewhere, of nothing, of something else.
    let unending = Canned::start(|_, line| {
        let _ = line.write_all(b"HTTP/1.1 207 Multi-Status\r\n\r\n<?xml version=\"1.0\"?>");
        while line.write_all(&[b' '; 1 << 16]).is_ok() {}
    });
    let opened = open(&drive(unending.port), [1; 8]).expect("a place");
    let error = opened.place().list("heads").expect_err("without end");
    assert!(error.trouble == Trouble::Wrong && error.why.contains("without end"), "{error}");
    let entry = |href: &str| {
        format!(
            "<D:response><D:href>{href}</D:href><D:propstat><D:prop><D:getlastmodified>Thu, 26 Nov 2026 03:00:00 GMT\
             </D:getlastmodified><D:getcontentlength>3</D:getcontentlength><D:resourcetype/></D:prop>\
             <D:status>HTTP/1.1 200 OK</D:status></D:propstat></D:response>"
        )
    };
    let listing = |entries: &str| {
        answer(
            "207 Multi-Status",
            &format!("<?xml version=\"1.0\"?><D:multistatus xmlns:D=\"DAV:\">{entries}</D:multistatus>"),
        )
    };
    // What lies elsewhere is no file of this folder; what cannot be read as a path at all is no listing.
    for (href, files) in [
        ("", Err(Trouble::Wrong)),
        ("/", Err(Trouble::Wrong)),
        ("x", Ok(0)),
        ("/x", Ok(0)),
        ("/elsewhere/heads/a.1", Ok(0)),
        ("é", Ok(0)),
        ("/team/heads/../../../etc/passwd", Ok(1)),
        ("/team/heads/%ff", Ok(1)),
    ] {
        let server = Canned::saying(&listing(&entry(href)));
        let opened = open(&drive(server.port), [1; 8]).expect("a place");
        let found = opened.place().list("heads");
        assert_eq!(found.as_ref().map(Vec::len).map_err(|error| error.trouble), files, "{href}: {found:?}");
        // Whatever it is called, it is no name that a team gives.
        let is_ours = |file: &exchange::place::Entry| exchange::layout::Spot::in_heads(&file.name).is_some();
        assert!(!found.iter().flatten().any(is_ours), "{href}: {found:?}");
    }
    for text in [listing("<D:response>"), answer("207 Multi-Status", ""), answer("207 Multi-Status", "\u{0}\u{1}")] {
        let server = Canned::saying(&text);
        let opened = open(&drive(server.port), [1; 8]).expect("a place");
        assert_eq!(opened.place().list("heads").expect_err("no listing").trouble, Trouble::Wrong, "{text}");
    }
    // It is reached still after all that.
    let server = Canned::saying(&listing(&entry("/team/heads/a.1")));
    let opened = open(&drive(server.port), [1; 8]).expect("a place");
    assert_eq!(opened.place().list("heads").expect("a list")[0].name, "a.1");
}

#[test]
fn a_server_that_cannot_be_reached_is_told_apart() {
    let free = TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr()).expect("a port").port();
    assert!(matches!(look(&drive(free)), Err(Fault::Away(_))));
    // No name ends so (RFC 6761).
    assert_eq!(look(&Settings::at("https://nowhere.invalid/team")), Err(Fault::Name));
    // Whoever expects HTTP and is greeted in TLS.
    let plain = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = plain.local_addr().expect("an address").port();
    thread::spawn(move || {
        for mut line in plain.incoming().map_while(Result::ok) {
            let _ = line.read(&mut [0; 1024]);
            let _ = line.write_all(answer("400 Bad Request", "").as_bytes());
        }
    });
    assert_eq!(look(&Settings::at(&format!("https://127.0.0.1:{port}/team"))), Err(Fault::NoTls));
}

#[test]
fn an_object_store_tells_what_is_the_matter() {
    let error = |code: &str| format!("<?xml version=\"1.0\"?><Error><Code>{code}</Code><Message>m</Message></Error>");
    for (status, code, fault) in [
        ("403 Forbidden", "RequestTimeTooSkewed", Fault::ClockRefused),
        ("403 Forbidden", "SignatureDoesNotMatch", Fault::Password),
        ("403 Forbidden", "InvalidAccessKeyId", Fault::Password),
        ("403 Forbidden", "AccessDenied", Fault::Forbidden),
        ("404 Not Found", "NoSuchBucket", Fault::NoFolder),
        ("507 Insufficient Storage", "QuotaExceeded", Fault::Full),
        ("301 Moved Permanently", "PermanentRedirect", Fault::Region(None)),
    ] {
        let server = Canned::saying(&answer(status, &error(code)));
        let mut settings = Settings::at("s3://a-team/work");
        settings.endpoint = Some(format!("http://127.0.0.1:{}", server.port));
        assert!(matches!(look(&settings), Err(Fault::Setting { .. })), "no key is given");
        settings.user = Some("AKIAINVENTED".to_owned());
        settings.password = Some(Secret(PASSWORD.to_owned()));
        assert_eq!(look(&settings), Err(fault), "{code}");
        let holds = |text: &str| text.contains(PASSWORD);
        let sent = server.asked().iter().any(|asked| holds(&asked.headers) || holds(&asked.path));
        assert!(!sent, "a secret key is never sent");
    }
}

#[test]
fn an_object_store_that_lists_without_end_is_given_up() {
    let server = Canned::start(|_, line| {
        let keys: String = (0..20_000)
            .map(|n| format!("<Contents><Key>work/heads/{n:064}.1</Key><Size>1</Size><LastModified>2026-11-26T03:00:00.000Z</LastModified></Contents>"))
            .collect();
        let text = format!(
            "<?xml version=\"1.0\"?><ListBucketResult><IsTruncated>true</IsTruncated>\
             <NextContinuationToken>more</NextContinuationToken>{keys}</ListBucketResult>"
        );
        let _ = line.write_all(answer("200 OK", &text).as_bytes());
    });
    let mut settings = Settings::at("s3://a-team/work");
    settings.endpoint = Some(format!("http://127.0.0.1:{}", server.port));
    settings.user = Some("AKIAINVENTED".to_owned());
    settings.password = Some(Secret(PASSWORD.to_owned()));
    let opened = open(&settings, [1; 8]).expect("a place");
    let error = opened.place().list("heads").expect_err("without end");
    assert!(error.trouble == Trouble::Wrong && error.why.contains("without end"), "{error}");
}

/// A proxy that passes lines on, or wants a password that it is not given.
fn proxy(passes: bool) -> u16 {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = listener.local_addr().expect("an address").port();
    thread::spawn(move || {
        for mut line in listener.incoming().map_while(Result::ok) {
            let mut head = Vec::new();
            let mut byte = [0];
            while !head.ends_with(b"\r\n\r\n") && line.read(&mut byte).unwrap_or(0) == 1 {
                head.push(byte[0]);
            }
            let head = String::from_utf8_lossy(&head).into_owned();
            let Some(to) = head.strip_prefix("CONNECT ").and_then(|rest| rest.split(' ').next()) else { continue };
            if !passes {
                let _ = line.write_all(b"HTTP/1.1 407 Proxy Authentication Required\r\nContent-Length: 0\r\n\r\n");
                continue;
            }
            // The test names a host that only the proxy knows.
            let port = to.rsplit(':').next().expect("a port");
            let mut on = TcpStream::connect(("127.0.0.1", port.parse().expect("a port"))).expect("the server");
            line.write_all(b"HTTP/1.1 200 OK\r\n\r\n").expect("answered");
            let (mut back, mut there) = (line.try_clone().expect("a line"), on.try_clone().expect("a line"));
            thread::spawn(move || std::io::copy(&mut line, &mut on));
            thread::spawn(move || std::io::copy(&mut there, &mut back));
        }
    });
    port
}

#[test]
fn a_drive_is_reached_through_a_proxy() {
    let apache = Apache::start(Wish { name: "DNS:drive.invalid", ..Wish::default() });
    let mut settings = apache.settings();
    settings.address = format!("https://drive.invalid:{}/team", apache.port());
    settings.proxy = Some(Secret(format!("http://127.0.0.1:{}", proxy(true))));
    let opened = open(&settings, [1; 8]).expect("a place");
    opened.place().write_new("heads/a.1", b"one").expect("written");
    assert_eq!(fs::read(apache.shared.join("heads/a.1")).expect("there"), b"one");
    settings.proxy = Some(Secret(format!("http://127.0.0.1:{}", proxy(false))));
    assert_eq!(look(&settings), Err(Fault::ProxyPassword));
    settings.proxy = Some(Secret("\u{1}".to_owned()));
    assert!(matches!(look(&settings), Err(Fault::Setting { what: "the proxy", .. })));
}
