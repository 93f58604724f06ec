//! What the pages may ask: one line each, answered by `desk`.

use desk::view::{Asked, Explanation, Refusal, SitePage, Start, Window};
use tauri::ipc::Invoke;
use tauri::{State, Wry};

/// Every command; the list for the capabilities in `commands.list` and desk's own list say the same names.
pub(crate) fn handler() -> impl Fn(Invoke<Wry>) -> bool + Send + Sync + 'static {
    tauri::generate_handler![start, open_file, open_demo, explain]
}

#[tauri::command(async)]
fn start(window: State<'_, Window>) -> Start {
    window.start()
}

#[tauri::command(async)]
fn open_file(window: State<'_, Window>, path: &str) -> Result<SitePage, Refusal> {
    window.open_file(path)
}

#[tauri::command(async)]
fn open_demo(window: State<'_, Window>) -> Result<SitePage, Refusal> {
    window.open_demo()
}

#[tauri::command(async)]
fn explain(window: State<'_, Window>, asked: Asked) -> Result<Explanation, Refusal> {
    window.explain(&asked)
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_capabilities_and_the_pages_know_the_same_commands() {
        let listed: &[&str] = include!("../commands.list");
        let known: Vec<&str> = desk::view::COMMANDS.iter().map(|command| command.name).collect();
        assert_eq!(listed, known);
    }
}
