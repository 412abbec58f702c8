//! What the page may load and run: its content security policy.
//!
//! Everything is forbidden that is not named. Scripts and styles inside the page are named by their SHA-256, so a script that gets into the
//! document in any other way does not run. The policy is inside the page itself, so it holds on every host; our own server sends it as a
//! header too.

use crate::markup::{attribute, name, raw_texts, rewritten};
use anyhow::{Result, bail};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lengthwise::report::drawing_style;
use sha2::{Digest, Sha256};

/// How the page comes to a device.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Comes {
    /// As a site: the engine, the icons and the service worker are separate files.
    AsSite,
    /// As one file that loads no other; it unpacks its engine from a data URL.
    AsOneFile,
}

/// The page with its policy in the place that `index.html` has for it.
pub fn guarded(page: &str, comes: Comes) -> Result<String> {
    let policy = policy(page, comes)?;
    let mut places = 0;
    let written = rewritten(page, |tag| {
        let is_place = attribute(tag, "http-equiv") == Some("Content-Security-Policy");
        places += usize::from(is_place);
        Ok(is_place
            .then(|| format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">")))
    })?;
    if places != 1 {
        bail!("index.html has {places} places for its content security policy, not one");
    }
    Ok(written)
}

fn policy(page: &str, comes: Comes) -> Result<String> {
    // Each drawing of the engine has the same style sheet.
    let (mut scripts, mut styles) = (Vec::new(), vec![integrity(drawing_style().as_bytes())]);
    for (tag, text) in raw_texts(page)? {
        match (name(tag), attribute(tag, "type")) {
            ("style", _) => styles.push(integrity(text.as_bytes())),
            ("script", None | Some("text/rest")) if attribute(tag, "src").is_none() => {
                scripts.push(integrity(text.as_bytes()));
            }
            ("script", Some("application/json" | "text/plain")) => {}
            _ => bail!("{tag} is not covered by the content security policy"),
        }
    }
    let list = |hashes: Vec<String>| {
        let quoted = hashes.iter().map(|hash| format!(" '{hash}'"));
        quoted.collect::<String>()
    };
    let (scripts, styles) = (list(scripts), list(styles));
    let (own, worker, connect, rest) = match comes {
        Comes::AsSite => (
            " 'self'",
            "'self' blob:",
            "'self'",
            "img-src 'self'; manifest-src 'self'; ",
        ),
        Comes::AsOneFile => ("", "blob:", "data:", "img-src data:; "),
    };
    Ok(format!(
        "default-src 'none'; script-src{own} 'wasm-unsafe-eval'{scripts}; style-src{styles}; \
         worker-src {worker}; connect-src {connect}; {rest}base-uri 'none'; form-action 'none'"
    ))
}

/// The SHA-256 of some bytes, in the notation of browsers.
pub fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(bytes)))
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLACE: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"\">";

    /// The SHA-256 of the empty message, as published with FIPS 180-4: e3b0c442 98fc1c14 ...
    #[test]
    fn a_digest_is_written_as_browsers_write_it() {
        assert_eq!(
            integrity(b""),
            "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU="
        );
    }

    #[test]
    fn each_script_that_runs_and_each_style_is_named_by_its_digest() {
        let page = format!(
            "{PLACE}<style>p{{}}</style><script>run();</script><script type=\"text/rest\">rest();</script>\
             <script type=\"application/json\" id=\"x\">{{}}</script>"
        );
        let page = guarded(&page, Comes::AsSite).unwrap();
        for text in ["p{}", "run();", "rest();"] {
            assert_eq!(page.matches(&integrity(text.as_bytes())).count(), 1);
        }
        assert!(!page.contains(&integrity(b"{}")));
        assert!(!page.contains("unsafe-inline") && page.contains("default-src 'none'"));
    }

    #[test]
    fn a_page_without_a_place_for_its_policy_is_refused() {
        assert!(guarded("<p>", Comes::AsOneFile).is_err());
        assert!(guarded(&PLACE.repeat(2), Comes::AsOneFile).is_err());
    }
}
