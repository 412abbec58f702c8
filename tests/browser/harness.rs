//! One browser with one person in front of it.
//!
//! Every act waits for what it needs, and a failure is reported at the line of the test that called it. Every test finds its browser as new
//! ([`Session`]). When the browser is dropped at the end of a test, any error that the page wrote to the console fails the test, unless the
//! test has read it with [`Browser::console_errors`].
//!
//! Most tests are in Chromium. In another engine ([`Browser::phone_with`]) what needs Chromium's DevTools protocol panics, and the screen is a
//! window.
//!
//! ```text
//! let mut browser = Browser::phone();
//! browser.go(&site::address());
//! browser.write("#part-1-length", "1200");
//! browser.press(Key::Tab);
//! browser.wait_for_text("#plan-outcome", "proven");
//! browser.screenshot("plan-phone");
//! ```

use crate::driver::Engine;
use crate::session::Session;
use fantoccini::elements::Element;
use fantoccini::error::{CmdError, ErrorStatus};
use fantoccini::key::Key as Code;
use fantoccini::{Client, Locator};
use serde_json::{Value, json};
use std::fs;
use std::future::Future;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Limit of what a test waits for. It is far more than the page needs, since the machine may be busy.
pub const PATIENCE: Duration = Duration::from_secs(30);

/// How often a waiting test checks.
pub const PERIOD: Duration = Duration::from_millis(25);

/// Notes in the page what it writes to the console as errors.
const LISTEN: &str = "window.noted ??= (() => {
    const noted = [];
    const note = (what) => noted.push(`${what} ${what?.stack ?? ''}`);
    addEventListener('error', (event) => note(event.error ?? event.message));
    addEventListener('unhandledrejection', (event) => note(event.reason));
    console.error = (...said) => noted.push(said.join(' '));
    return noted;
})();";

/// A key, named by what it does.
#[derive(Clone, Copy, Debug)]
pub enum Key {
    Tab,
    ShiftTab,
    Enter,
    Space,
    Escape,
    Up,
    Down,
    Left,
    Right,
    /// A letter with the control key held.
    Control(char),
}

/// The screen of a device.
#[derive(Clone, Copy, Debug)]
pub struct Screen {
    pub width: u32,
    pub height: u32,
    pub touch: Touch,
}

/// How the screen is operated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Touch {
    Finger,
    Mouse,
}

/// The colour scheme that the person has chosen on the device.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scheme {
    Light,
    Dark,
}

/// A sheet of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    A4,
    Letter,
}

/// Whether the device has a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Network {
    On,
    Off,
}

/// A browser as on a device that has never opened the page. When dropped, it is kept for the next test.
pub struct Browser {
    session: Session,
}

impl Browser {
    /// A phone held upright.
    pub fn phone() -> Browser {
        Browser::phone_with(Engine::Chromium)
    }

    /// A phone held upright, with a browser of this engine. Except in Chromium it is a window, as near to a phone's width as it goes.
    pub fn phone_with(engine: Engine) -> Browser {
        let screen = Screen {
            width: 360,
            height: 740,
            touch: Touch::Finger,
        };
        Browser::start(engine, screen)
    }

    /// A laptop.
    pub fn desktop() -> Browser {
        Browser::open(Screen {
            width: 1280,
            height: 800,
            touch: Touch::Mouse,
        })
    }

    /// A browser with this screen.
    pub fn open(screen: Screen) -> Browser {
        Browser::start(Engine::Chromium, screen)
    }

    fn start(engine: Engine, screen: Screen) -> Browser {
        let browser = Browser {
            session: Session::take(engine),
        };
        browser.resize(screen);
        browser
    }

    /// What it draws with.
    pub fn engine(&self) -> Engine {
        self.session.engine
    }

    // ---- going places ----

    /// Opens an address and waits until it has loaded.
    #[track_caller]
    pub fn go(&self, address: &str) {
        self.session.visits(address);
        self.wait(self.client().goto(address));
        self.listen();
    }

    /// Loads the page again.
    #[track_caller]
    pub fn reload(&self) {
        self.wait(self.client().refresh());
        self.listen();
    }

    /// Other drivers than Chromium's have no word of the console: what is written there once the page has loaded is noted in the page.
    #[track_caller]
    fn listen(&self) {
        if self.session.engine != Engine::Chromium {
            self.run(LISTEN);
        }
    }

