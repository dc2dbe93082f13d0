//! The bench as a phone in the shop reaches it: off this machine, encrypted with the shop's own
//! certificate, asked with curl. What curl refuses is refused by a library that is not ours.

use crate::shop::{ENGINEER, FITTER, INSPECTOR, PASSWORD, READER, book_in, token_in};
use bench::{Certificate, Reach, Settings, may_leave_this_machine, serve};
use book::{Book, Password, Role, Said};
use engine::model::Date;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener, UdpSocket};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::time::Duration;
use tempfile::TempDir;

/// This machine's address in its network, or its own where it is in none: what is served is the same
/// at either. Nothing is sent to find it.
fn own_address() -> Ipv4Addr {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).and_then(|s| {
        s.connect((Ipv4Addr::new(10, 255, 255, 255), 9))?;
        s.local_addr()
    });
    match socket.map(|a| a.ip()) {
        Ok(IpAddr::V4(a)) => a,
        _ => {
            eprintln!(
                "this machine is in no network: the encrypted bench is asked at its own address"
            );
            Ipv4Addr::LOCALHOST
        }
    }
}

/// An address that the shop's authority signs for.
fn is_private(a: Ipv4Addr) -> bool {
    a.is_private() || a.is_loopback() || a.is_link_local()
}

/// A bench off this machine.
struct Served {
    folder: TempDir,
    at: SocketAddr,
    authority: PathBuf,
}

fn served(address: Ipv4Addr) -> Served {
    let folder = TempDir::new().expect("a folder");
    let hashed = || Password::new(PASSWORD).expect("long").hashed().expect("random bytes");
    let with = |name: &str, roles: &[Role]| Said::Person {
        name: name.into(),
        roles: roles.to_vec(),
        password: hashed(),
    };
    let more = vec![with(READER, &[Role::Records]), with(FITTER, &[Role::Fits])];
    let file = book_in(folder.path(), more);
    let book = Book::open_file(&file).expect("opens");
    may_leave_this_machine(&book).expect("everybody has a password");
    let listener = TcpListener::bind((address, 0)).expect("a port");
    let at = listener.local_addr().expect("an address");
    let keys = folder.path().join("authority");
    let mut names = vec!["shed.local".to_owned()];
    if is_private(address) {
        names.push(address.to_string());
    }
    let certificate = Certificate::in_folder(&keys, &names, jiff::Timestamp::now()).expect("signs");
    // The clock stands still, so that a wait never runs out on a busy machine.
    let began = jiff::Timestamp::now();
    let settings = Settings {
        reach: Reach::OtherMachines,
        encrypted: true,
        hosts: names.iter().map(|n| format!("{n}:{}", at.port())).collect(),
        clock: Arc::new(move || began),
        today: Some(Date::new(2026, 11, 20).expect("a day")),
        demo: String::new(),
        authority: Some(certificate.authority_pem.clone()),
        file: Some(file.clone()),
    };
    std::thread::spawn(move || serve(book, settings, listener, Some(&certificate)));
    let authority = keys.join("authority.pem");
    Served { folder, at, authority }
}

struct Answered {
    /// curl's own: 0 where an answer came.
    code: i32,
    status: u16,
    headers: String,
    body: String,
}

impl Served {
    fn curl(&self, more: &[&str], path: &str) -> Answered {
        let address = format!("https://shed.local:{}{path}", self.at.port());
        self.curl_at(more, &address)
    }

