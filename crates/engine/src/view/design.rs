//! A design as it is shown: every figure in SI and in both systems.

use super::Figure;
use super::shape::shape_of;
use super::shapes::FitView;
use crate::design::{Design, Line, Of, Says, Standing, achieved_fit};
use crate::judge::Judgement;
use crate::model::{JointIx, JointKind};
use serde::Serialize;

/// A line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ItemView {
    /// What it is.
    pub label: String,
    /// In SI, in the unit of `unit`; a band has two, a spread of friction three.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub si: Vec<f64>,
    /// SI unit of those.
    #[serde(skip_serializing_if = "str::is_empty")]
    pub unit: &'static str,
    /// As said in metric units, or in words.
    pub metric: String,
    /// As said in imperial units.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub imperial: String,
    /// A remark.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// How it stands: good, look, bad, or nothing.
    #[serde(skip_serializing_if = "str::is_empty")]
    pub stands: &'static str,
}

/// Lines that belong together.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SectionView {
    /// Title.
    pub title: String,
    /// Work for the bench.
    pub to_make: bool,
    /// Lines.
    pub items: Vec<ItemView>,
}

/// Something it rests on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GivenView {
    /// Name.
    pub name: String,
    /// Meaning.
    pub what: String,
    /// As written.
    pub text: String,
    /// Where.
    pub from: String,
}

/// Something not worked out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AbsentView {
    /// What.
    pub what: String,
    /// Why.
    pub why: String,
    /// Lines to write into its `[[duty]]` or `[[material]]`.
    pub wants: Vec<String>,
}

/// A design.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DesignView {
    /// Engine.
    pub engine: String,
    /// Joint.
    pub joint: String,
    /// Its name.
    pub name: String,
    /// Its kind.
    pub kind: &'static str,
    /// Its verdict.
    pub verdict: &'static str,
    /// Repair.
    pub repair: &'static str,
    /// The same in words.
    pub words: String,
    /// Who decided it.
    pub decided_by: Option<String>,
    /// Day of judging.
    pub day: Option<String>,
    /// Number of the bolt and its hole in their group, where the joint has one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<u32>,
    /// What can be drawn of it, the drawing to work from first.
    pub drawings: Vec<&'static str>,
    /// Readings of its pressing are wanted: a sheet leaves room to write them in.
    pub press_record: bool,
    /// Who releases the work, and what the sizes hold at.
    pub foot: [&'static str; 2],
    /// What it comes to.
    pub sections: Vec<SectionView>,
    /// What was not worked out.
    pub absent: Vec<AbsentView>,
    /// What it rests on.
    pub given: Vec<GivenView>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// What was not considered.
    pub not_considered: Vec<&'static str>,
}

shape_of!(ItemView, "A line of a design; si in the SI unit of `unit`.", {
    label: String, metric: String,
} | {
    si: Vec<f64>, unit: &'static str, imperial: String, note: String, stands: &'static str,
});
shape_of!(SectionView, "Lines of a design that belong together.", {
    title: String, to_make: bool, items: Vec<ItemView>,
} | {});
shape_of!(GivenView, "Something that a design rests on.", {
    name: String, what: String, text: String, from: String,
} | {});
shape_of!(AbsentView, "Something not worked out.", {
    what: String, why: String, wants: Vec<String>,
} | {});
shape_of!(DesignView, "The repair of a joint, designed.", {
    engine: String, joint: String, name: String, kind: &'static str, verdict: &'static str,
    repair: &'static str, words: String, decided_by: Option<String>, day: Option<String>,
    drawings: Vec<&'static str>, press_record: bool, foot: [&'static str; 2],
    sections: Vec<SectionView>, absent: Vec<AbsentView>, given: Vec<GivenView>,
    cautions: Vec<String>, not_considered: Vec<&'static str>,
} | { number: u32 });

/// What stands under every sheet.
const FOOT: [&str; 2] = [
    "Sizes at 20 °C. Gauge again after every operation.",
    "A competent person, local rules and licensed practice decide how the work is done; the responsible engineer releases it.",
];

