//! The page as one file that opens from a phone's files, without any server.
//!
//! Every link of `index.html` is replaced by what it leads to: styles and scripts as text, icons as data, the engine as
//! gzip in base64, which the page unpacks itself. What cannot be carried is refused, so the file never asks for another.

use crate::engine::Engine;
use crate::page::gzip;
use crate::site::Site;
use anyhow::{Context, Result, bail};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

/// Makes the file out of a site.
pub fn assemble(site: &Site, engine: &Engine) -> Result<String> {
    let page = site.text("index.html")?;
    let mut file = String::new();
    let mut scripts = String::new();
    let mut rest = page;
    while let Some(start) = rest.find('<') {
        file.push_str(&rest[..start]);
        let end = start
            + rest[start..]
                .find('>')
                .context("index.html ends inside a tag")?
            + 1;
        let tag = &rest[start..end];
        rest = &rest[end..];
        match (name(tag), attribute(tag, "rel"), attribute(tag, "src")) {
            ("link", Some("stylesheet"), _) => file.push_str(&style(site, tag)?),
            ("link", Some("icon"), _) => file.push_str(&icon(site, tag)?),
            ("link", Some("manifest" | "apple-touch-icon" | "modulepreload" | "preload"), _) => {}
            ("script", _, Some(source)) => {
                scripts.push_str(site.text(source.trim_start_matches("./"))?);
                rest = rest
                    .trim_start()
                    .strip_prefix("</script>")
                    .context("a script with a source has text")?;
            }
            ("/body", ..) => {
                file.push_str(&engine_elements(site, engine)?);
                file.push_str(&format!(
                    "<script type=\"module\">\n{}</script>\n{tag}",
                    shielded(&scripts)
                ));
            }
            _ => {
                refuse_outside(tag)?;
                file.push_str(tag);
            }
        }
    }
    file.push_str(rest);
    Ok(file)
}

fn style(site: &Site, tag: &str) -> Result<String> {
    let text = site.text(linked(tag)?)?;
    if text.contains("@import")
        || text
            .replace("url(data:", "")
            .replace("url(\"data:", "")
            .replace("url(#", "")
            .contains("url(")
    {
        bail!("a style that leads to another file is not carried into one file");
    }
    let media = attribute(tag, "media")
        .map(|media| format!(" media=\"{media}\""))
        .unwrap_or_default();
    Ok(format!("<style{media}>\n{text}</style>"))
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
        + &element("engine-module", &engine.module)?)
}

/// A script's text that cannot end the element around it.
fn shielded(script: &str) -> String {
    script
        .replace("</script", "<\\/script")
        .replace("<!--", "<\\!--")
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

fn linked(tag: &str) -> Result<&str> {
    Ok(attribute(tag, "href")
        .with_context(|| format!("{tag} leads nowhere"))?
        .trim_start_matches("./"))
}

/// The name of a tag, with its slash when it closes.
fn name(tag: &str) -> &str {
    tag[1..]
        .split(|c: char| c.is_whitespace() || c == '>')
        .next()
        .unwrap_or_default()
}

/// The value of an attribute written `name="value"`.
fn attribute<'tag>(tag: &'tag str, name: &str) -> Option<&'tag str> {
    let start = tag.find(&format!(" {name}=\""))? + name.len() + 3;
    tag[start..].split('"').next()
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
        assert_eq!(file.matches("<script type=\"module\">").count(), 1);
        assert!(!file.contains("from \"./"));
    }

    #[test]
    fn a_page_that_leads_elsewhere_is_refused() {
        assert!(refuse_outside("<img src=\"board.png\">").is_err());
        assert!(refuse_outside("<a href=\"about.html\">").is_err());
        assert!(refuse_outside("<a href=\"#plan\">").is_ok());
        assert!(refuse_outside("<img alt=\"\" src=\"data:image/png;base64,\">").is_ok());
    }

    #[test]
    fn a_script_cannot_end_the_element_around_it() {
        assert_eq!(shielded("'</script>' + '<!--'"), "'<\\/script>' + '<\\!--'");
    }
}
