//! The socket: plain on this machine, encrypted for others.

use crate::certificate::Certificate;
use crate::encrypted_only::EncryptedOnly;
use crate::guard::app;
use crate::state::{Bench, Settings};
use axum_server::tls_rustls::RustlsConfig;
use book::{Book, Role};
use std::io;
use std::net::{SocketAddr, TcpListener};
use std::sync::Arc;
use std::time::Duration;

/// How long requests that are under way may take when the bench is stopped.
const PATIENCE: Duration = Duration::from_secs(10);

/// Why the bench was not served.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ServeError {
    /// It may not be, as things stand.
    #[error("{what}")]
    Refused {
        /// What is in the way.
        what: String,
        /// The mend.
        mend: String,
    },
    /// The book cannot be read.
    #[error(transparent)]
    Book(#[from] book::Error),
    /// The socket, or the runtime.
    #[error("the bench cannot be served: {0}")]
    Socket(#[from] io::Error),
}

/// Off this machine only with a password for everybody who may write: a name alone would let
/// anybody in reach of the network write as anybody.
///
/// # Errors
/// Names those without one.
pub fn may_leave_this_machine(book: &Book) -> Result<(), ServeError> {
    let people = book.fold().people();
    let open: Vec<&str> = people
        .iter()
        .filter(|p| !p.roles.is_empty() && p.password.is_empty())
        .map(|p| p.name.as_str())
        .collect();
    let mend = "set them on the people's page of the bench on this machine, or with `pinchbar book people BOOK NAME --new-password-file FILE --by WHO`".to_owned();
    if !open.is_empty() {
        let what = format!(
            "the bench is not served to other machines: without a password are {}",
            open.join(", ")
        );
        return Err(ServeError::Refused { what, mend });
    }
    if !people.iter().any(|p| p.roles.contains(&Role::Responsible)) {
        let what =
            "the bench is not served to other machines: the book has no responsible engineer";
        return Err(ServeError::Refused { what: what.to_owned(), mend });
    }
    Ok(())
}

/// Serves until the program is asked to stop. `listener` is bound already, so that whoever calls
/// has told its address; with a certificate it is served encrypted.
///
/// # Errors
/// The book cannot be read, or the socket cannot be used.
pub fn serve(
    book: Book,
    settings: Settings,
    listener: TcpListener,
    certificate: Option<&Certificate>,
) -> Result<(), ServeError> {
    let door = EncryptedOnly { hosts: Arc::new(settings.hosts.clone()) };
    let bench = Bench::new(book, settings)?;
    listener.set_nonblocking(true)?;
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    runtime.block_on(async {
        bench.warm();
        let service = app(bench).into_make_service_with_connect_info::<SocketAddr>();
        let handle = axum_server::Handle::new();
        tokio::spawn(stop_when_asked(handle.clone()));
        match certificate {
            None => axum_server::from_tcp(listener)?.handle(handle).serve(service).await?,
            Some(c) => {
                let (chain, key) = (c.chain_pem.clone(), c.key_pem.clone());
                let config = RustlsConfig::from_pem(chain.into_bytes(), key.into_bytes()).await?;
                axum_server::from_tcp_rustls(listener, config)?
                    .map(|encrypted| encrypted.acceptor(door))
                    .handle(handle)
                    .serve(service)
                    .await?;
            }
        }
        Ok(())
    })
}

async fn stop_when_asked(handle: axum_server::Handle<SocketAddr>) {
    #[cfg(unix)]
    let terminated = async {
        use tokio::signal::unix::{SignalKind, signal};
        match signal(SignalKind::terminate()) {
            Ok(mut asked) => {
                asked.recv().await;
            }
            Err(_) => std::future::pending::<()>().await,
        }
    };
    #[cfg(not(unix))]
    let terminated = std::future::pending::<()>();
    tokio::select! {
        _ = tokio::signal::ctrl_c() => {}
        () = terminated => {}
    }
    handle.graceful_shutdown(Some(PATIENCE));
}
