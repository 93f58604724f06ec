//! Newel's window: it opens, it passes what the pages ask to `desk`, and it knows nothing else.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

mod commands;
#[cfg(target_os = "linux")]
mod rendering;

use std::process::ExitCode;

use desk::view::Window;

/// Quicker for the many small lists of a plan, on two threads.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    let named = std::env::args().nth(1);
    if named.as_deref().is_some_and(|word| word == "--help" || word == "-h") {
        println!("newel-window [FILE.json]   opens the window, and the survey file in it");
        return ExitCode::SUCCESS;
    }
    #[cfg(target_os = "linux")]
    rendering::start_again_for_software_rendering();
    let ran = tauri::Builder::default()
        .plugin(tauri_plugin_dialog::init())
        .manage(Window::new(named))
        .invoke_handler(commands::handler())
        .run(tauri::generate_context!());
    match ran {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("newel-window: the window cannot be opened: {error}");
            ExitCode::FAILURE
        }
    }
}
