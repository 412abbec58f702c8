//! What the command line does to files: outputs are whole or not there, inputs are never overwritten, and failures show in the exit code.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// Two lengths of 2.4 m for eight legs of 560 mm: four of them and their cuts take 2249.6 mm.
const LEGS: &str = r#"{"format":"lengthwise-job","sections":[{"name":"batten"}],"yard":[{"length":"2.4 m"}],
    "parts":[{"label":"leg","length":560,"quantity":8}]}"#;

/// A folder of this test run with a job in it, emptied first.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Folder {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("cli_files")
            .join(name);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).expect("a folder");
        fs::write(folder.join("job.json"), LEGS).expect("written");
        Folder(folder)
    }

    fn command(&self, words: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_lengthwise"));
        command
            .args(words)
            .current_dir(&self.0)
            .stdin(Stdio::null());
        command
    }

    /// Runs the command line here; its end must have this code.
    #[track_caller]
    fn ends(&self, words: &[&str], code: i32) -> (String, String) {
        said(self.command(words).output().expect("it runs"), code)
    }

    /// Runs a line of the shell here, in which `$L` is the command line.
    #[cfg(unix)]
    #[track_caller]
    fn shell(&self, line: &str, code: i32) -> (String, String) {
        let mut shell = Command::new("bash");
        shell
            .args(["-c", line])
            .current_dir(&self.0)
            .stdin(Stdio::null());
        shell.env("L", env!("CARGO_BIN_EXE_lengthwise"));
        said(shell.output().expect("it runs"), code)
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.0.join(name)).expect("a file")
    }

    fn write(&self, name: &str, text: &str) {
        fs::write(self.0.join(name), text).expect("written");
    }

    /// The names in the folder, in order.
    fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(&self.0).expect("a folder");
        let mut names: Vec<String> = entries
            .map(|entry| {
                entry
                    .expect("an entry")
                    .file_name()
                    .into_string()
                    .expect("a plain name")
            })
            .collect();
        names.sort();
        names
    }
}

#[track_caller]
fn said(output: Output, code: i32) -> (String, String) {
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    let (out, err) = (text(output.stdout), text(output.stderr));
    assert_eq!(output.status.code(), Some(code), "{out}\n{err}");
    (out, err)
}

#[test]
fn the_job_and_the_table_are_never_written_over() {
    let folder = Folder::new("never_over");
    folder.write("parts.csv", "label,length,quantity\nrail,470,4\n");
    fs::hard_link(folder.0.join("job.json"), folder.0.join("twin.json")).expect("a link");
    let over_job = [
        vec!["plan", "job.json", "--json", "job.json"],
        vec!["plan", "job.json", "--svg", "./job.json"],
        vec!["plan", "job.json", "--picture", "./job.json"],
        vec!["plan", "job.json", "--csv", "../never_over/job.json"],
        vec!["plan", "job.json", "--json", "twin.json"],
        vec![
            "plan",
            "job.json",
            "--parts",
            "parts.csv",
            "--csv",
            "parts.csv",
        ],
    ];
    for words in over_job {
        let (out, err) = folder.ends(&words, 2);
        assert_eq!(out, "");
        let (option, input) = (
            words[words.len() - 2],
            if words.contains(&"--parts") {
                "parts.csv"
            } else {
                "job.json"
            },
        );
        assert_eq!(
            err,
            format!(
                "lengthwise: {option} would write over {input}, which is read; name another file\n"
            )
        );
    }
    assert_eq!(folder.read("job.json"), LEGS);
    assert_eq!(
        folder.read("parts.csv"),
        "label,length,quantity\nrail,470,4\n"
    );
    assert_eq!(folder.names(), ["job.json", "parts.csv", "twin.json"]);
}

#[cfg(unix)]
#[test]
fn no_link_and_no_redirection_hides_the_job() {
    let folder = Folder::new("links");
    std::os::unix::fs::symlink("job.json", folder.0.join("soft.json")).expect("a link");
    folder.ends(&["plan", "job.json", "--json", "soft.json"], 2);
    folder.ends(&["plan", "soft.json", "--json", "job.json"], 2);
    let (_, err) = folder.shell("$L plan - --json job.json < job.json", 2);
    assert_eq!(
        err,
        "lengthwise: --json would write over what is read from standard input, which is read; name another file\n"
    );
    let (_, err) = folder.shell("$L plan job.json --json text > text", 2);
    assert_eq!(
        err,
        "lengthwise: --json would write to the file that the text is printed to; name another\n"
    );
    assert_eq!(folder.read("job.json"), LEGS);
}

