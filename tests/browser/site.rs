//! The built site, and a server for it.

use crate::serve::Server;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;

/// The built site: what `LENGTHWISE_SITE` names, or one built now.
pub fn folder() -> &'static Path {
    static FOLDER: LazyLock<PathBuf> = LazyLock::new(|| {
        if let Some(built) = std::env::var_os("LENGTHWISE_SITE") {
            return built.into();
        }
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("site");
        let mut build = Command::new(env!("CARGO"));
        build
            .args(["page", "--out"])
            .arg(&folder)
            .current_dir(env!("CARGO_MANIFEST_DIR"));
        assert!(
            build.status().expect("cargo starts").success(),
            "the page was not built"
        );
        folder
    });
    &FOLDER
}

/// The address of a server that all tests share.
pub fn address() -> String {
    static SERVER: LazyLock<Server> =
        LazyLock::new(|| Server::start(folder(), 0).expect("a port is free"));
    SERVER.address()
}

/// The address of the page as one file.
pub fn one_file() -> String {
    format!("file://{}", folder().join("lengthwise.html").display())
}

/// A copy of the site that a test may change, in a folder of this name.
pub fn copy(name: &str) -> PathBuf {
    let copy = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&copy);
    copy_folder(folder(), &copy);
    copy
}

fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder can be made");
    for entry in fs::read_dir(from).expect("the site can be read") {
        let entry = entry.expect("the site can be read");
        let place = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy_folder(&entry.path(), &place);
        } else {
            fs::copy(entry.path(), place).expect("a file can be copied");
        }
    }
}
