//! The motion as words on a terminal.

use super::{amount, both, figure, probability, short, table};
use crate::args::Units;
use crate::failure::put;
use engine::motion::HeavierBy;
use engine::view::{
    Amount, AxleView, BalanceView, BearingView, BringView, CentreView, ClearancesView,
    CylinderLoadsView, EndView, FatigueView, Figure, LimitView, LoadsView, MoveView, PositionView,
    ReachView, RevolutionView, RodView, WeightView, verdict_sign,
};

fn notes(list: &[String]) {
    for n in list {
        put!("  note: {n}");
    }
}

fn cautions(list: &[&str]) {
    for c in list {
        put!("! {c}");
    }
}

fn plus_minus(f: &Figure, units: Units) -> String {
    let Some(u) = f.u_si else { return String::new() };
    match units {
        // Two figures of a doubt are enough (JCGM 100, 7.2.6).
        Units::Metric if 2e3 * u >= 1.0 => format!(" ± {:.0} mm", 2e3 * u),
        Units::Metric => format!(" ± {:.2} mm", 2e3 * u),
        Units::Imperial => format!(" ± {:.0} thou", 2.0 * u / 25.4e-6),
    }
}

/// Where everything is.
pub(crate) fn position(p: &PositionView, units: Units) {
    put!("{} (wheel angle {:.1}°)", p.said, p.wheel_deg);
    pins(p, units);
    notes(&p.notes);
}

fn pins(p: &PositionView, units: Units) {
    let signed = |f: &Figure, plus: &str, minus: &str| {
        let text = short(f, units);
        match text.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => format!("{rest} {minus}"),
            None => format!("{text} {plus}"),
        }
    };
    let rows: Vec<Vec<String>> = p
        .cylinders
        .iter()
        .map(|c| {
            vec![
                c.cylinder.clone(),
                format!("{:.1}° past front", c.past_front_deg),
                format!(
                    "{} ({}, {})",
                    c.pin,
                    signed(&c.pin_ahead, "ahead", "behind"),
                    signed(&c.pin_above, "up", "down")
                ),
                format!("{} ({:.1} %)", short(&c.piston_from_front, units), c.stroke_percent),
                c.going.to_owned(),
                format!("{:+.1}°", c.rod_deg),
            ]
        })
        .collect();
    table::print(&["crank", "stands", "pin", "piston from front", "goes", "rod"], &rows);
}

fn moved(m: &MoveView, units: Units) -> String {
    format!(
        "{} {}{}, {:.1}° of the wheel",
        m.way,
        figure(&m.distance, units),
        plus_minus(&m.distance, units),
        m.turn_deg
    )
}

/// How far to go.
pub(crate) fn bring(b: &BringView, doubt_unsaid: bool, units: Units) {
    put!("from {} to {}:", b.from.said, b.to.said);
    put!("  the shorter way: {}", moved(&b.shorter, units));
    put!("  the other way:   {}", moved(&b.other, units));
    put!(
        "  tyre {}{}; the crank then stands right within {:.1}° (k = 2)",
        figure(&b.tyre, units),
        plus_minus(&b.tyre, units),
        2.0 * b.shorter.arrival_doubt_deg
    );
    if doubt_unsaid {
        put!("  note: the angle it stands at now is taken as exact; say otherwise with --doubt");
    }
    put!("\nthere:");
    pins(&b.to, units);
    notes(&b.notes);
    put!("\nbefore the engine is moved:");
    cautions(&b.cautions);
}

