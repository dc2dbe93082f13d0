//! The records beside the cylinders: axles, turning masses, windows, bump marks.

use super::super::model::{
    Axle, Bump, By, Fatigue, FatiguePart, Figures, Mark, Reach, TurningMass,
};
use super::MotionBuilder;
use crate::description::{AxleText, BumpText, FatigueText, ReachText, Text, TurningMassText};
use crate::model::Date;
use mechanics::loads::FatigueCriterion;
use mechanics::motion::Float;
use quantity::Dimension;

impl MotionBuilder<'_> {
    pub(super) fn axle(&mut self, a: &AxleText) {
        let taken =
            a.id.as_ref()
                .is_some_and(|t| self.model.axles.iter().any(|x| x.id == t.get_ref().trim()));
        let Some(id) = self.id(&a.id, "axle", taken) else { return };
        let of = format!("axle {id}");
        let sizes = self.sizes(
            &of,
            &[
                ("weight-plane", &a.weight_plane),
                ("left-weight-radius", &a.left_weight_radius),
                ("right-weight-radius", &a.right_weight_radius),
                ("coupling-from-middle", &a.coupling_from_middle),
                ("coupling-rod", &a.coupling_rod),
                ("coupling-rod-depth", &a.coupling_rod_depth),
                ("coupling-rod-width", &a.coupling_rod_width),
            ],
        );
        let masses = self.masses(
            &of,
            &[
                ("left-weight", &a.left_weight),
                ("right-weight", &a.right_weight),
                ("wheelset-mass", &a.wheelset_mass),
                ("coupling-rod-mass", &a.coupling_rod_mass),
            ],
        );
        let joints = self.joints(&[
            ("left-box", &a.left_box),
            ("right-box", &a.right_box),
            ("left-coupling-bush", &a.left_coupling_bush),
            ("right-coupling-bush", &a.right_coupling_bush),
        ]);
        let mut figures = Figures::new();
        self.shares(&mut figures, &[("reciprocating-share", &a.reciprocating_share)]);
        self.numbers(
            &mut figures,
            &[("left-weight-lag", &a.left_weight_lag), ("right-weight-lag", &a.right_weight_lag)],
            Dimension::Angle,
        );
        self.numbers(&mut figures, &[("wheel-load", &a.wheel_load)], Dimension::Force);
        let driven = a.driven.as_ref().is_some_and(|b| *b.get_ref());
        self.model.axles.push(Axle { id, driven, sizes, masses, joints, figures });
    }

    pub(super) fn turning_mass(&mut self, m: &TurningMassText) {
        let taken = m
            .id
            .as_ref()
            .is_some_and(|t| self.model.turning_masses.iter().any(|x| x.id == t.get_ref().trim()));
        let Some(id) = self.id(&m.id, "turning-mass", taken) else { return };
        let Some(at) = &m.id else { return };
        let lacks = [
            ("axle", m.axle.is_none()),
            ("mass", m.mass.is_none()),
            ("radius", m.radius.is_none()),
            ("lag", m.lag.is_none()),
            ("side", m.side.is_none()),
            ("from-middle", m.from_middle.is_none()),
        ];
        let lacking: Vec<&str> = lacks.iter().filter(|(_, b)| *b).map(|(n, _)| *n).collect();
        if !lacking.is_empty() {
            let what = format!("turning mass \"{id}\" lacks {}", lacking.join(", "));
            self.fault(at, what, "write them: all are needed");
            return;
        }
        let (Some(axle_text), Some(mass), Some(radius), Some(from)) =
            (&m.axle, &m.mass, &m.radius, &m.from_middle)
        else {
            return;
        };
        let Some(axle) = self.model.axles.iter().position(|a| a.id == axle_text.get_ref().trim())
        else {
            let what = format!("there is no axle \"{}\"", axle_text.get_ref());
            self.fault(axle_text, what, "describe it in an [[axle]]");
            return;
        };
        let mass = self.mass(&format!("mass of {id}"), mass);
        let radius = self.size(&format!("radius of {id}"), radius);
        let from_middle = self.size(&format!("from-middle of {id}"), from);
        let lag = self.number(&m.lag, Dimension::Angle);
        let left = self.word(&m.side, &[("left", true), ("right", false)]);
        if let (Some(mass), Some(radius), Some(from_middle), Some(lag_rad), Some(left)) =
            (mass, radius, from_middle, lag, left)
        {
            let t = TurningMass { id, axle, mass, radius, lag_rad, from_middle, left };
            self.model.turning_masses.push(t);
        }
    }

    pub(super) fn fatigue(&mut self, f: &FatigueText) {
        let taken =
            f.id.as_ref()
                .is_some_and(|t| self.model.fatigue.iter().any(|x| x.id == t.get_ref().trim()));
        let Some(id) = self.id(&f.id, "fatigue", taken) else { return };
        let Some(at) = &f.id else { return };
        let parts = FatiguePart::ALL.map(|p| (p.word(), p));
        let Some(part) = self.word(&f.part, &parts) else {
            if f.part.is_none() {
                let words: Vec<&str> = parts.iter().map(|(w, _)| *w).collect();
                let mend = format!("write part = one of: {}", words.join(", "));
                self.fault(at, format!("fatigue \"{id}\" names no part"), mend);
            }
            return;
        };
        if let Some(other) = self.model.fatigue.iter().find(|x| x.part == part) {
            let what = format!("fatigue \"{}\" and \"{id}\" are of the same part", other.id);
            self.fault(at, what, "keep one of the two");
            return;
        }
        let of = format!("fatigue {id}");
        let sizes = self.sizes(&of, &[("diameter", &f.diameter), ("arm", &f.arm)]);
        let mut figures = Figures::new();
        self.numbers(
            &mut figures,
            &[("ultimate", &f.ultimate), ("yield", &f.r#yield), ("endurance", &f.endurance)],
            Dimension::Pressure,
        );
        self.numbers(&mut figures, &[("concentration", &f.concentration)], Dimension::Number);
        let criterion = self.word(
            &f.criterion,
            &[
                ("goodman", FatigueCriterion::Goodman),
                ("soderberg", FatigueCriterion::Soderberg),
                ("gerber", FatigueCriterion::Gerber),
            ],
        );
        let source = f.source.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
        self.model.fatigue.push(Fatigue { id, part, sizes, figures, criterion, source });
    }

    pub(super) fn reach(&mut self, r: &ReachText) {
        let Some(to) = &r.to else {
            self.fault_file("a reach is to nothing", "write to = \"joint or feature\"");
            return;
        };
        let name = to.get_ref().trim().to_owned();
        if self.engine.joint_by_id(&name).is_none() && self.engine.feature_by_id(&name).is_none() {
            let mend = match self.engine.nearest_id(&name) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => "name a joint or a feature".to_owned(),
            };
            self.fault(to, format!("there is no \"{name}\" to reach"), mend);
            return;
        }
        let Some(cylinder) = self.find_cylinder(&r.crank, "reach", "crank") else { return };
        if r.from.is_none() || r.until.is_none() {
            let what = format!("the reach to \"{name}\" has no from and until");
            self.fault(to, what, "write both as degrees past front dead centre: \"60 deg\"");
            return;
        }
        let from = self.number(&r.from, Dimension::Angle);
        let until = self.number(&r.until, Dimension::Angle);
        let bys = [("pit", By::Pit), ("above", By::Above), ("side", By::Side)];
        let by = self.word(&r.by, &bys);
        if r.by.is_none() {
            let what = format!("the reach to \"{name}\" does not say from where");
            self.fault(to, what, "write by = \"pit\", \"above\" or \"side\"");
        }
        if let (Some(from_rad), Some(until_rad), Some(by)) = (from, until, by) {
            let note = r.note.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
            let reach = Reach { to: name, cylinder, from_rad, until_rad, by, note };
            self.model.reaches.push(reach);
        }
    }

    pub(super) fn bump(&mut self, m: &BumpText) {
        let Some(cylinder) = self.find_cylinder(&m.cylinder, "bump", "cylinder") else { return };
        let Some(at) = &m.cylinder else { return };
        let marks = Mark::ALL.map(|k| (k.word(), k));
        let Some(mark) = self.word(&m.mark, &marks) else {
            if m.mark.is_none() {
                let words: Vec<&str> = marks.iter().map(|(w, _)| *w).collect();
                let mend = format!("write mark = one of: {}", words.join(", "));
                self.fault(at, "this bump does not say which mark it is", mend);
            }
            return;
        };
        let Some(gauge_text) = &m.gauge else {
            let mend = "write gauge = \"...\": without it the doubt of the mark is unknown";
            self.fault(at, "this bump mark names no gauge", mend);
            return;
        };
        let Some(gauge) = self.engine.gauge_by_id(gauge_text.get_ref().trim()) else {
            let what = format!("there is no gauge \"{}\"", gauge_text.get_ref());
            self.fault(gauge_text, what, "describe it in a [[gauge]]");
            return;
        };
        if m.at.is_none() {
            self.fault(at, "this bump mark has no position", "write at = \"3 1/4 in\"");
        }
        let Some(at_m) = self.number(&m.at, Dimension::Length) else { return };
        let floats =
            [("middle", Float::Middle), ("forward", Float::Forward), ("back", Float::Back)];
        let slack = self.word(&m.slack, &floats);
        let when = m.when.as_ref().and_then(|t| match Date::parse(t.get_ref()) {
            Ok(d) => Some(d),
            Err(what) => {
                self.fault(t, what, "year-month-day");
                None
            }
        });
        let say = |t: &Option<Text>| t.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
        self.model.bumps.push(Bump {
            cylinder,
            mark,
            text: say(&m.at),
            at_m,
            gauge,
            slack,
            by: say(&m.by),
            when,
        });
    }
}
