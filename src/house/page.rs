//! `cargo page`: build the page, then serve it or write it.

use crate::engine::{self, Engine};
use crate::files::gzip;
use crate::serve::Server;
use crate::single_file;
use crate::site::{self, Site};
use crate::workshop::{root, target_folder};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// The port tried first. What was typed is kept by the page's address, so the address should not change.
const USUAL_PORT: u16 = 8017;

/// The name of the page as one file.
pub const ONE_FILE: &str = "lengthwise.html";

/// Does what the words after `cargo page` ask for.
pub fn run(words: &[String]) -> Result<()> {
    match words {
        [] => serve(USUAL_PORT),
        [option, port] if option == "--port" => {
            serve(port.parse().context("a port is a number up to 65535")?)
        }
        [option, folder] if option == "--out" => write(Path::new(folder)),
        _ => bail!("cargo page takes --out DIR or --port N, or nothing"),
    }
}

/// The page, built.
pub struct Built {
    /// The engine in it.
    pub engine: Engine,
    /// The files of the site.
    pub site: Site,
    /// The page as one file.
    pub one_file: String,
}

/// Builds the page from the sources in `from`, its engine into the folder `target`.
pub fn build(from: &Path, target: &Path) -> Result<Built> {
    let engine = engine::build(from, target)?;
    let site = Site::build(&from.join("www"), &engine)?;
    let one_file = single_file::assemble(&site, &engine)?;
    Ok(Built {
        engine,
        site,
        one_file,
    })
}

/// Builds the page into `folder`, a folder of the build below the target folder, whatever is in it.
pub fn write_anew(folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder)?;
    }
    write(folder)
}

/// Builds the page into `folder`: the site's files, and the one-file page beside them.
pub fn write(folder: &Path) -> Result<()> {
    let began = Instant::now();
    // Checked before the work is done.
    site::expect_ours(folder)?;
    let Built {
        engine,
        site,
        one_file,
    } = build(root(), &target_folder()?)?;
    site.write(folder)?;
    fs::write(folder.join(ONE_FILE), &one_file)?;
    println!(
        "the page is in {} ({:.1} s): the engine {} KB, {} KB as gzip; the site {} KB as gzip; {ONE_FILE} {} KB",
        folder.display(),
        began.elapsed().as_secs_f64(),
        kilobytes(engine.module.len()),
        kilobytes(gzip(&engine.module)?.len()),
        kilobytes(site.gzip_size()?),
        kilobytes(one_file.len()),
    );
    Ok(())
}

fn serve(port: u16) -> Result<()> {
    let folder: PathBuf = target_folder()?.join("page");
    write_anew(&folder)?;
    let server = match Server::start(&folder, port) {
        Err(error) if error.kind() == std::io::ErrorKind::AddrInUse => Server::start(&folder, 0),
        other => other,
    }?;
    println!("open {}   (ctrl-C stops the server)", server.address());
    server.serve_for_ever();
    Ok(())
}

fn kilobytes(bytes: usize) -> usize {
    bytes.div_ceil(1024)
}
