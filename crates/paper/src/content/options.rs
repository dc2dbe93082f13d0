//! What could be done to a joint.

use super::figures::{pair, probability};
use super::shapes::{MoveRow, OptionRow, TargetRow};
use crate::text::Words;
use engine::judge::Judgement;
use engine::model::JointIx;
use engine::view::{EffectView, OptionView, TargetView, option_views};

/// Piston clearances, other joints and chains shown per option; the rest are counted.
const MOST_MOVES: usize = 6;

/// The options of a joint that can be done, and those that cannot with the reason.
pub(super) fn option_rows(judgement: &Judgement, ix: JointIx) -> (Vec<OptionRow>, Vec<Words>) {
    let views = option_views(judgement, ix);
    let (can, cannot): (Vec<&OptionView>, Vec<&OptionView>) =
        views.iter().partition(|o| o.can_be_done);
    let why = |o: &&OptionView| {
        let against = o.against.join("; ");
        let what = if o.words.is_empty() || o.words == o.repair {
            o.repair.to_owned()
        } else {
            format!("{}, {}", o.repair, o.words)
        };
        Words::from(format!("{what}: {against}"))
    };
    (can.into_iter().map(option_row).collect(), cannot.iter().map(why).collect())
}

fn option_row(o: &OptionView) -> OptionRow {
    let mut moves: Vec<&EffectView> = o.pistons.iter().chain(&o.joints).chain(&o.chains).collect();
    // What changes its verdict is told first.
    moves.sort_by_key(|e| e.verdict_before == e.verdict_after);
    OptionRow {
        repair: o.repair,
        words: Words::from(&o.words),
        recommended: o.recommended,
        targets: o.targets.iter().map(target_row).collect(),
        after: o.after.as_ref().map(pair),
        probability: o.probability.map_or_else(String::new, probability),
        moves: moves.iter().take(MOST_MOVES).map(|e| move_row(e)).collect(),
        moves_more: moves.len().saturating_sub(MOST_MOVES),
    }
}

fn target_row(t: &TargetView) -> TargetRow {
    TargetRow {
        feature: Words::from(&t.feature),
        to: pair(&t.to),
        tolerance: pair(&t.tolerance),
        way: t.way,
        suit: suit_words(t.to_suit.as_deref(), t.more.as_ref()),
    }
}

/// `to suit crank-pin.left, 0.20 mm (7.9 thou) more`
pub(super) fn suit_words(to_suit: Option<&str>, more: Option<&engine::view::Figure>) -> Words {
    match (to_suit, more) {
        (Some(f), Some(more)) if more.si < 0.0 => {
            let less = engine::view::Figure::of_difference(-more.si, Some(1e-6));
            Words::from(format!("to suit {f} as finished, {} less", less.both()))
        }
        (Some(f), Some(more)) => {
            Words::from(format!("to suit {f} as finished, {} more", more.both()))
        }
        (Some(f), None) => Words::from(format!("to suit {f} as finished")),
        _ => Words::default(),
    }
}

fn move_row(e: &EffectView) -> MoveRow {
    let by = e.moves.as_ref().map_or_else(String::new, |m| format!(" moves {}", m.both()));
    let to = e.after.as_ref().map_or_else(String::new, |a| format!(" to {}", a.metric));
    MoveRow {
        id: Words::from(&e.id),
        words: Words::from(format!("{}{by}{to}", e.measure)),
        before: e.verdict_before,
        after: e.verdict_after,
    }
}