#[test]
fn two_outputs_to_one_file_are_refused_before_anything_is_written() {
    let folder = Folder::new("twins");
    let (out, err) = folder.ends(&["plan", "job.json", "--json", "out", "--csv", "./out"], 2);
    assert_eq!(out, "");
    assert_eq!(
        err,
        "lengthwise: --json and --csv would write to one file, ./out; name two\n"
    );
    let (_, err) = folder.ends(&["plan", "job.json", "--svg", "out", "--picture", "out"], 2);
    assert_eq!(
        err,
        "lengthwise: --svg and --picture would write to one file, out; name two\n"
    );
    folder.write("one", "");
    fs::hard_link(folder.0.join("one"), folder.0.join("two")).expect("a link");
    folder.ends(&["plan", "job.json", "--svg", "one", "--csv", "two"], 2);
    assert_eq!(folder.names(), ["job.json", "one", "two"]);
}

#[test]
fn an_output_is_replaced_and_nothing_is_left_beside_it() {
    let folder = Folder::new("replaced");
    folder.write("plan.json", &"a longer text than any plan ".repeat(1_000));
    folder.ends(&["plan", "job.json", "--json", "plan.json"], 0);
    let plan: serde_json::Value = serde_json::from_str(&folder.read("plan.json")).expect("JSON");
    assert_eq!(plan["boards"].as_array().map(Vec::len), Some(2));
    assert_eq!(folder.names(), ["job.json", "plan.json"]);
}

#[cfg(unix)]
#[test]
fn a_replaced_file_keeps_its_permissions_and_a_link_goes_on_leading_to_it() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new("permissions");
    let file = folder.0.join("kept.json");
    folder.write("kept.json", "");
    fs::set_permissions(&file, fs::Permissions::from_mode(0o600)).expect("set");
    std::os::unix::fs::symlink("kept.json", folder.0.join("leads.json")).expect("a link");
    std::os::unix::fs::symlink("new.csv", folder.0.join("leads.csv")).expect("a link");
    folder.shell(
        "umask 027; $L plan job.json --json leads.json --csv leads.csv --svg fresh.svg",
        0,
    );
    let mode = |name: &str| {
        let about = fs::metadata(folder.0.join(name)).expect("a file");
        format!("{:o}", about.permissions().mode() & 0o777)
    };
    assert_eq!(mode("kept.json"), "600");
    assert_eq!(mode("fresh.svg"), "640");
    assert!(folder.read("kept.json").starts_with('{'));
    assert!(folder.read("new.csv").starts_with("board,"));
    assert!(folder.0.join("leads.json").is_symlink() && folder.0.join("leads.csv").is_symlink());
    let names = [
        "fresh.svg",
        "job.json",
        "kept.json",
        "leads.csv",
        "leads.json",
        "new.csv",
    ];
    assert_eq!(folder.names(), names);
}

