//! `tellmark preview`: one server on any free port over a small collection of its own. Nothing sleeps: tests wait on the
//! stream of editions, with a limit.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::time::Duration;

use tellmark::preview::{self, Options, Preview};
use tempfile::TempDir;

const PATIENCE: Duration = Duration::from_secs(60);

const COLLECTION: &str = "name = \"Small\"\nreal = false\npublic = true\n";
const TERM: &str = "term = \"field\"\n[meaning]\ntext = '''The flat part of a face.'''\nbasis = \"common-practice\"\n";

fn small_collection() -> TempDir {
    let folder = TempDir::new().unwrap();
    fs::create_dir_all(folder.path().join("glossary")).unwrap();
    fs::write(folder.path().join("collection.toml"), COLLECTION).unwrap();
    fs::write(folder.path().join("glossary/field.toml"), TERM).unwrap();
    folder
}

fn preview(folder: &Path) -> Preview {
    preview::start(&Options { roots: vec![folder.to_path_buf()], photos: vec![], port: 0, today: None }).unwrap()
}

fn connect(address: SocketAddr) -> TcpStream {
    let stream = TcpStream::connect(address).unwrap();
    stream.set_read_timeout(Some(PATIENCE)).unwrap();
    stream
}

/// The whole answer: status line, headers and body.
fn ask(address: SocketAddr, line: &str, host: &str) -> String {
    let mut stream = connect(address);
    write!(stream, "{line} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n").unwrap();
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).unwrap();
    String::from_utf8_lossy(&answer).into_owned()
}

fn get(preview: &Preview, path: &str) -> String {
    ask(preview.address(), &format!("GET {path}"), &preview.address().to_string())
}

/// The stream of editions, as a page reads it.
struct Editions(BufReader<TcpStream>);

impl Editions {
    fn of(preview: &Preview) -> Editions {
        let address = preview.address();
        let mut stream = connect(address);
        write!(stream, "GET /_preview/events HTTP/1.1\r\nHost: {address}\r\n\r\n").unwrap();
        Editions(BufReader::new(stream))
    }

    fn next(&mut self) -> u64 {
        loop {
            let mut line = String::new();
            assert!(self.0.read_line(&mut line).unwrap() > 0, "the stream of editions ended");
            if let Some(number) = line.strip_prefix("data:") {
                return number.trim().parse().unwrap();
            }
        }
    }
}

fn has(answer: &str, parts: &[&str]) {
    for part in parts {
        assert!(answer.contains(part), "no `{part}` in:\n{answer}");
    }
}

#[test]
fn the_site_is_served_with_the_types_its_files_have() {
    let folder = small_collection();
    let preview = preview(folder.path());
    assert!(preview.address().ip().is_loopback());
    let front = get(&preview, "/");
    has(&front, &["HTTP/1.1 200", "content-type: text/html; charset=utf-8", "cache-control: no-store"]);
    has(&front, &["cross-origin-resource-policy: same-origin", "/_preview/reload.js\" data-edition=\"1\""]);
    assert!(!front.contains("preview-problems"), "an entry without problems is shown without an overlay");
    has(&get(&preview, "/glossary/field.html?x=1"), &["200 OK", "The flat part of a face."]);
    has(&get(&preview, "/glossary/"), &["200 OK", "field"]);
    has(&get(&preview, "/look/tellmark.css"), &["content-type: text/css; charset=utf-8"]);
    has(&get(&preview, "/look/page.js"), &["content-type: text/javascript; charset=utf-8"]);
    has(&get(&preview, "/knowledge.json"), &["content-type: application/json"]);
    has(&get(&preview, "/README.md"), &["content-type: text/plain; charset=utf-8"]);
    has(&get(&preview, "/_preview/reload.js"), &["200 OK", "EventSource"]);
    let head = ask(preview.address(), "HEAD /index.html", &preview.address().to_string());
    assert!(head.contains("200 OK") && !head.contains("<html"));
}

