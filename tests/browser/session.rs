//! A browser with its driver, used by one test after the other.
//!
//! A start takes longer than most tests. So a Chromium that a test leaves in good order is given to the next one, which finds it as new. It
//! has a tab of its own in which nothing is emulated and no script waits, without storage, cache or downloads of earlier tests. A browser
//! in which a test failed is ended, and so is any of another engine.

use crate::driver::{Driver, Engine, chromium, firefox};
use fantoccini::error::CmdError;
use fantoccini::wd::{Capabilities, TimeoutConfiguration, WebDriverCompatibleCommand};
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fs;
use std::future::Future;
use std::ops::Deref;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;
use tokio::runtime::Runtime;

/// Limit of one command of the driver. It is far more than it needs, since the machine may be busy.
const PATIENCE: Duration = Duration::from_secs(120);

/// The reply of a browser, or the reason why there is none.
type Answer<Good> = Result<Good, Box<CmdError>>;

/// Browsers that no test uses at the moment.
static IDLE: Mutex<Vec<Running>> = Mutex::new(Vec::new());

/// A browser in use by a test. When dropped it is ended, unless it [`Session::is_sound`].
pub struct Session(Option<Running>);

/// A running browser.
pub struct Running {
    runtime: Runtime,
    pub engine: Engine,
    pub client: Client,
    pub downloads: PathBuf,
    /// Addresses that its tests have opened, which may have stored something here.
    visited: RefCell<BTreeSet<String>>,
    pub driver: Driver,
}

impl Session {
    /// A browser that is as new.
    pub fn take(engine: Engine) -> Session {
        let idle = (engine == Engine::Chromium)
            .then(|| IDLE.lock().ok()?.pop())
            .flatten();
        let renewed = idle.filter(|idle| idle.renew().is_ok());
        Session(Some(renewed.unwrap_or_else(|| Running::start(engine))))
    }

    /// Keeps it for the next test, where it can be renewed.
    pub fn is_sound(&mut self) {
        let running = self.0.take_if(|running| running.engine == Engine::Chromium);
        if let (Some(running), Ok(mut idle)) = (running, IDLE.lock()) {
            idle.push(running);
        }
    }
}

impl Deref for Session {
    type Target = Running;
    fn deref(&self) -> &Running {
        self.0.as_ref().expect("it is given away when a test ends")
    }
}

impl Running {
    fn start(engine: Engine) -> Running {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let number = COUNT.fetch_add(1, Ordering::SeqCst);
        let downloads = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join(format!("downloads-{}-{number}", std::process::id()));
        empty(&downloads);
        let driver = Driver::start(engine);
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .expect("a runtime starts");
        let client = runtime.block_on(async {
            ClientBuilder::new(HttpConnector::new())
                .capabilities(capabilities(engine, &downloads))
                .connect(&driver.address())
                .await
        });
        let client = client.unwrap_or_else(|error| panic!("{engine:?} did not start: {error}"));
        let running = Running {
            runtime,
            engine,
            client,
            downloads,
            visited: RefCell::default(),
            driver,
        };
        let patience =
            TimeoutConfiguration::new(Some(PATIENCE), Some(PATIENCE), Some(Duration::ZERO));
        running
            .wait(running.client.update_timeouts(patience))
            .unwrap_or_else(|error| panic!("{error}"));
        running
    }

    /// Resets it as far as the next test could notice.
    fn renew(&self) -> Answer<()> {
        let old = self.wait(self.client.windows())?;
        let new = self.wait(self.client.new_window(true))?.handle;
        for tab in old {
            self.wait(self.client.switch_to_window(tab))?;
            self.wait(self.client.close_window())?;
        }
        self.wait(self.client.switch_to_window(new))?;
        for origin in self.visited.take() {
            let all = json!({ "origin": origin, "storageTypes": "all" });
            self.devtools("Storage.clearDataForOrigin", all)?;
        }
        self.devtools("Network.clearBrowserCache", json!({}))?;
        self.devtools("Network.clearBrowserCookies", json!({}))?;
        empty(&self.downloads);
        // What the tab before said while it was closed is nobody's.
        self.console().map(|_| ())
    }

    /// Remembers an address that a test goes to.
    pub fn visits(&self, address: &str) {
        if let Ok(address) = url::Url::parse(address) {
            let origin = match address.scheme() {
                "file" => "file://".to_owned(),
                _ => address.origin().ascii_serialization(),
            };
            self.visited.borrow_mut().insert(origin);
        }
    }

    /// Sends a command of the DevTools protocol, which Chromium alone has.
    #[track_caller]
    pub fn devtools(&self, command: &str, parameters: Value) -> Answer<Value> {
        let engine = self.engine;
        assert!(
            engine == Engine::Chromium,
            "{engine:?} has no {command}: what needs it is tested in Chromium"
        );
        let body = json!({ "cmd": command, "params": parameters });
        self.wait(self.client.issue_cmd(Vendor {
            path: "goog/cdp/execute",
            body,
        }))
    }

    /// What was written to the console since the last call.
    pub fn console(&self) -> Answer<Value> {
        self.wait(self.client.issue_cmd(Vendor {
            path: "se/log",
            body: json!({ "type": "browser" }),
        }))
    }

    /// Waits for a reply.
    pub fn wait<Good>(&self, act: impl Future<Output = Result<Good, CmdError>>) -> Answer<Good> {
        self.runtime.block_on(act).map_err(Box::new)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let client = self.client.clone();
        // A browser that no longer answers is ended with its driver.
        let _ = self
            .runtime
            .block_on(async { tokio::time::timeout(PATIENCE / 4, client.close()).await });
        let _ = fs::remove_dir_all(&self.downloads);
    }
}

/// Makes a folder that has nothing in it.
fn empty(folder: &Path) {
    let _ = fs::remove_dir_all(folder);
    fs::create_dir_all(folder).expect("a folder for downloads can be made");
}

/// A command beyond the WebDriver standard.
#[derive(Debug)]
struct Vendor {
    path: &'static str,
    body: Value,
}

impl WebDriverCompatibleCommand for Vendor {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!(
            "session/{}/{}",
            session.unwrap_or_default(),
            self.path
        ))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(self.body.to_string()))
    }
}

fn capabilities(engine: Engine, downloads: &Path) -> Capabilities {
    let all = match engine {
        Engine::Chromium => of_chromium(downloads),
        Engine::WebKit => json!({}),
        Engine::Firefox => {
            json!({ "moz:firefoxOptions": { "binary": firefox(), "args": ["-headless"] } })
        }
    };
    all.as_object().expect("it is written as an object").clone()
}

fn of_chromium(downloads: &Path) -> Value {
    let mut switches = vec![
        "--headless",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
    ];
    // Chromium refuses to run in its sandbox for root, as whom a build machine usually works.
    if Command::new("id")
        .arg("-u")
        .output()
        .is_ok_and(|answer| answer.stdout == b"0\n")
    {
        switches.push("--no-sandbox");
    }
    let options = json!({
        "binary": chromium(),
        "args": switches,
        "prefs": { "download.default_directory": downloads, "download.prompt_for_download": false },
    });
    json!({ "goog:chromeOptions": options, "goog:loggingPrefs": { "browser": "ALL" } })
}
