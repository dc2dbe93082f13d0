//! All places of a feature as one plain form, for a browser without script; the script makes it one
//! figure at a time.

use super::doubt::{Expected, doubts, far_from_before, gains};
use super::known::{feature_told, gauge_told, joints_told, people};
use super::pages::script;
use super::round::round;
use super::taken::{self, Typed};
use crate::fields::with_unit;
use crate::layout::{Page, token};
use crate::marks::{encoded, verdict};
use crate::pages::see;
use crate::posted::Posted;
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use axum::extract::Path;
use axum::response::Response;
use engine::model::{FeatureIx, GaugeIx};
use maud::{PreEscaped, html};

/// What was typed before, when the form comes back.
#[derive(Debug, Default)]
pub(super) struct Filled {
    fields: crate::fields::Fields,
    /// By place: what is asked about, or why it was not taken.
    asked: Vec<(usize, String)>,
    refused: Vec<(usize, String)>,
    /// No gauge was named, and nobody said that this is meant.
    no_gauge: bool,
}

/// A key for an entry: no two are alike.
fn key() -> Result<String, Trouble> {
    let mut bytes = [0u8; 16];
    getrandom::fill(&mut bytes).map_err(|e| Trouble::Inside(format!("no random bytes: {e}")))?;
    Ok(bytes.iter().map(|b| format!("{b:02x}")).collect())
}

/// The form.
pub(super) fn page(visit: &Visit, ix: FeatureIx, filled: &Filled) -> Result<Response, Trouble> {
    let judged = visit.judged()?;
    let joints = joints_told(judged);
    let (told, svg) = feature_told(&visit.snap, &judged.judgement, ix, &joints);
    let engine = judged.judgement.engine();
    let fields = &filled.fields;
    let today = taken::day("", visit.snap.today);
    // One key an opened form; each box adds its number, so that the form sent twice writes once.
    let base = fields.given("key").map_or_else(key, |k| Ok(k.to_owned()))?;
    let signed_in = visit.who.as_ref().map_or("", |s| s.name());
    let said = |list: &[(usize, String)], n: usize| -> Vec<String> {
        list.iter().filter(|(at, _)| *at == n).map(|(_, words)| words.clone()).collect()
    };
    let gauges = {
        let mut all: Vec<_> = engine.gauges.iter().map(|g| gauge_told(g, &visit.snap)).collect();
        all.sort_by_key(|g| !told.gauges.contains(&g.id));
        all
    };
    let page = Page {
        title: format!("Gauging {}", told.name),
        holding: html! {
            (script())
            h1 { (told.name) }
            p {
                (told.kind) " of " a href={ "/gauging/" (encoded(&told.part)) } { (told.part_name) }
                @if !told.tag.is_empty() { ", tag " b { (told.tag) } }
            }
            @for joint in &told.joints {
                p {
                    (verdict(joint.verdict)) " " a href={ "/joint/" (encoded(&joint.id)) } { (joint.name) }
                    @if let Some([metric, imperial]) = &joint.value {
                        ": " (joint.measure) " "
                        @match visit.units { Units::Metric => (metric), Units::Imperial => (imperial) }
                    }
                }
            }
        },
        knowing: html! {
            div #gauging-sketch.drawing {
                @if let Some(svg) = &svg { (PreEscaped(svg)) }
            }
            @if !told.made.is_empty() { p { "As made: " (told.made) } }
        },
        doing: html! {
            @if visit.who.is_none() {
                p.aside { a href={ "/sign-in?then=" (encoded(visit.here())) } { "Sign in" } " to write readings into the book." }
            }
            @if filled.no_gauge {
                p.alert role="alert" { "Nothing is written yet: no gauge is named, and a figure without one does not count." }
            }
            @if !filled.asked.is_empty() || !filled.refused.is_empty() {
                p.alert role="alert" { "Nothing is written yet: look at the figures marked below." }
            }
            form #gauging-form.stack method="post" action={ "/gauging/" (encoded(&told.id)) } data-feature=(told.id) {
                (token(visit))
                input type="hidden" name="key" value=(base);
                input type="hidden" name="when" value=(fields.given("when").unwrap_or(&today));
                fieldset {
                    legend { "With what" }
                    label for="gauge" { "Gauge" }
                    select #gauge name="gauge" {
                        option value="" { "none named (the figure will not count)" }
                        @for g in &gauges {
                            option value=(g.id) selected[fields.get("gauge") == g.id] { (g.words(visit.units)) }
                        }
                    }
                    @if filled.no_gauge {
                        label.tick { input type="checkbox" name="no_gauge" value="yes"; " without a gauge, as it is" }
                    }
                    label for="temperature" { "Temperature of the part, °C" }
                    input #temperature name="temperature" inputmode="decimal" autocomplete="off" value=(fields.get("temperature"));
                    label for="by" { "Read by" }
                    select #by name="by" {
                        @for name in people(&visit.snap) {
                            option value=(name) selected[name == fields.given("by").unwrap_or(signed_in)] { (name) }
                        }
                    }
                    label for="unit" { "Unit of figures without one" }
                    select #unit name="unit" {
                        @for (unit, words) in UNITS {
                            @let mine = fields.given("unit").unwrap_or(if visit.units == Units::Metric { "mm" } else { "in" });
                            option value=(unit) selected[*unit == mine] { (words) }
                        }
                    }
                }
                ol.boxes {
                    @for (n, place) in told.places.iter().enumerate() {
                        @let (asked, refused) = (said(&filled.asked, n), said(&filled.refused, n));
                        li {
                            label for={ "r" (n) } { (place.words) }
                            input #{ "r" (n) } name={ "r" (n) } autocomplete="off" autocapitalize="none" spellcheck="false"
                                value=(fields.get(&format!("r{n}"))) aria-describedby={ "p" (n) }
                                aria-invalid=[(!asked.is_empty() || !refused.is_empty()).then_some("true")];
                            span.quiet #{ "p" (n) } {
                                @if let Some(previous) = &place.previous {
                                    "before: " (previous.text) @if !previous.when.is_empty() { ", " (previous.when) }
                                } @else { "nothing there yet" }
                                @for words in &refused { br; b.alert { (words) } }
                                @for words in &asked { br; b.alert { (words) "; typed right?" } }
                            }
                            @if !asked.is_empty() {
                                label.tick { input type="checkbox" name={ "y" (n) } value="yes"; " yes, as typed" }
                            }
                        }
                    }
                }
                p.quiet { "Write figures as the gauge gives them: 7.7476, 8 3/16, 7 11/16 in + 23 thou. Leave out what you did not read." }
                button.main { "Write into the book" }
            }
            p { a href="/gauging" { "Gauge something else" } }
        },
    };
    Ok(page.answer(visit))
}