    fn curl_at(&self, more: &[&str], address: &str) -> Answered {
        // The name leads to this machine for curl alone; no proxy stands between.
        let resolve = format!("shed.local:{}:{}", self.at.port(), self.at.ip());
        let headers = self.folder.path().join("headers");
        let _ = std::fs::remove_file(&headers);
        let out = Command::new("curl")
            .args(["--silent", "--noproxy", "*", "--max-time", "20", "--resolve", &resolve])
            .args(["--write-out", "\n%{http_code}", "--dump-header"])
            .arg(&headers)
            .args(more)
            .arg(address)
            .output()
            .expect("curl runs");
        let text = String::from_utf8_lossy(&out.stdout).into_owned();
        let (body, status) = text.rsplit_once('\n').unwrap_or(("", "0"));
        Answered {
            code: out.status.code().unwrap_or(-1),
            status: status.parse().unwrap_or(0),
            headers: std::fs::read_to_string(&headers).unwrap_or_default().to_lowercase(),
            body: body.to_owned(),
        }
    }

    fn trusting(&self, more: &[&str], path: &str) -> Answered {
        let ca = self.authority.to_str().expect("text").to_owned();
        self.curl(&[&["--cacert", &ca], more].concat(), path)
    }

    /// Signs in with a file of cookies; gives the token of the page after it.
    fn sign_in(&self, jar: &Path, password: &str) -> (Answered, String) {
        let jar = jar.to_str().expect("text");
        let cookies = ["--cookie", jar, "--cookie-jar", jar];
        let token = token_in(&self.trusting(&cookies, "/sign-in").body);
        let fields =
            [format!("token={token}"), format!("name={ENGINEER}"), format!("password={password}")];
        let mut form: Vec<&str> = cookies.to_vec();
        for f in &fields {
            form.extend(["--data-urlencode", f]);
        }
        let answer = self.trusting(&form, "/sign-in");
        let keys = self.trusting(&cookies, "/keys");
        let token = if keys.status == 200 { token_in(&keys.body) } else { String::new() };
        (answer, token)
    }
}

