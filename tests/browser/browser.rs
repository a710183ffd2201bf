//! A Chromium that hears nobody but this computer, and what a person does in it.

use crate::driver::Driver;
use crate::studio::Studio;
use serde_json::{Value, json};
use std::cell::RefCell;
use std::io::Write;
use std::path::Path;
use std::sync::{Mutex, PoisonError};
use std::thread::sleep;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// How long is waited for something to come about. A photo is measured in a second or two; a busy machine may take longer.
const PATIENCE: Duration = Duration::from_secs(60);

/// What the page is looked at with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Screen {
    /// 390 by 844, touched.
    Phone,
    /// 1280 by 800, with a mouse.
    Desk,
}

impl Screen {
    pub const BOTH: [Self; 2] = [Self::Phone, Self::Desk];

    pub fn name(self) -> &'static str {
        match self {
            Self::Phone => "phone",
            Self::Desk => "desk",
        }
    }

    /// Width and height in CSS pixels.
    pub fn size(self) -> [u32; 2] {
        match self {
            Self::Phone => [390, 844],
            Self::Desk => [1280, 800],
        }
    }
}

/// Keys by the code points that WebDriver gives them (17.4.2).
pub mod key {
    pub const TAB: char = '\u{e004}';
    pub const ENTER: char = '\u{e007}';
    pub const SHIFT: char = '\u{e008}';
    pub const RIGHT: char = '\u{e014}';
    pub const DOWN: char = '\u{e015}';
}

/// A window of a browser with a profile of its own.
pub struct Browser {
    driver: Driver,
    session: String,
    home: String,
    screen: Screen,
    /// What was heard of the page and the network so far (DevTools events).
    heard: RefCell<Vec<Value>>,
    /// What went wrong in the page so far.
    wrong: RefCell<Vec<String>>,
    _profile: TempDir,
}

/// Does the work on each of the screens, each time on a fresh copy of the demo season; then nothing may have been asked of any
/// other computer, and nothing may have gone wrong in the page. Where no browser is installed this is said, and passes; where `CI`
/// is set, it fails.
pub fn on(screens: &[Screen], studio: fn() -> Studio, work: impl Fn(&Browser, &Studio)) {
    // One browser at a time: a page that waits for the processor is no sign of anything.
    static TURN: Mutex<()> = Mutex::new(());
    let _turn = TURN.lock().unwrap_or_else(PoisonError::into_inner);
    for screen in screens {
        let Some(driver) = Driver::start() else {
            return missing("chromedriver (Debian: apt-get install chromium chromium-driver)");
        };
        let studio = studio();
        let browser = match Browser::open(driver, *screen, &studio) {
            Ok(browser) => browser,
            Err(error) => {
                return missing(&format!("a browser that chromedriver can start ({error})"));
            }
        };
        work(&browser, &studio);
        browser.stayed_at_home();
        browser.ran_well();
    }
}

/// Says what is missing where a test cannot be run; with `CI` set it fails, so that it is never left out unseen.
pub fn missing(what: &str) {
    assert!(
        std::env::var_os("CI").is_none(),
        "CI is set, and {what} is missing"
    );
    // Not `eprintln`: what that prints is not shown of a test that passes.
    let _ = writeln!(
        std::io::stderr(),
        "not tested in a browser: {what} is missing"
    );
}

impl Browser {
    fn open(driver: Driver, screen: Screen, studio: &Studio) -> Result<Self, String> {
        let profile = tempfile::tempdir().expect("an empty folder");
        let session = driver.send("POST", "/session", &wanted(profile.path(), &studio.address))?;
        let session = session["sessionId"].as_str().expect("a session").to_owned();
        let browser = Self {
            driver,
            session,
            home: studio.address.clone(),
            screen,
            heard: RefCell::default(),
            wrong: RefCell::default(),
            _profile: profile,
        };
        let [width, height] = screen.size();
        browser.size(width, height);
        let touch = json!({"enabled": screen == Screen::Phone});
        browser.devtools("Emulation.setTouchEmulationEnabled", &touch);
        // A phone shows none, and it would stand in the pictures.
        browser.devtools(
            "Emulation.setScrollbarsHidden",
            &json!({"hidden": screen == Screen::Phone}),
        );
        Ok(browser)
    }

    /// What it is looked at with.
    pub fn screen(&self) -> Screen {
        self.screen
    }

    /// Gives the window this size, in CSS pixels.
    pub fn size(&self, width: u32, height: u32) {
        let mobile = self.screen == Screen::Phone;
        let size =
            json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": mobile});
        self.devtools("Emulation.setDeviceMetricsOverride", &size);
    }