/// A design as it is shown.
pub fn design_view(judgement: &Judgement, design: &Design) -> DesignView {
    let engine = judgement.engine();
    let joint = engine.joint(design.joint);
    DesignView {
        engine: engine.name.clone(),
        joint: joint.id.clone(),
        name: joint.name.clone(),
        kind: joint.kind.word(),
        verdict: judgement.joint(design.joint).verdict.word(),
        repair: design.repair.word(),
        words: design.words.clone(),
        decided_by: design.decided_by.clone(),
        day: engine.today.map(|d| d.to_string()),
        number: design.detail.bolt.as_ref().map(|b| b.number),
        drawings: design.detail.drawings(),
        press_record: matches!(joint.kind, JointKind::Pressed | JointKind::Shrunk)
            || design.detail.press.is_some(),
        foot: FOOT,
        sections: design
            .sections
            .iter()
            .map(|s| SectionView {
                title: s.title.clone(),
                to_make: s.to_make,
                items: s.lines.iter().map(item).collect(),
            })
            .collect(),
        absent: design
            .absent
            .iter()
            .filter(|a| !a.why.is_empty() || !a.wants.is_empty())
            .map(|a| AbsentView {
                what: a.what.clone(),
                why: a.why.clone(),
                wants: a.wants.clone(),
            })
            .collect(),
        given: design
            .given
            .iter()
            .map(|g| GivenView {
                name: g.name.clone(),
                what: g.what.clone(),
                text: g.text.clone(),
                from: g.from.clone(),
            })
            .collect(),
        cautions: design.cautions.clone(),
        not_considered: design.not_considered.clone(),
    }
}

/// What was gauged beside the fit that the joint's duty names.
pub(super) fn fit_view(judgement: &Judgement, ix: JointIx) -> Option<FitView> {
    let duty = judgement.engine().duties.get(&ix)?;
    let symbol = duty.entries.get("fit").map(|e| (e.text.clone(), e.from.clone()));
    let (symbol, from) = symbol?;
    Some(match achieved_fit(judgement, ix)? {
        Ok(fit) => {
            let tight = fit.is_interference();
            let band = if tight { fit.limits.interference() } else { fit.limits.clearance };
            let value = if tight { -fit.judged.clearance_m } else { fit.judged.clearance_m };
            FitView {
                symbol,
                from,
                verdict: fit.word(),
                of: if tight { "interference" } else { "clearance" },
                achieved: Some(Figure::of_difference(value, Some(fit.judged.clearance_u_m))),
                least: Some(Figure::tolerance(band.min_m)),
                most: Some(Figure::tolerance(band.max_m)),
                words: fit.off().to_owned(),
            }
        }
        Err(why) => FitView {
            symbol,
            from,
            verdict: "cannot tell",
            of: "",
            achieved: None,
            least: None,
            most: None,
            words: why,
        },
    })
}

fn item(line: &Line) -> ItemView {
    let (si, of) = match &line.says {
        Says::One(v, of) => (vec![*v], Some(*of)),
        Says::Band(a, b, of) => (vec![*a, *b], Some(*of)),
        Says::Spread(a, b, c, of) => (vec![*a, *b, *c], Some(*of)),
        Says::Words(_) => (Vec::new(), None),
    };
    let joiner = if si.len() == 3 { " / " } else { " to " };
    let (metric, imperial) = match (&line.says, of) {
        (Says::Words(words), _) => (words.clone(), String::new()),
        (_, Some(of)) => {
            (said(&si, Scale::metric(of), joiner), said(&si, Scale::imperial(of), joiner))
        }
        (_, None) => (String::new(), String::new()),
    };
    ItemView {
        label: line.label.clone(),
        unit: of.map_or("", si_unit),
        imperial: if imperial == metric { String::new() } else { imperial },
        si,
        metric,
        note: line.note.clone(),
        stands: match line.standing {
            Standing::Plain => "",
            Standing::Good => "good",
            Standing::Look => "look",
            Standing::Bad => "bad",
        },
    }
}

/// How a figure is said in one system.
struct Scale {
    factor: f64,
    zero: f64,
    decimals: usize,
    unit: &'static str,
}

impl Scale {
    const fn new(factor: f64, decimals: usize, unit: &'static str) -> Scale {
        Scale { factor, zero: 0.0, decimals, unit }
    }

