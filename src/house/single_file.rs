//! The page as one file that opens from a phone's files without any server.
//!
//! The site's page already has its styles and scripts inside. Icons are added as data URLs, and the engine as gzip in base64, which the
//! page unpacks itself. A tag that would load anything else is refused, so the file never loads another.

use crate::engine::Engine;
use crate::files::gzip;
use crate::markup::{attribute, linked, name, rewritten};
use crate::policy::{Comes, guarded};
use crate::site::{NOTICES, Site};
use anyhow::{Result, bail};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

/// Makes the file out of a site.
pub fn assemble(site: &Site, engine: &Engine) -> Result<String> {
    let page = rewritten(site.text("index.html")?, |tag| {
        Ok(match (name(tag), attribute(tag, "rel")) {
            ("link", Some("icon")) => Some(icon(site, tag)?),
            ("link", Some("manifest" | "apple-touch-icon")) => Some(String::new()),
            // After the scripts that start the page, so that they need not wait until a million characters are read.
            ("/body", _) => Some(engine_elements(site, engine)? + tag),
            _ => {
                refuse_outside(tag)?;
                None
            }
        })
    })?;
    guarded(&page, Comes::AsOneFile)
}

fn icon(site: &Site, tag: &str) -> Result<String> {
    let name = linked(tag)?;
    let kind = if name.ends_with(".svg") {
        "image/svg+xml"
    } else {
        "image/png"
    };
    Ok(format!(
        "<link rel=\"icon\" type=\"{kind}\" href=\"data:{kind};base64,{}\">",
        STANDARD.encode(site.bytes(name)?)
    ))
}

fn engine_elements(site: &Site, engine: &Engine) -> Result<String> {
    let element = |id: &str, bytes: &[u8]| -> Result<String> {
        Ok(format!(
            "<script type=\"text/plain\" id=\"{id}\">{}</script>\n",
            STANDARD.encode(gzip(bytes)?)
        ))
    };
    Ok(element("engine-worker", site.bytes("engine-worker.js")?)?
        + &element("engine-module", &engine.module)?
        + &element("crate-notices", site.bytes(NOTICES)?)?)
}

fn refuse_outside(tag: &str) -> Result<()> {
    let leads_out = |address: &str| !address.starts_with('#') && !address.starts_with("data:");
    let source = attribute(tag, "src").filter(|address| leads_out(address));
    let link = attribute(tag, "href")
        .filter(|address| leads_out(address) && !address.starts_with("https://"));
    if let Some(address) = source.or(link) {
        bail!("index.html leads to {address}, which the one file does not carry");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workshop::root;

    #[test]
    fn our_own_page_goes_into_one_file_that_asks_for_no_other() {
        let engine = Engine {
            module: b"module".to_vec(),
            script: "let wasm_bindgen;".to_owned(),
        };
        let site = Site::build(&root().join("www"), &engine).unwrap();
        let file = assemble(&site, &engine).unwrap();
        let tags = || file.split('<').filter(|tag| !tag.starts_with('/'));
        assert!(tags().all(|tag| attribute(tag, "src").is_none()));
        assert_eq!(file.matches("id=\"engine-module\"").count(), 1);
        assert_eq!(file.matches("id=\"crate-notices\"").count(), 1);
        let starts = ["<script>", "<script type=\"text/rest\">"];
        assert!(starts.iter().all(|tag| file.matches(tag).count() == 1));
        let places = starts.map(|tag| file.find(tag));
        assert!(places[0] < places[1] && places[1] < file.find("id=\"engine-module\""));
        // The example is there, as the fixture has it.
        assert_eq!(file.matches("\"piece\":\"Bin store\"").count(), 1);
        assert!(!file.contains("from \"./"));
    }

    #[test]
    fn a_page_that_leads_elsewhere_is_refused() {
        assert!(refuse_outside("<img src=\"board.png\">").is_err());
        assert!(refuse_outside("<a href=\"about.html\">").is_err());
        assert!(refuse_outside("<a href=\"#plan\">").is_ok());
        assert!(refuse_outside("<img alt=\"\" src=\"data:image/png;base64,\">").is_ok());
    }
}
