//! The commands of the command line, and what each of them does.

mod asked;
mod codes;
pub mod our_error;
pub mod output;
mod plan;
mod stop;
mod stream;
mod targets;

pub use asked::{Allowed, PlanAsked};
pub use codes::FAULTS;

use codes::{FAILURE, PROVEN};
use lengthwise::bench::Arguments;
use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

const HELP: &str = "\
Lengthwise plans timber: the fewest lengths to buy, every cut as a tape reading.

lengthwise plan JOB [--seconds S | --looks N] [--parts CSV] [--prices CSV] [--json F] [--svg F]
                    [--csv F] [--picture F]
    Plans a job file and prints set-outs, buying list, saw sheet and proof.
    --seconds S   stop after S seconds and keep the best plan (60 where nothing is said)
    --looks N     stop when the search of a group has looked up N times, whatever the
                  time: the same plan on every machine
    --parts CSV   add the parts of this table to the job
    --prices CSV  add the lengths of this table to those at the yard
    --json F      write the plan, with its certificate, to F
    --svg F       write the drawing of the boards to F
    --csv F       write the saw sheet as a table to F
    --picture F   write a picture of every set-out as it stands to F, an SVG
lengthwise plan --stream [--seconds S | --looks N]
    Reads jobs from standard input, one a line, and writes an answer a line, in order:
    outcome, what is bought, the plan, or the faults. The limits are for each job.
lengthwise check JOB PLAN
    Re-derives a plan from its job alone and re-proves its bounds.
lengthwise schema
    Prints the JSON Schema of the job file.
lengthwise notices
    Prints the terms and the notices of what others wrote and is part of this program.
lengthwise bench DIR [--seconds S] [--threads N]
    Solves published instances, job files and made-up jobs; lengthwise bench --help
    tells more.

JOB may be - for standard input, and so may PLAN or CSV where JOB is a file. Files
are written whole or not at all, and never over the job or the table. Exit codes:
0 proven (shown again by the checker), 1 our failure, or what was to be written or
printed was not, 2 faults in the job or in what is asked, 3 not proven in time,
4 impossible.
";

const BENCH_HELP: &str = "\
lengthwise bench [DIR] [--seconds S] [--threads N] [--only TEXT] [--every N]
                 [--jobs COUNT] [--seed N] [--size SIZE] [--scrap]
                 [--check] [--carry LENGTH]
    DIR holds job files (.json), folders of job files and instance files (.txt), one
    class each, and perhaps bounds.csv. A job is a problem for each group of sections
    that are planned together. A folder with nothing to solve in it is an error.
    One stock length:      m, capacity, then m lines \"size demand\".
    Several stock lengths: k, k lines \"length supply cost\", m, m lines \"size demand\".
    --only TEXT   only problems whose class/name contains TEXT
    --every N     every N-th problem of a class
    --jobs COUNT  COUNT practical jobs of each size, made up from --seed
    --size SIZE   small, medium or large; else these three. Or week (100 part lengths, 900
                  parts, 50 shed boards) or month (300, 3000, 200)
    --scrap       make scrap least after cost in jobs
    --check       plan and check made-up jobs and instances of one length, and count
                  what is proven again
    --carry L     in jobs that are checked, lengths above L are cut once at the yard

Prints class,instance,stock_used_or_cost,bound,proven,seconds,nodes,columns and a
summary for each class.
";

/// Licences of third-party code that is linked in. `cargo verify` checks that the file is up to date.
const NOTICES: &str = include_str!("../NOTICES.txt");

const READ_TWICE: &str =
    "standard input can be read once, and - stands for it twice; name a file for one of them";

const STREAM_ALONE: &str = "--stream reads its jobs from standard input and prints its answers; it takes --seconds or --looks, and no file";

/// A command with its arguments.
#[derive(Debug, PartialEq, Eq)]
pub enum Command {
    /// Print the help.
    Help,
    /// Print the version.
    Version,
    /// Print the schema.
    Schema,
    /// Print the third-party licences.
    Notices,
    /// Plan a job.
    Plan(PlanAsked),
    /// Plan the jobs of a stream, each within this.
    Stream(Allowed),
    /// Check a plan.
    Check {
        /// The job file.
        job: PathBuf,
        /// The plan file.
        plan: PathBuf,
    },
    /// Run the benchmark with these arguments.
    Bench(Vec<OsString>),
}

impl Command {
    /// Reads the command line. An error is a sentence for the person.
    pub fn read(mut words: lexopt::Parser) -> Result<Command, String> {
        use lexopt::prelude::*;
        let text = |error: lexopt::Error| error.to_string();
        let asked = match words.next().map_err(text)? {
            None | Some(Short('h') | Long("help")) => return Ok(Command::Help),
            Some(Short('V') | Long("version")) => return Ok(Command::Version),
            Some(Value(word)) => word.to_string_lossy().into_owned(),
            Some(other) => return Err(other.unexpected().to_string()),
        };
        match asked.as_str() {
            "help" => Ok(Command::Help),
            "schema" => Ok(Command::Schema),
            "notices" => Ok(Command::Notices),
            "bench" => Ok(Command::Bench(words.raw_args().map_err(text)?.collect())),
            "plan" => Command::read_plan(&mut words),
            "check" => {
                let files = Command::files(&mut words)?;
                match <[PathBuf; 2]>::try_from(files) {
                    Ok(both) if both.iter().all(|file| output::is_stdin(file)) => {
                        Err(READ_TWICE.into())
                    }
                    Ok([job, plan]) => Ok(Command::Check { job, plan }),
                    Err(_) => Err("check takes a job file and a plan file".into()),
                }
            }
            other => Err(format!("there is no command \"{other}\"")),
        }
    }

