//! The same as JSON: what the pages show, in the shapes of `engine::view`, and what they write.
//!
//! One table says which routes there are; the router and the OpenAPI document are both made of it.

mod answers;
mod document;
mod read;
mod write;

use crate::said::{KINDS, Kind};
use crate::state::Bench;
use axum::Router;
use axum::routing::{MethodRouter, get, post};
use engine::view::{
    BringView, ChainView, ClearancesView, DayListView, DesignView, LiftView, MachineToView,
    PlanView, PositionView, TrialView, WorkView,
};
use serde_json::{Map, Value};

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
    /// What it answers when it reads.
    answers: Answers,
    handler: fn() -> MethodRouter<Bench>,
}

/// What a route answers.
#[derive(Clone, Copy)]
enum Answers {
    /// JSON of this shape; the records that it names go into the map.
    Json(fn(&mut Map<String, Value>) -> Value),
    /// A sheet.
    Pdf,
    /// As everything that writes does.
    Written,
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
    answers: fn(&mut Map<String, Value>) -> Value,
    handler: fn() -> MethodRouter<Bench>,
) -> Route {
    let answers = Answers::Json(answers);
    Route { path: path.to_owned(), what, parameters, says: None, answers, handler }
}

fn prints(
    path: &str,
    what: &'static str,
    parameters: &'static [Parameter],
    handler: fn() -> MethodRouter<Bench>,
) -> Route {
    let answers = Answers::Pdf;
    Route { path: path.to_owned(), what, parameters, says: None, answers, handler }
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
    const HEAD: &[Parameter] = &[
        may("head", "A hash that must be in the chain"),
        may("again", "Anything: looked through again even where nothing was written since"),
    ];
    const STAGE: &[Parameter] = &[may("stage", "strip, as when not given, or build")];
    const WORK: &[Parameter] = &[path("id", "Work")];
    const LIFT: &[Parameter] = &[path("id", "Lift")];
    const DAY: &[Parameter] = &[
        may("stage", "strip, as when not given, or build"),
        may("day", "Year-month-day; the day the plan has come to when not given"),
        may("from", "From when: 13:15"),
        may("people", "How many people are here"),
        may("hours", "Hours to work"),
        may("weather", "rain, wind or frost. May be repeated."),
        may("without", "Kit or place that is not there, by id. May be repeated."),
        may("paper", "a4 or letter, for a sheet"),
    ];
    const SHEET: &[Parameter] = &[may("paper", "a4, as when not given, or letter")];
    const SHEET_OF: &[Parameter] =
        &[path("id", "What it is of"), may("paper", "a4, as when not given, or letter")];
    const TAGS: &[Parameter] = &[
        may("size", "tie-on, tin, small or large"),
        may("part", "Of this part alone"),
        may("paper", "a4, as when not given, or letter"),
    ];
    use answers::of;
    let mut all = vec![
        reads("/api/engine", "The engine at a glance", &[], answers::engine, || get(read::engine)),
        reads("/api/joint/{id}", "A joint, and what could be done", JOINT, answers::joint, || {
            get(read::joint)
        }),
        reads(
            "/api/joint/{id}/design",
            "The repair of a joint, designed",
            WITH,
            of::<DesignView>,
            || get(read::design),
        ),
        reads("/api/try", "What would move if something were done", TRY, of::<TrialView>, || {
            get(read::try_acts)
        }),
        reads("/api/chain/{id}", "A distance through many parts", CHAIN, of::<ChainView>, || {
            get(read::chain)
        }),
        reads("/api/parts", "Parts, tags and places", &[], answers::parts, || get(read::parts)),
        reads("/api/part/{id}", "A part or place", PART, answers::part, || get(read::part)),
        reads(
            "/api/machine-to",
            "What to machine every part to",
            REFIT,
            of::<MachineToView>,
            || get(read::machine_to),
        ),
        reads(
            "/api/motion/where",
            "Where everything in the motion is",
            AT,
            of::<PositionView>,
            || get(read::place),
        ),
        reads("/api/motion/bring", "How far to bar the engine", BRING, of::<BringView>, || {
            get(read::bring)
        }),
        reads("/api/motion/clearances", "Piston clearances", &[], of::<ClearancesView>, || {
            get(read::clearances)
        }),
        reads("/api/plan", "The plan of strip or build", STAGE, of::<PlanView>, || get(read::plan)),
        reads("/api/today", "A day's list", DAY, of::<DayListView>, || get(read::today)),
        reads("/api/work/{id}", "A work as described", WORK, of::<WorkView>, || get(read::work)),
        reads("/api/lift/{id}", "A lift", LIFT, of::<LiftView>, || get(read::lift)),
        reads("/api/gauges", "Gauges", &[], answers::gauges, || get(read::gauges)),
        reads("/api/people", "People and devices", &[], answers::people, || get(read::people)),
        reads("/api/concessions", "Concessions", &[], answers::concessions, || {
            get(read::concessions)
        }),
        reads("/api/book", "Entries, newest first, at most 200", BOOK, answers::book, || {
            get(read::book)
        }),
        reads("/api/book/entry/{number}", "One entry", ENTRY, answers::entry, || get(read::entry)),
        reads("/api/book/verify", "Looks through everything", HEAD, answers::verify, || {
            get(read::verify)
        }),
        reads("/api/openapi.json", "This document", &[], answers::document, || {
            get(document::serve)
        }),
        prints("/api/paper/dossier", "Everything the book says", SHEET, || get(read::dossier)),
        prints("/api/paper/condition-report", "Condition report", SHEET, || get(read::condition)),
        prints("/api/paper/machine-to", "Machine-to sheets", SHEET, || {
            get(read::machine_to_sheets)
        }),
        prints("/api/paper/gauge/{id}", "Blank gauge sheet of a part or joint", SHEET_OF, || {
            get(read::gauge_sheet)
        }),
        prints("/api/paper/repair/{id}", "Repair sheet of a joint", SHEET_OF, || {
            get(read::repair_sheet)
        }),
        prints("/api/paper/card/{id}", "Job card of a work", SHEET_OF, || get(read::card)),
        prints("/api/paper/lift/{id}", "Lift sheet", SHEET_OF, || get(read::lift_sheet)),
        prints("/api/paper/day", "A day's list", DAY, || get(read::day_sheet)),
        prints("/api/paper/tags", "Tags", TAGS, || get(read::tags)),
    ];
    all.extend(KINDS.iter().filter(|k| !k.signature).map(|kind| Route {
        path: format!("/api/say/{}", kind.word),
        what: kind.what,
        parameters: &[],
        says: Some(kind),
        answers: Answers::Written,
        handler: || post(write::say),
    }));
    all
}

/// Its routes.
pub(crate) fn routes() -> Router<Bench> {
    table().iter().fold(Router::new(), |router, r| router.route(&r.path, (r.handler)()))
}
