//! A small file server for this machine alone.
//!
//! It reads each file when it is requested and forbids the browser to cache it, so that a rebuilt page shows at the next load. It listens
//! on the loopback address only.

use std::io::{BufRead, BufReader, Result, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::JoinHandle;
use std::time::Duration;

/// How long a browser may take to send its request.
const PATIENCE: Duration = Duration::from_secs(10);

/// A running server. It stops when dropped.
pub struct Server {
    address: SocketAddr,
    stopping: Arc<AtomicBool>,
    listening: Option<JoinHandle<()>>,
}

impl Server {
    /// Serves `folder` on `port`; port 0 takes any free one.
    ///
    /// # Errors
    /// The port is taken.
    pub fn start(folder: &Path, port: u16) -> Result<Server> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))?;
        let address = listener.local_addr()?;
        let stopping = Arc::new(AtomicBool::new(false));
        let (folder, stop) = (folder.to_path_buf(), Arc::clone(&stopping));
        let listening = std::thread::spawn(move || {
            for stream in listener.incoming() {
                if stop.load(Ordering::SeqCst) {
                    break;
                }
                let folder = folder.clone();
                // A connection that the browser closes early is no error of the server.
                std::thread::spawn(move || stream.and_then(|stream| answer(stream, &folder)));
            }
        });
        Ok(Server {
            address,
            stopping,
            listening: Some(listening),
        })
    }

    /// Where the page is, as a browser writes it.
    pub fn address(&self) -> String {
        format!("http://localhost:{}/", self.address.port())
    }

    /// Serves until this program is stopped.
    pub fn serve_for_ever(mut self) {
        if let Some(listening) = self.listening.take() {
            // The listening thread ends only when the server is dropped, so all it could report is a panic.
            let _ = listening.join();
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.stopping.store(true, Ordering::SeqCst);
        // A last connection wakes the listening thread, which then releases the port.
        let _ = TcpStream::connect(self.address);
        if let Some(listening) = self.listening.take() {
            let _ = listening.join();
        }
    }
}

fn answer(mut stream: TcpStream, folder: &Path) -> Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    let mut lines = BufReader::new(stream.try_clone()?).lines();
    let request = lines.next().transpose()?.unwrap_or_default();
    // All headers are read: a browser takes the answer for broken where its request is left unread.
    for line in lines {
        if line?.is_empty() {
            break;
        }
    }
    let (status, kind, body) = match reply(&request, folder) {
        Ok((kind, body)) => ("200 OK", kind, body),
        Err(status) => (
            status,
            "text/plain; charset=utf-8",
            status.as_bytes().to_vec(),
        ),
    };
    write!(
        stream,
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nCache-Control: no-cache\r\n\
         Content-Security-Policy: {}\r\nX-Content-Type-Options: nosniff\r\nConnection: close\r\n\r\n",
        body.len(),
        policy(kind, &body)
    )?;
    if !request.starts_with("HEAD ") {
        stream.write_all(&body)?;
    }
    stream.flush()
}

/// The content security policy of a file. A page has its own, which is repeated here with what only a header may forbid: that another page
/// shows it in a frame. A script that is a service worker may load the files of the site.
fn policy(kind: &str, body: &[u8]) -> String {
    const BEFORE: &[u8] = b"<meta http-equiv=\"Content-Security-Policy\" content=\"";
    let own = || {
        let at = body.windows(BEFORE.len()).position(|here| here == BEFORE)?;
        let rest = &body[at + BEFORE.len()..];
        let end = rest.iter().position(|&letter| letter == b'"')?;
        std::str::from_utf8(&rest[..end]).ok()
    };
    let policy = match kind.split(';').next() {
        Some("text/html") => own().unwrap_or("default-src 'none'"),
        Some("text/javascript") => "default-src 'none'; connect-src 'self'",
        _ => "default-src 'none'",
    };
    format!("{policy}; frame-ancestors 'none'")
}

/// The kind and the bytes of the file in a request line, or the status of the error.
fn reply(
    request: &str,
    folder: &Path,
) -> std::result::Result<(&'static str, Vec<u8>), &'static str> {
    let mut words = request.split(' ');
    if !matches!(words.next(), Some("GET" | "HEAD")) {
        return Err("405 Method Not Allowed");
    }
    let asked = words.next().unwrap_or_default();
    let path = asked
        .split(['?', '#'])
        .next()
        .unwrap_or_default()
        .trim_start_matches('/');
    let name = Path::new(if path.is_empty() { "index.html" } else { path });
    if !name
        .components()
        .all(|part| matches!(part, Component::Normal(_)))
    {
        return Err("404 Not Found");
    }
    let file: PathBuf = folder.join(name);
    let body = std::fs::read(file).map_err(|_| "404 Not Found")?;
    Ok((kind_of(name), body))
}

/// The kind of a file, by the end of its name.
fn kind_of(name: &Path) -> &'static str {
    match name
        .extension()
        .and_then(|end| end.to_str())
        .unwrap_or_default()
    {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "wasm" => "application/wasm",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "csv" => "text/csv; charset=utf-8",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}
