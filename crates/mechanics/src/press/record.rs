//! Judging the readings of a pressing against the expected curve.

use super::error::need;
use super::{PressCurve, PressError};

/// One reading during the pressing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressReading {
    /// How far the leading end is past the entry face (m).
    pub stroke_m: f64,
    /// Force of the press (N).
    pub force_n: f64,
}

/// How the readings are judged. The defaults are common practice, not a standard's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JudgeRules {
    /// Relative expanded uncertainty of the force gauge (-): the band is widened by it.
    pub gauge_share: f64,
    /// Force below which nothing is judged, as a share of the likely force at home (-).
    pub floor_share: f64,
    /// A rise from one reading to the next beyond what was expected, as a share of the likely
    /// force at home, that counts as a spike (-).
    pub spike_share: f64,
    /// A fall from one reading to the next, as a share of the reading, that counts as a slip (-).
    pub slip_share: f64,
    /// How many slips make stick-slip.
    pub slips: usize,
    /// How near to home the last reading must be, as a share of the stroke (-).
    pub home_share: f64,
}

impl Default for JudgeRules {
    fn default() -> Self {
        Self {
            gauge_share: 0.05,
            floor_share: 0.05,
            spike_share: 0.20,
            slip_share: 0.06,
            slips: 3,
            home_share: 0.98,
        }
    }
}

/// Something seen in the readings.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum PressFinding {
    /// Below the band over a run of readings: less interference or less friction than thought,
    /// holding is doubtful.
    Low {
        /// First stroke of the run (m).
        from_m: f64,
        /// Last stroke of the run (m).
        to_m: f64,
        /// The least share of the low force seen (-).
        least_share: f64,
    },
    /// Above the band over a run: galling, a burr, an oversize pin, a hub out of true.
    High {
        /// First stroke of the run (m).
        from_m: f64,
        /// Last stroke of the run (m).
        to_m: f64,
        /// The greatest share of the high force seen (-).
        greatest_share: f64,
    },
    /// Force before the members should grip: askew, a burr, a tight mouth.
    EarlyRise {
        /// Where it was seen (m).
        stroke_m: f64,
        /// The force there (N).
        force_n: f64,
        /// Where grip was expected (m).
        expected_from_m: f64,
    },
    /// A sudden rise: galling (pick-up) or a chip in the joint.
    Spike {
        /// Where (m).
        stroke_m: f64,
        /// How much beyond the expected rise (N).
        rise_n: f64,
    },
    /// The force goes up and down: stick-slip, dry or galling surfaces.
    StickSlip {
        /// How many slips.
        slips: usize,
        /// The greatest fall as a share of the force (-).
        greatest_fall: f64,
    },
    /// The force fell away towards home where the curve does not: a bell-mouthed or tapered
    /// hole, or a hub that yields or splits.
    FellAway {
        /// The greatest force (N).
        peak_n: f64,
        /// The last force (N).
        last_n: f64,
    },
    /// The last reading is not at home.
    NotHome {
        /// The last stroke (m).
        stroke_m: f64,
        /// Home (m).
        home_m: f64,
    },
}

/// The judgement in a word, the gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PressVerdict {
    /// The pressing is not finished or the readings end early: nothing can be said of the joint.
    CannotTell,
    /// The force at home is below the band: the joint's holding is doubtful.
    HoldingDoubtful,
    /// High, spiked or jumping force: galling is to be suspected; strip and look.
    GallingSuspected,
    /// It rose early or strayed on the way, and came home within the band: look into it.
    Irregular,
    /// Within the band all the way.
    WithinBand,
}

/// The judgement of a pressing.
#[derive(Debug, Clone, PartialEq)]
pub struct PressJudgement {
    /// In a word.
    pub verdict: PressVerdict,
    /// What was seen.
    pub findings: Vec<PressFinding>,
    /// The last force (N).
    pub final_n: f64,
    /// The last force as a share of the likely force there (-); `None` where none is expected.
    pub final_share: Option<f64>,
    /// The coefficient of friction that would explain the last force, if the interference is as
    /// measured (-).
    pub implied_friction: Option<f64>,
    /// Least and greatest share of the likely force over the judged readings (-).
    pub share_range: Option<(f64, f64)>,
}

