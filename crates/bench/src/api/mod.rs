//! The same as JSON: what the pages show, in the shapes of `engine::view`, and what they write.
//!
//! One table says which routes there are; the router and the OpenAPI document are both made of it.

mod document;
mod read;
mod write;

use crate::said::{KINDS, Kind};
use crate::state::Bench;
use axum::Router;
use axum::routing::{MethodRouter, get, post};

/// A part of an address or a query.
struct Parameter {
    name: &'static str,
    what: &'static str,
    in_path: bool,
    must: bool,
}

/// A route.
struct Route {
    path: String,
    what: &'static str,
    parameters: &'static [Parameter],
    /// What it writes.
    says: Option<&'static Kind>,
    handler: fn() -> MethodRouter<Bench>,
}

const fn path(name: &'static str, what: &'static str) -> Parameter {
    Parameter { name, what, in_path: true, must: true }
}

const fn must(name: &'static str, what: &'static str) -> Parameter {
    Parameter { name, what, in_path: false, must: true }
}

const fn may(name: &'static str, what: &'static str) -> Parameter {
    Parameter { name, what, in_path: false, must: false }
}

fn reads(
    path: &str,
    what: &'static str,
    parameters: &'static [Parameter],
    handler: fn() -> MethodRouter<Bench>,
) -> Route {
    Route { path: path.to_owned(), what, parameters, says: None, handler }
}

/// Every route.
fn table() -> Vec<Route> {
    const JOINT: &[Parameter] = &[path("id", "Joint")];
    const CHAIN: &[Parameter] = &[path("id", "Chain")];
    const PART: &[Parameter] = &[path("id", "Part, place or tin")];
    const TRY: &[Parameter] =
        &[must("act", "As on the command line: close big-end.left.bore 8 thou. May be repeated.")];
    const WITH: &[Parameter] = &[
        path("id", "Joint"),
        may("with", "A line of its duty to try, as NAME=VALUE. May be repeated."),
    ];
    const REFIT: &[Parameter] =
        &[may("refit", "Anything: with what is beyond its limit for putting back.")];
    const AT: &[Parameter] = &[must("at", "Position: left 40 past front")];
    const BRING: &[Parameter] = &[
        must("from", "Where it stands"),
        must("to", "Where it is wanted"),
        may("doubt", "Standard uncertainty of where it stands: 2 deg"),
    ];
    const BOOK: &[Parameter] = &[
        may("before", "Entries before this number"),
        may("about", "Entries about this thing"),
        may("find", "Entries with all these words"),
    ];
    const ENTRY: &[Parameter] = &[path("number", "Number of the entry")];
    const HEAD: &[Parameter] = &[may("head", "A hash that must be in the chain")];
    let mut all = vec![
        reads("/api/engine", "The engine at a glance", &[], || get(read::engine)),
        reads("/api/joint/{id}", "A joint, and what could be done", JOINT, || get(read::joint)),
        reads("/api/joint/{id}/design", "The repair of a joint, designed", WITH, || {
            get(read::design)
        }),
        reads("/api/try", "What would move if something were done", TRY, || get(read::try_acts)),
        reads("/api/chain/{id}", "A distance through many parts", CHAIN, || get(read::chain)),
        reads("/api/parts", "Parts, tags and places", &[], || get(read::parts)),
        reads("/api/part/{id}", "A part or place", PART, || get(read::part)),
        reads("/api/machine-to", "What to machine every part to", REFIT, || get(read::machine_to)),
        reads("/api/motion/where", "Where everything in the motion is", AT, || get(read::place)),
        reads("/api/motion/bring", "How far to bar the engine", BRING, || get(read::bring)),
        reads("/api/motion/clearances", "Piston clearances", &[], || get(read::clearances)),
        reads("/api/gauges", "Gauges", &[], || get(read::gauges)),
        reads("/api/people", "People and devices", &[], || get(read::people)),
        reads("/api/book", "Entries, newest first, at most 200", BOOK, || get(read::book)),
        reads("/api/book/entry/{number}", "One entry", ENTRY, || get(read::entry)),
        reads("/api/book/verify", "Looks through everything", HEAD, || get(read::verify)),
        reads("/api/openapi.json", "This document", &[], || get(document::serve)),
    ];
    all.extend(KINDS.iter().filter(|k| !k.signature).map(|kind| Route {
        path: format!("/api/say/{}", kind.word),
        what: kind.what,
        parameters: &[],
        says: Some(kind),
        handler: || post(write::say),
    }));
    all
}

/// Its routes.
pub(crate) fn routes() -> Router<Bench> {
    table().iter().fold(Router::new(), |router, r| router.route(&r.path, (r.handler)()))
}
