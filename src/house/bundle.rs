//! Several ES modules as one script.
//!
//! A page opened from a file may not load modules, which browsers fetch under network rules, but it may run a script inside the page. Every
//! module becomes a block of its own, in the order in which a browser would run them: after the modules it imports, which come in the order
//! of its imports (a depth-first topological sort). A block returns the module's exports, and later blocks take their names from there. The
//! order exists because a circle of imports is refused; each module is visited once, so it ends.
//!
//! A page may start in steps, with a script for each. Later scripts use the blocks of earlier ones.

use crate::files::Files;
use crate::script::{Bound, Module, Renamed, lean};
use anyhow::{Context, Result, bail};
use std::fmt::Write;

/// Scripts made of several modules.
pub struct Bundle {
    /// The text of the script for each entry. The scripts run in this order, each at the top level of a script element.
    pub scripts: Vec<String>,
    /// The paths of the modules in them.
    pub modules: Vec<String>,
}

/// Bundles the modules at `entries` and all they import.
pub fn bundle(site: &Files, entries: &[&str]) -> Result<Bundle> {
    let mut blocks = Blocks {
        site,
        done: Vec::new(),
        open: Vec::new(),
        script: String::new(),
    };
    let mut scripts = Vec::new();
    for entry in entries {
        blocks.script = "\"use strict\";\n".to_owned();
        blocks.add(entry)?;
        scripts.push(std::mem::take(&mut blocks.script));
    }
    Ok(Bundle {
        scripts,
        modules: blocks.done.into_iter().map(|(path, _)| path).collect(),
    })
}

struct Blocks<'site> {
    site: &'site Files,
    /// The modules written so far, each with the names it exports. Its index is the number of its block.
    done: Vec<(String, Vec<String>)>,
    /// The modules whose imports are being written.
    open: Vec<String>,
    script: String,
}

impl Blocks<'_> {
    /// Writes a module after everything it imports, unless it is written already; returns the number of its block.
    fn add(&mut self, path: &str) -> Result<usize> {
        if let Some(number) = self.done.iter().position(|(done, _)| done == path) {
            return Ok(number);
        }
        if self.open.iter().any(|open| open == path) {
            bail!(
                "{} imports itself by way of {path}",
                self.open.join(" imports ")
            );
        }
        self.open.push(path.to_owned());
        let module = Module::read(self.site.text(path)?).with_context(|| path.to_owned())?;
        let mut head = String::new();
        for import in &module.imports {
            let target = beside(path, &import.from)?;
            let number = self.add(&target)?;
            let (_, known) = &self.done[number];
            match &import.bound {
                Bound::Nothing => {}
                Bound::Everything(name) => writeln!(head, "const {name} = block{number};")?,
                Bound::Names(names) | Bound::PassedOn(names) => {
                    if let Some(missing) = names.iter().find(|name| !known.contains(&name.exported))
                    {
                        bail!(
                            "{path} imports {} of {target}, which does not export it",
                            missing.exported
                        );
                    }
                    writeln!(
                        head,
                        "const {{ {} }} = block{number};",
                        pairs(names, |name| (&name.exported, &name.local))
                    )?;
                }
            }
        }
        self.open.pop();
        let number = self.done.len();
        let returned = pairs(&module.exports, |name| (&name.exported, &name.local));
        let body = lean(&module.body)?;
        let body = body.trim();
        writeln!(
            self.script,
            "// {path}\nconst block{number} = (() => {{\n{head}{body}\nreturn {{ {returned} }};\n}})();"
        )?;
        let names = module
            .exports
            .into_iter()
            .map(|name| name.exported)
            .collect();
        self.done.push((path.to_owned(), names));
        Ok(number)
    }
}

fn pairs<'names>(
    names: &'names [Renamed],
    pair: impl Fn(&'names Renamed) -> (&'names String, &'names String),
) -> String {
    let pairs = names
        .iter()
        .map(pair)
        .map(|(left, right)| format!("{left}: {right}"));
    pairs.collect::<Vec<_>>().join(", ")
}

/// The path of `address` as written in the module at `path`.
fn beside(path: &str, address: &str) -> Result<String> {
    if !address.starts_with("./") && !address.starts_with("../") {
        bail!("{path} imports {address}: an address begins with ./ or ../");
    }
    let mut parts: Vec<&str> = path.split('/').collect();
    parts.pop();
    for part in address.split('/') {
        match part {
            "." => {}
            ".." => {
                let outside = || format!("{path} imports {address}, which is outside the site");
                parts.pop().with_context(outside)?;
            }
            name => parts.push(name),
        }
    }
    Ok(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site(files: &[(&str, &str)]) -> Files {
        let bytes = |text: &str| text.as_bytes().to_vec();
        let named = files
            .iter()
            .map(|(name, text)| (name.to_string(), bytes(text)));
        Files(named.collect())
    }

    #[test]
    fn a_module_comes_once_and_behind_what_it_imports() {
        let site = site(&[
            (
                "main.js",
                "import { one } from './parts/one.js';\nimport { two } from './parts/two.js';\nshow(one + two);",
            ),
            (
                "parts/one.js",
                "import { two } from './two.js';\nexport const one = two / 2;",
            ),
            ("parts/two.js", "export const two = 2;"),
        ]);
        assert_eq!(
            bundle(&site, &["main.js"]).unwrap().scripts,
            [
                "\"use strict\";\n// parts/two.js\nconst block0 = (() => {\nconst two = 2;\nreturn { two: two };\n})();\n\
             // parts/one.js\nconst block1 = (() => {\nconst { two: two } = block0;\nconst one = two / 2;\n\
             return { one: one };\n})();\n\
             // main.js\nconst block2 = (() => {\nconst { one: one } = block1;\nconst { two: two } = block0;\n\
             show(one + two);\nreturn {  };\n})();\n"
            ]
        );
    }

    #[test]
    fn a_later_script_takes_from_an_earlier_one_what_both_import() {
        let site = site(&[
            ("first.js", "import './shared.js';"),
            (
                "main.js",
                "import { x } from './shared.js';\nimport './first.js';\nshow(x);",
            ),
            ("shared.js", "export const x = 1;"),
        ]);
        let Bundle { scripts, modules } = bundle(&site, &["first.js", "main.js"]).unwrap();
        assert_eq!(
            scripts[1],
            "\"use strict\";\n// main.js\nconst block2 = (() => {\nconst { x: x } = block0;\nshow(x);\nreturn {  };\n})();\n"
        );
        assert_eq!(modules, ["shared.js", "first.js", "main.js"]);
    }

    #[test]
    fn a_circle_or_a_missing_name_is_refused() {
        let circle = site(&[("a.js", "import './b.js';"), ("b.js", "import './a.js';")]);
        assert_eq!(
            bundle(&circle, &["a.js"]).err().unwrap().to_string(),
            "a.js imports b.js imports itself by way of a.js"
        );
        let missing = site(&[
            ("a.js", "import { x } from './b.js';"),
            ("b.js", "export const y = 1;"),
        ]);
        assert_eq!(
            bundle(&missing, &["a.js"]).err().unwrap().to_string(),
            "a.js imports x of b.js, which does not export it"
        );
    }
}
