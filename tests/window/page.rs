//! The page in the window, through the WebDriver protocol (W3C Recommendation WebDriver, 5 June 2018).

use std::path::Path;
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// The name under which the protocol hands over an element (W3C WebDriver, section 11).
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// Keys as the protocol writes them (W3C WebDriver, section 17.4.2).
pub mod key {
    /// Enter.
    pub const ENTER: &str = "\u{e007}";
    /// Escape.
    pub const ESCAPE: &str = "\u{e00c}";
    /// Tab.
    pub const TAB: &str = "\u{e004}";
    /// Control.
    pub const CONTROL: &str = "\u{e009}";
    /// Shift.
    pub const SHIFT: &str = "\u{e008}";
    /// Arrow down.
    pub const DOWN: &str = "\u{e015}";
    /// Arrow right.
    pub const RIGHT: &str = "\u{e014}";
    /// Arrow left.
    pub const LEFT: &str = "\u{e012}";
    /// Arrow up.
    pub const UP: &str = "\u{e013}";
    /// Delete.
    pub const DELETE: &str = "\u{e017}";
    /// Alt.
    pub const ALT: &str = "\u{e00a}";
}

/// How long a page may take to show what was asked for.
const PATIENCE: Duration = Duration::from_secs(20);

/// A session with one window.
pub struct Page {
    agent: ureq::Agent,
    address: String,
}

impl Page {
    /// Opens the program with its arguments.
    pub fn open(port: u16, program: &Path, arguments: &[&str]) -> Self {
        let settings =
            ureq::Agent::config_builder().timeout_global(Some(Duration::from_secs(60))).http_status_as_error(false);
        let mut page = Self { agent: settings.build().into(), address: format!("http://127.0.0.1:{port}/session") };
        let options = json!({"application": program, "args": arguments});
        let asked = json!({"capabilities": {"alwaysMatch": {"tauri:options": options}}});
        // The driver passes everything on to the web view's own; until that one listens, it hangs up.
        let began = Instant::now();
        let answer = loop {
            match page.try_post("", &asked) {
                Ok(answer) => break answer,
                Err(error) => assert!(began.elapsed() < PATIENCE, "no session: {error}"),
            }
            std::thread::sleep(Duration::from_millis(200));
        };
        let session = answer["sessionId"].as_str().unwrap_or_else(|| panic!("no session: {answer}")).to_owned();
        page.address = format!("{}/{session}", page.address);
        page
    }

    fn post(&self, path: &str, body: &Value) -> Value {
        self.try_post(path, body).unwrap_or_else(|error| panic!("POST {path}: {error}"))
    }

    fn try_post(&self, path: &str, body: &Value) -> Result<Value, ureq::Error> {
        let address = format!("{}{path}", self.address);
        let mut response = self.agent.post(&address).content_type("application/json").send(body.to_string())?;
        let text = response.body_mut().read_to_string()?;
        let mut answer: Value = serde_json::from_str(&text).unwrap_or_else(|_| panic!("POST {path}: {text}"));
        Ok(answer["value"].take())
    }

    /// Runs a function body in the page and brings back what it returns.
    pub fn run(&self, script: &str, arguments: &[Value]) -> Value {
        let answer = self.post("/execute/sync", &json!({"script": script, "args": arguments}));
        assert!(answer["error"].is_null(), "the page's script failed: {answer}");
        answer
    }

    /// Runs a function body that calls its last argument with the answer when it has one.
    pub fn run_and_wait(&self, script: &str, arguments: &[Value]) -> Value {
        let answer = self.post("/execute/async", &json!({"script": script, "args": arguments}));
        assert!(answer["error"].is_null(), "the page's script failed: {answer}");
        answer
    }

