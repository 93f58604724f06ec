//! What a driven window needs: a screen, the driver program, and an end to both whatever happens.

use std::io::{BufRead as _, BufReader};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::page::Page;

/// No window test may take longer than this [s]; `timeout` ends the processes even if the test itself is killed.
const LIMIT_SECONDS: &str = "180";

/// A folder of the workspace.
pub fn workspace(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("tests/ lies in the workspace").join(path)
}

/// A program that was built beside this test.
pub fn built(name: &str) -> PathBuf {
    let test = std::env::current_exe().expect("a running test has a path");
    let folder = test.ancestors().nth(2).expect("tests lie in target/<profile>/deps");
    let program = folder.join(name);
    assert!(program.exists(), "{} is missing; build it with `cargo build -p cli -p newel-window`", program.display());
    program
}

/// The program that speaks WebDriver: `TAURI_DRIVER`, else the one that `make` installs.
fn driver_program() -> PathBuf {
    let program =
        std::env::var_os("TAURI_DRIVER").map_or_else(|| workspace("target/tools/bin/tauri-driver"), Into::into);
    assert!(program.exists(), "{} is missing; `make test` installs it", program.display());
    program
}

/// A process group that ends with this value.
struct Group {
    child: Child,
}

impl Group {
    /// Starts a program as the head of a process group of its own, bounded in time.
    fn start(program: &Path, set_up: impl FnOnce(&mut Command)) -> Self {
        let mut command = Command::new("timeout");
        command.args(["--kill-after=5", LIMIT_SECONDS]).arg(program);
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::null());
        set_up(&mut command);
        let child = command.spawn().unwrap_or_else(|error| panic!("{} cannot be started: {error}", program.display()));
        Self { child }
    }

    /// `timeout` makes itself the head of a group, so its number names the group.
    fn signal(&self, signal: &str) {
        let group = format!("-{}", self.child.id());
        let _ = Command::new("kill").args([signal, "--", &group]).stderr(Stdio::null()).status();
    }

    /// The living processes of the group, by name.
    fn living(&self) -> Vec<String> {
        let group = self.child.id().to_string();
        let stats = std::fs::read_dir("/proc").expect("Linux has /proc").flatten();
        stats
            .filter_map(|entry| std::fs::read_to_string(entry.path().join("stat")).ok())
            .filter_map(|stat| {
                // pid (name) state parent group …; the name may hold spaces, so it is cut off first.
                let (head, tail) = stat.rsplit_once(") ")?;
                let mut fields = tail.split(' ');
                let (state, own) = (fields.next()?, fields.nth(1)?);
                (own == group && state != "Z").then(|| head.split_once('(').map_or(head, |(_, name)| name).to_owned())
            })
            .collect()
    }
}

impl Drop for Group {
    fn drop(&mut self) {
        self.signal("-TERM");
        let began = Instant::now();
        while began.elapsed() < Duration::from_secs(5) && !self.living().is_empty() {
            let _ = self.child.try_wait();
            std::thread::sleep(Duration::from_millis(50));
        }
        self.signal("-KILL");
        let _ = self.child.wait();
    }
}

/// A screen and a driver. Nothing of them is left when it goes.
pub struct Machine {
    // The driver goes first, then the screen that its window stands on, then the folder that both wrote to.
    driver: Group,
    screen: Group,
    home: PathBuf,
    /// The screen, as `DISPLAY` names it.
    pub display: String,
    /// The port at which the driver listens.
    pub port: u16,
}

impl Machine {
    /// Starts both; `name` tells one test's folder from another's, `size` is the screen's (`1366x820`).
    pub fn start(name: &str, size: &str) -> Self {
        let home = std::env::temp_dir().join(format!("newel-window-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&home).expect("a folder for the window's own files");
        let mut screen = Group::start(Path::new("Xvfb"), |command| {
            command.args(["-displayfd", "1", "-screen", "0", &format!("{size}x24"), "-nolisten", "tcp"]);
        });
        let mut number = String::new();
        let output = screen.child.stdout.take().expect("its output is piped");
        BufReader::new(output).read_line(&mut number).expect("the screen tells its number");
        assert!(!number.trim().is_empty(), "Xvfb did not start");
        let display = format!(":{}", number.trim());
        let (port, native) = (free_port(), free_port());
        let driver = Group::start(&driver_program(), |command| {
            command.args(["--port", &port.to_string(), "--native-port", &native.to_string()]);
            command.stdout(Stdio::null());
            command.env("DISPLAY", &display).env("HOME", &home);
            for folder in ["XDG_DATA_HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME"] {
                command.env(folder, home.join(folder));
            }
            command.env("NEWEL_HOME", store_in(&home)).env("NEWEL_PERSON", "Invented Anna");
            // Neither a desktop nor its accessibility bus stands behind this screen.
            command.env("NO_AT_BRIDGE", "1").env("GTK_THEME", "Adwaita").env_remove("WAYLAND_DISPLAY");
        });
        let machine = Self { driver, screen, home, display, port };
        wait_until_it_listens(port);
        machine
    }

    /// The folder in which the window keeps its sites.
    pub fn store(&self) -> PathBuf {
        store_in(&self.home)
    }

    /// A folder that goes with this machine.
    pub fn folder(&self) -> &Path {
        &self.home
    }

    /// Closes the window and waits until the program has ended: only then is its store free for the next.
    pub fn close(&self, page: Page) {
        self.close_of(page, "newel-window");
    }

    /// The same where another program has the window.
    pub fn close_of(&self, page: Page, program: &str) {
        page.close();
        let began = Instant::now();
        while self.driver.living().iter().any(|name| name == program) {
            assert!(began.elapsed() < Duration::from_secs(20), "the window was closed and its program runs on");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Ends everything and says what would not go.
    pub fn end(self) {
        for group in [&self.driver, &self.screen] {
            group.signal("-TERM");
        }
        let began = Instant::now();
        let left = |machine: &Self| [machine.driver.living(), machine.screen.living()].concat();
        while began.elapsed() < Duration::from_secs(10) && !left(&self).is_empty() {
            std::thread::sleep(Duration::from_millis(50));
        }
        let left = left(&self);
        assert!(left.is_empty(), "processes are left behind: {left:?}");
    }
}

impl Drop for Machine {
    fn drop(&mut self) {
        // What still runs would write to the folder again; the groups themselves end right after this.
        self.driver.signal("-KILL");
        let _ = std::fs::remove_dir_all(&self.home);
    }
}

fn store_in(home: &Path) -> PathBuf {
    home.join("newel")
}

fn wait_until_it_listens(port: u16) {
    let began = Instant::now();
    while TcpStream::connect(("127.0.0.1", port)).is_err() {
        assert!(began.elapsed() < Duration::from_secs(20), "the driver does not listen");
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// A port that nobody listens at now.
fn free_port() -> u16 {
    TcpListener::bind(("127.0.0.1", 0)).and_then(|found| found.local_addr()).expect("a free port").port()
}
