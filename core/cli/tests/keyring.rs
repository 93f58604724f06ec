//! Keys in a real keyring: the Secret Service (freedesktop.org, Secret Service API 0.2) as gnome-keyring serves it, on a
//! message bus of the test's own with a keyring that nobody else has.
#![cfg(target_os = "linux")]

mod place;

use std::fs;
use std::os::unix::fs::DirBuilderExt;
use std::process::{Command, Output};

use place::{Place, code, text};

/// The commands one after the other in a session with a keyring that is open; all must be done, or the last is told.
fn in_session(place: &Place, script: &str) -> Output {
    let runtime = place.0.join("runtime");
    if !runtime.exists() {
        fs::DirBuilder::new().mode(0o700).create(&runtime).expect("a folder");
    }
    let session = format!(
        "printf %s invented | gnome-keyring-daemon --unlock --components=secrets --control-directory='{}' >/dev/null; {script}",
        runtime.display()
    );
    Command::new("dbus-run-session")
        .args(["--", "bash", "-euc", &session])
        .env("newel", env!("CARGO_BIN_EXE_newel"))
        .env("HOME", &place.0)
        .env("XDG_DATA_HOME", place.0.join("data"))
        .env("XDG_RUNTIME_DIR", &runtime)
        .env("NEWEL_HOME", place.0.join("home"))
        .env("NEWEL_PERSON", "Invented Anna")
        .env("share", place.0.join("share"))
        .env_remove("NEWEL_KEYS")
        .env_remove("DISPLAY")
        .output()
        .expect("dbus-run-session and gnome-keyring, which .ci/setup installs")
}

fn done(place: &Place, script: &str) -> String {
    let output = in_session(place, script);
    assert_eq!(code(&output), 0, "{script}: {}", text(&output.stderr));
    text(&output.stdout)
}

#[test]
fn a_team_begins_with_its_key_in_the_keyring_and_goes_on_in_the_next_session() {
    let place = Place::new("keyring", "session");
    fs::create_dir_all(place.0.join("share")).expect("a folder");
    let device_file = || fs::read_to_string(place.0.join("home/device.json")).expect("the device file");

    let said = done(
        &place,
        "$newel device list >/dev/null; $newel exchange start \"$share\" >/dev/null; $newel exchange status",
    );
    assert!(said.contains("keys  in the keyring of this computer"), "{said}");
    assert!(!device_file().contains("key_hex"), "{}", device_file());

    // Another session, with the keyring's own file from before.
    let said = done(&place, "$newel exchange run >/dev/null; $newel exchange status");
    assert!(said.contains("last round") && said.contains("in the keyring"), "{said}");

    // No session: what is to be done is told, and nothing is made anew.
    let before = device_file();
    let output = place
        .command("home", &["exchange", "run"])
        .env_remove("DBUS_SESSION_BUS_ADDRESS")
        .env_remove("DISPLAY")
        .output();
    let output = output.expect("newel runs");
    assert_eq!(code(&output), 2);
    let why = text(&output.stderr);
    assert!(why.contains("the keyring of this computer") && why.contains("unlock it"), "{why}");
    assert_eq!(device_file(), before);

    // Moved into files it works without one, and what lay in the keyring is gone.
    done(&place, "$newel device keys file");
    assert!(device_file().contains("key_hex"));
    place.done(&["exchange", "run"]);
    let said = done(&place, "$newel exchange status; $newel device keys keyring; $newel exchange run");
    assert!(said.contains("only their owner may read"), "{said}");
    assert!(!device_file().contains("key_hex"));
}

#[test]
fn without_a_keyring_a_team_keeps_its_key_in_a_file() {
    let place = Place::new("keyring", "none");
    fs::create_dir_all(place.0.join("share")).expect("a folder");
    let mut command = place.command("home", &["exchange", "start", &place.file("share")]);
    command.env_remove("NEWEL_KEYS").env_remove("DISPLAY").env("DBUS_SESSION_BUS_ADDRESS", "unix:path=/nowhere");
    assert_eq!(code(&command.output().expect("newel runs")), 0);
    assert!(fs::read_to_string(place.0.join("home/device.json")).expect("the device file").contains("key_hex"));
    let why = place
        .command("home", &["device", "keys", "keyring"])
        .env("DBUS_SESSION_BUS_ADDRESS", "unix:path=/nowhere")
        .output();
    let why = text(&why.expect("newel runs").stderr);
    assert!(why.contains("cannot be kept in a keyring"), "{why}");
}
