//! A bump test against the chain: the clearances it shows, and the likeliest culprit.

use super::clearances::spreads_of;
use super::error::NoAnswer;
use super::mechanism::chain_inputs;
use super::model::Mark;
use super::resolve::Notes;
use crate::judge::Judgement;
use mechanics::motion::{
    BumpReadings, BumpReport, Contributor, Fault, FaultPrior, Float, bump_test,
};

/// What is taken before the marks are looked at: every size may be wrong alike, one in fifty, and
/// a mark one in twenty-five; a fault is then some 3 mm. Not from any source: what a fitter who
/// knows nothing of the engine might say. It is told beside the odds.
const SIZE_WRONG: f64 = 0.02;
const MARK_WRONG: f64 = 0.04;
const WRONG_BY_M: f64 = 3e-3;

/// A bump test.
#[derive(Clone, Debug)]
pub struct BumpCheck {
    /// Cylinder.
    pub cylinder: usize,
    /// The latest of each mark, front to back, as written.
    pub marks: [String; 4],
    /// The report.
    pub report: BumpReport,
    /// How the slack lay.
    pub float: Float,
    /// Standard uncertainty of one mark, metres.
    pub mark_standard_m: f64,
    /// What it rests on.
    pub notes: Notes,
    /// What the odds start from, in words.
    pub priors: String,
}

/// Checks the marks of one cylinder, if it has any. A later mark takes the place of an earlier.
///
/// # Errors
/// Marks that are missing; sizes of the chain that are.
pub fn bump_check(judgement: &Judgement, cylinder: usize) -> Result<Option<BumpCheck>, NoAnswer> {
    let engine = judgement.engine();
    let own: Vec<_> = engine.motion.bumps.iter().filter(|b| b.cylinder == cylinder).collect();
    if own.is_empty() {
        return Ok(None);
    }
    let latest = Mark::ALL.map(|mark| own.iter().rev().find(|b| b.mark == mark));
    let id = &engine.motion.cylinders[cylinder].id;
    let lacking: Vec<&str> =
        Mark::ALL.iter().zip(&latest).filter(|(_, b)| b.is_none()).map(|(m, _)| m.word()).collect();
    let [Some(bump_front), Some(front_end), Some(back_end), Some(bump_back)] = latest else {
        return Err(NoAnswer::one_missing(
            format!("the bump test of {id} lacks {}", lacking.join(", ")),
            format!("write a [[bump]] with cylinder = \"{id}\" for each: mark, at, gauge"),
        ));
    };
    let inputs = chain_inputs(engine, judgement.features(), cylinder)?;
    let mut notes = inputs.notes.clone();
    let used = [bump_front, front_end, back_end, bump_back];
    // The gauge's own zero would cancel between marks, but a rule's errors change along it: its
    // limits of error are taken for each mark by itself.
    let mark_standard_m = used
        .iter()
        .map(|b| {
            let gauge = engine.gauge(b.gauge);
            (gauge.error_m / 3f64.sqrt()).hypot(gauge.repeat_m)
        })
        .fold(0.0, f64::max);
    let float = match front_end.slack.or(back_end.slack) {
        Some(float) => float,
        None => {
            notes.said.insert(format!(
                "how the slack lay at the bump test of {id} was not said (slack = \"forward\" or \"back\"): taken half each way"
            ));
            Float::Middle
        }
    };
    let lapsed = used.iter().any(|b| {
        let gauge = engine.gauge(b.gauge);
        gauge.due.zip(b.when).is_some_and(|(due, day)| day > due)
    });
    if lapsed {
        notes.said.insert(format!("a bump mark of {id} was read with a gauge out of calibration"));
    }
    let readings = BumpReadings {
        bump_front_m: bump_front.at_m,
        travel_front_m: front_end.at_m,
        travel_back_m: back_end.at_m,
        bump_back_m: bump_back.at_m,
        mark_standard_m,
        float,
    };
    // Sizes that are nothing by description (no joint, no slack) cannot be the culprit.
    let sizes = inputs
        .values
        .iter()
        .filter(|(c, v)| v.value() != 0.0 && !is_slack(*c))
        .map(|(c, _)| (Fault::Size(*c), SIZE_WRONG));
    let marks =
        [Fault::BumpFrontMark, Fault::TravelFrontMark, Fault::TravelBackMark, Fault::BumpBackMark]
            .map(|f| (f, MARK_WRONG));
    let priors: Vec<FaultPrior> = sizes
        .chain(marks)
        .map(|(fault, probability)| FaultPrior { fault, probability, standard_m: WRONG_BY_M })
        .collect();
    let report = bump_test(&inputs.chain, &spreads_of(&inputs), &readings, &priors)?;
    Ok(Some(BumpCheck {
        cylinder,
        marks: used.map(|b| b.text.clone()),
        report,
        float,
        mark_standard_m,
        notes,
        priors: format!(
            "the odds start from each size of the chain being wrong one time in {:.0} and each mark one in {:.0}, then by some {:.0} mm; one fault at a time is looked at",
            1.0 / SIZE_WRONG,
            1.0 / MARK_WRONG,
            WRONG_BY_M * 1e3
        ),
    }))
}

fn is_slack(contributor: Contributor) -> bool {
    use Contributor as C;
    matches!(contributor, C::BigEndSlack | C::SmallEndSlack | C::JournalSlack | C::HornSlack)
}
