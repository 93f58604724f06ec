//! A window with nothing in it: what any window of this kind takes to open, for the bench to compare with.

fn main() -> tauri::Result<()> {
    tauri::Builder::default().run(tauri::generate_context!("examples/blank/tauri.conf.json"))
}
