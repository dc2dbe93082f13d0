//! A joint: how it stands and why, what could be done, what would follow, and the decision.

use crate::drawings;
use crate::fields::with_unit;
use crate::layout::Page;
use crate::marks::{cautions, encoded, figure, figure_or_dash, pair, verdict};
use crate::pieces::{for_roles, history, line, photographs, remark, saying, table};
use crate::snapshot::{JointShown, Judged};
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use axum::extract::Path;
use axum::response::Response;
use book::Role;
use engine::model::{JointIx, RepairKind};
use engine::repair::{Trial, parse_act};
use engine::view::{
    ContributorView, EffectView, FeatureView, JointView, LimitView, OptionView, ReadingView,
    TrialView, trial_view,
};
use maud::{Markup, html};

/// The page.
pub(crate) async fn joint(visit: Visit, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let ix = find(&judged, &id)?;
    let shown = judged.joint(ix);
    let tried = tried(&visit, &judged);
    let page = Page {
        title: name(&shown),
        holding: holding(&visit, &judged, ix, &shown),
        knowing: knowing(&visit, &shown, tried.as_ref()),
        doing: doing(&visit, &judged, ix, &shown),
    };
    Ok(page.answer(&visit))
}

/// The joint of an id; a feature's id leads to the joint it is in.
pub(crate) fn find(judged: &Judged, id: &str) -> Result<JointIx, Trouble> {
    let engine = judged.judgement.engine();
    engine.joint_by_id(id).ok_or_else(|| {
        let near =
            engine.nearest_id(id).map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        Trouble::missing(format!("there is no joint \"{id}\""), near)
    })
}

fn name(shown: &JointShown) -> String {
    let v = &shown.view;
    if v.name.is_empty() { v.id.clone() } else { v.name.clone() }
}

fn holding(visit: &Visit, judged: &Judged, ix: JointIx, shown: &JointShown) -> Markup {
    let engine = judged.judgement.engine();
    let joint = engine.joint(ix);
    let mut parts: Vec<usize> = [joint.inner, joint.outer]
        .into_iter()
        .chain(joint.fills.iter().copied())
        .map(|f| engine.feature(f).part.index())
        .collect();
    parts.dedup();
    let v = &shown.view;
    html! {
        h1 { (name(shown)) }
        p { code { (v.id) } ", " (v.kind) }
        p.large { (verdict(v.verdict)) }
        p { "To put back: " (verdict(v.refit_verdict)) }
        (decided(v))
        ul.plain {
            @for p in parts {
                @let part = &engine.parts[p];
                li {
                    a href={ "/part/" (encoded(&part.id)) } { (if part.name.is_empty() { &part.id } else { &part.name }) }
                    (super::part::whereabouts(visit, &part.id))
                }
            }
        }
    }
}

/// The decision that stands, and the sheet that goes to the machine with it.
fn decided(v: &JointView) -> Markup {
    let Some(d) = v.decisions.last() else { return html! {} };
    html! {
        div.decided {
            p { "Decided: " b { (d.repair) } @if !d.make.is_empty() { ", " (d.make.join(", ")) } }
            p.quiet { (d.by) " " (d.when) @if !d.reason.is_empty() { ": " (d.reason) } }
            @if RepairKind::Leave.word() != d.repair {
                p { a.main href="/paper/machine-to.pdf" { "Print the machine-to sheets" } }
                p { a href="/machine-to" { "What to machine every part to" } }
            }
        }
    }
}