    fn metric(of: Of) -> Scale {
        match of {
            Of::Size => Scale::new(1e3, 3, "mm"),
            Of::Difference => Scale::new(1e3, 3, "mm"),
            Of::Length => Scale::new(1e3, 1, "mm"),
            Of::Film => Scale::new(1e6, 1, "um"),
            Of::Force => Scale::new(1e-3, 1, "kN"),
            Of::Stress => Scale::new(1e-6, 2, "MPa"),
            Of::Jack => Scale::new(1e-5, 0, "bar"),
            Of::Torque => Scale::new(1e-3, 2, "kN m"),
            Of::Temperature => Scale { zero: 273.15, ..Scale::new(1.0, 0, "degC") },
            Of::Rise => Scale::new(1.0, 0, "K"),
            Of::Mass => Scale::new(1.0, 2, "kg"),
            Of::Flow => Scale::new(6e7, 2, "ml/min"),
            Of::Power => Scale::new(1.0, 0, "W"),
            Of::Speed => Scale::new(1.0, 2, "m/s"),
            Of::PressureSpeed => Scale::new(1e-6, 2, "MPa m/s"),
            Of::Time => Scale::new(1.0 / 3600.0, 1, "h"),
            Of::Ratio => Scale::new(1.0, 2, ""),
            Of::Turning => Scale::new(30.0 / std::f64::consts::PI, 0, "rpm"),
            Of::Viscosity => Scale::new(1e3, 1, "mPa s"),
        }
    }

    fn imperial(of: Of) -> Scale {
        match of {
            Of::Size => Scale::new(1.0 / 25.4e-3, 4, "in"),
            Of::Difference => Scale::new(1.0 / 25.4e-6, 1, "thou"),
            Of::Length => Scale::new(1.0 / 25.4e-3, 2, "in"),
            Of::Film => Scale::new(1.0 / 25.4e-6, 2, "thou"),
            // Long ton-force, pound-force: exact by the pound and standard gravity.
            Of::Force => Scale::new(1.0 / 9_964.016_418_183_52, 2, "tonf"),
            Of::Stress | Of::Jack => Scale::new(1.0 / 6_894.757_293_168, 0, "psi"),
            Of::Torque => Scale::new(1.0 / 1.355_817_948_331_4, 0, "lbf ft"),
            Of::Temperature => Scale { zero: 459.67, ..Scale::new(1.8, 0, "degF") },
            Of::Rise => Scale::new(1.8, 0, "degF difference"),
            Of::Mass => Scale::new(1.0 / 0.453_592_37, 1, "lb"),
            Of::Flow => Scale::new(60.0 / 16.387_064e-6, 2, "in3/min"),
            Of::Speed => Scale::new(1.0 / 0.3048 * 60.0, 0, "ft/min"),
            Of::PressureSpeed => Scale::new(60.0 / 0.3048 / 6_894.757_293_168, 0, "psi ft/min"),
            other => Scale::metric(other),
        }
    }
}

fn said(si: &[f64], scale: Scale, joiner: &str) -> String {
    let figures: Vec<String> = si
        .iter()
        .map(|v| {
            let text = format!("{:.*}", scale.decimals, v * scale.factor - scale.zero);
            // "-0.00" is nought.
            if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
                text.trim_start_matches('-').to_owned()
            } else {
                text
            }
        })
        .collect();
    let text = figures.join(joiner);
    if scale.unit.is_empty() { text } else { format!("{text} {}", scale.unit) }
}

fn si_unit(of: Of) -> &'static str {
    match of {
        Of::Size | Of::Difference | Of::Length | Of::Film => "m",
        Of::Force => "N",
        Of::Stress | Of::Jack => "Pa",
        Of::Torque => "N m",
        Of::Temperature | Of::Rise => "K",
        Of::Mass => "kg",
        Of::Flow => "m3/s",
        Of::Power => "W",
        Of::Speed => "m/s",
        Of::PressureSpeed => "W/m2",
        Of::Time => "s",
        Of::Ratio => "1",
        Of::Turning => "rad/s",
        Of::Viscosity => "Pa s",
    }
}
