//! What a design consists of.

use super::{bearing, bolt, cone, press, slide, wedge};
use crate::model::{JointIx, RepairKind};

/// Something a design rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// Its name.
    pub name: String,
    /// What it means.
    pub what: String,
    /// As written.
    pub text: String,
    /// Where it stands.
    pub from: String,
}

/// Something that was not worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Absent {
    /// What.
    pub what: String,
    /// Why, when it is not for want of data.
    pub why: String,
    /// Lines to write.
    pub wants: Vec<String>,
}

/// What a figure is of, so that it can be shown in both systems.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// A size to work to, metres.
    Size,
    /// A small difference, metres.
    Difference,
    /// A length along a part, metres.
    Length,
    /// Film, roughness: metres.
    Film,
    /// Newtons.
    Force,
    /// Stress, pascals.
    Stress,
    /// Pressure of oil in a jack, pascals.
    Jack,
    /// Newton metres.
    Torque,
    /// Kelvin from absolute zero.
    Temperature,
    /// Kelvin of difference.
    Rise,
    /// Kilograms.
    Mass,
    /// Cubic metres a second.
    Flow,
    /// Watts.
    Power,
    /// Metres a second.
    Speed,
    /// Watts a square metre.
    PressureSpeed,
    /// Seconds.
    Time,
    /// A ratio.
    Ratio,
    /// Radians a second.
    Turning,
    /// Pascal seconds.
    Viscosity,
}

/// What a line says.
#[derive(Clone, Debug, PartialEq)]
pub enum Says {
    /// One figure.
    One(f64, Of),
    /// From, to.
    Band(f64, f64, Of),
    /// At low, likely and high friction.
    Spread(f64, f64, f64, Of),
    /// Words.
    Words(String),
}

/// How a line stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Standing {
    /// A plain statement.
    #[default]
    Plain,
    /// As it should be.
    Good,
    /// To be looked into.
    Look,
    /// Not as it may be.
    Bad,
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What it is.
    pub label: String,
    /// What it says.
    pub says: Says,
    /// A remark.
    pub note: String,
    /// How it stands.
    pub standing: Standing,
}

impl Line {
    pub(super) fn one(label: impl Into<String>, si: f64, of: Of) -> Line {
        Line::of(label, Says::One(si, of))
    }

    pub(super) fn band(label: impl Into<String>, low: f64, high: f64, of: Of) -> Line {
        Line::of(label, Says::Band(low, high, of))
    }

    pub(super) fn spread(label: impl Into<String>, s: (f64, f64, f64), of: Of) -> Line {
        Line::of(label, Says::Spread(s.0, s.1, s.2, of))
    }

    pub(super) fn words(label: impl Into<String>, words: impl Into<String>) -> Line {
        Line::of(label, Says::Words(words.into()))
    }

    fn of(label: impl Into<String>, says: Says) -> Line {
        Line { label: label.into(), says, note: String::new(), standing: Standing::Plain }
    }

    pub(super) fn note(mut self, note: impl Into<String>) -> Line {
        self.note = note.into();
        self
    }

    pub(super) fn stands(mut self, standing: Standing) -> Line {
        self.standing = standing;
        self
    }

    pub(super) fn good_if(self, good: bool) -> Line {
        self.stands(if good { Standing::Good } else { Standing::Bad })
    }
}

/// Lines that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Title.
    pub title: String,
    /// Lines.
    pub lines: Vec<Line>,
    /// Work for the bench: it goes on the sheet first.
    pub to_make: bool,
}

impl Section {
    pub(super) fn new(title: &str, lines: Vec<Line>) -> Section {
        Section { title: title.to_owned(), lines, to_make: false }
    }

    pub(super) fn making(title: &str, lines: Vec<Line>) -> Section {
        Section { title: title.to_owned(), lines, to_make: true }
    }
}

/// The calculation behind a design, for drawings and tests.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Detail {
    /// A fitted bolt.
    pub bolt: Option<Box<bolt::BoltDetail>>,
    /// A pressed or shrunk joint, or the bush that lines a bore.
    pub press: Option<Box<press::PressDetail>>,
    /// A wedge.
    pub wedge: Option<Box<wedge::WedgeDetail>>,
    /// A bearing.
    pub bearing: Option<Box<bearing::BearingDetail>>,
    /// A cone.
    pub cone: Option<Box<cone::ConeDetail>>,
    /// Sliding faces.
    pub slide: Option<Box<slide::SlideDetail>>,
}

impl Detail {
    /// What can be drawn of it, the drawing to work from first.
    pub fn drawings(&self) -> Vec<&'static str> {
        let turn = self.bearing.as_ref().is_some_and(|b| b.turn.is_some())
            || self.slide.as_ref().is_some_and(|s| s.turn.is_some());
        [
            ("bolt", self.bolt.is_some()),
            ("force to drive the bolt", self.bolt.as_ref().is_some_and(|b| b.drive.is_some())),
            ("slot and wedge", self.wedge.is_some()),
            ("cone and socket", self.cone.is_some()),
            ("bearing in section", self.bearing.is_some()),
            ("sliding faces", self.slide.is_some()),
            ("force along the stroke", self.press.as_ref().is_some_and(|p| p.curve.is_some())),
            ("load through a turn", turn),
        ]
        .into_iter()
        .filter_map(|(name, there)| there.then_some(name))
        .collect()
    }
}

/// The repair of a joint, designed.
#[derive(Clone, Debug)]
pub struct Design {
    /// Joint.
    pub joint: JointIx,
    /// What is done to it.
    pub repair: RepairKind,
    /// The same in words.
    pub words: String,
    /// Who decided it; `None` when it is what the program recommends.
    pub decided_by: Option<String>,
    /// What it rests on.
    pub given: Vec<Given>,
    /// What it comes to.
    pub sections: Vec<Section>,
    /// What was not worked out, and why.
    pub absent: Vec<Absent>,
    /// Cautions where work can hurt.
    pub cautions: Vec<String>,
    /// What was not considered.
    pub not_considered: Vec<&'static str>,
    /// The calculation behind it.
    pub detail: Detail,
}

impl Design {
    pub(super) fn caution(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !self.cautions.contains(&text) {
            self.cautions.push(text);
        }
    }
}
