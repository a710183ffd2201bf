//! The WebDriver protocol (W3C Recommendation “WebDriver”, 2018), as far as it is needed here: JSON over HTTP to `chromedriver`.

use serde_json::Value;
use std::io::{BufRead, BufReader, ErrorKind, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};

/// A running `chromedriver`.
pub struct Driver {
    program: Child,
    port: u16,
}

impl Driver {
    /// Starts it at a free port; `None` where it is not installed.
    pub fn start() -> Option<Self> {
        let started = Command::new("chromedriver")
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn();
        let mut program = match started {
            Err(error) if error.kind() == ErrorKind::NotFound => return None,
            started => started.expect("chromedriver can be started"),
        };
        let lines = BufReader::new(program.stdout.take().expect("its output")).lines();
        let port = lines
            .map_while(Result::ok)
            .find_map(|line| {
                line.split_once("successfully on port ")?
                    .1
                    .trim_end_matches('.')
                    .parse()
                    .ok()
            })
            .expect("chromedriver tells its port");
        Some(Self { program, port })
    }

    /// Sends one command; the protocol's error where it could not be done.
    pub fn send(&self, method: &str, path: &str, body: &Value) -> Result<Value, String> {
        let body = body.to_string();
        let mut stream =
            TcpStream::connect(("127.0.0.1", self.port)).expect("chromedriver listens");
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\nContent-Type: application/json; charset=utf-8\r\nContent-Length: {}\r\n\r\n{body}",
            self.port,
            body.len()
        )
        .expect("sent");
        let (status, answer) = answer(&mut BufReader::new(stream));
        let value = serde_json::from_slice::<Value>(&answer).expect("JSON")["value"].take();
        match status.as_str() {
            "200" => Ok(value),
            _ => Err(format!("{}: {}", value["error"], value["message"])),
        }
    }
}

/// The status and the body of an answer (RFC 9112), which says its length.
fn answer(stream: &mut impl BufRead) -> (String, Vec<u8>) {
    let mut lines = Vec::new();
    loop {
        let mut line = String::new();
        stream.read_line(&mut line).expect("an answer");
        if line.trim().is_empty() {
            break;
        }
        lines.push(line.to_ascii_lowercase());
    }
    let length = lines
        .iter()
        .find_map(|line| line.strip_prefix("content-length:"));
    let length = length.expect("a length").trim().parse().expect("a number");
    let mut body = vec![0; length];
    stream.read_exact(&mut body).expect("the whole answer");
    let status = lines[0].split(' ').nth(1).expect("a status");
    (status.to_owned(), body)
}

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}