#[test]
fn a_phone_reaches_it_encrypted_and_no_other_way() {
    if Command::new("curl").arg("--version").output().is_err() {
        eprintln!("NOT RUN: curl is missing; the encrypted bench was not asked");
        return;
    }
    let address = own_address();
    let bench = served(address);
    // Until it listens.
    for _ in 0..100 {
        if bench.trusting(&[], "/sign-in").status == 200 {
            break;
        }
        std::thread::sleep(Duration::from_millis(100));
    }

    // With the authority's certificate, by name and by address; without it not at all (curl's exit
    // code 60: peer certificate cannot be authenticated, curl(1)).
    for protocol in ["--http1.1", "--http2"] {
        assert_eq!(bench.trusting(&[protocol], "/sign-in").status, 200, "{protocol}");
    }
    let ca = bench.authority.to_str().expect("text").to_owned();
    let by_address = bench.curl_at(&["--cacert", &ca], &format!("https://{}/trust", bench.at));
    assert_eq!(by_address.status, if is_private(address) { 200 } else { 0 });
    let stranger = bench.curl(&[], "/sign-in");
    assert_eq!((stranger.code, stranger.status), (60, 0));
    // Nor under a name that the certificate does not have, nor with an old protocol.
    let other = format!("https://shop.local:{}/", bench.at.port());
    let resolve = format!("shop.local:{}:{}", bench.at.port(), bench.at.ip());
    let misnamed = bench.curl_at(&["--cacert", &ca, "--resolve", &resolve], &other);
    assert_eq!((misnamed.code, misnamed.status), (60, 0));
    assert_ne!(bench.trusting(&["--tls-max", "1.1"], "/sign-in").code, 0, "an old protocol");

    // The authority is to be had before anybody is signed in, and is the one in the folder.
    let taken = bench.trusting(&[], "/trust/authority.pem");
    assert_eq!(taken.body.trim(), std::fs::read_to_string(&bench.authority).expect("there").trim());

    // Its fingerprint is on the page, and is the one that another program finds.
    let pem = std::fs::read_to_string(&bench.authority).expect("there");
    let mark = bench::fingerprint(&pem);
    assert!(bench.trusting(&[], "/trust").body.contains(&mark), "{mark}");
    let openssl = Command::new("openssl")
        .args(["x509", "-noout", "-fingerprint", "-sha256", "-in"])
        .arg(&bench.authority)
        .output();
    match openssl {
        Ok(told) => assert!(String::from_utf8_lossy(&told.stdout).contains(&mark), "{mark}"),
        Err(_) => {
            eprintln!("NOT RUN: openssl is missing; the fingerprint was not compared with its")
        }
    }

    // Plain: sent to the encrypted page, with nothing of the book in the answer.
    let plain = bench.curl_at(&[], &format!("http://shed.local:{}/tag/04RB", bench.at.port()));
    assert_eq!(plain.status, 307);
    let there = format!("location: https://shed.local:{}/tag/04rb", bench.at.port());
    assert!(plain.headers.contains(&there) && plain.body.is_empty(), "{}", plain.headers);
    let elsewhere = format!("http://{}/", bench.at);
    assert_eq!(bench.curl_at(&["--header", "Host: evil.example"], &elsewhere).status, 400);

    // What every page says to a browser.
    let page = bench.trusting(&[], "/sign-in");
    for wanted in [
        "content-security-policy: default-src 'none'",
        "strict-transport-security: max-age=",
        "x-content-type-options: nosniff",
        "cache-control: no-store",
    ] {
        assert!(page.headers.contains(wanted), "{wanted}: {}", page.headers);
    }
    let policy =
        page.headers.lines().find(|l| l.starts_with("content-security-policy")).expect("one");
    assert!(!policy.contains("unsafe") && policy.contains("frame-ancestors 'none'"), "{policy}");
    let cookie = page.headers.lines().find(|l| l.starts_with("set-cookie")).expect("a cookie");
    for flag in ["__host-pinchbar=", "; secure", "; httponly", "; samesite=strict", "; path=/"] {
        assert!(cookie.contains(flag), "{flag}: {cookie}");
    }
    assert!(!cookie.contains("domain="), "{cookie}");

    // Nothing is read or written without a password.
    assert!(bench.trusting(&[], "/").headers.contains("location: /sign-in"));
    for name in [READER, INSPECTOR] {
        assert!(!page.body.contains(name), "who works here is not told");
    }
    let jar = bench.folder.path().join("jar");
    let (answer, token) = bench.sign_in(&jar, PASSWORD);
    assert_eq!(answer.status, 303, "{}", answer.body);
    let jar_text = jar.to_str().expect("text").to_owned();
    let cookies = ["--cookie", jar_text.as_str(), "--cookie-jar", jar_text.as_str()];
    assert!(bench.trusting(&cookies, "/").body.contains("Worst first"));

    // A form without the token of its page, and one from elsewhere.
    let note = |more: &[&str]| {
        let form = ["--data-urlencode", "about=frame", "--data-urlencode", "text=a note"];
        bench.trusting(&[&cookies[..], &form[..], more].concat(), "/say/note").status
    };
    let token_field = format!("token={token}");
    assert_eq!(note(&[]), 403);
    assert_eq!(note(&["--data-urlencode", &format!("token={}", "0".repeat(64))]), 403);
    let from_elsewhere =
        ["--data-urlencode", &token_field, "--header", "Origin: https://evil.example"];
    assert_eq!(note(&from_elsewhere), 403);
    assert_eq!(note(&["--data-urlencode", &token_field]), 303);

    // Wrong passwords: refused, and then made to wait, the right one too.
    let guesses: Vec<u16> = (0..7)
        .map(|_| bench.sign_in(&bench.folder.path().join("jar-of-a-stranger"), "a wrong password"))
        .map(|(answer, _)| answer.status)
        .collect();
    assert!(guesses.starts_with(&[401; 5]) && guesses.ends_with(&[429]), "{guesses:?}");
    let (waits, _) = bench.sign_in(&bench.folder.path().join("jar-of-a-stranger"), PASSWORD);
    assert_eq!(waits.status, 429);
    assert!(waits.headers.contains("retry-after:"), "{}", waits.headers);
}
