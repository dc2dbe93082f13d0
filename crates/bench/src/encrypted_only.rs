//! Off this machine the bench speaks encrypted only: who comes without is sent to where it is, and is
//! told nothing else. A phone's browser that is given an address without `https` tries it plain
//! first, and would otherwise find a dead line.

use axum_server::accept::Accept;
use std::future::Future;
use std::io;
use std::pin::Pin;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpStream;
use tokio::time::timeout;

/// How long the first bytes may take.
const PATIENCE: Duration = Duration::from_secs(10);
/// No request head that is worth an answer is longer.
const LONGEST: usize = 4096;
/// First byte of an encrypted connection: a handshake record (RFC 8446, 5.1).
const HANDSHAKE: u8 = 22;

/// Lets encrypted connections through.
#[derive(Clone, Debug)]
pub(crate) struct EncryptedOnly {
    /// Host names and addresses, with port, that the bench goes by.
    pub(crate) hosts: Arc<Vec<String>>,
}

type Accepted<S> = Pin<Box<dyn Future<Output = io::Result<(TcpStream, S)>> + Send>>;

impl<S: Send + 'static> Accept<TcpStream, S> for EncryptedOnly {
    type Stream = TcpStream;
    type Service = S;
    type Future = Accepted<S>;

    fn accept(&self, stream: TcpStream, service: S) -> Self::Future {
        let hosts = Arc::clone(&self.hosts);
        Box::pin(async move {
            let mut first = [0u8; 1];
            let late = |_| io::Error::from(io::ErrorKind::TimedOut);
            let read = timeout(PATIENCE, stream.peek(&mut first)).await.map_err(late)??;
            if read == 1 && first[0] == HANDSHAKE {
                return Ok((stream, service));
            }
            // Whether it can be told where to go makes no difference to what happens here.
            let _ = timeout(PATIENCE, send_there(&stream, &hosts)).await;
            Err(io::Error::new(io::ErrorKind::InvalidData, "a connection that is not encrypted"))
        })
    }
}

async fn send_there(stream: &TcpStream, hosts: &[String]) -> io::Result<()> {
    let mut head = Vec::new();
    while head.len() < LONGEST && !head.windows(4).any(|w| w == b"\r\n\r\n") {
        stream.readable().await?;
        let mut some = [0u8; 1024];
        match stream.try_read(&mut some) {
            Ok(0) => break,
            Ok(n) => head.extend_from_slice(&some[..n]),
            Err(e) if e.kind() == io::ErrorKind::WouldBlock => {}
            Err(e) => return Err(e),
        }
    }
    let answer = answer(&String::from_utf8_lossy(&head), hosts);
    let mut left = answer.as_bytes();
    while !left.is_empty() {
        stream.writable().await?;
        match stream.try_write(left) {
            Ok(n) => left = &left[n..],
            Err(e) if e.kind() == io::ErrorKind::WouldBlock => {}
            Err(e) => return Err(e),
        }
    }
    Ok(())
}

/// What a plain request is told: the same page, encrypted, under a name the bench goes by; nothing
/// is repeated that is not one.
fn answer(head: &str, hosts: &[String]) -> String {
    let mut lines = head.lines();
    let path = lines.next().and_then(|l| l.split(' ').nth(1)).unwrap_or("/");
    let clean = path.starts_with('/')
        && !path.starts_with("//")
        && path.bytes().all(|b| b.is_ascii_graphic() && b != b'\\');
    let asked = lines
        .filter_map(|l| l.split_once(':'))
        .find(|(name, _)| name.eq_ignore_ascii_case("host"))
        .map_or("", |(_, value)| value.trim());
    match hosts.iter().find(|h| h.eq_ignore_ascii_case(asked)) {
        Some(host) => format!(
            "HTTP/1.1 307 Temporary Redirect\r\nLocation: https://{host}{}\r\nContent-Length: 0\r\nConnection: close\r\n\r\n",
            if clean { path } else { "/" }
        ),
        None => {
            "HTTP/1.1 400 Bad Request\r\nContent-Length: 0\r\nConnection: close\r\n\r\n".to_owned()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_comes_plain_is_sent_to_the_same_page_under_our_own_name_alone() {
        let hosts = ["192.168.1.20:8470".to_owned(), "shed.local:8470".to_owned()];
        let to = |head: &str| {
            let answer = answer(head, &hosts);
            let lines: Vec<&str> = answer.lines().collect();
            lines.iter().find_map(|l| l.strip_prefix("Location: ")).map(str::to_owned)
        };
        let ask =
            |path: &str, host: &str| to(&format!("GET {path} HTTP/1.1\r\nHost: {host}\r\n\r\n"));
        assert_eq!(
            ask("/tag/04RB?a=1", "SHED.local:8470").as_deref(),
            Some("https://shed.local:8470/tag/04RB?a=1")
        );
        for odd in ["//evil.example/", "http://evil.example/", "/\\evil.example", "/\u{7f}", "x"] {
            assert_eq!(
                ask(odd, "192.168.1.20:8470").as_deref(),
                Some("https://192.168.1.20:8470/")
            );
        }
        for host in ["evil.example", "shed.local", ""] {
            assert_eq!(ask("/", host), None, "{host}");
        }
        assert_eq!(to(""), None);
        assert_eq!(to("\u{0}\u{1}"), None);
    }
}
