//! HTML, read tag by tag: enough to change our own page.

use anyhow::{Context, Result};

/// The page in which every tag for which `act` returns a text is replaced by that text. The contents of scripts and styles are no tags.
pub fn rewritten(
    page: &str,
    mut act: impl FnMut(&str) -> Result<Option<String>>,
) -> Result<String> {
    let mut written = String::new();
    let mut rest = page;
    while let Some(start) = rest.find('<') {
        written.push_str(&rest[..start]);
        let length = rest[start..]
            .find('>')
            .context("the page ends inside a tag")?
            + 1;
        let tag = &rest[start..start + length];
        rest = &rest[start + length..];
        written.push_str(act(tag)?.as_deref().unwrap_or(tag));
        if let raw @ ("script" | "style") = name(tag) {
            let end = rest
                .find(&format!("</{raw}"))
                .with_context(|| format!("{tag} has no end"))?;
            written.push_str(&rest[..end]);
            rest = &rest[end..];
        }
    }
    written.push_str(rest);
    Ok(written)
}

/// Every script and style of a page: its tag, and the text in it.
pub fn raw_texts(page: &str) -> Result<Vec<(&str, &str)>> {
    let mut texts = Vec::new();
    let mut rest = page;
    while let Some(start) = rest.find('<') {
        let length = rest[start..]
            .find('>')
            .context("the page ends inside a tag")?
            + 1;
        let tag = &rest[start..start + length];
        rest = &rest[start + length..];
        if let raw @ ("script" | "style") = name(tag) {
            let end = rest
                .find(&format!("</{raw}"))
                .with_context(|| format!("{tag} has no end"))?;
            texts.push((tag, &rest[..end]));
            rest = &rest[end..];
        }
    }
    Ok(texts)
}

/// The name of a tag, with its slash when it closes.
pub fn name(tag: &str) -> &str {
    tag[1..]
        .split(|c: char| c.is_whitespace() || c == '>')
        .next()
        .unwrap_or_default()
}

/// The value of an attribute written `name="value"`.
pub fn attribute<'tag>(tag: &'tag str, name: &str) -> Option<&'tag str> {
    let start = tag.find(&format!(" {name}=\""))? + name.len() + 3;
    tag[start..].split('"').next()
}

/// The file to which the `href` of a tag leads, as the site names it.
pub fn linked(tag: &str) -> Result<&str> {
    Ok(attribute(tag, "href")
        .with_context(|| format!("{tag} leads nowhere"))?
        .trim_start_matches("./"))
}

/// The text of a script, changed so that it cannot end the element around it.
pub fn shielded(script: &str) -> String {
    script
        .replace("</script", "<\\/script")
        .replace("<!--", "<\\!--")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_are_changed_and_what_scripts_say_is_not() {
        let page = "<p class=\"a\">1 &lt; 2</p><script>if (1 <p> 2) end();</script><p>";
        let act = |tag: &str| Ok((name(tag) == "p").then(|| "<b>".to_owned()));
        assert_eq!(
            rewritten(page, act).unwrap(),
            "<b>1 &lt; 2</p><script>if (1 <p> 2) end();</script><b>"
        );
    }

    #[test]
    fn scripts_and_styles_are_found_with_what_stands_in_them() {
        let page = "<p><style>p > b {}</style><script id=\"a\">1 < 2</script>";
        let found = [("<style>", "p > b {}"), ("<script id=\"a\">", "1 < 2")];
        assert_eq!(raw_texts(page).unwrap(), found);
    }

    #[test]
    fn a_script_cannot_end_the_element_around_it() {
        assert_eq!(shielded("'</script>' + '<!--'"), "'<\\/script>' + '<\\!--'");
    }
}