fn knowing(visit: &Visit, shown: &JointShown, tried: Option<&Result<TrialView, String>>) -> Markup {
    let (v, units) = (&shown.view, visit.units);
    html! {
        @match tried {
            Some(Ok(trial)) => { (tried_shown(units, trial)) }
            Some(Err(why)) => {
                section #tried.result role="alert" { h2 { "That cannot be tried" } pre { (why) } }
            }
            None => {}
        }
        @if !v.missing.is_empty() { p.warn { "Not gauged: " (v.missing.join(", ")) } }
        dl.facts {
            @for m in &v.measures { dt { (m.measure) } dd { (figure(units, &m.figure)) } }
            @if let Some(f) = &v.as_made { dt { "as made" } dd { (figure(units, f)) } }
            @if let Some(f) = &v.last_time { dt { "last time" } dd { (figure(units, f)) } }
            @if let Some(f) = &v.change_since_last { dt { "change since last time" } dd { (figure(units, f)) } }
        }
        @for d in &shown.bars { (drawings::shown(d)) }
        (limits(units, &v.limits))
        (concessions(visit, &v.id))
        @for d in &shown.plots { (drawings::shown(d)) }
        section aria-labelledby="readings" {
            h2 #readings { "Surfaces and their readings, as written" }
            @for f in &v.features { (feature(visit, f)) }
        }
        (budget(units, &v.budget, v.degrees_of_freedom))
        @if !v.chains.is_empty() {
            p { "It is part of: " @for (n, c) in v.chains.iter().enumerate() { @if 0 < n { ", " } a href={ "/chain/" (encoded(c)) } { (c) } } }
        }
        (cautions(&v.cautions))
        (photographs(visit, &v.id))
        (history(visit, &v.id))
    }
}

fn concessions(visit: &Visit, id: &str) -> Markup {
    let Some(day) = visit.snap.today else { return html! {} };
    html! {
        @for c in visit.snap.fold.concessions_on(day).filter(|c| c.about == id) {
            p.warn { b { "Concession until " (c.until) } ", beyond " (c.limit) ": " (c.what) " (" (c.by) ", " (c.reason) ")" }
        }
    }
}

/// Verdict by limit, with who says so: what is not within first.
pub(crate) fn limits(units: Units, all: &[LimitView]) -> Markup {
    let (wanting, well): (Vec<_>, Vec<_>) =
        all.iter().partition(|l| l.verdict != "within" && l.verdict != "no limit");
    html! {
        @if !all.is_empty() {
            h2 { "Limits, and who says so" }
            @if wanting.is_empty() { p { "Within every limit." } }
            ul.limits { @for l in &wanting { (limit(units, l)) } }
            @if !well.is_empty() {
                details open[wanting.is_empty()] {
                    summary { (well.len()) " within" }
                    ul.limits { @for l in &well { (limit(units, l)) } }
                }
            }
        }
    }
}

fn limit(units: Units, l: &LimitView) -> Markup {
    html! {
        li {
            (verdict(l.verdict))
            div {
                b { (l.of) } @if let Some(f) = &l.feature { " of " (f) } ", " (when_words(l.when)) ": "
                (figure_or_dash(units, l.value.as_ref())) "; may be "
                @match (&l.min, &l.max) {
                    (Some(min), Some(max)) => { (figure(units, min)) " to " (figure(units, max)) }
                    (Some(min), None) => { (figure(units, min)) " or more" }
                    (None, Some(max)) => { (figure(units, max)) " or less" }
                    (None, None) => { "anything" }
                }
            }
            div.more {
                "Source: " (l.source) @if !l.note.is_empty() { " – " (l.note) } "."
                @if let Some(p) = l.allowance_left_percent { " " (format!("{:.0} % of the wear allowance left.", p.max(0.0))) }
                @if l.gauge_lapsed { " " b { "The gauge was out of calibration." } }
                @if !l.could_tell.is_empty() { " Could tell: " (l.could_tell.join(", ")) "." }
            }
        }
    }
}

fn when_words(when: &str) -> &str {
    match when {
        "refit" => "to put back",
        "service" => "in service",
        "made" => "as made",
        other => other,
    }
}

