//! What the pages may ask: one line each, answered by `desk`.

use std::path::PathBuf;

use desk::parts::{Cells, FieldFault, Preview, Sheet};
use desk::view::{
    Asked, CatalogueForm, CataloguePage, CopiesTell, Explanation, ExportForm, HistoryPage, Opened, PhotosPage, Refusal,
    Settings, SharedPage, SharedSign, SheetForm, SitesPage, Start, Tried, Unread, Window,
};
use desk::wire::exchange::{ExchangeInvitation, PlaceForm};
use desk::wire::photos::{PhotoCopies, PhotoImport};
use desk::wire::sites::SiteHits;
use tauri::ipc::Invoke;
use tauri::{AppHandle, Emitter as _, Manager as _, State, Wry};

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
            tauri::generate_handler![
                add_photos, export_client, start_team, join_team, change_place, remove_device, $($name),*
            ]
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
    try_edits(edits: Unread => &edits, beside: u32 => beside) -> Result<Tried, Refusal>;
    history() -> Result<HistoryPage, Refusal>;
    view_at(change: &str => change) -> Result<Opened, Refusal>;
    settle(name: &str => name, number: u32 => number) -> Result<Opened, Refusal>;
    photos() -> Result<PhotosPage, Refusal>;
    cancel_photos() -> ();
    cancel_copies() -> ();
    shift_clock(photos: Vec<String> => &photos, seconds: i64 => seconds) -> Result<Opened, Refusal>;
    render_marked(photo: &str => photo, path: &str => path) -> Result<String, Refusal>;
    export_photo_log(path: &str => path) -> Result<String, Refusal>;
    export_geojson(path: &str => path) -> Result<String, Refusal>;
    part_forms() -> Vec<SheetForm>;
    catalogues(id: Option<&str> => id) -> Result<CataloguePage, Refusal>;
    check_part(id: &str => id, sheet: Sheet => sheet, was: Option<&str> => was, cells: Cells => &cells)
        -> Result<Vec<FieldFault>, Refusal>;
    save_part(id: &str => id, sheet: Sheet => sheet, was: Option<&str> => was, cells: Cells => &cells)
        -> Result<CataloguePage, Refusal>;
    delete_part(id: &str => id, part: &str => part) -> Result<CataloguePage, Refusal>;
    copy_catalogue(id: &str => id, name: &str => name) -> Result<CataloguePage, Refusal>;
    put_in_force(id: &str => id) -> Result<CataloguePage, Refusal>;
    settle_catalogue(id: &str => id, number: u32 => number) -> Result<CataloguePage, Refusal>;
    preview_import(id: Option<&str> => id, path: &str => path) -> Result<Preview, Refusal>;
    take_import(
        id: Option<&str> => id,
        path: &str => path,
        file_sha256: &str => file_sha256,
        content_sha256: &str => content_sha256
    ) -> Result<CataloguePage, Refusal>;
    export_catalogue(id: &str => id, path: &str => path, form: CatalogueForm => form) -> Result<String, Refusal>;
    undo_catalogue(id: Option<&str> => id) -> Result<CataloguePage, Refusal>;
    redo_catalogue(id: Option<&str> => id) -> Result<CataloguePage, Refusal>;
    shared() -> Result<SharedPage, Refusal>;
    shared_sign() -> SharedSign;
    stop_looking() -> ();
    invite() -> Result<ExchangeInvitation, Refusal>;
    approve_device(device: &str => device) -> Result<SharedPage, Refusal>;
    accept_device(device: &str => device) -> Result<SharedPage, Refusal>;
    keep_site(id: Option<&str> => id, kept: bool => kept) -> Result<SharedPage, Refusal>;
    leave_team() -> Result<SharedPage, Refusal>;
    share_now() -> ();
    stop_sharing() -> ();
    explain(asked: Asked => &asked) -> Result<Explanation, Refusal>;
}

/// It tells the page how far it is.
#[tauri::command]
async fn add_photos(app: AppHandle, paths: Vec<PathBuf>, offset: Option<String>) -> Result<PhotoImport, Refusal> {
    long(app, move |app, window| {
        window.add_photos(&paths, offset.as_deref(), |progress| {
            // A page that is gone needs no news.
            let _ = app.emit("photo-progress", progress);
        })
    })
    .await
}

#[tauri::command]
async fn export_client(
    app: AppHandle,
    photos: Vec<String>,
    tell: CopiesTell,
    marks: bool,
    folder: String,
) -> Result<PhotoCopies, Refusal> {
    long(app, move |app, window| {
        window.export_client(&photos, tell, marks, &folder, |progress| {
            let _ = app.emit("copies-progress", progress);
        })
    })
    .await
}

/// A place may be long in answering, or never answer.
#[tauri::command]
async fn start_team(app: AppHandle, place: PlaceForm, sealed: bool) -> Result<SharedPage, Refusal> {
    long(app, move |_, window| window.start_team(&place, sealed)).await
}

#[tauri::command]
async fn join_team(app: AppHandle, place: PlaceForm, code: String) -> Result<SharedPage, Refusal> {
    long(app, move |_, window| window.join_team(&place, &code)).await
}

#[tauri::command]
async fn change_place(app: AppHandle, place: PlaceForm) -> Result<SharedPage, Refusal> {
    long(app, move |_, window| window.change_place(&place)).await
}

/// What the device has given is taken first.
#[tauri::command]
async fn remove_device(app: AppHandle, device: String) -> Result<SharedPage, Refusal> {
    long(app, move |_, window| window.remove_device(&device)).await
}

/// Answers by `desk` on a thread of its own: what takes minutes would keep the few threads of the others busy, that of the
/// command that stops it among them.
async fn long<T: Send + 'static>(
    app: AppHandle,
    work: impl FnOnce(&AppHandle, &Window) -> Result<T, Refusal> + Send + 'static,
) -> Result<T, Refusal> {
    let worked = tauri::async_runtime::spawn_blocking(move || work(&app, &app.state::<Window>())).await;
    worked.unwrap_or_else(|ended| Err(Refusal { message: format!("it ended early: {ended}"), faults: Vec::new() }))
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
