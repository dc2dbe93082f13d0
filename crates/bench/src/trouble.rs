//! Why something was not done: words for a person, the cause for the log.

use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use book::Error;

/// Why a request was not done.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// What the person is told, and what they can do about it.
    Told {
        /// Status of the answer.
        status: StatusCode,
        /// What is wrong.
        what: String,
        /// The mend; may be empty.
        mend: String,
    },
    /// They must sign in first.
    SignIn,
    /// The cause, for the log alone.
    Inside(String),
    /// To be tried again after so many seconds.
    TooOften(u64),
    /// Too many ask for what takes long; to be tried again after so many seconds.
    Busy(u64),
}

/// What the outermost layer makes a page or JSON of.
#[derive(Clone, Debug)]
pub(crate) struct Words {
    pub(crate) what: String,
    pub(crate) mend: String,
    pub(crate) sign_in: bool,
}

impl Trouble {
    /// There is nothing of that name.
    pub(crate) fn missing(what: impl Into<String>, mend: impl Into<String>) -> Trouble {
        Trouble::Told { status: StatusCode::NOT_FOUND, what: what.into(), mend: mend.into() }
    }

    /// What was sent cannot be.
    pub(crate) fn wrong(what: impl Into<String>, mend: impl Into<String>) -> Trouble {
        Trouble::Told {
            status: StatusCode::UNPROCESSABLE_ENTITY,
            what: what.into(),
            mend: mend.into(),
        }
    }

    /// It may not be done.
    pub(crate) fn forbidden(what: impl Into<String>, mend: impl Into<String>) -> Trouble {
        Trouble::Told { status: StatusCode::FORBIDDEN, what: what.into(), mend: mend.into() }
    }
}

impl From<Error> for Trouble {
    fn from(error: Error) -> Trouble {
        let what = error.to_string();
        // The command line's mends are no help on a page.
        let mend = match error.mend() {
            mend if mend.contains('`') || mend.contains("--") => String::new(),
            mend => mend.to_owned(),
        };
        match error {
            Error::Missing(_) => Trouble::missing(what, mend),
            Error::NotAllowed { .. } => Trouble::forbidden(what, mend),
            Error::Wrong { .. } => Trouble::wrong(what, mend),
            Error::Full(cause) => {
                log(&cause);
                Trouble::Told {
                    status: StatusCode::INSUFFICIENT_STORAGE,
                    what: "there is no room left on the disk; nothing of it was kept".to_owned(),
                    mend,
                }
            }
            Error::ReadOnly(cause) | Error::Unavailable(cause) => {
                log(&cause);
                Trouble::Told {
                    status: StatusCode::SERVICE_UNAVAILABLE,
                    what: "the book cannot be written or reached just now; nothing of it was kept"
                        .to_owned(),
                    mend: "try again; if it stays so, look at the machine the bench runs on"
                        .to_owned(),
                }
            }
            _ => Trouble::Inside(what),
        }
    }
}

/// Writes a line into the log, which is standard error; gives the number it can be found by.
pub(crate) fn log(cause: &str) -> String {
    let mut bytes = [0u8; 4];
    // Without random bytes the line has a poorer name, and stands there all the same.
    let _ = getrandom::fill(&mut bytes);
    let id: String = bytes.iter().map(|b| format!("{b:02x}")).collect();
    eprintln!("bench: {id}: {}", cause.escape_debug());
    id
}

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        let (status, words, wait) = match self {
            Trouble::Told { status, what, mend } => {
                (status, Words { what, mend, sign_in: false }, None)
            }
            Trouble::SignIn => (
                StatusCode::UNAUTHORIZED,
                Words { what: "sign in first".to_owned(), mend: String::new(), sign_in: true },
                None,
            ),
            Trouble::Inside(cause) => {
                let id = log(&cause);
                let words = Words {
                    what: "something in the program went wrong".to_owned(),
                    mend: format!("nothing was changed; the log has the cause under {id}"),
                    sign_in: false,
                };
                (StatusCode::INTERNAL_SERVER_ERROR, words, None)
            }
            Trouble::TooOften(seconds) => (
                StatusCode::TOO_MANY_REQUESTS,
                Words {
                    what: "that was tried too often".to_owned(),
                    mend: format!("wait {seconds} seconds and try again"),
                    sign_in: false,
                },
                Some(seconds),
            ),
            Trouble::Busy(seconds) => (
                StatusCode::SERVICE_UNAVAILABLE,
                Words {
                    what: "too many sheets and plans are being made just now".to_owned(),
                    mend: format!("wait {seconds} seconds and ask again; nothing is lost"),
                    sign_in: false,
                },
                Some(seconds),
            ),
        };
        let mut response = status.into_response();
        if let Some(value) = wait.and_then(|s| HeaderValue::from_str(&s.to_string()).ok()) {
            response.headers_mut().insert(header::RETRY_AFTER, value);
        }
        response.extensions_mut().insert(words);
        response
    }
}
