//! The files a command writes: known to be writable before the work is done, and whole or not there at all.
//!
//! A file is written beside its place under a name of its own, brought to the disk, and only then put in its place; all of them are
//! written before the first is. So a full disk, or a machine that stops, leaves what stood there before. What stands there keeps its
//! permissions, and a link goes on leading to it. A device or a pipe is written to as it is.

use super::output::is_stdin;
use super::stop::Stop;
use same_file::Handle;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// Links that lead to links are followed this often, as systems do; more are a circle.
const MOST_LINKS: usize = 40;

/// The files that a command will write.
pub struct Targets(Vec<Target>);

struct Target {
    /// The word on the command line that asks for it.
    option: &'static str,
    /// Its path as it was typed.
    path: PathBuf,
    place: Place,
}

enum Place {
    /// A file in a folder, behind all links.
    File(PathBuf),
    /// A device or a pipe.
    Stream(File),
}

impl Targets {
    /// Finds out that each of `outputs`, an option with its path, can be written, is no file of `inputs`, and no other output.
    pub fn open(
        inputs: &[&Path],
        outputs: &[(&'static str, Option<&Path>)],
    ) -> Result<Targets, Stop> {
        let mut targets = Targets(Vec::new());
        for &(option, path) in outputs {
            let Some(path) = path else { continue };
            let place = Place::of(path).map_err(|error| cannot_write(path, &error))?;
            let target = Target {
                option,
                path: path.to_owned(),
                place,
            };
            target.expect_no_input(inputs)?;
            targets.expect_no_twin(&target)?;
            targets.0.push(target);
        }
        Ok(targets)
    }

    /// Writes what `text` gives for each option, all files or none.
    pub fn write(self, text: impl Fn(&str) -> String) -> Result<(), Stop> {
        let mut written = Vec::new();
        for Target {
            option,
            path,
            place,
        } in self.0
        {
            let beside = place
                .write(&text(option))
                .map_err(|error| cannot_write(&path, &error))?;
            written.extend(beside.map(|file| (path, file)));
        }
        for (path, (file, place)) in written {
            put(file, &place).map_err(|error| cannot_write(&path, &error))?;
        }
        Ok(())
    }

    fn expect_no_twin(&self, target: &Target) -> Result<(), Stop> {
        match self.0.iter().find(|other| target.is_at(other)) {
            Some(other) => Err(Stop::faults(format!(
                "{} and {} would write to one file, {}; name two",
                other.option,
                target.option,
                target.path.display()
            ))),
            None => Ok(()),
        }
    }
}

impl Target {
    fn is_at(&self, other: &Target) -> bool {
        match (&self.place, &other.place) {
            (Place::File(one), Place::File(two)) => one == two || same(Handle::from_path(one), two),
            _ => self.path == other.path,
        }
    }

    /// An input is compared as the file it is, so that no link, hard or soft, and no other way of writing its path hides it.
    fn expect_no_input(&self, inputs: &[&Path]) -> Result<(), Stop> {
        if !matches!(self.place, Place::File(_)) {
            return Ok(());
        }
        for input in inputs {
            let (handle, named) = if is_stdin(input) {
                (Handle::stdin(), "what is read from standard input".into())
            } else if input.is_file() {
                (Handle::from_path(input), input.display().to_string())
            } else {
                // A pipe must not be opened twice: its writer would find nobody there in between.
                continue;
            };
            if same(handle, &self.path) {
                return Err(Stop::faults(format!(
                    "{} would write over {named}, which is read; name another file",
                    self.option
                )));
            }
        }
        if same(Handle::stdout(), &self.path) {
            return Err(Stop::faults(format!(
                "{} would write to the file that the text is printed to; name another",
                self.option
            )));
        }
        Ok(())
    }
}

fn same(one: io::Result<Handle>, other: &Path) -> bool {
    // Where one of them is not there yet, they are not the same.
    matches!((one, Handle::from_path(other)), (Ok(one), Ok(other)) if one == other)
}

impl Place {
    /// The place of a path, which can be written to.
    fn of(path: &Path) -> io::Result<Place> {
        let file = match fs::metadata(path) {
            Ok(about) if about.is_dir() => return Err(io::ErrorKind::IsADirectory.into()),
            Ok(about) if about.is_file() => {
                // Whoever may not write to it may not replace it either.
                OpenOptions::new().write(true).open(path)?;
                fs::canonicalize(path)?
            }
            Ok(_) => return Ok(Place::Stream(OpenOptions::new().write(true).open(path)?)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => behind_links(path)?,
            Err(error) => return Err(error),
        };
        // A file beside it is made and taken away again, so that the folder is known to take one.
        beside(&file)?;
        Ok(Place::File(file))
    }

    /// Writes the text: into the device, or into a file beside the place, which is returned with it.
    fn write(self, text: &str) -> io::Result<Option<(NamedTempFile, PathBuf)>> {
        match self {
            Place::Stream(mut stream) => {
                stream.write_all(text.as_bytes())?;
                stream.flush()?;
                Ok(None)
            }
            Place::File(place) => {
                let mut file = beside(&place)?;
                file.write_all(text.as_bytes())?;
                keep_permissions(&file, &place)?;
                file.as_file().sync_all()?;
                Ok(Some((file, place)))
            }
        }
    }
}

/// Where a file would come to be whose path leads to nothing: in a folder that is there, behind links that lead to nothing yet.
fn behind_links(path: &Path) -> io::Result<PathBuf> {
    let mut path = path.to_owned();
    for _ in 0..MOST_LINKS {
        let folder = match path.parent() {
            Some(folder) if folder != Path::new("") => fs::canonicalize(folder)?,
            _ => fs::canonicalize(".")?,
        };
        let name = path.file_name().ok_or(io::ErrorKind::InvalidInput)?;
        let file = folder.join(name);
        match fs::read_link(&file) {
            Ok(to) => path = folder.join(to),
            Err(_) => return Ok(file),
        }
    }
    Err(io::ErrorKind::NotFound.into())
}

/// A file in the folder of `place`, which goes away with its value.
fn beside(place: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".lengthwise-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // What a new file usually has; the system takes off what the person's own mask says.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(place.parent().unwrap_or(Path::new(".")))
}

/// Gives a file the permissions, and where that is allowed the owner, of the one it is to replace.
fn keep_permissions(file: &NamedTempFile, place: &Path) -> io::Result<()> {
    let Ok(about) = fs::metadata(place) else {
        return Ok(());
    };
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        // Only the system's own user may give a file away; for anyone else it is theirs.
        let _ = std::os::unix::fs::fchown(file.as_file(), Some(about.uid()), Some(about.gid()));
    }
    file.as_file().set_permissions(about.permissions())
}

/// Puts a written file in its place.
fn put(file: NamedTempFile, place: &Path) -> io::Result<()> {
    file.persist(place)?;
    #[cfg(unix)]
    if let Some(folder) = place.parent() {
        // Some file systems cannot bring a folder to the disk; the file itself is there.
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
    Ok(())
}

fn cannot_write(path: &Path, error: &io::Error) -> Stop {
    Stop::failure(format!("cannot write {}: {error}", path.display()))
}
