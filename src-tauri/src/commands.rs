//! What the pages may ask: one line each, answered by `desk`.

use desk::view::{
    Asked, Explanation, ExportForm, HistoryPage, Opened, Refusal, Settings, SitesPage, Start, Tried, Unread, Window,
};
use desk::wire::sites::SiteHits;
use tauri::ipc::Invoke;
use tauri::{State, Wry};

/// Answers by `desk`, apart from the thread that draws the window.
macro_rules! commands {
    ($($name:ident($($argument:ident: $kind:ty => $given:expr),*) -> $answer:ty;)*) => {
        $(
            #[tauri::command(async)]
            fn $name(window: State<'_, Window>, $($argument: $kind),*) -> $answer {
                window.$name($($given),*)
            }
        )*

        /// Every command; the list for the capabilities in `commands.list` and desk's own list say the same names.
        pub(crate) fn handler() -> impl Fn(Invoke<Wry>) -> bool + Send + Sync + 'static {
            tauri::generate_handler![$($name),*]
        }
    };
}

commands! {
    start() -> Start;
    settings() -> Settings;
    set_settings(settings: Settings => settings) -> Result<Settings, Refusal>;
    list_sites() -> Result<SitesPage, Refusal>;
    reopen_store() -> Result<SitesPage, Refusal>;
    search(words: &str => words) -> Result<SiteHits, Refusal>;
    new_site(label: &str => label, address: &str => address) -> Result<SitesPage, Refusal>;
    add_demo_site() -> Result<SitesPage, Refusal>;
    duplicate_site(id: &str => id, label: &str => label) -> Result<SitesPage, Refusal>;
    archive_site(id: &str => id) -> Result<SitesPage, Refusal>;
    restore_site(id: &str => id) -> Result<SitesPage, Refusal>;
    put_stage(id: &str => id, stage: &str => stage) -> Result<SitesPage, Refusal>;
    import_site(path: &str => path) -> Result<SitesPage, Refusal>;
    export_site(id: &str => id, path: &str => path, form: ExportForm => form) -> Result<SitesPage, Refusal>;
    know_device(device: &str => device) -> Result<SitesPage, Refusal>;
    name_device(person: &str => person, device: &str => device) -> Result<SitesPage, Refusal>;
    open_file(path: &str => path) -> Result<Opened, Refusal>;
    open_site(id: &str => id) -> Result<Opened, Refusal>;
    edit(edits: Unread => &edits) -> Result<Opened, Refusal>;
    undo() -> Result<Opened, Refusal>;
    redo() -> Result<Opened, Refusal>;
    try_edits(edits: Unread => &edits) -> Result<Tried, Refusal>;
    history() -> Result<HistoryPage, Refusal>;
    view_at(change: &str => change) -> Result<Opened, Refusal>;
    settle(name: &str => name, number: u32 => number) -> Result<Opened, Refusal>;
    explain(asked: Asked => &asked) -> Result<Explanation, Refusal>;
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
