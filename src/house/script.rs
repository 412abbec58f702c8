//! What a plain ES module imports and exports, read from its text.
//!
//! It reads the forms that our own modules use and refuses every other form by name, so that nothing is bundled wrongly without notice. It
//! works on a mask of the text (`mask`).

mod kinds;
mod lean;
mod mask;

pub use lean::lean;

use anyhow::{Context, Result, bail};
use mask::{leading_name, mask, next, words};
use std::ops::Range;

/// Two names of one thing: `exported as local` in an import or export list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renamed {
    /// The name in the module that exports it.
    pub exported: String,
    /// The name in the module at hand.
    pub local: String,
}

/// The names that an import binds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Bound {
    /// `import "./x.js"`
    Nothing,
    /// `import { a, b as c } from "./x.js"`
    Names(Vec<Renamed>),
    /// `import * as x from "./x.js"`
    Everything(String),
    /// `export { a, b as c } from "./x.js"`: bound for other modules only.
    PassedOn(Vec<Renamed>),
}

/// One import of a module.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Import {
    /// The address as written.
    pub from: String,
    /// What it binds.
    pub bound: Bound,
}

/// A module, split into its parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Module {
    /// Its imports, in order.
    pub imports: Vec<Import>,
    /// Its own exports.
    pub exports: Vec<Renamed>,
    /// Its text without import and export keywords.
    pub body: String,
}

impl Module {
    /// Splits a module's text.
    ///
    /// # Errors
    /// The first form that is not a static import or export of the kinds above.
    pub fn read(text: &str) -> Result<Module> {
        let mask = mask(text)?;
        let mut module = Module {
            imports: Vec::new(),
            exports: Vec::new(),
            body: String::new(),
        };
        let mut kept = 0;
        for (word, place, depth) in words(&mask) {
            let cut = match word {
                "import" if depth == 0 => import(text, &mask, place, &mut module),
                "import" => Err(anyhow::anyhow!(
                    "an import inside a block is made while running"
                )),
                "export" => export(text, &mask, place, &mut module),
                "await" if depth == 0 => Err(anyhow::anyhow!(
                    "a module that waits before it is there is not bundled"
                )),
                _ => continue,
            };
            let cut =
                cut.with_context(|| format!("line {}", text[..place].matches('\n').count() + 1))?;
            module.body.push_str(&text[kept..cut.start]);
            kept = cut.end;
        }
        module.body.push_str(&text[kept..]);
        refuse_changing_exports(&mask, &module.exports)?;
        Ok(module)
    }
}

/// Reads one import that begins at `place`; returns what to cut.
fn import(text: &str, mask: &str, place: usize, module: &mut Module) -> Result<Range<usize>> {
    let after = place + "import".len();
    let (bound, from) = match next(mask, after) {
        Some((at, '{')) => {
            let (list, end) = list(mask, at)?;
            (Bound::Names(list), expect_from(mask, end)?)
        }
        Some((at, '*')) => {
            let rest = mask[at + 1..]
                .trim_start()
                .strip_prefix("as ")
                .context("import * needs `as`")?;
            let name = leading_name(rest.trim_start()).context("import * as needs a name")?;
            let end = mask.len() - rest.trim_start().len() + name.len();
            (Bound::Everything(name.to_owned()), expect_from(mask, end)?)
        }
        Some((_, '(' | '.')) => bail!("an import made while running is not bundled"),
        // Strings are blank in the mask.
        _ if text[after..].trim_start().starts_with(['"', '\'']) => (Bound::Nothing, after),
        _ => bail!("a default import is not bundled; export and import by name"),
    };
    let (from, end) = string(text, from)?;
    module.imports.push(Import { from, bound });
    Ok(place..past_semicolon(mask, end))
}

/// Reads one export that begins at `place`; returns what to cut.
fn export(text: &str, mask: &str, place: usize, module: &mut Module) -> Result<Range<usize>> {
    let after = place + "export".len();
    if let Some((at, '{')) = next(mask, after) {
        let (list, end) = list(mask, at)?;
        if mask[end..].trim_start().starts_with("from") {
            let (from, end) = string(text, expect_from(mask, end)?)?;
            module
                .exports
                .extend(list.iter().map(|name| same(&name.local)));
            module.imports.push(Import {
                from,
                bound: Bound::PassedOn(list),
            });
            return Ok(place..past_semicolon(mask, end));
        }
        // In an export list the local name comes first.
        module.exports.extend(list.into_iter().map(|name| Renamed {
            exported: name.local,
            local: name.exported,
        }));
        return Ok(place..past_semicolon(mask, end));
    }
    let declaration = mask[after..].trim_start();
    let start = mask.len() - declaration.len();
    let kinds = [
        "async function*",
        "async function",
        "function*",
        "function",
        "class",
        "const",
    ];
    let kind = kinds.iter().find(|kind| {
        declaration
            .strip_prefix(**kind)
            .is_some_and(|rest| rest.starts_with(char::is_whitespace))
    });
    let kind = kind.context("only a function, class, const or list of names is exported here")?;
    let name = leading_name(declaration[kind.len()..].trim_start())
        .context("an export needs a plain name")?;
    module.exports.push(same(name));
    Ok(place..start)
}

