//! The page, opened as a person would and ended with Ctrl-C.

use crate::support::Studio;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::Child;

/// The address that the program prints, without `http://` and the last slash.
fn address(page: &mut Child) -> String {
    let mut line = String::new();
    let out = page.stdout.as_mut().expect("its output");
    BufReader::new(out).read_line(&mut line).expect("a line");
    let address = line.split("http://").nth(1).expect("an address");
    address.trim().trim_end_matches('/').to_owned()
}

/// What the page answers to one request (RFC 9112).
fn asked(address: &str, request: &str) -> String {
    let mut stream = TcpStream::connect(address).expect("it listens");
    stream.write_all(request.as_bytes()).expect("sent");
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).expect("answered");
    String::from_utf8_lossy(&answer).into_owned()
}

#[test]
fn the_page_opens_on_this_computer_alone_and_ends_when_told() {
    let studio = Studio::new();
    let mut page = studio.start(&["page"]);
    let here = address(&mut page);
    assert!(here.starts_with("127.0.0.1:"), "{here}");
    let get = |host: &str| {
        asked(
            &here,
            &format!("GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"),
        )
    };
    let shelf = get(&here);
    assert!(
        shelf.starts_with("HTTP/1.1 200") && shelf.contains("Nothing stands here yet"),
        "{shelf}"
    );
    assert!(get("elsewhere.test").starts_with("HTTP/1.1 403"));
    // A second one finds another port; one that is named must be free.
    let mut second = studio.start(&["page"]);
    assert_ne!(address(&mut second), here);
    second.kill().expect("ended");
    second.wait().expect("ended");
    let port = here.rsplit(':').next().expect("a port");
    studio
        .run(&["page", "--port", port])
        .refused(&[port, "--port"]);
    assert_eq!(ended(page), Some(0));
    assert!(studio.path("filemot-journal/journal.sqlite").is_file());
}

/// Interrupts it as Ctrl-C does: its exit status.
#[cfg(unix)]
fn ended(mut page: Child) -> Option<i32> {
    let told = std::process::Command::new("kill")
        .args(["-INT", &page.id().to_string()])
        .status();
    assert!(told.expect("kill runs").success());
    page.wait().expect("ended").code()
}

/// Elsewhere it is only ended.
#[cfg(not(unix))]
fn ended(mut page: Child) -> Option<i32> {
    page.kill().expect("ended");
    page.wait().map(|_| 0).ok()
}
