//! A chromedriver of our own for each browser: a free port, and an end when the test ends.

use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

/// A running chromedriver. It stops when dropped.
pub struct Driver {
    process: Child,
    port: u16,
}

impl Driver {
    /// Starts chromedriver on a port that it chooses itself.
    pub fn start() -> Driver {
        let program = program(&["chromedriver"], "LENGTHWISE_CHROMEDRIVER");
        let mut process = Command::new(&program)
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|error| panic!("{} did not start: {error}", program.display()));
        let mut lines = BufReader::new(process.stdout.take().expect("its output is piped")).lines();
        let port = lines
            .by_ref()
            .map_while(Result::ok)
            .find_map(|line| {
                line.strip_suffix('.')?
                    .rsplit_once("successfully on port ")?
                    .1
                    .parse()
                    .ok()
            })
            .expect("chromedriver says its port");
        // Nobody listens to the rest, but it must have somewhere to go.
        std::thread::spawn(move || lines.for_each(drop));
        Driver { process, port }
    }

    /// Where it listens.
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
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

/// The first of these names on the search path, or what the variable names.
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