    /// Sets what the person's system prefers: `prefers-color-scheme`, `prefers-reduced-motion`.
    pub fn prefers(&self, feature: &str, value: &str) {
        let media = json!({"features": [{"name": feature, "value": value}]});
        self.devtools("Emulation.setEmulatedMedia", &media);
    }

    /// Opens a page of the studio.
    pub fn go(&self, path: &str) {
        self.send("url", &json!({"url": format!("{}{path}", self.home)}));
    }

    /// What a script returns; `arguments[0]` is `given`.
    pub fn script(&self, script: &str, given: impl Into<Value>) -> Value {
        self.send(
            "execute/sync",
            &json!({"script": script, "args": [given.into()]}),
        )
    }

    /// What a script gives to `arguments[0]`, a function.
    pub fn awaited(&self, script: &str) -> Value {
        self.send("execute/async", &json!({"script": script, "args": []}))
    }

    /// The words in an element as they are seen, once there is one.
    pub fn text(&self, css: &str) -> String {
        self.until(css, || {
            let text = self.script(
                "return document.querySelector(arguments[0])?.innerText",
                css,
            );
            text.as_str().map(str::to_owned)
        })
    }

    /// The value of a field, once there is one.
    pub fn value(&self, css: &str) -> String {
        self.until(css, || {
            let value = self.script("return document.querySelector(arguments[0])?.value", css);
            value.as_str().map(str::to_owned)
        })
    }

    /// How many elements there are.
    pub fn count(&self, css: &str) -> u64 {
        let count = self.script("return document.querySelectorAll(arguments[0]).length", css);
        count.as_u64().expect("a number")
    }

    /// Waits until an element is there.
    pub fn there(&self, css: &str) {
        self.until(css, || (self.count(css) > 0).then_some(()));
    }

    /// Waits until something has come about.
    #[track_caller]
    pub fn until<T>(&self, what: &str, found: impl Fn() -> Option<T>) -> T {
        let begun = Instant::now();
        loop {
            match found() {
                Some(found) => return found,
                None if begun.elapsed() < PATIENCE => sleep(Duration::from_millis(50)),
                None => {
                    let page = self.script(
                        "return location.pathname + '\\n' + document.body.innerText",
                        (),
                    );
                    panic!(
                        "waited in vain for {what} at {}",
                        page.as_str().unwrap_or_default()
                    );
                }
            }
        }
    }

    /// Touches an element with a finger or clicks on it.
    pub fn touch(&self, css: &str) {
        self.drag(css, [0, 0]);
    }

    /// Presses on an element, moves by so many pixels, and lets go.
    pub fn drag(&self, css: &str, [x, y]: [i32; 2]) {
        let element = self.element(css);
        self.script(
            "arguments[0].scrollIntoView({block: 'center', behavior: 'instant'})",
            element.clone(),
        );
        let kind = match self.screen {
            Screen::Phone => "touch",
            Screen::Desk => "mouse",
        };
        let mut moves = vec![
            json!({"type": "pointerMove", "duration": 0, "origin": element, "x": 0, "y": 0}),
            json!({"type": "pointerDown", "button": 0}),
        ];
        if [x, y] != [0, 0] {
            moves.push(
                json!({"type": "pointerMove", "duration": 50, "origin": "pointer", "x": x, "y": y}),
            );
        }
        moves.push(json!({"type": "pointerUp", "button": 0}));
        self.act(json!({"type": "pointer", "id": kind, "parameters": {"pointerType": kind}, "actions": moves}));
    }

    /// Presses keys one after the other.
    pub fn keys(&self, keys: impl IntoIterator<Item = char>) {
        let presses = keys.into_iter().flat_map(|key| {
            let key = key.to_string();
            [
                json!({"type": "keyDown", "value": key}),
                json!({"type": "keyUp", "value": key}),
            ]
        });
        self.act(json!({"type": "key", "id": "keys", "actions": presses.collect::<Vec<_>>()}));
    }

    /// Presses a key while shift is held.
    pub fn shifted(&self, key: char) {
        let step = |kind: &str, key: char| json!({"type": kind, "value": key.to_string()});
        let actions = [
            step("keyDown", key::SHIFT),
            step("keyDown", key),
            step("keyUp", key),
            step("keyUp", key::SHIFT),
        ];
        self.act(json!({"type": "key", "id": "keys", "actions": actions}));
    }

    /// Gives files to a field that takes files, as choosing them does.
    pub fn choose(&self, css: &str, files: &[&Path]) {
        let element = self.element(css);
        let id = element.as_object().and_then(|it| it.values().next());
        let id = id.and_then(Value::as_str).expect("an element").to_owned();
        let names: Vec<&str> = files.iter().map(|file| plain(file)).collect();
        self.send(
            &format!("element/{id}/value"),
            &json!({"text": names.join("\n")}),
        );
    }