/// Judge the readings of a pressing against the curve that was expected.
///
/// Each reading is held against the low and high force at its stroke, widened by the gauge's
/// uncertainty and a floor. Runs below or above, force before grip, sudden rises, repeated falls
/// and a falling-off towards home are reported, with where and how much. The verdict is the
/// gravest of them. Nothing here says that a joint may run: it says what the gauge showed
/// against what was computed.
///
/// # Errors
/// [`PressError::TooFew`] under three readings; [`PressError::BadNumber`] for readings that are
/// not finite, negative forces, or rules that cannot be; [`PressError::StationsOutOfOrder`] when
/// the stroke runs backwards.
pub fn judge_press(
    curve: &PressCurve,
    readings: &[PressReading],
    rules: &JudgeRules,
) -> Result<PressJudgement, PressError> {
    check(readings, rules)?;
    let home = curve.home;
    let floor_n = rules.floor_share * home.likely_n;
    let judged: Vec<Judged> = readings.iter().map(|r| Judged::new(curve, *r)).collect();
    let mut findings = Vec::new();

    runs(&judged, rules, floor_n, &mut findings);
    early(curve, &judged, floor_n, &mut findings);
    spikes_and_slips(&judged, rules, home.likely_n, &mut findings);

    // `check` has made sure of three readings.
    let last = judged[judged.len() - 1];
    let peak_n = readings.iter().map(|r| r.force_n).fold(0.0, f64::max);
    let expected_peak_n = curve.peak.likely_n.max(f64::MIN_POSITIVE);
    let expected_fall = 1.0 - home.likely_n / expected_peak_n;
    if peak_n > floor_n && 1.0 - last.force_n / peak_n > expected_fall + 0.15 + rules.gauge_share {
        findings.push(PressFinding::FellAway { peak_n, last_n: last.force_n });
    }
    let finished = last.stroke_m >= rules.home_share * home.stroke_m;
    if !finished {
        findings.push(PressFinding::NotHome { stroke_m: last.stroke_m, home_m: home.stroke_m });
    }

    let low_at_home = last.force_n < last.low_n * (1.0 - rules.gauge_share) - 0.01 * floor_n;
    let galling = findings.iter().any(|f| {
        matches!(
            f,
            PressFinding::High { .. } | PressFinding::Spike { .. } | PressFinding::StickSlip { .. }
        )
    });
    let verdict = if !finished {
        PressVerdict::CannotTell
    } else if low_at_home {
        PressVerdict::HoldingDoubtful
    } else if galling {
        PressVerdict::GallingSuspected
    } else if findings.is_empty() {
        PressVerdict::WithinBand
    } else {
        PressVerdict::Irregular
    };
    let share =
        |j: &Judged| (j.likely_n > floor_n && floor_n > 0.0).then(|| j.force_n / j.likely_n);
    let final_share = share(&last);
    let mut share_range = None;
    for value in judged.iter().filter_map(share) {
        let (least, greatest) = share_range.unwrap_or((value, value));
        share_range = Some((value.min(least), value.max(greatest)));
    }
    Ok(PressJudgement {
        verdict,
        findings,
        final_n: last.force_n,
        final_share,
        implied_friction: final_share.map(|s| s * curve.likely_friction),
        share_range,
    })
}

#[derive(Clone, Copy)]
struct Judged {
    stroke_m: f64,
    force_n: f64,
    low_n: f64,
    likely_n: f64,
    high_n: f64,
}

impl Judged {
    fn new(curve: &PressCurve, r: PressReading) -> Self {
        // A reading a hair past home is held against home.
        let expected = curve.at(r.stroke_m).unwrap_or(curve.home);
        Self {
            stroke_m: r.stroke_m,
            force_n: r.force_n,
            low_n: expected.low_n,
            likely_n: expected.likely_n,
            high_n: expected.high_n,
        }
    }
}

