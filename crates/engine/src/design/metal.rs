//! White metal: thickness after boring and when worn, and the sheet for re-metalling.

use super::ask::{Ask, because};
use super::shapes::{Design, Line, Of, Section, Standing};
use mechanics::lining::{
    self as ml, AlloySheet, FigureStanding, LinedBearing, PourInput, PourSheet, Thickness,
    ThicknessFinding, WHITE_METALS,
};
use std::f64::consts::TAU;

/// The re-metalling sheet with what it was drawn up from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PourDetail {
    /// What is lined.
    pub input: PourInput,
    /// The sheet.
    pub sheet: PourSheet,
}

pub(super) fn alloy(ask: &mut Ask<'_>) -> Option<Result<&'static AlloySheet, String>> {
    let name = ask.text("alloy")?;
    let wanted = name.trim();
    Some(
        WHITE_METALS
            .iter()
            .find(|a| {
                a.name.eq_ignore_ascii_case(wanted)
                    || a.uns.is_some_and(|u| u.eq_ignore_ascii_case(wanted))
            })
            .ok_or_else(|| {
                let names: Vec<&str> = WHITE_METALS.iter().map(|a| a.name).collect();
                format!("no white metal \"{wanted}\" is known here; known are {}", names.join(", "))
            }),
    )
}

/// Thickness of the metal and the bronze at a finished bore.
pub(super) fn thickness(
    ask: &mut Ask<'_>,
    bore_m: f64,
    crown_m: Option<f64>,
    out: &mut Design,
) -> Option<(LinedBearing, Thickness)> {
    let what = "white metal left after boring and when worn";
    let recess = ask.one("shell-bore");
    let crown = match (ask.maybe("crown"), crown_m) {
        (Some(given), _) => Some(given),
        (None, Some(m)) => {
            ask.note(
                "crown",
                format!("{:.2} mm", 1e3 * m),
                "height of the thinner half less half the finished bore",
            );
            Some(m)
        }
        (None, None) => ask.one("crown"),
    };
    let offset = ask.one("bore-offset");
    let wear = ask.one("wear-limit");
    let least = (ask.one("least-metal"), ask.one("least-bronze"));
    let (
        Some(recess_m),
        Some(crown_m),
        Some(offset_m),
        Some(wear_limit_m),
        (Some(least_metal_m), Some(least_bronze_m)),
    ) = (recess, crown, offset, wear, least)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let lined = LinedBearing {
        recess_m,
        bore_m,
        offset_m,
        wear_limit_m,
        least_metal_m,
        crown_m,
        least_bronze_m,
    };
    match ml::lining_thickness(&lined) {
        Ok(t) => {
            let words = |f: ThicknessFinding| match f {
                ThicknessFinding::Enough => ("enough", Standing::Good),
                ThicknessFinding::TooThin => ("too thin", Standing::Bad),
                ThicknessFinding::GoneThrough => {
                    ("none left: the shell shows through", Standing::Bad)
                }
            };
            let (metal, metal_stands) = words(t.metal);
            let (bronze, bronze_stands) = words(t.bronze);
            out.sections.push(Section::new(
                "white metal and bronze",
                vec![
                    Line::band("white metal after boring", t.thinnest_m, t.thickest_m, Of::Length),
                    Line::one("where thinnest, worn to its limit", t.worn_m, Of::Length)
                        .stands(metal_stands)
                        .note(format!("{metal}; {:.1} mm is the least", 1e3 * least_metal_m)),
                    Line::one("bronze behind it", t.bronze_m, Of::Length)
                        .stands(bronze_stands)
                        .note(format!("{bronze}; {:.1} mm is the least", 1e3 * least_bronze_m)),
                    Line::one("largest bore in this metal", t.largest_bore_m, Of::Size),
                ],
            ));
            Some((lined, t))
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

/// The sheet for pouring a round bearing.
pub(super) fn pour(
    ask: &mut Ask<'_>,
    bore_m: f64,
    split: bool,
    out: &mut Design,
) -> Option<PourDetail> {
    let what = "the re-metalling sheet";
    let alloy = alloy(ask);
    let thickness = match ask.maybe("shell-bore") {
        Some(shell) => Some(0.5 * (shell - bore_m)),
        None => ask.one("metal-thickness"),
    };
    let length = ask.one("length");
    let arc = if split {
        ask.note("arc of the lining", "a full ring", "both halves are lined");
        Some(TAU)
    } else {
        ask.one("arc")
    };
    let machining = ask.one("machining");
    let shrinkage = ask.one("shrinkage");
    let head = ask.one("pour-head");
    let waste = ask.one("waste");
    let extra = ask.one("extra-metal");
    let (
        Some(alloy),
        Some(thickness_m),
        Some(length_m),
        Some(arc_rad),
        Some(machining_m),
        Some(shrinkage),
        Some(head_m),
        Some(waste),
        Some(extra_m3),
    ) = (alloy, thickness, length, arc, machining, shrinkage, head, waste, extra)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let alloy = match alloy {
        Ok(a) => a,
        Err(why) => {
            out.absent.push(because(what, why));
            return None;
        }
    };
    let input = PourInput {
        alloy: alloy.alloy,
        bore_m,
        thickness_m,
        length_m,
        arc_rad,
        machining_m,
        shrinkage,
        head_m,
        extra_m3,
        waste,
    };
    match ml::pour_sheet(&input) {
        Ok(sheet) => {
            let mut lines = vec![
                Line::one("recess in the shell", sheet.shell_bore_m, Of::Size)
                    .note(format!("{:.2} mm of metal under the finished bore", 1e3 * thickness_m)),
                Line::one("mandrel", sheet.mandrel_m, Of::Size)
                    .note(format!("{:.1} mm machining allowance on the radius", 1e3 * machining_m)),
                Line::one("thickness as cast", sheet.cast_thickness_m, Of::Length),
            ];
            lines.extend(heat_lines(alloy, sheet.melt_kg, waste));
            lines.push(
                Line::band(
                    "tin the shell at",
                    sheet.tinning.low_k,
                    sheet.tinning.high_k,
                    Of::Temperature,
                )
                .note(sheet.tinning.source),
            );
            lines.push(
                Line::band(
                    "shell when the metal is poured",
                    sheet.preheat.low_k,
                    sheet.preheat.high_k,
                    Of::Temperature,
                )
                .note(sheet.preheat.source),
            );
            lines.push(Line::one("bore to finish", bore_m, Of::Size));
            lines.push(Line::words(
                "after boring",
                "ring it and look for lifting at the edges; oil grooves and cheeks to the drawing",
            ));
            out.sections.push(Section::making("re-metalling", lines));
            for c in sheet.cautions {
                out.caution(c.text);
            }
            Some(PourDetail { input, sheet })
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

fn heat_lines(alloy: &AlloySheet, melt_kg: Option<f64>, waste: f64) -> Vec<Line> {
    let standing = match alloy.standing {
        FigureStanding::ReadInCopy => "read in a copy of the standard",
        FigureStanding::PartlyReadInCopy => "part read in a copy of the standard, part from memory",
        _ => "from memory",
    };
    let mut lines =
        vec![Line::words("white metal", alloy.name).note(format!("{}; {standing}", alloy.source))];
    match (alloy.solidus_k, alloy.liquidus_k) {
        (Some(a), Some(b)) => lines.push(Line::band("melts", a, b, Of::Temperature)),
        _ => lines.push(
            Line::words("melts", "not known here: the maker's sheet rules").stands(Standing::Look),
        ),
    }
    match alloy.pouring_k {
        Some((a, b)) if a < b => {
            lines.push(Line::band("pour at", a, b, Of::Temperature).note("the maker's sheet rules"))
        }
        Some((a, _)) => lines
            .push(Line::one("pour at about", a, Of::Temperature).note("the maker's sheet rules")),
        None => lines.push(
            Line::words("pour at", "not known here: the maker's sheet rules")
                .stands(Standing::Look),
        ),
    }
    match melt_kg {
        Some(kg) => lines.push(
            Line::one("melt", kg, Of::Mass)
                .note(format!("{:.0} % of waste counted", 100.0 * waste)),
        ),
        None => lines.push(
            Line::words("melt", "the density of this metal is not known here")
                .stands(Standing::Look),
        ),
    }
    lines
}

/// The sheet for pouring a flat face.
///
/// Mass `density (thickness + allowance) length width (1 + waste)` for each face: own derivation
/// (a volume); temperatures and cautions as for a round bearing.
pub(super) fn pour_flat(ask: &mut Ask<'_>, faces: f64, out: &mut Design) {
    let what = "the re-metalling sheet";
    let alloy = alloy(ask);
    let thickness = ask.one("metal-thickness");
    let length = ask.one("length");
    let width = ask.one("width");
    let machining = ask.one("machining");
    let waste = ask.one("waste");
    let extra = ask.one("extra-metal");
    let (
        Some(alloy),
        Some(thickness),
        Some(length),
        Some(width),
        Some(machining),
        Some(waste),
        Some(extra),
    ) = (alloy, thickness, length, width, machining, waste, extra)
    else {
        out.absent.push(ask.absent(what));
        return;
    };
    let alloy = match alloy {
        Ok(a) => a,
        Err(why) => {
            out.absent.push(because(what, why));
            return;
        }
    };
    let volume = faces * (thickness + machining) * length * width + extra;
    let mut lines = vec![
        Line::one("white metal on each face when finished", thickness, Of::Length),
        Line::one("as cast", thickness + machining, Of::Length),
        Line::words(
            "faces",
            format!("{faces:.0}, each {:.0} by {:.0} mm", 1e3 * length, 1e3 * width),
        ),
    ];
    lines.extend(heat_lines(alloy, alloy.density_kg_m3.map(|d| d * volume * (1.0 + waste)), waste));
    lines.push(Line::words(
        "before pouring",
        "all old metal off, face tinned all over, keys and dovetails clean and dry",
    ));
    out.sections.push(Section::making("re-metalling", lines));
    for c in ml::pouring_cautions(alloy.holds_lead()) {
        out.caution(c.text);
    }
}
