//! The thread on which rounds of the shared folder begin by themselves: the page hears of each, and the thread ends with the
//! window.

use std::time::Duration;

use desk::view::Window;
use tauri::{AppHandle, Emitter as _, Manager as _, RunEvent};

/// A closing window waits so long for the question on its way. Whatever a round leaves undone, the next one does.
const PATIENCE: Duration = Duration::from_secs(3);

/// Begins it.
pub(crate) fn begin(app: &AppHandle) -> std::io::Result<()> {
    let app = app.clone();
    std::thread::Builder::new().name("sharing".to_owned()).spawn(move || {
        app.state::<Window>().keep_sharing(|sign| {
            // A page that is gone needs no news.
            let _ = app.emit("shared", sign);
        });
    })?;
    Ok(())
}

/// Ends it when the program ends.
#[allow(clippy::needless_pass_by_value, reason = "the shape of a listener")]
pub(crate) fn end_with_the_window(app: &AppHandle, event: RunEvent) {
    if matches!(event, RunEvent::Exit) {
        app.state::<Window>().end_sharing(PATIENCE);
    }
}