/// Where the uncertainty comes from.
pub(crate) fn budget(units: Units, all: &[ContributorView], degrees: Option<f64>) -> Markup {
    html! {
        @if !all.is_empty() {
            details {
                summary { "Where its uncertainty comes from" }
                (table("Uncertainty budget", &["source", "standard uncertainty", "share of the variance"], &html! {
                    @for b in all { tr { td { (b.source) } td { (figure(units, &b.u)) } td { (format!("{:.0} %", b.share_percent)) } } }
                }))
                @if let Some(n) = degrees { p.quiet { (format!("{n:.0} effective degrees of freedom.")) } }
            }
        }
    }
}

fn feature(visit: &Visit, f: &FeatureView) -> Markup {
    let units = visit.units;
    let (now, before): (Vec<&ReadingView>, Vec<_>) =
        f.readings.iter().partition(|r| r.status != "last time");
    html! {
        section.feature {
            h3 { (if f.name.is_empty() { &f.id } else { &f.name }) }
            p {
                code { (f.id) } ", " (f.kind)
                @if let Some(c) = f.condition { ", found " b { (c) } }
                @if let Some(why) = &f.missing { ": " (why) }
            }
            dl.facts {
                @if let Some(x) = &f.size { dt { "size, mean at 20 °C" } dd { (figure(units, x)) } }
                @if let Some(x) = &f.as_made { dt { "as made" } dd { (figure(units, x)) } }
                @if let Some(x) = &f.worn_since_made { dt { "worn since made" } dd { (figure(units, x)) } }
                @for m in &f.form { dt { (m.measure) } dd { (figure(units, &m.figure)) } }
                @if let Some(x) = &f.clean_up { dt { "cleans up at" } dd { (figure(units, x)) } }
            }
            @if !now.is_empty() {
                // What does not count is what one has come to look at.
                details open[now.iter().any(|r| !r.counted)] {
                    summary { (now.len()) @if now.len() == 1 { " reading" } @else { " readings" } ", as written" }
                    (readings(&format!("Readings of {}", f.id), &now))
                    (strike(visit, f, &now))
                }
            }
            @if !before.is_empty() {
                details { summary { "Last time: " (before.len()) " readings" } (readings(&format!("Readings of {}, last time", f.id), &before)) }
            }
            @if let Some((gauging, _)) = crate::gauging::DOOR { p { a href={ (gauging) "/feature/" (encoded(&f.id)) } { "Gauge it" } } }
        }
    }
}

fn readings(name: &str, all: &[&ReadingView]) -> Markup {
    table(
        name,
        &["where", "as written", "gauge, who, when", "does it count"],
        &html! {
            @for r in all {
                tr.struck[r.struck] {
                    td {
                        @if r.station.is_empty() { "place not given" } @else { (r.station) }
                        @if let Some(d) = r.direction_deg { ", " (format!("{d:.0}°")) }
                    }
                    td { b { (r.text) } @if r.kind == "dial" { " (dial)" } }
                    td { (r.gauge) span.quiet { " " (r.by) " " (r.when) } }
                    td { @if !r.counted { (r.status) } }
                }
            }
        },
    )
}

/// One figure struck out, with its reason.
fn strike(visit: &Visit, f: &FeatureView, now: &[&ReadingView]) -> Markup {
    let stand: Vec<&&ReadingView> = now.iter().filter(|r| !r.struck).collect();
    if stand.is_empty() || !crate::pieces::has(visit, &[Role::Records, Role::Responsible]) {
        return html! {};
    }
    let id = |what: &str| format!("{what}-{}", f.id);
    html! {
        details {
            summary { "Strike a figure out" }
            (saying(visit, "figure-struck-out", visit.uri.path(), &html! {
                input type="hidden" name="feature" value=(f.id);
                label for=(id("figure")) { "Figure" }
                select id=(id("figure")) name="figure" required {
                    @for r in &stand {
                        option value=(figure_key(r)) { (r.text) ", " @if r.station.is_empty() { "place not given" } @else { (r.station) } @if let Some(d) = r.direction_deg { ", " (format!("{d:.0}°")) } }
                    }
                }
                (line(&id("strike-why"), "reason", "Why it does not count", "", true))
                p.quiet { "It stays in the book, struck through." }
                button { "Strike it out" }
            }))
        }
    }
}