/// Windows and stops.
pub(crate) fn reach(r: &ReachView, doubt_unsaid: bool, units: Units) {
    put!("from {}:", r.from);
    let rows: Vec<Vec<String>> = r
        .jobs
        .iter()
        .map(|j| {
            let windows: Vec<String> =
                j.windows.iter().map(|w| format!("{} to {}", w.from, w.until)).collect();
            let way = |m: &Option<MoveView>| {
                m.as_ref().map_or("never".to_owned(), |m| short(&m.distance, units).to_owned())
            };
            vec![
                j.to.clone(),
                j.by.to_owned(),
                windows.join("; "),
                if j.now { "here".to_owned() } else { way(&j.forward) },
                if j.now { "here".to_owned() } else { way(&j.backward) },
                j.note.clone(),
            ]
        })
        .collect();
    table::print(&["to", "from the", "window", "forward", "backward", ""], &rows);
    match r.common.as_slice() {
        [] => put!("no position serves them all"),
        list => {
            for w in list {
                put!("all together: {} to {} ({:.0}°)", w.from, w.until, w.length_deg);
            }
        }
    }
    put!("stops, going forward:");
    for (n, s) in r.stops.iter().enumerate() {
        put!(
            "  {}. {} on, anywhere {} to {}: {}",
            n + 1,
            figure(&s.forward.distance, units),
            s.window.from,
            s.window.until,
            s.jobs.join(", ")
        );
    }
    if doubt_unsaid {
        put!("  note: the angle it stands at now is taken as exact; say otherwise with --doubt");
    }
    notes(&r.notes);
    put!("\nbefore the engine is moved:");
    cautions(&r.cautions);
}

/// Clearances of every cylinder.
pub(crate) fn clearances(v: &ClearancesView, all: bool, units: Units) {
    for c in &v.cylinders {
        put!("{} cylinder, stroke {}", c.cylinder, figure(&c.stroke, units));
        for e in &c.ends {
            end(e, all, units);
        }
        if let Some(b) = &c.bump {
            put!(
                "  bump test: front {}, back {}; against the sizes {}, {}",
                figure(&b.front, units),
                figure(&b.back, units),
                short(&b.misfit[0], units),
                short(&b.misfit[2], units)
            );
            put!("    {}", b.words);
            let agree = b.culprits.first().is_none_or(|k| k.by.is_none());
            let shown = if agree { 0 } else { 3 };
            for k in b.culprits.iter().filter(|k| k.probability >= 0.01).take(shown) {
                let Some(by) = &k.by else { continue };
                put!(
                    "    {}: {} out by {}",
                    probability(k.probability),
                    k.what.join(" or "),
                    short(by, units)
                );
            }
            if b.left_over < 0.01 {
                put!("    none of these fits by itself: look for two things wrong");
            }
            if all {
                put!("    ({})", b.priors);
            }
        }
        notes(&c.notes);
    }
    for m in &v.missing {
        put!("no answer for {m}");
    }
    cautions(&v.cautions);
}

fn end(e: &EndView, all: bool, units: Units) {
    put!(
        "  {} {:<5} {}{} (root sum of squares, k = 2){}; slack taken up {}",
        verdict_sign(e.verdict),
        e.end,
        figure(&e.clearance, units),
        plus_minus(&e.clearance, units),
        e.as_made.as_ref().map_or(String::new(), |m| format!(", as made {}", short(m, units))),
        short(&e.slack_taken_up, units),
    );
    put!(
        "    in service {}, to put back {}; worst case {} to {}; 95 in 100 drawn {} to {}",
        e.verdict,
        e.refit_verdict,
        short(&e.worst_least, units),
        short(&e.worst_greatest, units),
        short(&e.drawn_low, units),
        short(&e.drawn_high, units)
    );
    for l in &e.limits {
        put!(
            "    {} {} {} in {}, {}",
            verdict_sign(l.verdict),
            l.verdict,
            limit(l, units),
            l.when,
            l.source
        );
    }
    let rows: Vec<Vec<String>> = e
        .sizes
        .iter()
        .take(if all { usize::MAX } else { 3 })
        .map(|s| {
            vec![
                s.size.to_owned(),
                short(&s.value, units).to_owned(),
                format!("{:+.3}", s.per_size),
                short(&s.u, units).to_owned(),
            ]
        })
        .collect();
    if all {
        table::print(&["size", "is", "moves it by", "doubt in it"], &rows);
        for b in &e.budget {
            put!("    {:5.1} %  {:>12}  {}", b.share_percent, short(&b.u, units), b.source);
        }
    } else {
        let largest: Vec<String> = rows.iter().map(|r| format!("{} {}", r[0], r[3])).collect();
        put!("    doubt mostly from: {}", largest.join(", "));
    }
}

