//! A driver of our own for each browser: on a free port, and ended at the latest with the tests.

use std::io::{BufRead, BufReader, Lines, PipeReader, pipe};
use std::net::{TcpListener, TcpStream};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// How often a start is attempted.
const ATTEMPTS: u32 = 5;

/// What draws the page and runs its scripts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Engine {
    Chromium,
    WebKit,
    Firefox,
}

/// A running driver. It ends when it is dropped, and with the tests, since statics are never dropped.
pub struct Driver {
    process: Child,
    port: u16,
    /// The screen in memory of an engine that does not run without one.
    screen: Option<Child>,
    /// A process that ends the driver, its browser and the screen when its input is closed, however the tests end.
    watch: Child,
    /// The uncaught errors of pages, which Firefox writes to its output.
    errors: Arc<Mutex<Vec<String>>>,
}

impl Driver {
    /// Starts a driver on a free port.
    ///
    /// The port is found and taken a moment later. Another program may have taken it meanwhile; the driver then ends without a message.
    pub fn start(engine: Engine) -> Driver {
        let program = match engine {
            Engine::Chromium => program(&["chromedriver"], "LENGTHWISE_CHROMEDRIVER"),
            Engine::WebKit => program(&["WebKitWebDriver"], "LENGTHWISE_WEBKITDRIVER"),
            Engine::Firefox => program(&["geckodriver"], "LENGTHWISE_GECKODRIVER"),
        };
        let started = (0..ATTEMPTS).find_map(|_| Driver::attempt(engine, &program));
        started.unwrap_or_else(|| panic!("{} finds no port", program.display()))
    }

    fn attempt(engine: Engine, program: &Path) -> Option<Driver> {
        // WebKit's driver does not say which port it took.
        let port = match engine {
            Engine::WebKit => TcpListener::bind(("127.0.0.1", 0)).and_then(|one| one.local_addr()),
            _ => Ok(([127, 0, 0, 1], 0).into()),
        };
        let port = port.expect("a port is free").port();
        let screen = (engine == Engine::WebKit).then(screen);
        let mut command = Command::new(program);
        if let Some((_, name)) = &screen {
            command.env("DISPLAY", name);
        }
        let group = screen.as_ref().map_or(0, |(screen, _)| screen.id());
        let (output, input) = pipe().expect("a pipe can be made");
        let process = command
            .arg(format!("--port={port}"))
            .process_group(group.try_into().expect("a process has a small number"))
            .stdout(input.try_clone().expect("a pipe has many ends"))
            .stderr(input)
            .spawn()
            .unwrap_or_else(|error| panic!("{} did not start: {error}", program.display()));
        // Its ends of the pipe are then only the driver's.
        drop(command);
        let watch = watch(if group == 0 { process.id() } else { group });
        let mut driver = Driver {
            process,
            port,
            screen: screen.map(|(screen, _)| screen),
            watch,
            errors: Arc::default(),
        };
        let mut lines = BufReader::new(output).lines();
        if engine == Engine::WebKit {
            driver.answers()?;
        } else {
            driver.port = lines.by_ref().map_while(Result::ok).find_map(port_told)?;
        }
        driver.hear(lines);
        Some(driver)
    }

    /// Waits until something listens at the port, while the driver runs.
    fn answers(&mut self) -> Option<()> {
        while TcpStream::connect(("127.0.0.1", self.port)).is_err() {
            std::thread::sleep(Duration::from_millis(20));
            if !matches!(self.process.try_wait(), Ok(None)) {
                return None;
            }
        }
        Some(())
    }

    /// Keeps the errors of pages from the rest of the output, which must have somewhere to go.
    fn hear(&self, lines: Lines<BufReader<PipeReader>>) {
        let errors = Arc::clone(&self.errors);
        std::thread::spawn(move || {
            for line in lines.map_while(Result::ok) {
                // Those of the browser's own scripts have other addresses.
                let of_page = ["http:", "file:"].iter().any(|scheme| {
                    line.strip_prefix("JavaScript error: ")
                        .is_some_and(|place| place.starts_with(scheme))
                });
                if let Ok(mut errors) = errors.lock()
                    && of_page
                {
                    errors.push(line);
                }
            }
        });
    }

    /// The uncaught errors of pages since the last call, where the engine writes them to its output.
    pub fn errors(&self) -> Vec<String> {
        self.errors
            .lock()
            .map(|mut errors| std::mem::take(&mut *errors))
            .unwrap_or_default()
    }

    /// The address of the driver.
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
        let _ = self.screen.as_mut().map(Child::wait);
    }
}

/// The port in a driver's line: chromedriver's "... successfully on port 4444." or geckodriver's "Listening on 127.0.0.1:4444".
fn port_told(line: String) -> Option<u16> {
    let line = line.trim_end_matches('.');
    let (_, port) = line
        .rsplit_once("successfully on port ")
        .or_else(|| line.rsplit_once("Listening on 127.0.0.1:"))?;
    port.parse().ok()
}

/// A screen in memory, and its name.
fn screen() -> (Child, String) {
    let mut process = Command::new(program(&["Xvfb"], "LENGTHWISE_XVFB"))
        .args([
            "-displayfd",
            "1",
            "-nolisten",
            "tcp",
            "-screen",
            "0",
            "1280x1024x24",
        ])
        .process_group(0)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap_or_else(|error| panic!("Xvfb did not start: {error}"));
    let mut number = String::new();
    let output = process.stdout.take().expect("its output is piped");
    let read = BufReader::new(output).read_line(&mut number);
    read.expect("Xvfb says the number of its screen");
    (process, format!(":{}", number.trim()))
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

/// Firefox's program.
pub fn firefox() -> PathBuf {
    program(&["firefox-esr", "firefox"], "LENGTHWISE_FIREFOX")
}

/// The first of these names on the search path or among the tools that `cargo verify` built, or the program that the environment variable
/// names.
fn program(names: &[&str], variable: &str) -> PathBuf {
    if let Some(named) = std::env::var_os(variable) {
        return named.into();
    }
    let mut folders: Vec<PathBuf> =
        std::env::split_paths(&std::env::var_os("PATH").unwrap_or_default()).collect();
    folders.push(Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("tools/bin"));
    let places = names
        .iter()
        .flat_map(|name| folders.iter().map(move |folder| folder.join(name)));
    places
        .clone()
        .find(|place| place.is_file())
        .unwrap_or_else(|| {
            panic!(
                "no {} here: run `cargo verify engines`, which installs it, or name it in {variable}",
                names.join(", ")
            )
        })
}
