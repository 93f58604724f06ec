//! A window with the thread of its rounds, as the program holds it.

use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use desk::view::{SharedSign, Window};

use super::home::Home;

/// Far more than any of it takes.
const PATIENCE: Duration = Duration::from_secs(40);

/// A window with its rounds, which end with it.
pub struct Open {
    pub window: Arc<Window>,
    told: Arc<Mutex<Vec<SharedSign>>>,
    rounds: Option<JoinHandle<()>>,
}

impl Open {
    /// The window on a home.
    pub fn of(home: &Home) -> Self {
        let (window, told) =
            (Arc::new(Window::new(None, Some(home.0.clone()))), Arc::new(Mutex::new(Vec::<SharedSign>::new())));
        let rounds = {
            let (window, told) = (Arc::clone(&window), Arc::clone(&told));
            std::thread::spawn(move || window.keep_sharing(|sign| told.lock().expect("the list").push(sign)))
        };
        window.list_sites().expect("the list, as the page asks for it first");
        Self { window, told, rounds: Some(rounds) }
    }

    /// What the page was told last.
    pub fn last(&self) -> Option<SharedSign> {
        self.told.lock().expect("the list").last().cloned()
    }

    /// Waits until the page was told so.
    pub fn wait(&self, what: &str, is_so: impl Fn(&SharedSign) -> bool) -> SharedSign {
        let began = Instant::now();
        loop {
            if let Some(sign) = self.last().filter(|sign| is_so(sign)) {
                return sign;
            }
            assert!(began.elapsed() < PATIENCE, "the page was never told {what}; last: {:?}", self.last());
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Waits until all is shared.
    pub fn up_to_date(&self) -> SharedSign {
        self.wait("that all is shared", |sign| {
            sign.sharing.is_none() && sign.unshared_items == 0 && sign.last_round.is_some() && sign.failure.is_none()
        })
    }
}

/// Waits until something is so.
pub fn until(what: &str, mut is_so: impl FnMut() -> bool) {
    let began = Instant::now();
    while !is_so() {
        assert!(began.elapsed() < PATIENCE, "{what}");
        std::thread::sleep(Duration::from_millis(100));
    }
}

impl Drop for Open {
    fn drop(&mut self) {
        self.window.end_sharing(PATIENCE);
        if let Some(rounds) = self.rounds.take() {
            let _ = rounds.join();
        }
    }
}