/// Refuses a binding that changes after it is exported: importers of a real module would see the change, those of a bundled one would not.
fn refuse_changing_exports(mask: &str, exports: &[Renamed]) -> Result<()> {
    for (word, place, depth) in words(mask) {
        if depth == 0 && matches!(word, "let" | "var") {
            let name = leading_name(mask[place + word.len()..].trim_start()).unwrap_or_default();
            if exports.iter().any(|export| export.local == name) {
                bail!("{name} is exported and may change; export a function that tells it");
            }
        }
    }
    Ok(())
}

fn same(name: &str) -> Renamed {
    Renamed {
        exported: name.to_owned(),
        local: name.to_owned(),
    }
}

/// A list in braces at `at`, and the index after it.
fn list(mask: &str, at: usize) -> Result<(Vec<Renamed>, usize)> {
    let end = at + mask[at..].find('}').context("a list is not closed")?;
    let names = mask[at + 1..end]
        .split(',')
        .map(str::trim)
        .filter(|item| !item.is_empty());
    let names = names.map(|item| {
        let (first, second) = item
            .split_once(" as ")
            .map_or((item, item), |(a, b)| (a.trim(), b.trim()));
        let plain = |name: &str| leading_name(name) == Some(name) && name != "default";
        if !plain(first) || !plain(second) {
            bail!("`{item}` is not a plain name in a list");
        }
        Ok(Renamed {
            exported: first.to_owned(),
            local: second.to_owned(),
        })
    });
    Ok((names.collect::<Result<_>>()?, end + 1))
}

fn expect_from(mask: &str, at: usize) -> Result<usize> {
    let rest = mask[at..].trim_start();
    let rest = rest.strip_prefix("from").context("`from` is missing")?;
    Ok(mask.len() - rest.len())
}

/// The string that begins at or after `at`, and the index after it.
fn string(text: &str, at: usize) -> Result<(String, usize)> {
    let rest = text[at..].trim_start();
    let quote = rest
        .chars()
        .next()
        .filter(|quote| matches!(quote, '"' | '\''))
        .context("an address is missing")?;
    let inner = rest[1..].split(quote).next().unwrap_or_default();
    Ok((inner.to_owned(), text.len() - rest.len() + inner.len() + 2))
}

fn past_semicolon(mask: &str, at: usize) -> usize {
    let rest = mask[at..].trim_start_matches(' ');
    if rest.starts_with(';') {
        mask.len() - rest.len() + 1
    } else {
        at
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn renamed(exported: &str, local: &str) -> Renamed {
        Renamed {
            exported: exported.into(),
            local: local.into(),
        }
    }

    #[test]
    fn imports_and_exports_are_taken_out_of_the_body() {
        let module = Module::read(
            "import { a, b as c } from \"./x.js\";\nimport * as all from './y.js'\nimport \"./z.js\";\n\
             export { d } from \"./w.js\";\nexport const e = a;\nexport function f() {}\nconst g = 1;\nexport { g as h };\n",
        )
        .unwrap();
        let import = |from: &str, bound| Import {
            from: from.into(),
            bound,
        };
        assert_eq!(
            module.imports,
            [
                import(
                    "./x.js",
                    Bound::Names(vec![renamed("a", "a"), renamed("b", "c")])
                ),
                import("./y.js", Bound::Everything("all".into())),
                import("./z.js", Bound::Nothing),
                import("./w.js", Bound::PassedOn(vec![renamed("d", "d")])),
            ]
        );
        assert_eq!(
            module.exports,
            [
                renamed("d", "d"),
                renamed("e", "e"),
                renamed("f", "f"),
                renamed("h", "g")
            ]
        );
        assert_eq!(
            module.body.split_whitespace().collect::<Vec<_>>().join(" "),
            "const e = a; function f() {} const g = 1;"
        );
    }

    #[test]
    fn words_in_comments_strings_templates_and_regular_expressions_are_not_code() {
        let text = "// import x from y\n/* export default */ const t = `import ${`export ${{ a: 1 }.a}`} \\` export`;\n\
                    const s = 'import \\' export'; const r = /[/\"'] export/.test(s) / 2; const o = { import: 1 }.import;\n";
        let module = Module::read(text).unwrap();
        assert_eq!(
            module,
            Module {
                imports: vec![],
                exports: vec![],
                body: text.into()
            }
        );
    }

    #[test]
    fn a_form_that_would_be_bundled_wrongly_is_refused() {
        let refused = |text: &str| format!("{:#}", Module::read(text).unwrap_err());
        assert!(refused("import a from './a.js';").contains("default import"));
        assert!(
            refused("\nconst a = import('./a.js');")
                .contains("line 2: an import made while running")
        );
        assert!(refused("const a = await fetch('a');").contains("waits before it is there"));
        assert!(refused("const u = import.meta.url;").contains("made while running"));
        assert!(refused("function f() { return import('./a.js'); }").contains("inside a block"));
        assert!(refused("export default 1;").contains("only a function"));
        assert!(refused("export let a = 1;").contains("only a function"));
        assert!(refused("let a = 1;\nexport { a };").contains("a is exported and may change"));
        assert!(refused("export const { a } = b;").contains("plain name"));
    }
}
