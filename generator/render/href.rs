//! Links between pages: relative, and ending in a file name, so that they work from a disk.

/// The way from one page to another, both as paths below the site's folder. An anchor may follow the target.
pub fn href(from: &str, to: &str) -> String {
    let (path, anchor) = to.split_once('#').map_or((to, None), |(path, anchor)| (path, Some(anchor)));
    let mut out = String::new();
    if path != from {
        let here: Vec<&str> = from.split('/').collect();
        let there: Vec<&str> = path.split('/').collect();
        let shared = here[..here.len() - 1].iter().zip(&there[..there.len() - 1]).take_while(|(a, b)| a == b).count();
        out.push_str(&"../".repeat(here.len() - 1 - shared));
        out.push_str(&there[shared..].join("/"));
    }
    if let Some(anchor) = anchor {
        out.push('#');
        out.push_str(anchor);
    }
    if out.is_empty() {
        // A page that links to itself without an anchor.
        out.push_str(from.rsplit('/').next().unwrap_or(from));
    }
    out
}

/// The way from a page to the site's folder: `../../` or nothing.
pub fn root(from: &str) -> String {
    "../".repeat(from.matches('/').count())
}

#[cfg(test)]
mod tests {
    use super::href;

    #[test]
    fn links_are_relative_and_end_in_a_file() {
        assert_eq!(href("issues/us/dime/1916-d.html", "issues/us/dime/1921-d.html"), "1921-d.html");
        assert_eq!(
            href("issues/us/dime/1916-d.html", "alterations/mark-added.html"),
            "../../../alterations/mark-added.html"
        );
        assert_eq!(href("index.html", "series/us/dime.html"), "series/us/dime.html");
        assert_eq!(href("a/b.html", "a/b.html#c"), "#c");
        assert_eq!(href("a/b.html", "index.html#x"), "../index.html#x");
        assert_eq!(href("a/b.html", "a/b.html"), "b.html");
    }
}
