//! The house: builds the page, runs every check and compares builds. `cargo page`, `cargo verify` and `cargo compare` start it.

mod again;
mod against;
mod alike;
mod archive;
mod bundle;
mod companion;
mod compare;
mod comparison;
// The attack's jobs of every sort are what two builds are compared on as well.
#[path = "../attack/dice.rs"]
mod dice;
mod engine;
mod figures;
mod files;
mod fractions;
#[path = "../attack/jobs.rs"]
mod jobs;
mod markup;
mod package;
mod page;
mod page_state;
mod peer;
mod policy;
mod release;
mod renumbered;
mod script;
mod serve;
mod setup;
mod single_file;
mod site;
mod spread;
mod third_party;
mod typings;
mod uniform;
mod unplaced;
mod verify;
mod workshop;

use std::process::ExitCode;

const HELP: &str = "\
cargo page [--port N]    build the page, serve it on this machine, print its address
cargo page --out DIR     write the site, and lengthwise.html, the same page as one file, to DIR
cargo verify             set up what the tests need, then run every check
cargo verify engines     the same, with WebKit and Firefox set up too
cargo run --package house -- package
                         build the package for other programs, install it and test it
cargo notices            write NOTICES.txt, the terms of the crates that are linked, anew
cargo compare WORDS      native, WebAssembly and a general solver on the same problems, or this tree and
                         another commit; --help tells more";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let outcome = match words
        .split_first()
        .map(|(first, rest)| (first.as_str(), rest))
    {
        Some(("page", rest)) => page::run(rest),
        Some(("verify", [])) => verify::run(verify::Engines::AsTheyAre),
        Some(("verify", [which])) if which == "engines" => verify::run(verify::Engines::All),
        Some(("figures", rest)) => figures::run(rest),
        Some(("spread", rest)) => spread::run(rest),
        Some(("package", [])) => package::check(),
        Some(("release", rest)) => release::run(rest),
        Some(("notices", [])) => third_party::write(),
        Some(("compare", [only])) if only == "--help" => {
            println!("{}\n{}", compare::HELP, against::HELP);
            Ok(())
        }
        Some(("compare", rest)) if rest.iter().any(|word| word == "--against") => {
            against::run(rest)
        }
        Some(("compare", rest)) => compare::run(rest),
        _ => Err(anyhow::anyhow!(
            "what to do is missing\n{HELP}\n{}\n{}\n{}",
            figures::HELP,
            spread::HELP,
            release::HELP
        )),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("house: {failure:#}");
            ExitCode::FAILURE
        }
    }
}
