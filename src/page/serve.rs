//! Opens the doors: this computer's own, and on wish one for phones on the same network.

use super::arriving;
use super::guard::{Door, LET_IN};
use super::house::House;
use super::rooms::rooms;
use super::visits::answer;
use crate::error::{Error, Result};
use crate::journal::Journal;
use crate::tag::{Link, link};
use jiff::civil::Date;
use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener, UdpSocket};
use std::path::PathBuf;
use std::sync::Arc;

/// The port where none was named.
const USUAL: u16 = 1737;

/// How many ports are tried after the usual one.
const TRIES: u16 = 20;

/// How the page is to be opened.
#[derive(Clone, Debug)]
pub struct Options {
    /// The journal's folder; the journal is made where there is none.
    pub folder: PathBuf,
    /// The port, where it was named; else one that is free.
    pub port: Option<u16>,
    /// Whether phones on the same network may be let in.
    pub share: bool,
    /// Today, by the caller's clock.
    pub today: fn() -> Date,
}

/// What has been opened.
#[derive(Clone, Debug)]
pub struct Open {
    /// The address on this computer: `http://127.0.0.1:1737/`.
    pub here: String,
    /// The link that lets one phone in, and the same as a QR code; `None` where the page is not shared.
    pub phone: Option<(String, Link)>,
}

/// Opens the page, tells `opened` where, and serves until the program is interrupted.
///
/// # Errors
/// `Caller` where the port is taken, `Machine` where the computer is in no network or gives no port, those of [`Journal::open_or_create`],
/// and those of `opened`.
pub fn serve<E: From<Error>>(
    options: &Options,
    opened: impl FnOnce(&Open) -> std::result::Result<(), E>,
) -> std::result::Result<(), E> {
    // Opened once here, so that a journal that is not to be opened is told before any page is.
    drop(Journal::open_or_create(&options.folder)?);
    arriving::forget_old(&options.folder);
    let here = listen(options.port)?;
    let port = address(&here)?.port();
    let shared = match options.share {
        true => Some(shared(port)?),
        false => None,
    };
    let phones = shared.as_ref().map(address).transpose()?;
    let house = Arc::new(House::new(
        options.folder.clone(),
        options.today,
        phones.map(|address| format!("http://{address}")),
    ));
    let phone = match &house.shared_at {
        Some(address) => {
            let link_text = format!("{address}{LET_IN}{}", house.share.new_link()?);
            let code = link(&link_text)?;
            Some((link_text, code))
        }
        None => None,
    };
    opened(&Open {
        here: format!("http://127.0.0.1:{port}/"),
        phone,
    })?;
    Ok(run(&house, here, shared)?)
}

fn run(house: &Arc<House>, here: TcpListener, shared: Option<TcpListener>) -> Result<()> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build();
    let stopped =
        |error| Error::machine("The page could not be kept open; start it again.").because(error);
    let served = runtime.map_err(stopped)?.block_on(async {
        let open = |listener: TcpListener, share| -> io::Result<_> {
            let hosts = hosts(listener.local_addr()?);
            let rooms = rooms(Arc::clone(house), Door { hosts, share });
            listener.set_nonblocking(true)?;
            Ok(answer(tokio::net::TcpListener::from_std(listener)?, rooms))
        };
        let one = open(here, None)?;
        match shared {
            Some(shared) => {
                let other = open(shared, Some(Arc::clone(&house.share)))?;
                tokio::join!(one, other);
            }
            None => one.await,
        }
        Ok(())
    });
    served.map_err(stopped)
}

/// The port that browsers leave out of an address (RFC 9110, 4.2.1).
const UNSAID: u16 = 80;

/// The names a browser on this computer may call the address by, or a phone.
fn hosts(address: SocketAddr) -> Vec<String> {
    let (ip, port) = (address.ip().to_string(), address.port());
    let names = match address.ip().is_loopback() {
        true => vec![ip, "localhost".to_owned()],
        false => vec![ip],
    };
    let with_port = names.iter().map(|name| format!("{name}:{port}"));
    let mut hosts: Vec<String> = with_port.collect();
    if port == UNSAID {
        hosts.extend(names);
    }
    hosts
}

/// A door on this computer alone.
fn listen(port: Option<u16>) -> Result<TcpListener> {
    let bind = |port: u16| TcpListener::bind((Ipv4Addr::LOCALHOST, port));
    match port {
        Some(port) => bind(port).map_err(|error| {
            Error::caller(format!(
                "Port {port} is not free on this computer; name another with --port, or leave it out."
            ))
            .because(error)
        }),
        None => {
            let mut ports = (USUAL..=USUAL + TRIES).chain([0]);
            let free = ports.find_map(|port| bind(port).ok());
            free.ok_or_else(|| Error::machine("This computer gives no port to open the page at; name one with --port."))
        }
    }
}

/// A door on the network, at the same port.
fn shared(port: u16) -> Result<TcpListener> {
    let nowhere = |error: Option<io::Error>| {
        let told = Error::machine(
            "This computer is in no network, so no phone can reach it; connect it to the same network as the phone, or leave --share out.",
        );
        match error {
            Some(error) => told.because(error),
            None => told,
        }
    };
    let ip = own_address().map_err(|error| nowhere(Some(error)))?;
    if ip.is_loopback() || ip.is_unspecified() {
        return Err(nowhere(None));
    }
    TcpListener::bind((ip, port)).map_err(|error| nowhere(Some(error)))
}

/// The address by which this computer goes out. Connecting a UDP socket sends nothing; the address is one for documentation
/// (RFC 5737), which nobody has.
fn own_address() -> io::Result<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9))?;
    Ok(socket.local_addr()?.ip())
}

fn address(listener: &TcpListener) -> Result<SocketAddr> {
    listener.local_addr().map_err(|error| {
        Error::machine("This computer does not say at which port the page is; start it again.")
            .because(error)
    })
}
