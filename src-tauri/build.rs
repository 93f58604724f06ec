//! Names the commands of the window, so that each needs a capability before the page may call it.

fn main() {
    let commands = tauri_build::AppManifest::new().commands(&["start", "open_file", "open_demo"]);
    let attributes = tauri_build::Attributes::new().app_manifest(commands);
    if let Err(error) = tauri_build::try_build(attributes) {
        println!("cargo::error={error:#}");
    }
}