/// Figure, station and direction of a reading, as one choice of a form.
fn figure_key(r: &ReadingView) -> String {
    let direction = r.direction_deg.map_or_else(String::new, |d| format!("{d}"));
    format!("{}|{}|{direction}", r.text, r.station)
}

fn doing(visit: &Visit, judged: &Judged, ix: JointIx, shown: &JointShown) -> Markup {
    let v = &shown.view;
    html! {
        h2 #decide { @if v.decisions.is_empty() { "Decide" } @else { "Decide otherwise" } }
        (options(visit, &shown.options))
        (for_roles(visit, &[Role::Responsible], || decide(visit, shown)))
        (super::concessions::about(visit, &v.id, &v.limits))
        h2 #try { "Try it first" }
        (what_if(visit, judged, ix, shown))
        ul.ways {
            li { a href={ "/joint/" (encoded(&v.id)) "/design" } { "Design the repair: forces, stresses, sheet" } }
            li { a href={ "/paper/repair/" (encoded(&v.id)) ".pdf" } { "Repair sheet for the bench, to print" } }
            li { a href={ "/paper/gauge/" (encoded(&v.id)) ".pdf" } { "Blank gauge sheet, to print" } }
            li { a href="/machine-to" { "What to machine every part to" } }
            li { a href="/" { "To the engine" } }
        }
        (work(visit, &v.id))
        (remark(visit, &v.id))
    }
}

/// What could be done, with what it comes to.
fn options(visit: &Visit, all: &[OptionView]) -> Markup {
    let units = visit.units;
    let (can, cannot): (Vec<_>, Vec<_>) = all.iter().partition(|o| o.can_be_done);
    html! {
        @if can.is_empty() { p { "Nothing that can be done was found." } }
        @for o in can {
            details.option open[o.recommended] {
                summary {
                    b { (o.repair) @if o.recommended { ", recommended" } } ": " (o.words)
                    @if let Some(f) = &o.after { "; afterwards " b { (pair(units, f).0) } }
                }
                @if !o.targets.is_empty() {
                    ul.plain {
                        @for t in &o.targets {
                            li {
                                (if t.name.is_empty() { &t.feature } else { &t.name }) " to " (figure(units, &t.to)) " ± " (pair(units, &t.tolerance).0) ", " (t.way)
                                @if let Some(suit) = &t.to_suit { ", to suit the finished " (suit) }
                            }
                        }
                    }
                }
                @if let Some(p) = o.probability { p.quiet { (format!("Inside the limits for putting back with a probability of {:.0} %.", 100.0 * p)) } }
                (moves(units, "Other joints that move", "/joint/", &o.joints))
                (moves(units, "Distances that move", "/chain/", &o.chains))
            }
        }
        @if !cannot.is_empty() {
            details {
                summary { "What cannot be done, and why" }
                ul.plain { @for o in cannot { li { b { (o.repair) } ": " (o.against.join("; ")) } } }
            }
        }
    }
}

fn moves(units: Units, title: &str, to: &str, all: &[EffectView]) -> Markup {
    html! {
        @if !all.is_empty() {
            p { (title) ":" }
            ul.plain {
                @for e in all {
                    li {
                        a href={ (to) (encoded(&e.id)) } { (e.id) } ", " (e.measure)
                        @if let Some(m) = &e.moves { " by " (pair(units, m).0) }
                        @if let (Some(b), Some(a)) = (&e.before, &e.after) { ": " (pair(units, b).0) " to " b { (pair(units, a).0) } }
                        @if e.verdict_before != e.verdict_after { "; " (verdict(e.verdict_before)) " to " (verdict(e.verdict_after)) }
                    }
                }
            }
        }
    }
}

