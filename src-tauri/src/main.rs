//! Newel's window: it opens, it passes what the pages ask to `desk`, and it knows nothing else.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

mod commands;
mod pictures;
#[cfg(target_os = "linux")]
mod rendering;
mod sharing;

use std::path::PathBuf;
use std::process::ExitCode;

use desk::view::Window;

/// Quicker for the many small lists of a plan, on two threads.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

const HELP: &str = "newel-window [--home DIR] [FILE.json]

opens the window on the sites in DIR, else in NEWEL_HOME, else in the platform's folder for data;
with a survey file, opens that to look at";

fn main() -> ExitCode {
    let named = match arguments(std::env::args().skip(1)) {
        Ok(Asked::Window { file, home }) => Window::new(file, home),
        Ok(Asked::Help) => {
            println!("{HELP}");
            return ExitCode::SUCCESS;
        }
        Err(why) => {
            eprintln!("newel-window: {why}");
            return ExitCode::from(2);
        }
    };
    desk::use_platform_keyring();
    #[cfg(target_os = "linux")]
    rendering::start_again_for_software_rendering();
    let built = tauri::Builder::default()
        .plugin(tauri_plugin_dialog::init())
        .manage(named)
        .register_asynchronous_uri_scheme_protocol(pictures::SCHEME, |context, request, responder| {
            pictures::answer(context.app_handle().clone(), &request, responder);
        })
        .invoke_handler(commands::handler())
        .setup(|app| Ok(sharing::begin(app.handle())?))
        .build(tauri::generate_context!());
    match built {
        Ok(app) => ExitCode::from(u8::try_from(app.run_return(sharing::end_with_the_window)).unwrap_or(1)),
        Err(error) => {
            eprintln!("newel-window: the window cannot be opened: {error}");
            ExitCode::FAILURE
        }
    }
}

/// What the program was started for.
#[derive(Debug, PartialEq, Eq)]
enum Asked {
    Help,
    Window { file: Option<String>, home: Option<PathBuf> },
}

fn arguments(mut words: impl Iterator<Item = String>) -> Result<Asked, String> {
    let (mut file, mut home) = (None, None);
    while let Some(word) = words.next() {
        match word.as_str() {
            "--help" | "-h" => return Ok(Asked::Help),
            "--home" => {
                home = Some(words.next().ok_or("--home is given without a folder; accepted: --home DIR")?.into())
            }
            _ if word.starts_with("--home=") => home = Some(word["--home=".len()..].into()),
            _ if file.is_none() && !word.starts_with('-') => file = Some(word),
            _ => return Err(format!("{word:?} is not known; accepted: --home DIR, and one survey file")),
        }
    }
    Ok(Asked::Window { file, home })
}

#[cfg(test)]
mod tests {
    use super::{Asked, arguments};

    fn asked(words: &[&str]) -> Result<Asked, String> {
        arguments(words.iter().map(|word| (*word).to_owned()))
    }

    #[test]
    fn a_file_and_a_home_are_taken_in_any_order_and_nothing_else() {
        let both = Ok(Asked::Window { file: Some("s.json".to_owned()), home: Some("there".into()) });
        assert_eq!(asked(&["--home", "there", "s.json"]), both);
        assert_eq!(asked(&["s.json", "--home=there"]), both);
        assert_eq!(asked(&[]), Ok(Asked::Window { file: None, home: None }));
        assert_eq!(asked(&["s.json", "-h"]), Ok(Asked::Help));
        for wrong in [&["--home"][..], &["a", "b"], &["--hom", "there"]] {
            assert!(asked(wrong).is_err_and(|why| why.contains("accepted: ")), "{wrong:?}");
        }
    }
}
