//! Newel's window.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

fn main() {
    tauri::Builder::default().plugin(tauri_plugin_dialog::init()).run(tauri::generate_context!()).unwrap();
}