fn decide(visit: &Visit, shown: &JointShown) -> Markup {
    let v = &shown.view;
    let best = shown.options.iter().find(|o| o.recommended).map(|o| o.repair);
    let can: Vec<&str> = shown.options.iter().filter(|o| o.can_be_done).map(|o| o.repair).collect();
    saying(
        visit,
        "decided",
        visit.uri.path(),
        &html! {
            input type="hidden" name="joint" value=(v.id);
            label for="repair" { "What will be done" }
            select #repair name="repair" required {
                @if best.is_none() { option value="" { "choose" } }
                @for kind in RepairKind::ALL {
                    option value=(kind.word()) selected[best == Some(kind.word())] {
                        (kind.word())
                        @if best == Some(kind.word()) { " (recommended)" } @else if !can.contains(&kind.word()) { " (not worked out here)" }
                    }
                }
            }
            details {
                summary { "Sizes of your own" }
                p.quiet { "Left empty, they are worked out as above." }
                @for (n, f) in v.features.iter().enumerate() {
                    (line(&format!("make-{n}"), &format!("make.{}", f.id), &format!("{} to", f.id), "", false))
                }
            }
            (line("reason", "reason", "Why", "", false))
            button.main { "Record the decision" }
        },
    )
}

fn what_if(visit: &Visit, judged: &Judged, ix: JointIx, shown: &JointShown) -> Markup {
    let engine = judged.judgement.engine();
    let joint = engine.joint(ix);
    let features: Vec<&str> = [joint.inner, joint.outer]
        .into_iter()
        .chain(joint.fills.iter().copied())
        .map(|f| engine.feature(f).id.as_str())
        .collect();
    let split =
        [joint.inner, joint.outer].into_iter().find(|f| engine.feature(*f).halves.len() == 2);
    let now = |id: &str| {
        let size = shown.view.features.iter().find(|f| f.id == id)?.size.as_ref()?;
        Some(pair(visit.units, size).0.to_owned())
    };
    let chosen = visit.asked.get("act");
    let (usual, like) = match visit.units {
        Units::Metric => ("mm", "0.2, 195.8 or 7 11/16 in + 23 thou"),
        Units::Imperial => ("in", "0.008, 7 11/16 or 7 11/16 in + 23 thou"),
    };
    let unit = visit.asked.given("unit").unwrap_or(usual);
    html! {
        form.stack method="get" action={ (visit.uri.path()) "#tried" } {
            label for="act" { "What if we" }
            select #act name="act" {
                @if let Some(bore) = split {
                    @let value = format!("close {}", engine.feature(bore).id);
                    option value=(value) selected[chosen == value] { "close the bearing by" }
                }
                @for f in &features {
                    @let value = format!("make {f}");
                    option value=(value) selected[chosen == value] {
                        "make " (f) " to" @if let Some(now) = now(f) { " (now " (now) ")" }
                    }
                }
                @let value = format!("line {}", joint.id);
                option value=(value) selected[chosen == value] { "put in a liner of" }
            }
            div.sized {
                div {
                    label for="size" { "Size" }
                    input #size name="size" value=(visit.asked.get("size")) autocomplete="off" autocapitalize="none" spellcheck="false" required aria-describedby="size-how";
                }
                div {
                    label for="unit" { "in" }
                    select #unit name="unit" {
                        @for (word, words) in WHAT_IF_UNITS { option value=(word) selected[*word == unit] { (words) } }
                    }
                }
            }
            p.quiet #size-how { "As: " (like) ". A unit written in the figure goes before the one chosen." }
            button { "Try it" }
            p.quiet { "Nothing is written." }
        }
    }
}

/// Units of a what-if's size.
const WHAT_IF_UNITS: &[(&str, &str)] = &[("mm", "mm"), ("in", "inches"), ("thou", "thou")];

