//! How to use the bench on a phone: serving it there, and trusting its certificate.

use crate::layout::Page;
use crate::state::Reach;
use crate::trouble::Trouble;
use crate::visit::Anybody;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use maud::html;

/// The page.
pub(crate) async fn trust(Anybody(visit): Anybody) -> Response {
    let encrypted = visit.bench.settings().authority.is_some();
    let mark = visit.bench.settings().authority.as_deref().map(crate::certificate::fingerprint);
    let page = Page {
        title: "Use it on a phone".to_owned(),
        holding: html! { h1 { "Use it on a phone" } },
        knowing: html! {
            @if visit.bench.settings().reach == Reach::ThisMachine {
                p.large { "This bench answers this machine only." }
                p { "To serve phones, stop it and start it at the address that this machine has in the shop's network:" }
                pre tabindex="0" { "pinchbar bench no1.book --at 192.168.1.20:8470 --known-as shed.local" }
                p { "It is then encrypted, and everybody who may write must have a password. The first start makes a certificate authority of the shop's own, in a folder beside the book." }
            } @else if encrypted {
                p.large { "The connection is encrypted with a certificate of this workshop's own, which a phone does not know yet." }
                ol {
                    li { "Take the authority's certificate: " a href="/trust/authority.pem" download { "authority.pem" } "." }
                    li { b { "On Android: " } "Settings, Security, Encryption and credentials, Install a certificate, CA certificate; choose the file. The phone warns; read below what the warning means here." }
                    li { b { "On an iPhone or iPad: " } "open the file, allow the profile; Settings, General, VPN and device management, install it; then Settings, General, About, Certificate trust settings, and switch it on." }
                    li { b { "On a computer: " } "in the browser's settings, look for certificates, authorities, import." }
                    li { "Open this bench again: there is no warning any more, and gauging works where the network does not reach." }
                }
                @if let Some(mark) = &mark {
                    p { "Its fingerprint (SHA-256), as the phone shows it and as the machine that serves the bench printed it when it was started:" }
                    p { code.hash { (mark) } }
                }
                p { "Menus are named differently from one make to the next; look for \"certificate\" in the phone's settings." }
            }
            section.cautions {
                h2 { "What you trust, and what not" }
                ul {
                    li { "Compare the fingerprint that the phone shows with the one on the screen of the machine that serves the bench, before you trust it: on a network with a stranger in it, what came over that network may be the stranger's. Best is to carry it over on a memory stick." }
                    li { "The authority can vouch for names and addresses of a local network only (they end in .local, .lan, .internal, .home.arpa, or are private addresses). A phone that trusts it does not trust it for banks or mail; some old phones do not look at that limit." }
                    li { "Whoever gets the file authority.key from the machine that serves the bench can pretend to be the bench. It is readable by its owner alone; leave it so, and do not copy it." }
                    li { "Take the certificate out of the phone again when you leave the shop." }
                    li { "Do not put the bench on an address that the internet can reach." }
                }
            }
        },
        doing: html! {
            @if encrypted { p { a.main href="/trust/authority.pem" download { "Take the certificate" } } }
            p { a href="/" { "To the engine" } }
        },
    };
    page.answer(&visit)
}

/// The authority's certificate.
pub(crate) async fn authority(Anybody(visit): Anybody) -> Result<Response, Trouble> {
    let pem = visit.bench.settings().authority.clone().ok_or_else(|| {
        Trouble::missing("this bench has no certificate: it answers this machine only", "")
    })?;
    let headers = [
        (CONTENT_TYPE, "application/x-x509-ca-cert"),
        (CONTENT_DISPOSITION, "attachment; filename=\"authority.pem\""),
    ];
    Ok((headers, pem).into_response())
}
