//! The arguments of `lengthwise bench`.

use super::{Instance, JobSize, practical_jobs, read_folder};
use crate::solve::ScrapAim;
use std::collections::BTreeMap;
use std::path::PathBuf;

/// What is to be measured.
#[derive(Clone, Debug)]
pub struct Arguments {
    /// Folder with instance files or job files; `None` where only made-up jobs are measured.
    pub folder: Option<PathBuf>,
    /// Only instances whose `class/name` contains this.
    pub only: Option<String>,
    /// One of this many instances of a class is measured; 1 measures all.
    pub every: usize,
    /// Time limit of one instance, in seconds.
    pub seconds: f64,
    /// How many instances are solved at the same time.
    pub threads: usize,
    /// Made-up jobs: their seed, and how many of each size.
    pub jobs: Option<(u64, usize)>,
    /// The sizes of made-up jobs.
    pub sizes: Vec<JobSize>,
    /// Whether scrap is minimised after cost in made-up jobs. Where they are planned and checked it always is, and this gives it all the time.
    pub scrap: ScrapAim,
    /// Whether made-up jobs and instances of one length are planned and checked, to measure how many proofs the checker confirms.
    pub check: bool,
    /// The longest length that is carried whole, as typed, for jobs that are checked.
    pub carry: Option<String>,
}

impl Default for Arguments {
    fn default() -> Self {
        Arguments {
            folder: None,
            only: None,
            every: 1,
            seconds: 10.0,
            threads: 1,
            jobs: None,
            sizes: vec![JobSize::Small, JobSize::Medium, JobSize::Large],
            scrap: ScrapAim::Ignored,
            check: false,
            carry: None,
        }
    }
}

impl Arguments {
    /// Reads `[DIR] [--seconds S] [--threads N] [--only TEXT] [--every N] [--jobs COUNT] [--seed N] [--size small|medium|large] [--scrap]
    /// [--check] [--carry LENGTH]`.
    ///
    /// # Errors
    /// A sentence on what is wrong.
    pub fn parse(words: &[String]) -> Result<Arguments, String> {
        let mut arguments = Arguments::default();
        let mut seed = 1;
        let mut count = None;
        let mut words = words.iter();
        while let Some(word) = words.next() {
            let mut value = || {
                words
                    .next()
                    .ok_or_else(|| format!("{word} needs a value after it"))
            };
            let number = |text: &String| {
                text.parse::<u64>()
                    .map_err(|_| format!("`{text}` is not a whole number; {word} needs one"))
            };
            match word.as_str() {
                "--seconds" => {
                    let text = value()?;
                    arguments.seconds = text
                        .parse()
                        .ok()
                        .filter(|seconds| *seconds > 0.0)
                        .ok_or_else(|| format!("`{text}` is not a number of seconds"))?;
                }
                "--threads" => arguments.threads = number(value()?)?.clamp(1, 256) as usize,
                "--only" => arguments.only = Some(value()?.clone()),
                "--every" => arguments.every = number(value()?)?.max(1) as usize,
                "--jobs" => count = Some(number(value()?)? as usize),
                "--seed" => seed = number(value()?)?,
                "--check" => arguments.check = true,
                "--carry" => arguments.carry = Some(value()?.clone()),
                "--scrap" => arguments.scrap = ScrapAim::Least,
                "--size" => {
                    let text = value()?;
                    let size = JobSize::named(text).ok_or_else(|| {
                        let names = JobSize::ALL.map(JobSize::name);
                        format!("`{text}` is not a size; sizes are {}", names.join(", "))
                    })?;
                    arguments.sizes = vec![size];
                }
                option if option.starts_with("--") => {
                    return Err(format!("{option} is not an option of bench"));
                }
                folder => arguments.folder = Some(PathBuf::from(folder)),
            }
        }
        arguments.jobs = count.map(|count| (seed, count));
        if arguments.folder.is_none() && arguments.jobs.is_none() {
            return Err(
                "bench needs a folder of instances or jobs, or --jobs with a number".to_owned(),
            );
        }
        Ok(arguments)
    }

    /// The instances that these arguments choose.
    ///
    /// # Errors
    /// A file that cannot be read, or that no instance is chosen.
    pub fn instances(&self) -> Result<Vec<Instance>, String> {
        let mut instances = match &self.folder {
            Some(folder) => read_folder(folder)?,
            None => Vec::new(),
        };
        if let Some((seed, count)) = self.jobs {
            for &size in &self.sizes {
                instances.extend(practical_jobs(size, seed, count));
            }
        }
        if let Some(only) = &self.only {
            instances.retain(|instance| {
                format!("{}/{}", instance.class, instance.name).contains(only.as_str())
            });
        }
        let mut seen: BTreeMap<String, usize> = BTreeMap::new();
        instances.retain(|instance| {
            let count = seen.entry(instance.class.clone()).or_default();
            *count += 1;
            (*count - 1).is_multiple_of(self.every)
        });
        if instances.is_empty() {
            return Err(match &self.only {
                Some(only) => format!(
                    "there is no problem with \"{only}\" in its class/name; leave out --only to see what there is"
                ),
                None => "there is nothing to solve; --jobs takes a number from 1".to_owned(),
            });
        }
        Ok(instances)
    }
}
