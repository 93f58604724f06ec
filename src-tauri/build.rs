//! Names the commands of the window, so that each needs a capability before the page may call it.

fn main() {
    println!("cargo::rerun-if-changed=commands.list");
    let manifest = tauri_build::AppManifest::new().commands(include!("commands.list"));
    if let Err(error) = tauri_build::try_build(tauri_build::Attributes::new().app_manifest(manifest)) {
        println!("cargo::error={error:#}");
    }
}