fn runs(judged: &[Judged], rules: &JudgeRules, floor_n: f64, findings: &mut Vec<PressFinding>) {
    let side = |j: &Judged| {
        if j.force_n < j.low_n * (1.0 - rules.gauge_share) - floor_n {
            -1
        } else if j.force_n > j.high_n * (1.0 + rules.gauge_share) + floor_n {
            1
        } else {
            0
        }
    };
    for run in judged.chunk_by(|a, b| side(a) == side(b)) {
        // `chunk_by` gives no empty runs.
        let (from_m, to_m) = (run[0].stroke_m, run[run.len() - 1].stroke_m);
        let extreme = |value: fn(&Judged) -> f64, pick: fn(f64, f64) -> f64, start: f64| {
            run.iter().map(value).fold(start, pick)
        };
        match side(&run[0]) {
            -1 => findings.push(PressFinding::Low {
                from_m,
                to_m,
                least_share: extreme(|j| j.force_n / j.low_n, f64::min, f64::INFINITY),
            }),
            1 => findings.push(PressFinding::High {
                from_m,
                to_m,
                greatest_share: extreme(|j| j.force_n / j.high_n.max(1.0), f64::max, 0.0),
            }),
            _ => {}
        }
    }
}

fn early(curve: &PressCurve, judged: &[Judged], floor_n: f64, findings: &mut Vec<PressFinding>) {
    let expected_from_m = curve.grips_from_m.unwrap_or(curve.home.stroke_m);
    if let Some(j) = judged.iter().find(|j| j.stroke_m < expected_from_m && j.force_n > floor_n) {
        findings.push(PressFinding::EarlyRise {
            stroke_m: j.stroke_m,
            force_n: j.force_n,
            expected_from_m,
        });
    }
}

fn spikes_and_slips(
    judged: &[Judged],
    rules: &JudgeRules,
    home_n: f64,
    findings: &mut Vec<PressFinding>,
) {
    let (mut slips, mut greatest_fall) = (0, 0.0f64);
    for pair in judged.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        // The curve's own rise, at the pace the readings have shown so far.
        let pace = if a.likely_n > 0.1 * home_n { a.force_n / a.likely_n } else { 1.0 };
        let beyond_n = b.force_n - a.force_n - pace.max(1.0) * (b.likely_n - a.likely_n).max(0.0);
        if beyond_n > rules.spike_share * home_n {
            findings.push(PressFinding::Spike { stroke_m: b.stroke_m, rise_n: beyond_n });
        }
        let expected_fall_n = (a.likely_n - b.likely_n).max(0.0) * pace;
        let fall_n = a.force_n - b.force_n - expected_fall_n;
        if a.force_n > 0.1 * home_n && fall_n > rules.slip_share * a.force_n {
            slips += 1;
            greatest_fall = greatest_fall.max(fall_n / a.force_n);
        }
    }
    if slips >= rules.slips {
        findings.push(PressFinding::StickSlip { slips, greatest_fall });
    }
}

fn check(readings: &[PressReading], rules: &JudgeRules) -> Result<(), PressError> {
    if readings.len() < 3 {
        return Err(PressError::TooFew { what: "press readings", given: readings.len(), least: 3 });
    }
    let mut before = f64::NEG_INFINITY;
    for (index, r) in readings.iter().enumerate() {
        need("stroke of a reading", r.stroke_m, "m", r.stroke_m >= 0.0, "not negative")?;
        need("force of a reading", r.force_n, "N", r.force_n >= 0.0, "not negative")?;
        if r.stroke_m < before {
            let at_m = r.stroke_m;
            return Err(PressError::StationsOutOfOrder { what: "reading", index, at_m });
        }
        before = r.stroke_m;
    }
    for (what, share) in [
        ("gauge share", rules.gauge_share),
        ("floor share", rules.floor_share),
        ("spike share", rules.spike_share),
        ("slip share", rules.slip_share),
        ("home share", rules.home_share),
    ] {
        need(what, share, "-", (0.0..=1.0).contains(&share), "from 0 to 1")?;
    }
    Ok(())
}