/// Units of figures.
const UNITS: &[(&str, &str)] = &[("mm", "millimetres"), ("in", "inches"), ("thou", "thou")];

/// In the unit chosen, where the figure names none and the unit is one of ours.
fn in_unit(figure: &str, unit: &str) -> String {
    let known = UNITS.iter().any(|(u, _)| *u == unit);
    if known { with_unit(figure, unit) } else { figure.to_owned() }
}

/// Takes the form: all of it, or nothing and the reasons beside the figures.
pub(crate) async fn taken(Path(what): Path<String>, posted: Posted) -> Result<Response, Trouble> {
    let visit = &posted.visit;
    let judged = visit.judged()?;
    let engine = judged.judgement.engine();
    let ix = engine.feature_by_id(&what).ok_or_else(|| {
        Trouble::missing("there is no such feature", "choose it again on the gauging page")
    })?;
    let (places, _) = round(&judged.judgement, ix);
    let fields = &posted.fields;
    let base = fields.wanted("key", "the key of the form")?;
    let usual = super::known::expected(engine.feature(ix), &places);
    let range = engine
        .gauge_by_id(fields.get("gauge"))
        .map(|g: GaugeIx| engine.gauge(g))
        .and_then(|g| g.from_m.zip(g.to_m));
    let mut filled = Filled::default();
    let (mut all, mut fellows) = (Vec::new(), Vec::new());
    for (n, place) in places.iter().enumerate() {
        let Some(figure) = fields.given(&format!("r{n}")) else { continue };
        let said_yes = fields.ticked(&format!("y{n}"));
        let typed = Typed {
            key: format!("{base}-{n}"),
            feature: what.clone(),
            station: place.station.clone(),
            direction: place.direction.clone(),
            reading: in_unit(figure, fields.get("unit")),
            gauge: fields.get("gauge").to_owned(),
            by: fields.get("by").to_owned(),
            when: fields.get("when").to_owned(),
            temperature: fields.get("temperature").to_owned(),
            note: if said_yes { "asked about: yes, as typed".to_owned() } else { String::new() },
        };
        match typed.read(engine) {
            Ok(reading) => {
                let inches = typed.reading.contains("in")
                    || typed.reading.contains("thou")
                    || typed.reading.contains('"');
                let there = place.previous.as_ref().map(|p| Expected {
                    si: p.si,
                    words: format!("the last ({})", p.text),
                    far_m: far_from_before(p.si),
                    gains: gains(engine.feature(ix).kind),
                });
                let expected = usual.as_ref().and(there.as_ref()).or(usual.as_ref());
                let asked = doubts(reading.si, expected, &fellows, range, inches);
                // What is doubted is no measure for the others.
                if usual.is_some() && asked.is_empty() {
                    fellows.push(reading.si);
                }
                if !said_yes {
                    filled.asked.extend(asked.into_iter().map(|words| (n, words)));
                }
                all.push(typed);
            }
            Err(Trouble::Told { what, mend, .. }) => {
                let words = if mend.is_empty() { what } else { format!("{what}: {mend}") };
                filled.refused.push((n, words));
            }
            Err(other) => return Err(other),
        }
    }
    if all.is_empty() && filled.refused.is_empty() {
        return Err(Trouble::wrong("no figure was typed", "go back and type what the gauge shows"));
    }
    filled.no_gauge = fields.get("gauge").is_empty() && !fields.ticked("no_gauge");
    if filled.no_gauge || !filled.asked.is_empty() || !filled.refused.is_empty() {
        filled.fields = posted.fields.clone();
        return page(visit, ix, &filled);
    }
    let written = taken::write(&visit.bench, posted.pen()?, all).await?;
    let last = written.last().map_or(0, |(w, _)| w.sequence);
    Ok(see(&format!("/gauging/{}?written={last}", encoded(&what))))
}

/// A line for what was said of a reading by the engine.
pub(super) fn suspicions(
    judged: &crate::snapshot::Judged,
    ix: FeatureIx,
    text: &str,
) -> Vec<String> {
    let judgement = &judged.judgement;
    judgement
        .feature(ix)
        .suspicions
        .iter()
        .filter(|s| {
            judgement.engine().readings.get(s.reading as usize).is_some_and(|r| *r.text == *text)
        })
        .map(|s| {
            let (_, words) = engine::view::suspicion_words(&s.why);
            if s.set_aside {
                format!("{words}; it does not count until somebody says so")
            } else {
                words
            }
        })
        .collect()
}
