//! The files a command writes: shown to be writable before the work starts, and written whole or not at all.
//!
//! Each file is written under a temporary name in the folder of its target, flushed to the disk, and only then renamed to the target. All
//! files are written before the first is renamed, so a full disk or a crash leaves the old files as they were. A replaced file keeps its
//! permissions; a symbolic link keeps pointing to it. Devices and pipes are written to directly.

use super::output::is_stdin;
use super::stop::Stop;
use same_file::Handle;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// Most symbolic links followed one after the other, as many as operating systems follow; a longer chain is taken for a loop.
const MOST_LINKS: usize = 40;

/// The files that a command will write.
pub struct Targets(Vec<Target>);

struct Target {
    /// The option that names it on the command line.
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
    /// Makes sure that each of `outputs`, an option with its path, can be written, is none of the `inputs`, and is no other output.
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

    /// Writes the text that `text` returns for each option: all files or none.
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

    /// An input is compared by the identity of its file, so that neither a link, hard or symbolic, nor another spelling of its path hides
    /// it.
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
                // A pipe must not be opened twice: once closed, its writer would find no reader.
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
    // Two files of which one does not exist yet are different.
    matches!((one, Handle::from_path(other)), (Ok(one), Ok(other)) if one == other)
}

impl Place {
    /// Where a path leads, once it is known to be writable.
    fn of(path: &Path) -> io::Result<Place> {
        let file = match fs::metadata(path) {
            Ok(about) if about.is_dir() => return Err(io::ErrorKind::IsADirectory.into()),
            Ok(about) if about.is_file() => {
                // A file that may not be written to may not be replaced either.
                OpenOptions::new().write(true).open(path)?;
                fs::canonicalize(path)?
            }
            Ok(_) => return Ok(Place::Stream(OpenOptions::new().write(true).open(path)?)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => behind_links(path)?,
            Err(error) => return Err(error),
        };
        // A temporary file is made and removed again, to show that the folder takes a new file.
        beside(&file)?;
        Ok(Place::File(file))
    }

    /// Writes the text into the device, or into a temporary file beside the target, which is returned with the target's path.
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

/// Where a file would be created for a path that leads to none yet: in an existing folder, with all symbolic links followed.
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

/// A temporary file in the folder of `place`; it is removed when its value is dropped.
fn beside(place: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".lengthwise-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The usual permissions of a new file; the system subtracts the person's umask.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(place.parent().unwrap_or(Path::new(".")))
}

/// Gives a file the permissions of the one it will replace, and its owner where that is allowed.
fn keep_permissions(file: &NamedTempFile, place: &Path) -> io::Result<()> {
    let Ok(about) = fs::metadata(place) else {
        return Ok(());
    };
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        // Only the system's administrator may change the owner; otherwise the file stays with whoever runs the command.
        let _ = std::os::unix::fs::fchown(file.as_file(), Some(about.uid()), Some(about.gid()));
    }
    file.as_file().set_permissions(about.permissions())
}

/// Renames a written file to its target.
fn put(file: NamedTempFile, place: &Path) -> io::Result<()> {
    file.persist(place)?;
    #[cfg(unix)]
    if let Some(folder) = place.parent() {
        // Some file systems cannot flush a folder to the disk; the file itself is flushed.
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
    Ok(())
}

fn cannot_write(path: &Path, error: &io::Error) -> Stop {
    Stop::failure(format!("cannot write {}: {error}", path.display()))
}