#[cfg(unix)]
#[test]
fn a_full_disk_leaves_every_file_as_it_was() {
    let folder = Folder::new("full");
    folder.write("plan.json", "the plan of yesterday");
    // A file may have 2 KiB, in which the plan has room, and the drawing, which is written next, has not.
    let line = "trap '' XFSZ; ulimit -f 2; exec $L plan job.json --json plan.json --csv saw.csv --svg plan.svg";
    let (_, err) = folder.shell(line, 1);
    assert!(
        err.starts_with("lengthwise: cannot write plan.svg: "),
        "{err}"
    );
    assert_eq!(folder.read("plan.json"), "the plan of yesterday");
    assert_eq!(folder.names(), ["job.json", "plan.json"]);
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_and_a_closed_pipe_end_with_one() {
    let folder = Folder::new("nowhere");
    for words in ["schema", "--help", "plan job.json", "bench --help"] {
        let (_, err) = folder.shell(&format!("$L {words} > /dev/full"), 1);
        assert_eq!(
            err,
            "lengthwise: cannot print: No space left on device (os error 28)\n"
        );
        // A pipe that nobody reads any more.
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let words: Vec<&str> = words.split(' ').collect();
        let mut command = folder.command(&words);
        let (_, err) = said(
            command
                .stdout(writer)
                .stderr(Stdio::piped())
                .spawn()
                .and_then(|child| child.wait_with_output())
                .expect("it runs"),
            1,
        );
        assert_eq!(err, "lengthwise: cannot print: Broken pipe (os error 32)\n");
    }
    let (_, err) = folder.ends(&["plan", "job.json", "--svg", "/dev/full"], 1);
    assert_eq!(
        err,
        "lengthwise: cannot write /dev/full: No space left on device (os error 28)\n"
    );
    folder.ends(&["plan", "job.json", "--svg", "/dev/null"], 0);
    // The message has nowhere to go; the exit code still tells the fault.
    folder.shell("$L plan no/job.json 2> /dev/full", 2);
    folder.shell("$L planning 2> /dev/full", 2);
}

#[test]
fn a_place_that_cannot_be_written_to_is_known_before_the_job_is_read() {
    let folder = Folder::new("unwritable");
    for (path, why) in [
        ("no/such/plan.json", "No such file"),
        (".", "is a directory"),
    ] {
        let (out, err) = folder.ends(&["plan", "no/job.json", "--json", path], 1);
        assert_eq!(out, "");
        assert!(
            err.starts_with(&format!("lengthwise: cannot write {path}: {why}")),
            "{err}"
        );
    }
}

#[test]
fn a_missing_file_is_the_persons_fault_whichever_it_is() {
    let folder = Folder::new("missing");
    for words in [
        vec!["plan", "gone.json"],
        vec!["plan", "job.json", "--parts", "gone.json"],
        vec!["check", "gone.json", "job.json"],
        vec!["check", "job.json", "gone.json"],
    ] {
        let (_, err) = folder.ends(&words, 2);
        assert!(
            err.starts_with("lengthwise: cannot read gone.json: "),
            "{err}"
        );
    }
}

#[test]
fn a_byte_order_mark_is_passed_over_in_every_file() {
    let folder = Folder::new("marks");
    folder.write(
        "parts.csv",
        "\u{feff}label,length,quantity\r\nrail,470,4\r\n",
    );
    folder.write("job.json", &format!("\u{feff}{LEGS}"));
    folder.ends(&["plan", "job.json", "--json", "plan.json"], 0);
    folder.ends(&["plan", "job.json", "--parts", "parts.csv"], 0);
    let plan = format!("\u{feff}{}", folder.read("plan.json"));
    assert!(lengthwise::io::plan_file::read(&plan).is_ok());
    folder.write("plan.json", &plan);
    folder.ends(&["check", "job.json", "plan.json"], 0);
}

#[test]
fn standard_input_stands_for_one_file() {
    let folder = Folder::new("twice");
    for words in [vec!["plan", "-", "--parts", "-"], vec!["check", "-", "-"]] {
        let (_, err) = folder.ends(&words, 2);
        assert!(
            err.starts_with("lengthwise: standard input can be read once, and - stands for it twice; name a file for one of them\n"),
            "{err}"
        );
    }
    let mut child = folder
        .command(&["plan", "job.json", "--parts", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut input = child.stdin.take().expect("a pipe");
    input
        .write_all(b"label,length,quantity\nrail,470,4\n")
        .expect("written");
    drop(input);
    let (out, _) = said(child.wait_with_output().expect("it ends"), 0);
    assert!(out.contains("4 x rail, 470 mm, batten"), "{out}");
}

/// Rust's threads take their stack from this variable, and no machine has an exbibyte: the planner cannot start one, which panics.
#[cfg(all(unix, target_pointer_width = "64"))]
#[test]
fn a_panic_is_told_as_our_error_with_what_to_do_and_ends_with_one() {
    let folder = Folder::new("panics");
    folder.write("plan.json", "the plan of yesterday");
    let mut command = folder.command(&["plan", "job.json", "--json", "plan.json"]);
    command.env("RUST_MIN_STACK", (1u64 << 60).to_string());
    let (out, err) = said(command.output().expect("it runs"), 1);
    assert_eq!(out, "");
    assert!(
        err.starts_with("lengthwise: this is our error, not yours: panicked at "),
        "{err}"
    );
    assert!(err.contains("Please send this message"), "{err}");
    assert_eq!(folder.read("plan.json"), "the plan of yesterday");
    assert_eq!(folder.names(), ["job.json", "plan.json"]);
}