    fn read_plan(words: &mut lexopt::Parser) -> Result<Command, String> {
        use lexopt::prelude::*;
        let text = |error: lexopt::Error| error.to_string();
        let mut asked = PlanAsked::default();
        let (mut job, mut timed, mut looks, mut stream) = (None, false, None, false);
        while let Some(word) = words.next().map_err(text)? {
            match word {
                Long("seconds") => {
                    let value = words.value().map_err(text)?;
                    let seconds = value.to_str().and_then(|value| value.parse::<f64>().ok());
                    let seconds = seconds.filter(|seconds| (0.0..=1e6).contains(seconds));
                    let seconds =
                        seconds.ok_or("--seconds takes a number of seconds, such as 10")?;
                    (asked.allowed, timed) = (Allowed::Milliseconds((seconds * 1e3) as u64), true);
                }
                Long("looks") => {
                    let value = words.value().map_err(text)?;
                    let number = value.to_str().and_then(|value| value.parse().ok());
                    let number = number.filter(|number| *number > 0);
                    looks = Some(number.ok_or("--looks takes a whole number from 1")?);
                }
                Long("parts") => asked.parts = Some(words.value().map_err(text)?.into()),
                Long("prices") => asked.prices = Some(words.value().map_err(text)?.into()),
                Long("json") => asked.json = Some(words.value().map_err(text)?.into()),
                Long("svg") => asked.svg = Some(words.value().map_err(text)?.into()),
                Long("csv") => asked.csv = Some(words.value().map_err(text)?.into()),
                Long("stream") => stream = true,
                Long("picture") => asked.picture = Some(words.value().map_err(text)?.into()),
                Short('h') | Long("help") => return Ok(Command::Help),
                Value(file) if job.is_none() => job = Some(PathBuf::from(file)),
                other => return Err(other.unexpected().to_string()),
            }
        }
        if let Some(looks) = looks {
            if timed {
                return Err("--looks takes the place of --seconds; give one of them".into());
            }
            asked.allowed = Allowed::Looks(looks);
        }
        if stream {
            return match (job, asked.has_files()) {
                (None, false) => Ok(Command::Stream(asked.allowed)),
                _ => Err(STREAM_ALONE.into()),
            };
        }
        asked.job = job.ok_or("plan takes a job file")?;
        let read = [
            Some(&asked.job),
            asked.parts.as_ref(),
            asked.prices.as_ref(),
        ];
        let read = read.into_iter().flatten();
        if read.filter(|file| output::is_stdin(file)).count() > 1 {
            return Err(READ_TWICE.into());
        }
        Ok(Command::Plan(asked))
    }

    fn files(words: &mut lexopt::Parser) -> Result<Vec<PathBuf>, String> {
        use lexopt::prelude::*;
        let mut files = Vec::new();
        while let Some(word) = words.next().map_err(|error| error.to_string())? {
            match word {
                Value(file) => files.push(file.into()),
                other => return Err(other.unexpected().to_string()),
            }
        }
        Ok(files)
    }

    /// Runs the command; the exit code.
    pub fn run(self) -> ExitCode {
        let code = match self {
            Command::Help => output::print(HELP),
            Command::Version => {
                output::print(concat!("lengthwise ", env!("CARGO_PKG_VERSION"), "\n"))
            }
            Command::Schema => output::print(&(lengthwise::io::schema::text() + "\n")),
            Command::Notices => output::print(NOTICES),
            Command::Plan(asked) => plan::plan(&asked),
            Command::Stream(allowed) => stream::stream(allowed),
            Command::Check { job, plan } => plan::check(&job, &plan),
            Command::Bench(words) => bench(&words),
        };
        ExitCode::from(code)
    }
}

/// Runs the benchmark and returns the exit code.
fn bench(words: &[OsString]) -> u8 {
    let words: Option<Vec<String>> = words
        .iter()
        .map(|word| word.to_str().map(str::to_owned))
        .collect();
    let Some(words) = words else {
        output::tell("lengthwise: the arguments of bench are not text");
        return FAULTS;
    };
    if words.iter().any(|word| word == "--help" || word == "-h") {
        return output::print(BENCH_HELP);
    }
    // The folder is a part of the command: one without an instance in it is a fault of the command line.
    let chosen =
        Arguments::parse(&words).and_then(|arguments| Ok((arguments.instances()?, arguments)));
    let (instances, arguments) = match chosen {
        Ok(chosen) => chosen,
        Err(why) => {
            output::tell(&format!("lengthwise: {why}"));
            return FAULTS;
        }
    };
    let out = &mut std::io::stdout();
    let run = if arguments.check {
        lengthwise::bench::run_checked(&arguments, &instances, out)
    } else {
        lengthwise::bench::run(&arguments, &instances, out)
    };
    match run.and_then(|()| std::io::Write::flush(out).map_err(|error| error.to_string())) {
        Ok(()) => PROVEN,
        Err(why) => {
            output::tell(&format!("lengthwise: {why}"));
            FAILURE
        }
    }
}
