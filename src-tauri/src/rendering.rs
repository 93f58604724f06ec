//! Without a graphics card the web view may show an empty window or crawl; this notices and asks it to draw plainly.

use std::os::unix::process::CommandExt as _;
use std::path::Path;
use std::process::Command;

/// What helps where everything is drawn by the processor.
const PLAIN_DRAWING: [&str; 2] = ["WEBKIT_DISABLE_COMPOSITING_MODE", "WEBKIT_DISABLE_DMABUF_RENDERER"];

/// Starts this program again with the settings that software rendering needs, where it is needed and the user has set
/// none of them. The web view reads them when it is loaded, so they must stand in the environment from the start.
pub(crate) fn start_again_for_software_rendering() {
    let user_has_set = PLAIN_DRAWING.iter().any(|name| std::env::var_os(name).is_some());
    if user_has_set || has_graphics_card(Path::new("/dev/dri")) && !software_is_asked_for() {
        return;
    }
    let Ok(program) = std::env::current_exe() else { return };
    // It takes this process's place; coming back means that it failed, and then the window opens as it is.
    let failed =
        Command::new(program).args(std::env::args_os().skip(1)).envs(PLAIN_DRAWING.map(|name| (name, "1"))).exec();
    eprintln!("newel-window: drawing may be slow here: {failed}");
}

/// Whether the kernel offers a card to draw with.
fn has_graphics_card(devices: &Path) -> bool {
    std::fs::read_dir(devices)
        .is_ok_and(|found| found.flatten().any(|entry| entry.file_name().to_string_lossy().starts_with("renderD")))
}

/// Whether the user asked the graphics library for software rendering.
fn software_is_asked_for() -> bool {
    std::env::var_os("LIBGL_ALWAYS_SOFTWARE").is_some_and(|value| value == "1" || value == "true")
}

#[cfg(test)]
mod tests {
    use super::has_graphics_card;

    #[test]
    fn a_card_is_a_render_node() {
        let folder = std::env::temp_dir().join(format!("newel-devices-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        assert!(!has_graphics_card(&folder), "an empty folder is no card");
        std::fs::write(folder.join("card0"), "").unwrap();
        assert!(!has_graphics_card(&folder), "a screen alone cannot draw");
        std::fs::write(folder.join("renderD128"), "").unwrap();
        assert!(has_graphics_card(&folder));
        std::fs::remove_dir_all(&folder).unwrap();
        assert!(!has_graphics_card(&folder));
    }
}