/// The size as it was asked: a fraction without a unit is of an inch, whatever the unit chosen.
fn size_asked(size: &str, unit: &str) -> String {
    let known = WHAT_IF_UNITS.iter().find(|(u, _)| *u == unit).map_or("", |(u, _)| *u);
    with_unit(size, if size.contains('/') { "in" } else { known })
}

/// What was asked to be tried, if anything was.
fn tried(visit: &Visit, judged: &Judged) -> Option<Result<TrialView, String>> {
    let (act, size) = (visit.asked.given("act")?, visit.asked.given("size")?);
    let text = format!("{act} {}", size_asked(size, visit.asked.get("unit")));
    Some(parse_act(&judged.judgement, &text).and_then(|act| {
        let mut trial = Trial::default();
        act.lay_on(&judged.judgement, &mut trial)?;
        Ok(trial_view(&judged.judgement, &[text], &trial.run(&judged.judgement)))
    }))
}

fn tried_shown(units: Units, t: &TrialView) -> Markup {
    html! {
        section #tried.result role="status" aria-labelledby="tried-what" {
            h2 #tried-what { "If we " (t.acts.join(" and ")) }
            ul.plain {
                @for s in &t.sizes {
                    li { (s.feature) ": " (figure_or_dash(units, s.before.as_ref())) " to " (figure(units, &s.after)) }
                }
            }
            @if t.joints.is_empty() && t.chains.is_empty() { p { "Nothing else moves." } }
            (moves(units, "Joints that move", "/joint/", &t.joints))
            (moves(units, "Distances that move", "/chain/", &t.chains))
            @if !t.pistons.is_empty() {
                p { "Piston clearances that move:" }
                ul.plain { @for e in &t.pistons { li { (e.id) @if let Some(m) = &e.moves { " by " (pair(units, m).0) } "; " (verdict(e.verdict_before)) " to " (verdict(e.verdict_after)) } } }
            }
        }
    }
}

/// Work done on it, hold points, and signing it off.
pub(crate) fn work(visit: &Visit, about: &str) -> Markup {
    let fold = &visit.snap.fold;
    let points: Vec<_> =
        fold.hold_points().iter().filter(|p| p.about == about && p.released.is_none()).collect();
    let here = visit.uri.path();
    html! {
        @for p in &points {
            p.warn {
                b { "Hold point: " (p.id) } br; (p.what)
                @if p.reached.is_some() { br; a href="/book#waiting" { "It waits to be released." } }
            }
        }
        @if crate::pieces::has(visit, &[Role::Fits]) {
            details {
                summary { "Work done on it" }
                (saying(visit, "worked", here, &html! {
                    input type="hidden" name="about" value=(about);
                    label for="what-work" { "What was done" }
                    textarea #what-work name="what" rows="2" required {}
                    @if points.iter().any(|p| p.reached.is_none()) {
                        label for="reaches" { "The work has reached" }
                        select #reaches name="reaches" {
                            option value="" { "no hold point" }
                            @for p in points.iter().filter(|p| p.reached.is_none()) { option value=(p.id) { (p.id) } }
                        }
                    }
                    button { "Write it in the book" }
                }))
            }
        }
        @if crate::pieces::has(visit, &[Role::Responsible]) {
            details {
                summary { "Set a hold point" }
                (saying(visit, "hold-point", here, &html! {
                    input type="hidden" name="about" value=(about);
                    (line("hold-id", "id", "Short name", "", true))
                    (line("hold-what", "what", "What is to be looked at", "", true))
                    label.tick { input type="checkbox" name="not_by_doer" value="yes"; " not released by who did the work" }
                    button { "Set it" }
                }))
            }
            details {
                summary { "Sign it off" }
                (saying(visit, "signed-off", here, &html! {
                    input type="hidden" name="about" value=(about);
                    (line("sign-what", "what", "What is signed", "", true))
                    (crate::pieces::password("sign-password"))
                    button { "Sign" }
                }))
            }
        }
    }
}