fn limit(l: &LimitView, units: Units) -> String {
    match (&l.min, &l.max) {
        (Some(a), Some(b)) => format!("{} to {}", short(a, units), short(b, units)),
        (Some(a), None) => format!("least {}", short(a, units)),
        (None, Some(b)) => format!("most {}", short(b, units)),
        (None, None) => String::new(),
    }
}

/// Ways to centre a piston.
pub(crate) fn centre(c: &CentreView, units: Units) {
    put!(
        "{} piston by {}: front {}, back {}; wanted front less back {}",
        c.cylinder,
        c.from,
        figure(&c.front, units),
        figure(&c.back, units),
        short(&c.wanted, units)
    );
    put!("any one of these:");
    let mut told: Vec<usize> = Vec::new();
    for (at, w) in c.ways.iter().enumerate() {
        if told.contains(&at) {
            continue;
        }
        // The rod made longer is one thing, wherever along it that is done.
        let alike = |o: &engine::view::CentreWayView| {
            o.direction == w.direction && o.elsewhere == w.elsewhere && o.chains == w.chains
        };
        let same: Vec<usize> = (at..c.ways.len()).filter(|k| alike(&c.ways[*k])).collect();
        let names: Vec<&str> = same.iter().map(|k| c.ways[*k].change).collect();
        told.extend(&same);
        let cannot = if w.possible { "" } else { " (cannot be)" };
        put!(
            "  {} by {}, {}{cannot}: then front {}, back {}",
            names.join(" or "),
            figure(&w.by, units),
            w.direction,
            short(&w.front, units),
            short(&w.back, units)
        );
        let elsewhere: Vec<&str> =
            w.elsewhere.iter().filter_map(|e| e.split([':', '(']).next()).map(str::trim).collect();
        put!("      look at: {}", elsewhere.join("; "));
        if !w.chains.is_empty() {
            put!("      chains that move: {}", w.chains.join(", "));
        }
    }
    notes(&c.notes);
    put!(
        "! Whatever is changed, bar the engine a full turn by hand and mark the bars before steam."
    );
}

/// Loads at a speed.
pub(crate) fn loads(v: &LoadsView, units: Units) {
    put!("{}, wheels {}: {}", both(&v.speed, units), amount(&v.wheels, units), v.steam);
    for c in &v.cylinders {
        cylinder_loads(c, units);
    }
    put!(
        "tractive effort at the rim: mean {}, least {} at {}, greatest {} at {}",
        both(&v.tractive_mean, units),
        amount(&v.tractive_least, units),
        v.least_at,
        amount(&v.tractive_greatest, units),
        v.greatest_at
    );
    if let Some(s) = &v.tractive_standard {
        put!("  by the standard formula {}", both(s, units));
    }
    put!(
        "turning moment: mean {}, least {}, greatest {}",
        both(&v.moment_mean, units),
        amount(&v.moment_least, units),
        amount(&v.moment_greatest, units)
    );
    for c in &v.coupling {
        put!(
            "coupling rods, {} to {}: pull {}, thrust {}",
            c.front_axle,
            c.back_axle,
            both(&c.tension, units),
            amount(&c.thrust, units)
        );
        if let Some(r) = &c.rod {
            rod(r, units);
        }
    }
    for b in &v.boxes {
        put!(
            "{} {} axlebox: {} dead load; pushed forward {}, backward {} at most",
            b.side,
            b.axle,
            both(&b.dead, units),
            amount(&b.forward, units),
            amount(&b.backward, units)
        );
    }
    bearings(&v.bearings, units);
    fatigue(&v.fatigue, units);
    for m in &v.missing {
        put!("  missing: {m}");
    }
    notes(&v.notes);
    cautions(&v.cautions);
}

