//! What a request asks for: a path of the site, from a host that is this machine.

use std::net::SocketAddr;

/// Whether the `Host` header names this machine and this port. A page of another site whose name was made to lead here
/// sends its own name, and is refused.
pub fn is_loopback(host: &str, address: SocketAddr) -> bool {
    let (name, port) = match host.rsplit_once(':') {
        Some((name, port)) if !port.ends_with(']') => (name, port),
        _ => (host, "80"),
    };
    let own_port = !port.is_empty() && port.bytes().all(|b| b.is_ascii_digit()) && port.parse() == Ok(address.port());
    own_port && (name.eq_ignore_ascii_case("localhost") || name == "127.0.0.1" || name == "[::1]")
}

/// The path below the site's folder that a request's path means; `None` if it is not one. Only looked up among the
/// files in memory, so it cannot lead anywhere else.
pub fn site_path(request: &str) -> Option<String> {
    let path = decode(request.strip_prefix('/')?)?;
    let climbs = path.split('/').any(|part| part == ".." || part == ".");
    if climbs || path.contains(['\\', '\0']) || path.starts_with('/') {
        return None;
    }
    Some(if path.is_empty() || path.ends_with('/') { format!("{path}index.html") } else { path })
}

/// Undoes `%41`; `None` if what comes out is not UTF-8.
fn decode(text: &str) -> Option<String> {
    let mut out = Vec::with_capacity(text.len());
    let mut bytes = text.bytes();
    while let Some(byte) = bytes.next() {
        if byte != b'%' {
            out.push(byte);
            continue;
        }
        let digit = |byte: Option<u8>| char::from(byte?).to_digit(16);
        let (high, low) = (digit(bytes.next())?, digit(bytes.next())?);
        out.push((high * 16 + low) as u8);
    }
    String::from_utf8(out).ok()
}

/// By the last part of the name.
pub fn content_type(path: &str) -> &'static str {
    match path.rsplit_once('.').map(|(_, ending)| ending) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("json") => "application/json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("jpg" | "jpeg") => "image/jpeg",
        _ => "text/plain; charset=utf-8",
    }
}

#[cfg(test)]
mod tests {
    use super::{is_loopback, site_path};

    #[test]
    fn only_this_machine_and_port_are_answered() {
        let address = "127.0.0.1:4410".parse().unwrap();
        for good in ["127.0.0.1:4410", "localhost:4410", "LocalHost:4410", "[::1]:4410"] {
            assert!(is_loopback(good, address), "{good}");
        }
        let bad =
            ["", "127.0.0.1", "127.0.0.1:80", "[::1]", "localhost:", "localhost:+4410", "localhost.evil.example:4410"];
        for bad in bad.into_iter().chain(["evil.example:4410", "127.0.0.1.evil.example:4410", "0.0.0.0:4410"]) {
            assert!(!is_loopback(bad, address), "{bad}");
        }
    }

    #[test]
    fn a_path_stays_below_the_site() {
        assert_eq!(site_path("/").as_deref(), Some("index.html"));
        assert_eq!(site_path("/families/").as_deref(), Some("families/index.html"));
        assert_eq!(site_path("/photos/a%20b.png").as_deref(), Some("photos/a b.png"));
        for bad in
            ["", "a", "/../x", "/a/%2e%2e/x", "/%2e/x", "/a%5c..%5cx", "//x", "/%2fetc", "/a%00", "/%f", "/%zz", "/%ff"]
        {
            assert_eq!(site_path(bad), None, "{bad}");
        }
    }
}
