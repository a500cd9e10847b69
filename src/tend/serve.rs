//! Opens the port and hands each connection to a thread of its own, so many at most.

use super::connection;
use super::live::Live;
use socket2::{Domain, Socket, Type};
use std::io;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, TcpListener};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

/// Connections at once. Each may hold a file open besides itself, and together they must leave a publish
/// room below the 1,024 open files that systems commonly allow.
const CONNECTIONS: usize = 384;
/// Ports tried, from the one asked for.
const PORTS: u16 = 20;
/// Stack of a connection's thread, in bytes.
const STACK: usize = 256 * 1024;

/// Ports that are open, not yet answered on.
#[derive(Debug)]
pub struct Open {
    listeners: Vec<TcpListener>,
    pub port: u16,
}

/// Opens a port: the one asked for, or the next that is free; 0 is any. `lan`: on all interfaces.
///
/// # Errors
/// None can be opened.
pub fn open(port: u16, lan: bool) -> io::Result<Open> {
    let mut last = io::Error::from(io::ErrorKind::AddrInUse);
    for port in (0..PORTS).filter_map(|more| port.checked_add(if port == 0 { 0 } else { more })) {
        match open_both(port, lan) {
            Ok(open) => return Ok(open),
            Err(error) if error.kind() == io::ErrorKind::AddrInUse => last = error,
            Err(error) => return Err(error),
        }
    }
    Err(last)
}

/// The same port by IPv4 and, where the system has it, by IPv6: browsers ask for `localhost` by either.
fn open_both(port: u16, lan: bool) -> io::Result<Open> {
    let (four, six) = if lan {
        (IpAddr::from(Ipv4Addr::UNSPECIFIED), IpAddr::from(Ipv6Addr::UNSPECIFIED))
    } else {
        (IpAddr::from(Ipv4Addr::LOCALHOST), IpAddr::from(Ipv6Addr::LOCALHOST))
    };
    let first = listen(SocketAddr::new(four, port))?;
    let port = first.local_addr()?.port();
    let mut listeners = vec![first];
    match listen(SocketAddr::new(six, port)) {
        Ok(second) => listeners.push(second),
        // Somebody else answers there: half of the browsers would be shown another site.
        Err(error) if error.kind() == io::ErrorKind::AddrInUse => return Err(error),
        Err(_) => {}
    }
    Ok(Open { listeners, port })
}

fn listen(address: SocketAddr) -> io::Result<TcpListener> {
    let socket = Socket::new(Domain::for_address(address), Type::STREAM, None)?;
    if address.is_ipv6() {
        // Else the one of IPv4 would be taken along on some systems, and the port be in use.
        socket.set_only_v6(true)?;
    }
    // A port that was given up a moment ago can be had again; elsewhere the option lets two share one.
    #[cfg(unix)]
    socket.set_reuse_address(true)?;
    socket.bind(&address.into())?;
    socket.listen(128)?;
    Ok(socket.into())
}

impl Open {
    /// Answers from now on, in threads of its own, until the program ends.
    ///
    /// # Errors
    /// No thread can be started.
    pub fn answer(self, live: &Arc<Live>) -> io::Result<()> {
        let count = Arc::new(AtomicUsize::new(0));
        for listener in self.listeners {
            let (live, count) = (Arc::clone(live), Arc::clone(&count));
            thread::Builder::new().name("port".to_owned()).spawn(move || accept(&listener, &live, &count))?;
        }
        Ok(())
    }
}

/// Takes its connection off the count, however the thread ends.
struct Counted(Arc<AtomicUsize>);

impl Drop for Counted {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::SeqCst);
    }
}

fn accept(listener: &TcpListener, live: &Arc<Live>, count: &Arc<AtomicUsize>) {
    loop {
        let Ok((stream, _)) = listener.accept() else {
            // No more files can be opened, or the client is gone again: let the others finish.
            thread::sleep(Duration::from_millis(50));
            continue;
        };
        let before = count.fetch_add(1, Ordering::SeqCst);
        let counted = Counted(Arc::clone(count));
        if before >= CONNECTIONS {
            connection::refuse(stream);
            continue;
        }
        let live = Arc::clone(live);
        // Where no thread can be had the connection is closed.
        let _ = thread::Builder::new().stack_size(STACK).spawn(move || {
            let _counted = counted;
            connection::serve(stream, &live);
        });
    }
}