    /// Lets go files over an element, dragged in from another program.
    pub fn drop_files(&self, css: &str, files: &[&Path]) {
        let middle = self.script(
            "const it = document.querySelector(arguments[0]); it.scrollIntoView({block: 'center', behavior: 'instant'});
             const box = it.getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2]",
            css,
        );
        let files: Vec<&str> = files.iter().map(|file| plain(file)).collect();
        for kind in ["dragEnter", "dragOver", "drop"] {
            let event = json!({
                "type": kind, "x": middle[0], "y": middle[1],
                "data": {"items": [], "files": files, "dragOperationsMask": 1},
            });
            self.devtools("Input.dispatchDragEvent", &event);
        }
    }

    /// A command of Chromium's DevTools.
    pub fn devtools(&self, command: &str, parameters: &Value) -> Value {
        self.send(
            "goog/cdp/execute",
            &json!({"cmd": command, "params": parameters}),
        )
    }

    /// The newest event of this kind that DevTools told, once there is one.
    pub fn told(&self, kind: &str) -> Value {
        self.until(kind, || {
            self.listen();
            let heard = self.heard.borrow();
            let told = heard.iter().rev().find(|event| event["method"] == kind);
            told.map(|event| event["params"].clone())
        })
    }

    /// Nothing was asked of any other computer.
    fn stayed_at_home(&self) {
        self.listen();
        let heard = self.heard.borrow();
        let asked = heard
            .iter()
            .filter(|event| event["method"] == "Network.requestWillBeSent");
        let asked: Vec<&str> = asked
            .filter_map(|event| event["params"]["request"]["url"].as_str())
            .collect();
        assert!(
            asked.iter().any(|url| url.starts_with(&self.home)),
            "no request was heard"
        );
        let home = format!("{}/", self.home);
        let inside = |url: &str| {
            url.starts_with(&home)
                || ["data:", "blob:", "chrome:"]
                    .iter()
                    .any(|scheme| url.starts_with(scheme))
        };
        let away: Vec<_> = asked.into_iter().filter(|url| !inside(url)).collect();
        assert!(away.is_empty(), "asked elsewhere: {away:?}");
    }

    /// No script failed, nothing was missing, and nothing broke the page's own policy.
    fn ran_well(&self) {
        self.forget("favicon.ico");
        let wrong = self.wrong.borrow();
        assert!(wrong.is_empty(), "{wrong:#?}");
    }

    /// What went wrong was meant to, where its words hold this.
    pub fn forget(&self, words: &str) {
        let log = self.send("se/log", &json!({"type": "browser"}));
        let severe = log
            .as_array()
            .into_iter()
            .flatten()
            .filter(|entry| entry["level"] == "SEVERE");
        let mut wrong = self.wrong.borrow_mut();
        wrong.extend(severe.map(|entry| entry["message"].to_string()));
        wrong.retain(|told| !told.contains(words));
    }

    fn listen(&self) {
        let log = self.send("se/log", &json!({"type": "performance"}));
        let entries = log.as_array().into_iter().flatten();
        let events = entries
            .filter_map(|entry| serde_json::from_str::<Value>(entry["message"].as_str()?).ok());
        self.heard
            .borrow_mut()
            .extend(events.map(|mut event| event["message"].take()));
    }

    fn element(&self, css: &str) -> Value {
        self.there(css);
        self.send("element", &json!({"using": "css selector", "value": css}))
    }

    fn act(&self, source: Value) {
        self.send("actions", &json!({"actions": [source]}));
    }

    fn send(&self, command: &str, body: &Value) -> Value {
        let path = format!("/session/{}/{command}", self.session);
        let done = self.driver.send("POST", &path, body);
        done.unwrap_or_else(|error| {
            panic!(
                "{command} {}: {error}",
                body.to_string().chars().take(300).collect::<String>()
            )
        })
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let path = format!("/session/{}", self.session);
        let _ = self.driver.send("DELETE", &path, &json!({}));
    }
}

/// Which browser is wanted: one without a window, a profile of its own, and no name but this computer's number.
fn wanted(profile: &Path, home: &str) -> Value {
    let host = home.trim_start_matches("http://").split(':').next();
    json!({"capabilities": {"alwaysMatch": {
        "browserName": "chrome",
        "goog:loggingPrefs": {"performance": "ALL", "browser": "ALL"},
        "goog:chromeOptions": {"args": [
            "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-quic", "--no-first-run",
            "--disable-background-networking", "--disable-component-update", "--disable-sync", "--lang=en-GB",
            "--no-proxy-server",
            format!("--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE {}", host.unwrap_or_default()),
            format!("--user-data-dir={}", plain(profile)),
        ]},
    }}})
}

fn plain(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}
