//! Where other devices find the pages: the addresses of this machine, and a code to scan.

use qrcode::render::unicode::Dense1x2;
use qrcode::{EcLevel, QrCode};
use std::net::IpAddr;

/// Addresses by which others on the network reach this machine, the likeliest first.
#[must_use]
pub fn addresses() -> Vec<IpAddr> {
    let mut found: Vec<IpAddr> = if_addrs::get_if_addrs().unwrap_or_default().into_iter().map(|interface| interface.ip()).collect();
    found.retain(|address| rank(*address).is_some());
    found.sort_by_key(|address| (rank(*address), *address));
    found.dedup();
    found
}

/// The lower, the likelier; `None`: not to be opened from another device. Networks aboard use the private ranges of
/// RFC 1918, of which small routers and telephones give out 192.168; link-local IPv6 addresses need a zone,
/// which browsers do not take.
fn rank(address: IpAddr) -> Option<u8> {
    match address {
        IpAddr::V4(four) if four.is_loopback() || four.is_unspecified() => None,
        IpAddr::V4(four) => Some(match four.octets() {
            [192, 168, ..] => 0,
            [10, ..] => 1,
            [172, 16..=31, ..] => 2,
            [169, 254, ..] => 4,
            _ => 3,
        }),
        IpAddr::V6(six) if six.is_loopback() || six.is_unspecified() || six.is_unicast_link_local() => None,
        IpAddr::V6(_) => Some(5),
    }
}

/// `http://192.168.1.4:7245/`.
#[must_use]
pub fn url(address: IpAddr, port: u16) -> String {
    format!("http://{}/", std::net::SocketAddr::new(address, port))
}

/// A text as a QR code for a terminal, two rows of it in a line. `None`: it is too long. `colour`: black on white
/// whatever the colours of the terminal; without, it is made for light letters on a dark ground.
#[must_use]
pub fn code(text: &str, colour: bool) -> Option<String> {
    let code = QrCode::with_error_correction_level(text, EcLevel::L).ok()?;
    let mut renderer = code.render::<Dense1x2>();
    if !colour {
        renderer.dark_color(Dense1x2::Light).light_color(Dense1x2::Dark);
    }
    let drawn = renderer.quiet_zone(true).build();
    let lines = drawn.lines().map(|line| if colour { format!("\u{1b}[30;107m{line}\u{1b}[0m\n") } else { format!("{line}\n") });
    Some(lines.collect())
}

#[cfg(test)]
mod tests {
    use super::{code, rank, url};

    #[test]
    fn which_address_is_shown_first() {
        #[track_caller]
        fn case(address: &str, expected: Option<u8>) {
            assert_eq!(rank(address.parse().unwrap()), expected, "{address}");
        }
        // RFC 1918 (private), RFC 3927 and RFC 4291 2.5.6 (link-local), RFC 3849 (documents).
        case("192.168.1.4", Some(0));
        case("10.0.0.2", Some(1));
        case("172.16.0.1", Some(2));
        case("172.32.0.1", Some(3));
        case("169.254.3.4", Some(4));
        case("2001:db8::7", Some(5));
        case("127.0.0.1", None);
        case("::1", None);
        case("fe80::1", None);
        case("0.0.0.0", None);
    }

    #[test]
    fn addresses_as_a_browser_takes_them() {
        assert_eq!(url("192.168.1.4".parse().unwrap(), 80), "http://192.168.1.4:80/");
        assert_eq!(url("2001:db8::7".parse().unwrap(), 7245), "http://[2001:db8::7]:7245/");
    }

    /// Paints the letters, eight dots a module, and reads them with another project's decoder (`rqrr`).
    #[test]
    fn another_decoder_reads_the_code() {
        const DOTS: usize = 8;
        let address = "http://192.168.100.104:7245/";
        let drawn = code(address, false).unwrap();
        let mut dark: Vec<Vec<bool>> = Vec::new();
        for line in drawn.lines() {
            // A block is light: it is made for light letters on a dark ground.
            dark.push(line.chars().map(|character| !matches!(character, '█' | '▀')).collect());
            dark.push(line.chars().map(|character| !matches!(character, '█' | '▄')).collect());
        }
        let (width, height) = (dark[0].len(), dark.len());
        let mut image =
            rqrr::PreparedImage::prepare_from_greyscale(width * DOTS, height * DOTS, |x, y| if dark[y / DOTS][x / DOTS] { 0 } else { 255 });
        assert_eq!(image.detect_grids()[0].decode().unwrap().1, address);
    }
}