fn cylinder_loads(c: &CylinderLoadsView, units: Units) {
    let a = |x: &Amount| amount(x, units).to_owned();
    put!("{}: steam on the piston {}", c.cylinder, both(&c.steam, units));
    put!(
        "  crank pin {} at {:.0}° past front, mean {}; outer brass {}, inner brass {}",
        both(&c.pin, units),
        c.pin_at_deg.round().rem_euclid(360.0),
        a(&c.pin_mean),
        a(&c.outer_brass),
        a(&c.inner_brass)
    );
    let pressure =
        c.bar_pressure.as_ref().map_or(String::new(), |p| format!(", at most {}", both(p, units)));
    put!(
        "  slide bars: upper {}, lower {}{pressure}; crosshead pin {}",
        a(&c.upper_bar),
        a(&c.lower_bar),
        a(&c.small_end)
    );
    for (name, duty) in [("big end", &c.big_end), ("small end", &c.gudgeon)] {
        if let Some(d) = duty {
            put!(
                "  {name}: {} at most, {} mean, rubbing {} at most",
                both(&d.greatest, units),
                a(&d.mean),
                a(&d.rubbing)
            );
        }
    }
    if let Some(r) = &c.rod {
        rod(r, units);
    }
}

/// A rod as a strut and a beam.
fn rod(r: &RodView, units: Units) {
    let factor = r.factor.map_or(String::new(), |f| format!(", {f:.1} times the thrust"));
    put!(
        "  rod: thrust {}; buckles at {} up and down, {} sideways{factor}; whipping {}, with the thrust {}, {:.0} % of yield",
        amount(&r.thrust, units),
        amount(&r.in_plane, units),
        amount(&r.sideways, units),
        amount(&r.whipping, units),
        both(&r.stress, units),
        r.yield_percent
    );
}

/// What every bearing carries.
fn bearings(list: &[BearingView], units: Units) {
    if list.is_empty() {
        return;
    }
    put!("bearings through the turn:");
    let rows: Vec<Vec<String>> = list
        .iter()
        .map(|b| {
            let turned = if b.reverses {
                format!("turns round, {} the other way", amount(&b.opposite, units))
            } else {
                "never turns round".to_owned()
            };
            vec![
                b.name.clone(),
                b.joint.clone().unwrap_or_default(),
                both(&b.greatest, units),
                b.greatest_at.clone(),
                amount(&b.mean, units).to_owned(),
                turned,
            ]
        })
        .collect();
    table::print(&["bearing", "joint", "greatest", "at", "mean", ""], &rows);
}

/// Fatigue of rods and pins; what is missing alike is told once.
fn fatigue(list: &[FatigueView], units: Units) {
    let mut told: Vec<&str> = Vec::new();
    for f in list {
        match (&f.greatest, &f.least, f.used_percent, f.yield_percent) {
            (Some(most), Some(least), Some(used), Some(yields)) => put!(
                "fatigue, {} ({}): {} to {}, stress times {:.2}; {used:.0} % of its endurance by {}, {yields:.0} % of yield; strength: {}",
                f.part,
                f.of,
                amount(least, units),
                both(most, units),
                f.concentration.unwrap_or(f64::NAN),
                f.criterion.unwrap_or("?"),
                f.source
            ),
            _ => {
                put!("fatigue, {} ({}): cannot tell", f.part, f.of);
                for m in f.missing.iter().filter(|m| !told.contains(&m.as_str())) {
                    put!("    missing: {m}");
                }
                told.extend(f.missing.iter().map(String::as_str));
            }
        }
    }
}

