//! A chromedriver of our own for each browser: on a free port, and ended at the latest with the tests.

use std::io::{BufRead, BufReader};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

/// How often a start is attempted.
const ATTEMPTS: u32 = 5;

/// A running chromedriver. It ends when it is dropped, and with the tests, since statics are never dropped.
pub struct Driver {
    process: Child,
    port: u16,
    /// A process that ends the driver and its browser when its input is closed, however the tests end.
    watch: Child,
}

impl Driver {
    /// Starts chromedriver on a port that it chooses itself.
    ///
    /// It finds a free port and takes it a moment later. Another program may have taken it meanwhile; chromedriver then ends without a
    /// message.
    pub fn start() -> Driver {
        let program = program(&["chromedriver"], "LENGTHWISE_CHROMEDRIVER");
        let started = (0..ATTEMPTS).find_map(|_| Driver::attempt(&program));
        started.expect("chromedriver finds a port")
    }

    fn attempt(program: &Path) -> Option<Driver> {
        let mut process = Command::new(program)
            .arg("--port=0")
            .process_group(0)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|error| panic!("{} did not start: {error}", program.display()));
        let output = process.stdout.take().expect("its output is piped");
        let watch = watch(process.id());
        let mut driver = Driver {
            process,
            port: 0,
            watch,
        };
        let mut lines = BufReader::new(output).lines();
        driver.port = lines.by_ref().map_while(Result::ok).find_map(|line| {
            let (_, port) = line
                .strip_suffix('.')?
                .rsplit_once("successfully on port ")?;
            port.parse().ok()
        })?;
        // Nobody listens to the rest, but it must have somewhere to go.
        std::thread::spawn(move || lines.for_each(drop));
        Some(driver)
    }

    /// The address of chromedriver.
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
        // Its group is ended too, if anything of it is left.
        drop(self.watch.stdin.take());
        let _ = self.watch.wait();
    }
}

/// Waits for the end of its input, then ends the process group of a driver. It has a process group of its own, so that it outlives whatever
/// ends the tests.
fn watch(driver: u32) -> Child {
    let wait = format!("read -r gone; kill -KILL -{driver} 2>/dev/null");
    Command::new("sh")
        .args(["-c", &wait])
        .process_group(0)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("a shell starts")
}

/// Chromium's program.
pub fn chromium() -> PathBuf {
    program(
        &[
            "chromium",
            "chromium-browser",
            "google-chrome",
            "google-chrome-stable",
        ],
        "LENGTHWISE_CHROMIUM",
    )
}

/// The first of these names on the search path, or the program that the environment variable names.
fn program(names: &[&str], variable: &str) -> PathBuf {
    if let Some(named) = std::env::var_os(variable) {
        return named.into();
    }
    let folders: Vec<PathBuf> =
        std::env::split_paths(&std::env::var_os("PATH").unwrap_or_default()).collect();
    let places = names
        .iter()
        .flat_map(|name| folders.iter().map(move |folder| folder.join(name)));
    places
        .clone()
        .find(|place| place.is_file())
        .unwrap_or_else(|| {
            panic!(
                "no {} here: install Chromium and its chromedriver, or name it in {variable}",
                names.join(", ")
            )
        })
}