    /// Changes the screen, as turning the phone or dragging the window does.
    #[track_caller]
    pub fn resize(&self, screen: Screen) {
        let Screen {
            width,
            height,
            touch,
        } = screen;
        if self.session.engine != Engine::Chromium {
            self.wait(self.client().set_window_size(width, height));
            // The browser's own bars take some of the height; what comes later, as Firefox's note that it is driven, is not made up for.
            let inner = self.run("return innerHeight;").as_u64();
            let bars = inner.map_or(0, |inner| u64::from(height).saturating_sub(inner));
            let bars = u32::try_from(bars).expect("bars are low");
            self.wait(self.client().set_window_size(width, height + bars));
            return;
        }
        let finger = touch == Touch::Finger;
        let scale = if finger { 2 } else { 1 };
        let metrics = json!({ "width": width, "height": height, "deviceScaleFactor": scale, "mobile": finger });
        self.devtools("Emulation.setDeviceMetricsOverride", metrics);
        self.devtools(
            "Emulation.setTouchEmulationEnabled",
            json!({ "enabled": finger }),
        );
    }

    /// Asks the page for light or dark colours.
    #[track_caller]
    pub fn colours(&self, scheme: Scheme) {
        let value = if scheme == Scheme::Dark {
            "dark"
        } else {
            "light"
        };
        let features = json!([{ "name": "prefers-color-scheme", "value": value }]);
        self.devtools(
            "Emulation.setEmulatedMedia",
            json!({ "features": features }),
        );
    }

    /// Shows the page as it is laid out for paper.
    #[track_caller]
    pub fn on_paper(&self) {
        self.devtools("Emulation.setEmulatedMedia", json!({ "media": "print" }));
    }

    /// Makes the device this many times slower.
    #[track_caller]
    pub fn slow_down(&self, times: u32) {
        self.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": times }));
    }