/// The motion at equal steps of one turn.
pub(crate) fn revolution(v: &RevolutionView, units: Units) {
    put!("{} steps of one turn forward from {}:", v.wheel_deg.len(), v.from);
    let mut head = vec!["wheel".to_owned()];
    if v.tyre_m.is_some() {
        head.push("rolled".to_owned());
    }
    for c in &v.cylinders {
        head.push(format!("{} past front", c.cylinder));
        head.push(format!("{} piston from front", c.cylinder));
    }
    let size = |m: f64| {
        let f = Figure::of_size(m, Some(0.1e-3));
        short(&f, units).to_owned()
    };
    let rows: Vec<Vec<String>> = (0..v.wheel_deg.len())
        .map(|k| {
            let mut row = vec![format!("{:.1}°", v.wheel_deg[k].rem_euclid(360.0))];
            row.extend(v.rolled_m.get(k).map(|m| size(*m)));
            for c in &v.cylinders {
                row.push(format!("{:.1}°", c.past_front_deg[k]));
                row.push(format!(
                    "{} ({:.1} %)",
                    size(c.from_front_m[k]),
                    100.0 * c.from_front_m[k] / c.stroke_m
                ));
            }
            row
        })
        .collect();
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    table::print(&head, &rows);
    notes(&v.notes);
}

/// Balance at a speed.
pub(crate) fn balance(v: &BalanceView, heavier: &[HeavierBy], units: Units) {
    put!(
        "at {}, {:.0} % of the reciprocating masses balanced",
        both(&v.speed, units),
        v.balanced_percent
    );
    for m in &v.masses {
        put!(
            "  {}: {} to and fro, {} turning at the pin",
            m.cylinder,
            both(&m.reciprocating, units),
            both(&m.turning, units)
        );
    }
    axles(&v.axles, units);
    let how = if v.as_fitted { "as fitted" } else { "as wanted" };
    let left_over = |l: &engine::view::LeftOverView| {
        format!(
            "hammer blow {} on one wheel, engine {}; fore and aft {}; swaying {}",
            both(&l.greatest_blow, units),
            amount(&l.engine_blow, units),
            amount(&l.tractive_variation, units),
            amount(&l.swaying, units)
        )
    };
    put!("left over with the weights {how}: {}", left_over(&v.left_over));
    let by: Vec<String> = v
        .by_speed
        .iter()
        .map(|b| format!("{}: {}", amount(&b.speed, units), amount(&b.blow, units)))
        .collect();
    put!("  greatest hammer blow of a wheel by speed: {}", by.join(", "));
    if let Some(h) = &v.heavier {
        let said: Vec<&str> = heavier.iter().map(|h| h.text.as_str()).collect();
        put!("with {} and the weights left as they are: {}", said.join(", "), left_over(h));
        put!("weights wanted then:");
        axles(&v.heavier_wanted, units);
    }
    notes(&v.notes);
    cautions(&v.cautions);
}

fn axles(list: &[AxleView], units: Units) {
    let weight = |w: &WeightView| {
        let mass = w.mass.as_ref().map_or(String::new(), |m| format!(", {}", amount(m, units)));
        format!("{:.1} kg m at {:.0}°{mass}", w.kg_m, w.lag_deg)
    };
    let rows: Vec<Vec<String>> = list
        .iter()
        .flat_map(|a| {
            a.wanted.iter().enumerate().map(|(k, w)| {
                vec![
                    format!("{} {}", a.axle, w.side),
                    weight(w),
                    a.fitted.get(k).map_or("not described".to_owned(), weight),
                    a.blow.get(k).map_or(String::new(), |b| amount(b, units).to_owned()),
                    a.lifts_at.as_ref().map_or(String::new(), |s| amount(s, units).to_owned()),
                ]
            })
        })
        .collect();
    let head = ["wheel", "weight wanted (behind the crank of lag 0)", "fitted", "blow", "lifts at"];
    table::print(&head, &rows);
}