#[test]
fn a_save_is_shown_and_a_broken_entry_leaves_the_last_good_pages_under_its_problem() {
    let folder = small_collection();
    let preview = preview(folder.path());
    let entry = folder.path().join("glossary/field.toml");
    let mut editions = Editions::of(&preview);
    assert_eq!(editions.next(), 1);

    fs::write(&entry, TERM.replace("flat part", "open part")).unwrap();
    assert_eq!(editions.next(), 2);
    let page = get(&preview, "/glossary/field.html");
    has(&page, &["The open part of a face.", "data-edition=\"2\""]);

    fs::write(&entry, TERM.replace("basis", "bases")).unwrap();
    assert_eq!(editions.next(), 3);
    let page = get(&preview, "/glossary/field.html");
    has(&page, &["200 OK", "The open part of a face.", "role=\"alert\"", "In this entry", "error[basis-missing]"]);
    has(&page, &["glossary/field.toml:2:1", "did you mean `basis`?", "2 errors in the entries"]);
    let front = get(&preview, "/index.html");
    has(&front, &["200 OK", "role=\"alert\"", "error[unknown-key]"]);
    assert!(!front.contains("In this entry"));

    // A new entry that never was whole has no page yet: its address shows why.
    fs::write(folder.path().join("glossary/rim.toml"), "term = \"rim\"\n").unwrap();
    assert_eq!(editions.next(), 4);
    has(&get(&preview, "/glossary/rim.html"), &["404 Not Found", "This entry has problems", "has no `meaning`"]);

    fs::remove_file(folder.path().join("glossary/rim.toml")).unwrap();
    fs::write(&entry, TERM).unwrap();
    // The two saves may be seen together or one by one.
    while get(&preview, "/glossary/field.html").contains("preview-problems") {
        editions.next();
    }
    has(&get(&preview, "/glossary/field.html"), &["The flat part of a face."]);
}

#[test]
fn a_collection_broken_from_the_start_shows_why_on_every_page() {
    let folder = small_collection();
    fs::write(folder.path().join("glossary/field.toml"), "term = <b>").unwrap();
    let preview = preview(folder.path());
    let front = get(&preview, "/");
    has(&front, &["404 Not Found", "There are no pages yet", "error[syntax]", "/_preview/reload.js"]);
    assert!(!front.contains("<b>"), "what an entry holds is never markup of the overlay");
    let mut editions = Editions::of(&preview);
    assert_eq!(editions.next(), 1);
    fs::write(folder.path().join("glossary/field.toml"), TERM).unwrap();
    editions.next();
    has(&get(&preview, "/"), &["200 OK"]);
}

#[test]
fn a_name_that_was_made_to_lead_here_is_refused() {
    let folder = small_collection();
    let preview = preview(folder.path());
    let port = preview.address().port();
    for host in ["evil.example", &format!("evil.example:{port}"), "127.0.0.1", ""] {
        let answer = ask(preview.address(), "GET /index.html", host);
        has(&answer, &["403 Forbidden", &format!("open http://127.0.0.1:{port}/")]);
        assert!(!answer.contains("<html"));
    }
    has(&ask(preview.address(), "GET /_preview/events", "evil.example"), &["403 Forbidden"]);
    has(&ask(preview.address(), "GET /", &format!("localhost:{port}")), &["200 OK"]);
    has(
        &ask(preview.address(), "POST /", &format!("localhost:{port}")),
        &["405 Method Not Allowed", "allow: GET, HEAD"],
    );
}

#[test]
fn no_path_leaves_the_site() {
    let folder = small_collection();
    let preview = preview(folder.path());
    for path in ["/../collection.toml", "/%2e%2e/collection.toml", "//etc/hosts", "/%2fetc/hosts", "/collection.toml"] {
        let answer = get(&preview, path);
        has(&answer, &["404 Not Found"]);
        assert!(!answer.contains("real = false") && !answer.contains("localhost"), "{path}:\n{answer}");
    }
}

#[test]
fn a_page_that_is_not_there_names_the_nearest() {
    let folder = small_collection();
    let preview = preview(folder.path());
    let answer = get(&preview, "/glossary/feild.html");
    has(&answer, &["404 Not Found", "No such page", "<a href=\"/glossary/field.html\">", "To the front page"]);
    let answer = get(&preview, "/%3Cscript%3Ealert(1)%3C/script%3E");
    assert!(!answer.contains("<script>"), "{answer}");
}

#[test]
fn a_port_in_use_is_named() {
    let folder = small_collection();
    let first = preview(folder.path());
    let port = first.address().port();
    let second =
        preview::start(&Options { roots: vec![folder.path().to_path_buf()], photos: vec![], port, today: None });
    let message = second.err().map(|error| error.to_string()).unwrap();
    has(&message, &[&format!("port {port}"), "--port"]);
}