    /// Takes the page's network away, or gives it back. A service worker is not affected; stop the server for that.
    #[track_caller]
    pub fn network(&self, network: Network) {
        self.devtools("Network.enable", json!({}));
        let conditions = json!({ "offline": network == Network::Off, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.devtools("Network.emulateNetworkConditions", conditions);
    }

    // ---- doing things ----

    /// Clicks or taps the first element that a CSS selector finds, scrolled into view.
    #[track_caller]
    pub fn click(&self, selector: &str) {
        let element = self.find(selector);
        self.tap(selector, &element);
    }

    /// A person waits for what is not shown yet or still moves, and WebKit's driver finds nothing to click where what is scrolled
    /// has not come to rest: all are asked for again. What stays covered is an error in the end.
    #[track_caller]
    fn tap(&self, selector: &str, element: &Element) {
        // A person scrolls what lies under the bar at the foot of a phone out from under it.
        let scroll = "document.querySelector(arguments[0]).scrollIntoView({ block: 'center' });";
        self.wait_for(&format!("{selector} to be clicked"), || {
            self.run_with(scroll, vec![json!(selector)]);
            match self.session.wait(element.click()) {
                Ok(()) => Some(()),
                Err(error) if error.is_element_not_interactable() || is_covered(&error) => None,
                Err(error) => panic!("{error}"),
            }
        });
    }

    /// Clicks the button, link or tab with exactly this text or label.
    #[track_caller]
    pub fn click_on(&self, text: &str) {
        let script = "const text = arguments[0];
            const named = (e) => [e.getAttribute('aria-label'), e.textContent].some((n) => n?.trim() === text);
            const all = document.querySelectorAll('button, a, summary, [role=tab], [role=button], label');
            return [...all].find((e) => named(e) && e.checkVisibility()) ?? null;";
        let found = self.wait_for(&format!("something to click named {text:?}"), || {
            let found = self.run_with(script, vec![json!(text)]);
            (!found.is_null()).then_some(found)
        });
        self.run_with(
            "arguments[0].scrollIntoView({ block: 'center' });",
            vec![found.clone()],
        );
        let element: Element = Element::from_element_id(self.client().clone(), element_id(&found));
        self.wait(element.click());
    }

    /// Replaces the contents of a field by typing, key by key. For a file field, `text` is the file's path.
    #[track_caller]
    pub fn write(&self, selector: &str, text: &str) {
        let element = self.find(selector);
        if self.run(&format!(
            "return document.querySelector({selector:?}).type;"
        )) != "file"
        {
            self.tap(selector, &element);
            // All of it is marked, then taken away and typed: keys one by one, told to the browser at once. For Firefox the control key is down
            // until its keys have all been told.
            self.wait(element.send_keys(&format!("{}a", Code::Control)));
            self.wait(element.send_keys(&format!("{}{text}", Code::Backspace)));
            return;
        }
        self.wait(element.send_keys(text));
    }

    /// Types into whatever has the focus, without clearing it.
    #[track_caller]
    pub fn type_on(&self, text: &str) {
        let element = self.wait(self.client().active_element());
        self.wait(element.send_keys(text));
    }

    /// Presses a key where the focus is.
    #[track_caller]
    pub fn press(&self, key: Key) {
        let shifted = |code: Code, rest: &str| format!("{code}{rest}{}", Code::Null);
        self.type_on(&match key {
            Key::Tab => Code::Tab.to_string(),
            Key::ShiftTab => shifted(Code::Shift, &Code::Tab.to_string()),
            Key::Enter => Code::Enter.to_string(),
            Key::Space => " ".to_owned(),
            Key::Escape => Code::Escape.to_string(),
            Key::Up => Code::Up.to_string(),
            Key::Down => Code::Down.to_string(),
            Key::Left => Code::Left.to_string(),
            Key::Right => Code::Right.to_string(),
            Key::Control(letter) => shifted(Code::Control, &letter.to_string()),
        });
    }

    /// Chooses the option with this text in a select field, or below a field that is typed in.
    #[track_caller]
    pub fn choose(&self, selector: &str, option: &str) {
        let element = self.find(selector);
        if self.run(&format!(
            "return document.querySelector({selector:?}).role;"
        )) != "combobox"
        {
            return self.wait(element.select_by_label(option));
        }
        self.click(selector);
        let nth = format!(
            "return [...document.querySelectorAll('.choices-below [role=option]')].findIndex((one) => one.textContent === {option:?}) + 1;"
        );
        self.wait_until(&nth);
        let nth = self.run(&nth);
        self.click(&format!(".choices-below li:nth-child({nth})"));
    }

    // ---- looking ----

    /// The text of the first element that a CSS selector finds, as it is shown.
    #[track_caller]
    pub fn text(&self, selector: &str) -> String {
        let element = self.find(selector);
        self.near(selector);
        self.wait(element.text())
    }

    /// Goes down to what is below the screen and not laid out yet, as whoever reads it does.
    #[track_caller]
    fn near(&self, selector: &str) {
        self.run_to_end(
            "const element = document.querySelector(arguments[0]);
             if (!element?.checkVisibility() || element.checkVisibility({ contentVisibilityAuto: true })) return;
             element.scrollIntoView({ block: 'center' });
             for (let frame = 0; frame < 2; frame += 1) await new Promise(requestAnimationFrame);",
            vec![json!(selector)],
        );
    }

    /// The contents of a field.
    #[track_caller]
    pub fn value(&self, selector: &str) -> String {
        let element = self.find(selector);
        self.wait(element.prop("value")).unwrap_or_default()
    }

    /// How many elements a CSS selector finds now.
    #[track_caller]
    pub fn count(&self, selector: &str) -> usize {
        self.wait(self.client().find_all(Locator::Css(selector)))
            .len()
    }

    /// Waits until the element that a CSS selector finds holds this text.
    #[track_caller]
    pub fn wait_for_text(&self, selector: &str, text: &str) {
        let script = "return document.querySelector(arguments[0])?.innerText ?? null;";
        let began = Instant::now();
        loop {
            self.near(selector);
            let seen = self.run_with(script, vec![json!(selector)]);
            if seen.as_str().is_some_and(|seen| seen.contains(text)) {
                return;
            }
            assert!(
                began.elapsed() < PATIENCE,
                "{selector} never said {text:?}; it says {seen}"
            );
            std::thread::sleep(PERIOD);
        }
    }

    /// Waits until a script, the inside of a function, returns something true; returns that.
    #[track_caller]
    pub fn wait_until(&self, script: &str) -> Value {
        self.wait_for(script, || {
            let value = self.run(script);
            (value != json!(false) && !value.is_null()).then_some(value)
        })
    }

    /// Runs a script in the page, the inside of a function; returns what it returns.
    #[track_caller]
    pub fn run(&self, script: &str) -> Value {
        self.run_with(script, vec![])
    }

    /// Runs a script with `arguments`. Where it throws, it is run again for a while: what it reads may not be on the page yet.
    #[track_caller]
    pub fn run_with(&self, script: &str, arguments: Vec<Value>) -> Value {
        let began = Instant::now();
        loop {
            let act = self.client().execute(script, arguments.clone());
            match self.session.wait(act) {
                Ok(value) => return value,
                Err(error) if threw(&error) && began.elapsed() < PATIENCE => {
                    std::thread::sleep(PERIOD)
                }
                Err(error) => panic!("{error}"),
            }
        }
    }

    /// Runs a script, the inside of an async function, and waits for its end; what it throws fails the test.
    #[track_caller]
    pub fn run_to_end(&self, script: &str, arguments: Vec<Value>) -> Value {
        let script = format!(
            "const done = arguments[arguments.length - 1];
             (async (...arguments) => {{ {script} }})(...arguments)
                 .then((value) => done({{ value }}), (error) => done({{ error: String(error?.stack ?? error) }}));"
        );
        let end = self.wait(self.client().execute_async(&script, arguments));
        assert!(end["error"].is_null(), "the script threw {}", end["error"]);
        end["value"].clone()
    }

    /// The errors that the page has written to the console since the last call.
    #[track_caller]
    pub fn console_errors(&self) -> Vec<String> {
        if self.session.engine != Engine::Chromium {
            let noted = self.run("return (window.noted ?? []).splice(0);");
            let noted: Vec<String> = serde_json::from_value(noted).expect("a list of texts");
            return [noted, self.session.driver.errors()].concat();
        }
        let entries = self
            .session
            .console()
            .unwrap_or_else(|error| panic!("{error}"));
        let severe = entries
            .as_array()
            .into_iter()
            .flatten()
            .filter(|entry| entry["level"] == "SEVERE");
        severe
            .map(|entry| entry["message"].as_str().unwrap_or_default().to_owned())
            .collect()
    }

    /// The findings of axe-core in the page as it is: one line per element, empty when there are none.
    #[track_caller]
    pub fn accessibility_faults(&self) -> Vec<String> {
        let axe = axe_core();
        self.run(&axe);
        let script = "const { violations } = await axe.run(document, {
                runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] });
            return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html} ${node.failureSummary}`));";
        let faults = self.run_to_end(script, vec![]);
        faults
            .as_array()
            .into_iter()
            .flatten()
            .map(|fault| fault.as_str().unwrap_or_default().to_owned())
            .collect()
    }

    // ---- keeping what was seen ----

    /// Saves a screenshot of the whole page, at its full height, as `screenshots/NAME.png` in the target folder. Except in Chromium it is
    /// what the window shows.
    #[track_caller]
    pub fn screenshot(&self, name: &str) -> PathBuf {
        if self.session.engine != Engine::Chromium {
            return keep(
                &format!("{name}.png"),
                &self.wait(self.client().screenshot()),
            );
        }
        let size = self.run(
            "const page = document.documentElement; return [page.clientWidth, page.scrollHeight];",
        );
        let clip = json!({ "x": 0, "y": 0, "width": size[0], "height": size[1], "scale": 1 });
        let options = json!({ "format": "png", "captureBeyondViewport": true, "clip": clip });
        let picture = self.devtools("Page.captureScreenshot", options);
        keep(
            &format!("{name}.png"),
            &base64(picture["data"].as_str().expect("a picture has data")),
        )
    }

    /// The visible part of an element, scrolled into view, as a PNG in base64. Two of them are equal where every pixel is.
    #[track_caller]
    pub fn picture_of(&self, selector: &str) -> String {
        // A frame is begun, then another: what was changed before is drawn by then. What came near by scrolling is laid out, which may move it.
        let clip = self.run_to_end(
            "const element = document.querySelector(arguments[0]);
             let box = null;
             for (let last = 0; last !== box?.top;) {
                 last = box?.top;
                 element.scrollIntoView({ block: 'center' });
                 for (let frame = 0; frame < 2; frame += 1) await new Promise(requestAnimationFrame);
                 box = element.getBoundingClientRect();
             }
             const within = (element.closest('main') ?? document.documentElement).getBoundingClientRect();
             const [left, top] = ['left', 'top'].map((edge) => Math.ceil(Math.max(box[edge], within[edge])) + 1);
             const [right, bottom] = ['right', 'bottom'].map((edge) => Math.floor(Math.min(box[edge], within[edge])) - 1);
             return { x: left, y: top, width: right - left, height: bottom - top, scale: 1 };",
            vec![json!(selector)],
        );
        let options = json!({ "format": "png", "clip": clip });
        let picture = self.devtools("Page.captureScreenshot", options);
        let data = picture["data"].as_str().expect("a picture has data");
        data.to_owned()
    }

    /// Prints the page to `screenshots/NAME.pdf` of the target folder; returns the number of sheets.
    #[track_caller]
    pub fn print(&self, name: &str, paper: Paper) -> usize {
        let (width, height) = if paper == Paper::A4 {
            (8.27, 11.69)
        } else {
            (8.5, 11.0)
        };
        let options =
            json!({ "paperWidth": width, "paperHeight": height, "preferCSSPageSize": false });
        let printed = self.devtools("Page.printToPDF", options);
        let bytes = base64(printed["data"].as_str().expect("a print has data"));
        keep(&format!("{name}.pdf"), &bytes);
        let text = String::from_utf8_lossy(&bytes);
        text.matches("/Type /Page").count() - text.matches("/Type /Pages").count()
    }

    /// Waits for a download whose name has this ending; returns its bytes. While it comes, an empty file holds its place.
    #[track_caller]
    pub fn download(&self, end: &str) -> Vec<u8> {
        let place = self.wait_for(&format!("a download named ..{end}"), || {
            let entries = fs::read_dir(&self.session.downloads).expect("downloads can be read");
            let mut places = entries.filter_map(|entry| Some(entry.ok()?.path()));
            places.find(|place| {
                let has_come = fs::metadata(place).is_ok_and(|file| file.len() > 0);
                has_come && place.to_string_lossy().ends_with(end)
            })
        });
        let bytes = fs::read(&place).expect("a download can be read");
        fs::remove_file(&place).expect("a download can be taken away");
        bytes
    }

    // ---- below the surface ----

    /// Sends a command of the DevTools protocol.
    #[track_caller]
    pub fn devtools(&self, command: &str, parameters: Value) -> Value {
        self.session
            .devtools(command, parameters)
            .unwrap_or_else(|error| panic!("{error}"))
    }

    /// Repeats a query until it gives something.
    #[track_caller]
    pub fn wait_for<Seen>(&self, what: &str, mut look: impl FnMut() -> Option<Seen>) -> Seen {
        let began = Instant::now();
        loop {
            if let Some(seen) = look() {
                return seen;
            }
            assert!(began.elapsed() < PATIENCE, "waited {PATIENCE:?} for {what}");
            std::thread::sleep(PERIOD);
        }
    }

    #[track_caller]
    fn find(&self, selector: &str) -> Element {
        let found = self.wait(async {
            Ok(self
                .client()
                .wait()
                .at_most(PATIENCE)
                .every(PERIOD)
                .for_element(Locator::Css(selector))
                .await)
        });
        found.unwrap_or_else(|error| panic!("{selector} is not on the page: {error}"))
    }

    #[track_caller]
    fn wait<Good>(&self, act: impl Future<Output = Result<Good, CmdError>>) -> Good {
        self.session
            .wait(act)
            .unwrap_or_else(|error| panic!("{error}"))
    }

    fn client(&self) -> &Client {
        &self.session.client
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        // After a test that failed nobody knows what it is in the middle of.
        if std::thread::panicking() {
            return;
        }
        let errors = self.console_errors();
        assert!(errors.is_empty(), "the console has errors: {errors:#?}");
        self.session.is_sound();
    }
}

/// The source of axe-core, which `cargo verify` downloads.
fn axe_core() -> String {
    let usual = || {
        Path::new(env!("CARGO_TARGET_TMPDIR"))
            .with_file_name("tools/node_modules/axe-core/axe.min.js")
    };
    let place = std::env::var_os("LENGTHWISE_AXE").map_or_else(usual, PathBuf::from);
    fs::read_to_string(&place).unwrap_or_else(|error| {
        panic!(
            "axe-core is missing ({}: {error}): run cargo verify",
            place.display()
        )
    })
}

fn keep(name: &str, bytes: &[u8]) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("screenshots");
    fs::create_dir_all(&folder).expect("a folder can be made");
    let place = folder.join(name);
    fs::write(&place, bytes).expect("a file can be written");
    place
}

fn base64(text: &str) -> Vec<u8> {
    use base64::Engine;
    base64::engine::general_purpose::STANDARD
        .decode(text)
        .expect("Chromium writes base64")
}

fn element_id(found: &Value) -> fantoccini::elements::ElementRef {
    let id = found
        .as_object()
        .and_then(|found| found.values().next())
        .and_then(Value::as_str);
    id.expect("an element has an id").to_owned().into()
}

/// Whether a script threw.
fn threw(error: &CmdError) -> bool {
    matches!(error, CmdError::Standard(told) if told.error == ErrorStatus::JavascriptError)
}

/// Whether something else would have been clicked.
fn is_covered(error: &CmdError) -> bool {
    matches!(error, CmdError::Standard(told) if told.error == ErrorStatus::ElementClickIntercepted)
}
