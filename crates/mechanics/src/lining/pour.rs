//! The re-metalling sheet: what to bore, warm, melt and pour.

use std::f64::consts::PI;

use super::alloy::{AlloySheet, WhiteMetal, alloy_sheet};
use super::caution::{Caution, pouring_cautions};
use super::error::{LiningError, Range, check_larger};

const SIZE: Range = Range::new("diameter", "m", 1e-3, 3.0);
const LENGTH: Range = Range::new("length of the lining", "m", 1e-3, 5.0);
const ARC: Range = Range::new("arc of the lining", "rad", 0.1, 2.0 * PI + 1e-9);
const THICKNESS: Range = Range::new("thickness of the lining", "m", 2e-4, 0.1);
const ALLOWANCE: Range = Range::new("machining allowance on the radius", "m", 0.0, 0.02);
const SHRINKAGE: Range = Range::new("shrinkage", "(ratio)", 0.0, 0.02);
const HEAD: Range = Range::new("head poured above the lining", "m", 0.0, 0.5);
const FLANGE: Range = Range::new("metal for flanges and keys", "m3", 0.0, 0.1);
const WASTE: Range = Range::new("waste", "(ratio)", 0.0, 2.0);

/// Melting point of pure tin, K (231.93 degC, fixed point of ITS-90).
const TIN_MELTS_K: f64 = 505.078;

/// What is to be lined.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PourInput {
    /// The white metal.
    pub alloy: WhiteMetal,
    /// Bore to finish, m.
    pub bore_m: f64,
    /// Thickness of white metal wanted under that bore, m.
    pub thickness_m: f64,
    /// Length of the lining along the journal, m.
    pub length_m: f64,
    /// Arc of the lining in all, rad: pi for one half, 2 pi for a ring.
    pub arc_rad: f64,
    /// Machining allowance on the radius of the bore, m.
    pub machining_m: f64,
    /// Linear shrinkage of the white metal from casting to cold (common practice about 0.005 to
    /// 0.006).
    pub shrinkage: f64,
    /// Head poured above the lining's end, m, over the whole section.
    pub head_m: f64,
    /// Metal for flanges, keys and oil-hole plugs, m3.
    pub extra_m3: f64,
    /// Waste in dross, ladle and spill, as a share of what is cast.
    pub waste: f64,
}

/// A temperature range with where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatRange {
    /// From, K.
    pub low_k: f64,
    /// To, K.
    pub high_k: f64,
    /// Where the range comes from.
    pub source: &'static str,
}

/// The sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PourSheet {
    /// The alloy's own sheet.
    pub alloy: &'static AlloySheet,
    /// Bore the shell to this before metalling, m: finished bore plus twice the thickness.
    pub shell_bore_m: f64,
    /// Diameter of the mandrel, m: finished bore less machining allowance, less the shrinkage that
    /// the metal makes inwards across its own thickness.
    pub mandrel_m: f64,
    /// Thickness as cast, m.
    pub cast_thickness_m: f64,
    /// Volume of the lining as cast, head and extra metal included, m3.
    pub volume_m3: f64,
    /// Mass cast, kg; `None` where the alloy's density is not known.
    pub cast_kg: Option<f64>,
    /// Mass to melt, waste included, kg.
    pub melt_kg: Option<f64>,
    /// Pouring temperature, K; `None` where not known: the maker's sheet rules.
    pub pouring: Option<HeatRange>,
    /// How much hotter it is poured than wholly molten, K.
    pub superheat_k: Option<f64>,
    /// Temperature of the tin for tinning.
    pub tinning: HeatRange,
    /// Temperature of the tinned shell when the metal is poured.
    pub preheat: HeatRange,
    /// What can hurt, and who decides.
    pub cautions: &'static [Caution],
}

/// Draws up the sheet for re-metalling a bearing.
///
/// **Equation.** Shell bore `bore + 2 t`. Cast thickness `t + allowance + s t` (the metal shrinks
/// towards the shell it is tinned to, so its free face draws back by its thickness times the
/// shrinkage `s`), mandrel `shell bore - 2 cast thickness`. Volume
/// `(arc / 2 pi) (pi / 4) (shell^2 - mandrel^2) (length + head) + extra`; to melt
/// `density volume (1 + waste)`. **Units.** SI. **Range.** Plain cylinder. **Source.** Own derivation;
/// temperatures from the alloy's sheet; tinning and preheat common practice: tin 20 to 60 K above its
/// melting point of 232 degC, shell not let fall under it, a published babbitting instruction (read)
/// heats the shell to about 650 degF for tinning and keeps it above 450 degF.
///
/// # Errors
///
/// [`LiningError::OutOfRange`] on the inputs, [`LiningError::NotLarger`] when the mandrel would
/// vanish.
pub fn pour_sheet(input: &PourInput) -> Result<PourSheet, LiningError> {
    let alloy = alloy_sheet(input.alloy);
    let bore = SIZE.check(input.bore_m)?;
    let thickness = THICKNESS.check(input.thickness_m)?;
    let allowance = ALLOWANCE.check(input.machining_m)?;
    let shrinkage = SHRINKAGE.check(input.shrinkage)?;
    let length = LENGTH.check(input.length_m)? + HEAD.check(input.head_m)?;
    let arc = ARC.check(input.arc_rad)?;
    let extra = FLANGE.check(input.extra_m3)?;
    let waste = WASTE.check(input.waste)?;
    let shell_bore_m = bore + 2.0 * thickness;
    let cast_thickness_m = thickness * (1.0 + shrinkage) + allowance;
    let mandrel_m = shell_bore_m - 2.0 * cast_thickness_m;
    check_larger(("mandrel", mandrel_m), ("nothing", 0.0))?;
    let section = 0.125 * arc * (shell_bore_m * shell_bore_m - mandrel_m * mandrel_m);
    let volume_m3 = section * length + extra;
    let cast_kg = alloy.density_kg_m3.map(|density| density * volume_m3);
    let pouring =
        alloy.pouring_k.map(|(low_k, high_k)| HeatRange { low_k, high_k, source: alloy.source });
    let superheat_k = match (alloy.pouring_k, alloy.liquidus_k) {
        (Some((low, _)), Some(liquidus)) => Some(low - liquidus),
        _ => None,
    };
    Ok(PourSheet {
        alloy,
        shell_bore_m,
        mandrel_m,
        cast_thickness_m,
        volume_m3,
        cast_kg,
        melt_kg: cast_kg.map(|mass| mass * (1.0 + waste)),
        pouring,
        superheat_k,
        tinning: HeatRange {
            low_k: TIN_MELTS_K + 20.0,
            high_k: TIN_MELTS_K + 60.0,
            source: "common practice: 20 to 60 K above the melting point of tin",
        },
        preheat: HeatRange {
            low_k: TIN_MELTS_K,
            high_k: TIN_MELTS_K + 40.0,
            source: "common practice: the tin on the shell still molten when the metal comes",
        },
        cautions: pouring_cautions(alloy.holds_lead()),
    })
}
