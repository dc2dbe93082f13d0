//! One module a page.

mod book;
mod chain;
mod concessions;
mod design;
mod find;
mod gauges;
mod home;
mod joint;
mod keys;
mod loads;
mod look;
mod machine_to;
mod motion;
pub(crate) mod paper;
mod part;
mod people;
mod photograph;
mod say;
mod sign_in;
mod trust;
pub(crate) mod works;
mod write;

pub(crate) use book::Wanted;
pub(crate) use design::as_it_stands as design_as_it_stands;
pub(crate) use joint::{find as find_joint, work as joint_work};
pub(crate) use motion::{brought, no_answer, position};
pub(crate) use sign_in::see;

use crate::state::Bench;
use axum::Router;
use axum::routing::{get, post};

/// The pages.
pub(crate) fn routes() -> Router<Bench> {
    Router::new()
        .route("/", get(home::home))
        .route("/find", get(find::find))
        .route("/tag/{code}", get(find::tag))
        .route("/joint/{id}", get(joint::joint))
        .route("/joint/{id}/design", get(design::design))
        .route("/parts", get(part::parts))
        .route("/part/{id}", get(part::part))
        .route("/photograph", post(part::attach))
        .route("/photograph/{hash}", get(photograph::photograph))
        .route("/chains", get(chain::chains))
        .route("/chain/{id}", get(chain::chain))
        .route("/motion", get(motion::motion))
        .route("/motion/turn.json", get(motion::turn))
        .route("/motion/loads", get(loads::loads))
        .route("/machine-to", get(machine_to::machine_to))
        .route("/plan", get(works::plan))
        .route("/plan/chart", get(works::chart))
        .route("/today", get(works::today))
        .route("/today/order", post(works::move_work))
        .route("/today/sheet", post(works::hand_out))
        .route("/work/{id}", get(works::work))
        .route("/lifts", get(works::lifts))
        .route("/lift/{id}", get(works::lift))
        .route("/thing/{what}", get(find::thing))
        .route("/paper", get(paper::sheets))
        .route("/paper/dossier.pdf", get(paper::dossier))
        .route("/paper/plan.pdf", get(paper::plan))
        .route("/paper/day.pdf", get(paper::day))
        .route("/paper/cards.pdf", get(paper::cards))
        .route("/paper/card/{id}", get(paper::card))
        .route("/paper/lift/{id}", get(paper::lift))
        .route("/paper/repair/{id}", get(paper::repair))
        .route("/paper/repairs.pdf", get(paper::repairs))
        .route("/paper/gauge/{id}", get(paper::gauge))
        .route("/paper/tags.pdf", get(paper::tags))
        .route("/paper/condition-report.pdf", get(paper::condition_report))
        .route("/paper/machine-to.pdf", get(paper::machine_to))
        .route("/book", get(book::book))
        .route("/book/entry/{number}", get(book::entry))
        .route("/book/verify", get(book::verify))
        .route("/book/whole.tar", get(book::whole))
        .route("/book/copy.book", get(book::copy))
        .route("/book/write", get(write::write))
        .route("/concessions", get(concessions::concessions))
        .route("/book/{form}", get(book::readings))
        .route("/gauges", get(gauges::gauges))
        .route("/people", get(people::people).post(people::change))
        .route("/people/password", post(people::password_of_ones_own))
        .route("/people/device", post(people::device))
        .route("/people/withdraw", post(people::withdraw_token))
        .route("/say/{kind}", post(say::say))
        .route("/look", post(look::look))
        .route("/sign-in", get(sign_in::page).post(sign_in::sign_in))
        .route("/sign-out", post(sign_in::sign_out))
        .route("/trust", get(trust::trust))
        .route("/trust/authority.pem", get(trust::authority))
        .route("/keys", get(keys::keys))
}