    /// Waits until a script returns something true, and brings it back.
    pub fn wait(&self, what: &str, script: &str, arguments: &[Value]) -> Value {
        let began = Instant::now();
        loop {
            let found = self.run(script, arguments);
            if !matches!(found, Value::Null | Value::Bool(false)) {
                return found;
            }
            if began.elapsed() > PATIENCE {
                panic!("the page does not show {what}; it shows:\n{}", self.text("body"));
            }
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Waits until an element is there.
    pub fn wait_for(&self, selector: &str) {
        self.wait(selector, "return document.querySelector(arguments[0]) !== null", &[json!(selector)]);
    }

    /// Waits until an element's text holds a text, and brings back the whole of it.
    pub fn wait_for_text(&self, selector: &str, text: &str) -> String {
        let script = "const found = document.querySelector(arguments[0])?.textContent ?? ''; \
                      return found.includes(arguments[1]) ? found : null";
        let found = self.wait(&format!("{text:?} in {selector}"), script, &[json!(selector), json!(text)]);
        found.as_str().unwrap_or_default().to_owned()
    }

    /// The text of the first element, empty where there is none.
    pub fn text(&self, selector: &str) -> String {
        let found = self.run("return document.querySelector(arguments[0])?.textContent ?? ''", &[json!(selector)]);
        found.as_str().unwrap_or_default().to_owned()
    }

    /// The texts of all elements.
    pub fn texts(&self, selector: &str) -> Vec<String> {
        let script = "return [...document.querySelectorAll(arguments[0])].map((each) => each.textContent)";
        let found = self.run(script, &[json!(selector)]);
        let texts = found.as_array().cloned().unwrap_or_default();
        texts.iter().map(|text| text.as_str().unwrap_or_default().to_owned()).collect()
    }

    /// How many elements there are.
    pub fn count(&self, selector: &str) -> u64 {
        self.run("return document.querySelectorAll(arguments[0]).length", &[json!(selector)])
            .as_u64()
            .unwrap_or_default()
    }

    /// Clicks an element as a pointer does: where it is on the screen.
    pub fn click(&self, selector: &str) {
        self.wait_for(selector);
        let element = self.element(selector);
        let answer = self.post(&format!("/element/{element}/click"), &json!({}));
        assert!(answer.is_null(), "{selector} cannot be clicked: {answer}");
    }

    /// Presses keys wherever the focus is, all held together until the last was pressed.
    pub fn chord(&self, keys: &[&str]) {
        let action = |kind: &str, key: &&str| json!({"type": kind, "value": key});
        let mut actions: Vec<Value> = keys.iter().map(|key| action("keyDown", key)).collect();
        actions.extend(keys.iter().rev().map(|key| action("keyUp", key)));
        let answer = self.post("/actions", &json!({"actions": [{"type": "key", "id": "keys", "actions": actions}]}));
        assert!(answer.is_null(), "the keys {keys:?} cannot be pressed: {answer}");
    }

    /// Types a text wherever the focus is, one key after another as a hand does.
    pub fn keys(&self, text: &str) {
        let one = |key: char| {
            let key = key.to_string();
            [json!({"type": "keyDown", "value": key}), json!({"type": "keyUp", "value": key})]
        };
        let actions: Vec<Value> = text.chars().flat_map(one).collect();
        let answer = self.post("/actions", &json!({"actions": [{"type": "key", "id": "keys", "actions": actions}]}));
        assert!(answer.is_null(), "{text:?} cannot be typed: {answer}");
    }

    /// Presses a key until the focus is on an element; so the element can be reached by keys at all.
    pub fn walk_to(&self, step: &[&str], selector: &str) {
        const MOST_STEPS: usize = 120;
        self.wait_for(selector);
        for _ in 0..MOST_STEPS {
            let here = "return document.activeElement?.matches(arguments[0]) ?? false";
            if self.run(here, &[json!(selector)]) == json!(true) {
                return;
            }
            self.chord(step);
        }
        panic!("{selector} is not reached in {MOST_STEPS} steps");
    }

    /// Presses a pointer at a place within an element, given as parts of its width and height.
    pub fn point(&self, selector: &str, across: f64, down: f64) {
        let script = "const box = document.querySelector(arguments[0]).getBoundingClientRect(); \
                      return [box.left + box.width * arguments[1], box.top + box.height * arguments[2]]";
        self.wait_for(selector);
        let place = self.run(script, &[json!(selector), json!(across), json!(down)]);
        let whole = |index: usize| place[index].as_f64().unwrap_or_default().round() as i64;
        let actions = json!([
            {"type": "pointerMove", "duration": 0, "origin": "viewport", "x": whole(0), "y": whole(1)},
            {"type": "pointerDown", "button": 0}, {"type": "pointerUp", "button": 0},
        ]);
        let pointer =
            json!({"type": "pointer", "id": "hand", "parameters": {"pointerType": "mouse"}, "actions": actions});
        let answer = self.post("/actions", &json!({"actions": [pointer]}));
        assert!(answer.is_null(), "{selector} cannot be pointed at: {answer}");
    }

    /// The selector of the control under a label, as a person finds it; `part` says in which part of the page.
    pub fn labelled(&self, part: &str, label: &str) -> String {
        let script = "const part = document.querySelector(arguments[0]); if (!part) return null; \
                      for (const label of part.querySelectorAll('label')) { \
                        if (label.htmlFor !== '' && label.firstChild?.textContent.trim() === arguments[1]) return '#' + CSS.escape(label.htmlFor); } \
                      return null";
        let found = self.wait(&format!("a field {label:?} in {part}"), script, &[json!(part), json!(label)]);
        found.as_str().unwrap_or_default().to_owned()
    }

    /// Writes into the field under a label in place of what stands there, and leaves it by Enter.
    pub fn fill(&self, part: &str, label: &str, text: &str) {
        let field = self.labelled(part, label);
        self.click(&field);
        self.chord(&[key::CONTROL, "a"]);
        self.keys(&format!("{text}{}", key::ENTER));
    }

    /// Chooses by its words from the list under a label.
    pub fn choose(&self, part: &str, label: &str, words: &str) {
        let list = self.labelled(part, label);
        self.choose_from(&list, words);
    }

    /// Chooses by its words from a list.
    pub fn choose_from(&self, list: &str, words: &str) {
        let script = "return [...(document.querySelector(arguments[0])?.options ?? [])] \
                      .find((option) => option.textContent.trim().startsWith(arguments[1]))";
        let option = self.wait(&format!("{words:?} in {list}"), script, &[json!(list), json!(words)]);
        let option = option[ELEMENT].as_str().unwrap_or_default();
        let answer = self.post(&format!("/element/{option}/click"), &json!({}));
        assert!(answer.is_null(), "{words:?} of {list} cannot be chosen: {answer}");
    }

    /// Waits until the window says that everything is kept, with nothing on its way; the program answers in its own time.
    pub fn wait_until_kept(&self) {
        let script = "return document.querySelector(\"#kept[data-kept='kept']\") !== null";
        self.wait("that all is kept", script, &[]);
    }

    /// Gives the window a size [px].
    pub fn resize(&self, width: u32, height: u32) {
        let answer = self.post("/window/rect", &json!({"x": 0, "y": 0, "width": width, "height": height}));
        assert!(answer["error"].is_null(), "the window keeps its size: {answer}");
    }

    /// Types into an element.
    pub fn press(&self, selector: &str, keys: &str) {
        let element = self.element(selector);
        let answer = self.post(&format!("/element/{element}/value"), &json!({"text": keys}));
        assert!(answer.is_null(), "{selector} takes no keys: {answer}");
    }

    fn element(&self, selector: &str) -> String {
        let answer = self.post("/element", &json!({"using": "css selector", "value": selector}));
        answer[ELEMENT].as_str().unwrap_or_else(|| panic!("{selector} is not there: {answer}")).to_owned()
    }

    /// Closes the window.
    pub fn close(self) {
        let _ = self.agent.delete(&self.address).call();
    }
}
