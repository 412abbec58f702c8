//! Which file of a crate depends on which. A re-export (`pub use`) is followed: a file that uses it depends on the file with the
//! definition.

use std::collections::{BTreeMap, BTreeSet};

/// The files of a crate by the paths of their modules, the crate's face by the empty path; each with the files that it names.
pub type Imports = BTreeMap<String, BTreeSet<String>>;

/// A path as it is written, and the name by which the file calls what it ends in.
struct Named {
    path: Vec<String>,
    name: String,
}

/// What the code of a file says of others.
#[derive(Default)]
struct Said {
    /// What it takes or names.
    uses: Vec<Named>,
    /// What it hands on.
    hands_on: Vec<Named>,
    /// Every other word of it.
    words: BTreeSet<String>,
}

/// Which files name which.
pub fn imports(files: &BTreeMap<String, String>) -> Imports {
    let said: BTreeMap<&str, Said> = files
        .iter()
        .map(|(module, code)| (module.as_str(), read(&words(code))))
        .collect();
    let mut handed_on = BTreeMap::new();
    for (module, said) in &said {
        for named in &said.hands_on {
            if let Some(path) = from_the_top(module, &named.path, files) {
                handed_on.insert((module.to_string(), named.name.clone()), path);
            }
        }
    }
    let mut imports = Imports::new();
    for (module, said) in &said {
        // What is handed on and used besides is named like anything else.
        let used_besides = said.hands_on.iter();
        let used_besides = used_besides.filter(|named| said.words.contains(&named.name));
        let paths = said.uses.iter().chain(used_besides);
        let paths = paths.filter_map(|named| from_the_top(module, &named.path, files));
        let named: BTreeSet<String> = paths
            .map(|path| holder(path, files, &handed_on))
            .filter(|file| file != module)
            .collect();
        imports.insert(module.to_string(), named);
    }
    imports
}

/// Names, `::`, and signs of one character each; what stands in quotes is no code.
fn words(code: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut rest = code;
    while let Some(first) = rest.chars().next() {
        let is_name = |sign: char| sign.is_alphanumeric() || sign == '_';
        let length = if is_name(first) {
            rest.find(|sign| !is_name(sign)).unwrap_or(rest.len())
        } else if rest.starts_with("::") {
            2
        } else if rest.starts_with("'\"'") {
            3
        } else if first == '"' {
            let mut escaped = false;
            let end = rest[1..].find(|sign| {
                let ends = sign == '"' && !escaped;
                escaped = sign == '\\' && !escaped;
                ends
            });
            rest = &rest[end.map_or(rest.len(), |end| end + 2)..];
            continue;
        } else {
            first.len_utf8()
        };
        let (word, behind) = rest.split_at(length);
        if !word.trim().is_empty() {
            words.push(word.to_owned());
        }
        rest = behind;
    }
    words
}

fn is_name(word: &str) -> bool {
    word.starts_with(|sign: char| sign.is_alphabetic() || sign == '_')
}

/// Reads uses, and paths that are written where something is used.
fn read(words: &[String]) -> Said {
    let mut said = Said::default();
    let mut at = 0;
    let is = |at: usize, word: &str| words.get(at).is_some_and(|other| other == word);
    while at < words.len() {
        if is(at, "mod") && is(at + 2, ";") {
            at += 3;
        } else if is(at, "pub") && is(at + 1, "(") && is(at + 2, "in") {
            // Who may see it, which says nothing of who is named.
            while !is(at, ")") && at < words.len() {
                at += 1;
            }
        } else if is(at, "use") {
            let public = at > 0 && (is(at - 1, "pub") || is(at - 1, ")"));
            let mut found = Vec::new();
            at = read_use(words, at + 1, &[], &mut found);
            match public {
                true => said.hands_on.append(&mut found),
                false => said.uses.append(&mut found),
            }
        } else if is_name(&words[at]) && is(at + 1, "::") {
            let mut path = vec![words[at].clone()];
            at += 1;
            while is(at, "::") && words.get(at + 1).is_some_and(|word| is_name(word)) {
                path.push(words[at + 1].clone());
                at += 2;
            }
            at += usize::from(is(at, "::"));
            said.words.insert(path[0].clone());
            let name = path[path.len() - 1].clone();
            said.uses.push(Named { path, name });
        } else {
            said.words.insert(words[at].clone());
            at += 1;
        }
    }
    said
}

/// Reads one branch of a use from `at` on; where it ends.
fn read_use(words: &[String], mut at: usize, before: &[String], found: &mut Vec<Named>) -> usize {
    let mut path = before.to_vec();
    loop {
        if words[at] == "{" {
            at += 1;
            while words[at] != "}" {
                at = read_use(words, at, &path, found);
                at += usize::from(words[at] == ",");
            }
            return at + 1;
        }
        if words[at] != "self" || path.is_empty() {
            path.push(words[at].clone());
        }
        at += 1;
        if words[at] == "::" {
            at += 1;
            continue;
        }
        let mut name = path[path.len() - 1].clone();
        if words[at] == "as" {
            name.clone_from(&words[at + 1]);
            at += 2;
        }
        found.push(Named { path, name });
        return at;
    }
}

/// A path as seen from the top of the crate; none where it leads into another crate.
fn from_the_top(
    module: &str,
    path: &[String],
    files: &BTreeMap<String, String>,
) -> Option<Vec<String>> {
    let mut place: Vec<String> = match module {
        "" => Vec::new(),
        module => module.split("::").map(str::to_owned).collect(),
    };
    let mut path = path;
    match path[0].as_str() {
        "crate" => {
            place.clear();
            path = &path[1..];
        }
        "self" => path = &path[1..],
        "super" => {
            while path.first().is_some_and(|word| word == "super") {
                place.pop();
                path = &path[1..];
            }
        }
        // A module below this file, by its bare name.
        _ => {
            let below = [place.clone(), vec![path[0].clone()]].concat();
            if !files.contains_key(&below.join("::")) {
                return None;
            }
        }
    }
    place.extend_from_slice(path);
    Some(place)
}

/// The file that holds what a path leads to: the longest beginning of it that is a file, or where that one has it from.
fn holder(
    path: Vec<String>,
    files: &BTreeMap<String, String>,
    handed_on: &BTreeMap<(String, String), Vec<String>>,
) -> String {
    let mut path = path;
    // A crate hands nothing on more often than it has files.
    for _ in 0..=files.len() {
        let mut length = path.len();
        while !files.contains_key(&path[..length].join("::")) {
            length -= 1;
        }
        let file = path[..length].join("::");
        let further = path
            .get(length)
            .and_then(|name| handed_on.get(&(file.clone(), name.clone())));
        match further {
            Some(further) => path = [further.as_slice(), &path[length + 1..]].concat(),
            None => return file,
        }
    }
    panic!("{path:?} is handed on in a circle");
}
