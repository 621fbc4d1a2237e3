//! Prose held to examples of the CommonMark specification, version 0.31.2: what is allowed is rendered as there, what is
//! not allowed is refused.

mod fixture;

use std::fs;
use std::path::Path;

use fixture::{TODAY, check, lay};
use tellmark::corpus::Corpus;
use tellmark::diagnostic::Diagnostic;
use tellmark::render::Theme;
use tempfile::TempDir;

/// The small collection with one more term, whose meaning is the text.
fn with_meaning(text: &str) -> (TempDir, Corpus, Vec<Diagnostic>) {
    let folder = lay(Path::new(""));
    let entry = format!("term = \"prow\"\n\n[meaning]\ntext = '''\n{text}'''\nbasis = \"common-practice\"\n");
    fs::write(folder.path().join("orrin/glossary/prow.toml"), entry).expect("the term can be written");
    let (corpus, problems) = check(folder.path());
    (folder, corpus, problems)
}

fn allowed(text: &str, html: &str) {
    let (_folder, corpus, problems) = with_meaning(text);
    assert!(problems.is_empty(), "{text}: {problems:?}");
    let theme = Theme::built_in().expect("the theme is whole");
    let site = tellmark::site(&corpus, &theme, Some(TODAY)).expect("pages fit");
    let page = site.iter().find(|file| file.path == "glossary/prow.html").expect("the page of the term");
    let page = String::from_utf8_lossy(page.bytes()).replace("&quot;", "\"");
    let html = html.replace("&quot;", "\"");
    assert!(page.contains(&format!(">{html}<")), "{text}\nshould be\n{html}\nin\n{page}");
}

fn refused(text: &str, code: &str) {
    let (_folder, _, problems) = with_meaning(text);
    assert!(!problems.is_empty(), "{text} should be refused");
    assert!(problems.iter().all(|problem| problem.code.name() == code), "{text}: {problems:?}");
}

#[test]
fn section_2_4_a_backslash_takes_away_meaning() {
    allowed(r"\*not emphasized*", "<p>*not emphasized*</p>");
    allowed(r"\<br/> not a tag", "<p>&lt;br/&gt; not a tag</p>");
    allowed(r"\[not a link](/foo)", "<p>[not a link](/foo)</p>");
    allowed(r"\`not code`", "<p>`not code`</p>");
    allowed(r"\\*emphasis*", r"<p>\<em>emphasis</em></p>");
}

#[test]
fn section_2_5_character_references_are_characters() {
    allowed("&#35; &#1234; &#992;", "<p># Ӓ Ϡ</p>");
    allowed("&#42;foo&#42;\n*foo*", "<p>*foo*\n<em>foo</em></p>");
}

#[test]
fn section_4_7_links_by_reference_lead_to_entries() {
    allowed(
        "[foo]: glossary/die-polish \"title\"\n\n[foo]",
        "<p><a href=\"die-polish.html\" title=\"title\">foo</a></p>",
    );
}

#[test]
fn section_4_8_paragraphs_are_parted_by_blank_lines() {
    allowed("aaa\n\nbbb", "<p>aaa</p>\n<p>bbb</p>");
    allowed("aaa\nbbb\n\nccc\nddd", "<p>aaa\nbbb</p>\n<p>ccc\nddd</p>");
}

#[test]
fn section_5_3_lists() {
    allowed("- foo\n- bar\n+ baz", "<ul>\n<li>foo</li>\n<li>bar</li>\n</ul>\n<ul>\n<li>baz</li>\n</ul>");
    allowed("1. foo\n2. bar\n3) baz", "<ol>\n<li>foo</li>\n<li>bar</li>\n</ol>\n<ol start=\"3\">\n<li>baz</li>\n</ol>");
    allowed("Foo\n- bar\n- baz", "<p>Foo</p>\n<ul>\n<li>bar</li>\n<li>baz</li>\n</ul>");
}

#[test]
fn section_6_1_code() {
    allowed("`foo`", "<p><code>foo</code></p>");
    allowed("`` foo ` bar ``", "<p><code>foo ` bar</code></p>");
    allowed("`<a href=\"`\">`", "<p><code>&lt;a href=&quot;</code>&quot;&gt;`</p>");
}

#[test]
fn section_6_2_emphasis() {
    allowed("*foo bar*", "<p><em>foo bar</em></p>");
    allowed("a * foo bar*", "<p>a * foo bar*</p>");
    allowed("foo*bar*", "<p>foo<em>bar</em></p>");
    allowed("5*6*78", "<p>5<em>6</em>78</p>");
    allowed("пристаням_стремятся_", "<p>пристаням_стремятся_</p>");
    allowed("foo-_(bar)_", "<p>foo-<em>(bar)</em></p>");
    allowed("**foo bar**", "<p><strong>foo bar</strong></p>");
    allowed("*foo **bar** baz*", "<p><em>foo <strong>bar</strong> baz</em></p>");
}

#[test]
fn section_6_3_links_lead_to_entries_only() {
    allowed("[link](glossary/die-polish \"title\")", "<p><a href=\"die-polish.html\" title=\"title\">link</a></p>");
    allowed("[link](<glossary/die-polish>)", "<p><a href=\"die-polish.html\">link</a></p>");
    refused("[link](http://example.com?foo=3#frag)", "forbidden-link");
    allowed(r"[link](<foo\>)", "<p>[link](&lt;foo&gt;)</p>");
    refused("[link](/uri)", "dangling-reference");
}

#[test]
fn section_6_4_images_are_refused() {
    refused("![foo](/url \"title\")", "forbidden-link");
    refused("My ![foo bar](/path/to/train.jpg  \"title\"   )", "forbidden-link");
    allowed(r"\!\[foo]", "<p>![foo]</p>");
}

#[test]
fn section_6_5_autolinks_are_refused() {
    refused("<http://foo.bar.baz>", "forbidden-link");
    refused("<MAILTO:FOO@BAR.BAZ>", "forbidden-link");
    refused("<foo@bar.example.com>", "forbidden-link");
    allowed("< https://foo.bar >", "<p>&lt; https://foo.bar &gt;</p>");
    allowed("https://example.com", "<p>https://example.com</p>");
}

#[test]
fn sections_4_6_and_6_6_html_is_refused() {
    refused("<a><bab><c2c>", "raw-html");
    refused("<a/><b2/>", "raw-html");
    refused("foo <!-- this is a --\ncomment - with hyphens -->", "raw-html");
    refused("foo <?php echo $a; ?>", "raw-html");
    refused("<table><tr><td>\n<pre>\n**Hello**,\n\n_world_.\n</pre>\n</td></tr></table>", "raw-html");
    refused("<script type=\"text/javascript\">\n// JavaScript example\n</script>", "raw-html");
    allowed("<33> <__>", "<p>&lt;33&gt; &lt;__&gt;</p>");
}

#[test]
fn section_6_7_a_line_breaks_where_asked() {
    allowed("foo  \nbaz", "<p>foo<br />\nbaz</p>");
    allowed("foo\\\nbaz", "<p>foo<br />\nbaz</p>");
}
