//! What `tend` is sent: whatever is asked for, the path that comes of it stays inside the site.

use garboard::tend::place::inside;
use garboard::tend::request::{end_of_head, is_welcome, parse};
use std::net::{IpAddr, Ipv4Addr};
use std::path::{Component, Path};

pub fn check(bytes: &[u8]) {
    let whole = [bytes, b"\r\n\r\n"].concat();
    let end = end_of_head(&whole).expect("there is an empty line");
    for head in [&whole[..end], bytes] {
        let Ok(request) = parse(head) else { continue };
        assert!(request.path.starts_with('/') && !request.path.contains([' ', '?', '#', '\r', '\n']), "{request:?}");
        assert_inside(&request.path);
        if is_welcome(&request.host, IpAddr::V4(Ipv4Addr::LOCALHOST)) {
            let host = request.host.to_ascii_lowercase();
            assert!(
                host.starts_with("localhost") || host.starts_with(|first: char| first.is_ascii_digit() || first == '[' || first == ':'),
                "{host}"
            );
        }
    }
    assert_inside(&format!("/{}", String::from_utf8_lossy(bytes)));
}

fn assert_inside(path: &str) {
    let Some(inner) = inside(path) else { return };
    assert!(Path::new(&inner).components().all(|part| matches!(part, Component::Normal(_))), "{path} leads to {inner}");
    assert!(!inner.contains(['\\', '\0', ':']) && !inner.split('/').any(|name| name.starts_with('.')), "{path} leads to {inner}");
}
