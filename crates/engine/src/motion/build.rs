//! From the records of the file to a [`MotionModel`], every fault with its place and its mend.

use super::model::{
    Axle, Bump, By, Cylinder, Figures, Mark, MassSum, MotionModel, Reach, Size, TurningMass,
};
use super::sum::{Term, terms};
use crate::description::{
    AxleText, BumpText, CylinderText, Description, MotionText, ReachText, Sources, Text,
    TurningMassText,
};
use crate::model::{Date, Engine};
use crate::problem::{Place as FilePlace, Problem, nearest};
use mechanics::motion::{Beats, Contributor, CrankSequence, Float, Leading, Place, crank_lags};
use quantity::{Dimension, Quantity, Taper};
use std::collections::BTreeMap;

/// More than this of one kind is a slip.
const MOST: usize = 1000;

/// Builds the motion of an engine whose features, joints and chains are known.
pub(crate) fn build(
    description: &Description,
    sources: &Sources,
    engine: &Engine,
) -> (MotionModel, Vec<Problem>) {
    let mut b = MotionBuilder { sources, engine, model: MotionModel::default(), found: Vec::new() };
    let head = description.motion.clone().unwrap_or_default();
    b.head(&head);
    for c in description.cylinders.iter().take(MOST) {
        b.cylinder(c);
    }
    b.sequence(&head);
    for a in description.axles.iter().take(MOST) {
        b.axle(a);
    }
    for m in description.turning_masses.iter().take(MOST) {
        b.turning_mass(m);
    }
    for r in description.reaches.iter().take(MOST) {
        b.reach(r);
    }
    for m in description.bumps.iter().take(10 * MOST) {
        b.bump(m);
    }
    (b.model, b.found)
}

struct MotionBuilder<'a> {
    sources: &'a Sources,
    engine: &'a Engine,
    model: MotionModel,
    found: Vec<Problem>,
}

type Named<'a> = (&'static str, &'a Option<Text>);

impl MotionBuilder<'_> {
    fn fault(&mut self, at: &Text, what: impl Into<String>, mend: impl Into<String>) {
        self.found.push(Problem::new(self.sources.place(at.span().start), what, mend));
    }

    fn fault_file(&mut self, what: impl Into<String>, mend: impl Into<String>) {
        self.found.push(Problem::new(FilePlace::file(self.sources.own_file()), what, mend));
    }

    fn number(&mut self, text: &Option<Text>, dimension: Dimension) -> Option<f64> {
        let text = text.as_ref()?;
        match Quantity::parse_as(text.get_ref(), dimension) {
            Ok(q) => Some(q.si()),
            Err(e) => {
                let what = format!("\"{}\": {}", text.get_ref(), e.reason());
                self.fault(text, what, e.hint());
                None
            }
        }
    }

    fn numbers(&mut self, into: &mut Figures, list: &[Named<'_>], dimension: Dimension) {
        for (name, text) in list {
            if let Some(v) = self.number(text, dimension) {
                into.insert(name, v);
            }
        }
    }

    /// A share of one: `85 %` or `0.85`.
    fn shares(&mut self, into: &mut Figures, list: &[Named<'_>]) {
        for (name, text) in list {
            let Some(v) = self.number(text, Dimension::Number) else { continue };
            if !(0.0..=1.0).contains(&v)
                && let Some(at) = text
            {
                let what = format!("{name} = \"{}\" is not a share", at.get_ref());
                self.fault(at, what, "write a figure from 0 % to 100 %");
                continue;
            }
            into.insert(name, v);
        }
    }

    /// Written sizes, features, chains and joints, added up.
    fn size(&mut self, name: &str, text: &Text) -> Option<Size> {
        let written = text.get_ref().clone();
        let (sum, doubt) = match written.split_once('\u{b1}').or(written.split_once("+/-")) {
            Some((sum, doubt)) => (sum, Some(doubt.trim())),
            None => (written.as_str(), None),
        };
        let mut size = Size { text: written.trim().to_owned(), ..Size::default() };
        for term in terms(sum, Dimension::Length) {
            match term {
                Term::Written(si) => size.written_m += si,
                Term::Named(factor, id) => {
                    if let Some(ix) = self.engine.feature_by_id(&id) {
                        size.features.push((factor, ix));
                    } else if let Some(ix) = self.engine.chain_by_id(&id) {
                        let chain = self.engine.chain(ix);
                        size.features.extend(chain.terms.iter().map(|(f, t)| (factor * f, *t)));
                    } else if let Some(ix) = self.engine.joint_by_id(&id) {
                        size.joints.push((factor, ix));
                    } else {
                        let mend = match self.engine.nearest_id(&id) {
                            Some(near) => format!("did you mean \"{near}\"?"),
                            None => "write a size with its unit, or the id of a feature, a chain or a joint; terms are joined by \" + \" or \" - \"".to_owned(),
                        };
                        self.fault(text, format!("there is no \"{id}\" for {name}"), mend);
                        return None;
                    }
                }
                Term::Fault(what, mend) => {
                    self.fault(text, what, mend);
                    return None;
                }
            }
        }
        if let Some(doubt) = doubt {
            match Quantity::parse_as(doubt, Dimension::Length) {
                Ok(q) if q.si() >= 0.0 => {
                    let at = u32::try_from(self.model.written.len()).unwrap_or(u32::MAX);
                    self.model.written.push(name.to_owned());
                    size.doubt = Some((q.si(), at));
                }
                Ok(q) => {
                    let what = format!("plus and minus {} is negative", q.text());
                    self.fault(text, what, "write it without the sign");
                    return None;
                }
                Err(e) => {
                    self.fault(text, format!("\"{doubt}\": {}", e.reason()), e.hint());
                    return None;
                }
            }
        }
        Some(size)
    }

    fn sizes(&mut self, of: &str, list: &[Named<'_>]) -> BTreeMap<&'static str, Size> {
        let mut out = BTreeMap::new();
        for (name, text) in list {
            let Some(text) = text else { continue };
            if let Some(size) = self.size(&format!("{name} of {of}"), text) {
                out.insert(*name, size);
            }
        }
        out
    }

    fn mass(&mut self, name: &str, text: &Text) -> Option<MassSum> {
        let mut mass = MassSum { text: text.get_ref().trim().to_owned(), ..MassSum::default() };
        for term in terms(text.get_ref(), Dimension::Mass) {
            match term {
                Term::Written(si) => mass.written_kg += si,
                Term::Named(factor, id) => match self.engine.index.parts.get(&id) {
                    Some(ix) => mass.parts.push((factor, *ix)),
                    None => {
                        let known = self.engine.parts.iter().map(|p| p.id.as_str());
                        let mend = match nearest(&id, known) {
                            Some(near) => format!("did you mean \"{near}\"?"),
                            None => "write a mass with its unit, or the ids of parts that have one, joined by \" + \"".to_owned(),
                        };
                        self.fault(text, format!("there is no part \"{id}\" for {name}"), mend);
                        return None;
                    }
                },
                Term::Fault(what, mend) => {
                    self.fault(text, what, mend);
                    return None;
                }
            }
        }
        Some(mass)
    }

    fn masses(&mut self, of: &str, list: &[Named<'_>]) -> BTreeMap<&'static str, MassSum> {
        let mut out = BTreeMap::new();
        for (name, text) in list {
            let Some(text) = text else { continue };
            if let Some(mass) = self.mass(&format!("{name} of {of}"), text) {
                out.insert(*name, mass);
            }
        }
        out
    }

    fn word<T: Copy>(&mut self, text: &Option<Text>, list: &[(&str, T)]) -> Option<T> {
        let text = text.as_ref()?;
        let said = text.get_ref().split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        if let Some((_, v)) = list.iter().find(|(word, _)| *word == said) {
            return Some(*v);
        }
        let all: Vec<&str> = list.iter().map(|(w, _)| *w).collect();
        let what = format!("\"{}\" is not a word known here", text.get_ref());
        self.fault(text, what, format!("use one of: {}", all.join(", ")));
        None
    }

    fn id(&mut self, text: &Option<Text>, kind: &str, taken: bool) -> Option<String> {
        let Some(text) = text else {
            self.fault_file(format!("a {kind} has no id"), format!("give every [[{kind}]] an id"));
            return None;
        };
        let id = text.get_ref().split_whitespace().collect::<Vec<_>>().join(" ");
        if id.is_empty() || id.len() > 60 {
            let what = format!("the id of this {kind} is empty or too long");
            self.fault(text, what, "write a short name");
            return None;
        }
        if taken {
            let what = format!("{kind} \"{id}\" stands twice, or is the name of something else");
            self.fault(text, what, "give it another id");
            return None;
        }
        Some(id)
    }

    fn find_cylinder(&mut self, text: &Option<Text>, record: &str, field: &str) -> Option<usize> {
        let Some(text) = text else {
            self.fault_file(
                format!("a {record} names no cylinder"),
                format!("write {field} = \"...\" in every [[{record}]]"),
            );
            return None;
        };
        let found = self.model.cylinder_by_id(text.get_ref());
        if found.is_none() {
            let ids: Vec<&str> = self.model.cylinders.iter().map(|c| c.id.as_str()).collect();
            let mend = if ids.is_empty() {
                "describe the cylinders in [[cylinder]] records".to_owned()
            } else {
                format!("there are: {}", ids.join(", "))
            };
            self.fault(text, format!("there is no cylinder \"{}\"", text.get_ref()), mend);
        }
        found
    }

    fn head(&mut self, m: &MotionText) {
        self.model.sizes = self.sizes(
            "[motion]",
            &[
                ("tyre", &m.tyre),
                ("box-centres", &m.box_centres),
                ("left-box-fore", &m.left_box_fore),
                ("right-box-fore", &m.right_box_fore),
                ("left-box-rise", &m.left_box_rise),
                ("right-box-rise", &m.right_box_rise),
            ],
        );
        let mut figures = Figures::new();
        self.numbers(
            &mut figures,
            &[
                ("pressure", &m.pressure),
                ("back-pressure", &m.back_pressure),
                ("atmosphere", &m.atmosphere),
                ("rod-elastic", &m.rod_elastic),
                ("rod-yield", &m.rod_yield),
            ],
            Dimension::Pressure,
        );
        self.numbers(
            &mut figures,
            &[("rod-ends-sideways", &m.rod_ends_sideways)],
            Dimension::Number,
        );
        self.shares(
            &mut figures,
            &[
                ("mean-share", &m.mean_share),
                ("clearance-volume", &m.clearance_volume),
                ("release", &m.release),
                ("compression", &m.compression),
                ("balanced", &m.balanced),
            ],
        );
        self.model.figures = figures;
        if let Some(text) = &m.rod_material {
            match self.engine.index.materials.get(text.get_ref().trim()) {
                Some(ix) => self.model.rod_material = Some(*ix),
                None => {
                    let what = format!("there is no material \"{}\"", text.get_ref());
                    self.fault(text, what, "describe it in a [[material]] with its density");
                }
            }
        }
        self.model.rod_source =
            m.rod_source.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
    }

    fn cylinder(&mut self, c: &CylinderText) {
        use Contributor as C;
        let clash = c.id.as_ref().is_some_and(|t| {
            let id = t.get_ref().trim();
            self.model.cylinder_by_id(id).is_some()
                || self.engine.feature_by_id(id).is_some()
                || self.engine.joint_by_id(id).is_some()
                || self.engine.chain_by_id(id).is_some()
        });
        let Some(id) = self.id(&c.id, "cylinder", clash) else { return };
        let Some(id_text) = &c.id else { return };
        if id.split(' ').any(|w| w.starts_with(|c: char| c.is_ascii_digit())) {
            let what = format!("the id \"{id}\" of this cylinder begins a word with a figure");
            self.fault(id_text, what, "positions are said as \"left 40 past front\": use words");
            return;
        }
        let places = [
            ("left outside", Place::OutsideLeft),
            ("left inside", Place::InsideLeft),
            ("middle", Place::Middle),
            ("right inside", Place::InsideRight),
            ("right outside", Place::OutsideRight),
        ];
        let Some(place) = self.word(&c.place, &places) else {
            if c.place.is_none() {
                let words: Vec<&str> = places.iter().map(|(w, _)| *w).collect();
                let mend = format!("write place = one of: {}", words.join(", "));
                self.fault(id_text, format!("cylinder \"{id}\" has no place"), mend);
            }
            return;
        };
        let of = format!("cylinder {id}");
        let mut chain = BTreeMap::new();
        for (contributor, name, text) in [
            (C::CylinderLength, "cylinder-length", &c.cylinder_length),
            (C::FrontCoverSpigot, "front-spigot", &c.front_spigot),
            (C::BackCoverSpigot, "back-spigot", &c.back_spigot),
            (C::FrontJoint, "front-joint", &c.front_joint),
            (C::BackJoint, "back-joint", &c.back_joint),
            (C::PistonThickness, "piston-thickness", &c.piston_thickness),
            (C::ConeToPiston, "cone-to-piston", &c.cone_to_piston),
            (C::PinToCone, "pin-to-cone", &c.pin_to_cone),
            (C::RodCentres, "rod-centres", &c.rod_centres),
            (C::BigEndTakeUp, "big-end-take-up", &c.big_end_take_up),
            (C::SmallEndTakeUp, "small-end-take-up", &c.small_end_take_up),
            (C::CrankThrow, "throw", &c.throw),
            (C::LineOffset, "offset", &c.offset),
            (C::AxleToCylinder, "axle-to-cylinder", &c.axle_to_cylinder),
            (C::BigEndSlack, "big-end-slack", &c.big_end_slack),
            (C::SmallEndSlack, "small-end-slack", &c.small_end_slack),
            (C::JournalSlack, "journal-slack", &c.journal_slack),
            (C::HornSlack, "horn-slack", &c.horn_slack),
        ] {
            let Some(text) = text else { continue };
            if let Some(size) = self.size(&format!("{name} of {of}"), text) {
                chain.insert(contributor, size);
            }
        }
        let sizes = self.sizes(
            &of,
            &[
                ("from-middle", &c.from_middle),
                ("bore", &c.bore),
                ("piston-rod", &c.piston_rod),
                ("tail-rod", &c.tail_rod),
                ("rod-balance-point", &c.rod_balance_point),
                ("crank-pin", &c.crank_pin),
                ("big-end-length", &c.big_end_length),
                ("crosshead-pin", &c.crosshead_pin),
                ("small-end-length", &c.small_end_length),
                ("slipper-length", &c.slipper_length),
                ("slipper-width", &c.slipper_width),
                ("rod-depth", &c.rod_depth),
                ("rod-width", &c.rod_width),
                ("rod-flange", &c.rod_flange),
                ("rod-web", &c.rod_web),
            ],
        );
        let masses = self.masses(
            &of,
            &[
                ("piston-mass", &c.piston_mass),
                ("rod-mass", &c.rod_mass),
                ("crank-mass", &c.crank_mass),
            ],
        );
        let mut figures = Figures::new();
        self.numbers(&mut figures, &[("slide-friction", &c.slide_friction)], Dimension::Number);
        self.numbers(&mut figures, &[("piston-friction", &c.piston_friction)], Dimension::Force);
        let lag_rad = self.number(&c.lag, Dimension::Angle);
        let incline_rad = c.incline.as_ref().and_then(|t| self.incline(t));
        self.model.cylinders.push(Cylinder {
            name: c.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().clone()),
            id,
            place,
            lag_rad,
            incline_rad,
            chain,
            sizes,
            figures,
            masses,
            front_limits: Vec::new(),
            back_limits: Vec::new(),
        });
    }

    /// `1 in 12`, `-1 in 12`, `4 deg`.
    fn incline(&mut self, text: &Text) -> Option<f64> {
        let said = text.get_ref().trim();
        let (sign, rest) = match said.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (-1.0, rest.trim()),
            None => (1.0, said),
        };
        if let Ok(slope) = Taper::parse(rest) {
            return Some(sign * slope.ratio().atan());
        }
        match Quantity::parse_as(rest, Dimension::Angle) {
            Ok(q) => Some(sign * q.si()),
            Err(e) => {
                let what = format!("\"{said}\" is not an incline: {}", e.reason());
                self.fault(
                    text,
                    what,
                    "write 1 in 12 (12 along the level), or 4 deg 45 min of arc",
                );
                None
            }
        }
    }

    /// Lags of the usual sequences for cylinders that do not say their own.
    fn sequence(&mut self, m: &MotionText) {
        let kinds = [("two inside", 2), ("two outside", 0), ("three", 3), ("four", 4)];
        let Some(kind) = self.word(&m.sequence, &kinds) else { return };
        let sides = [("left", Leading::Left), ("right", Leading::Right)];
        // Left out, the cranks have no angles, and whatever wants them says so.
        let Some(leading) = self.word(&m.leading, &sides) else { return };
        let sequence = match kind {
            2 => CrankSequence::TwoInside { leading },
            0 => CrankSequence::TwoOutside { leading },
            4 => CrankSequence::FourPaired { leading },
            _ => {
                let Some(even) =
                    self.word(&m.beats, &[("even cranks", false), ("even beats", true)])
                else {
                    if let (None, Some(at)) = (&m.beats, &m.sequence) {
                        let what = "three cylinders: the sequence does not say what is even";
                        self.fault(at, what, "write beats = \"even cranks\" or \"even beats\"");
                    }
                    return;
                };
                let incline = |inside: bool| {
                    self.model
                        .cylinders
                        .iter()
                        .find(|c| c.place.is_inside() == inside)
                        .and_then(|c| c.incline_rad)
                        .unwrap_or(0.0)
                };
                let beats = if even {
                    Beats::EvenBeats {
                        middle_incline_rad: incline(true),
                        outside_incline_rad: incline(false),
                    }
                } else {
                    Beats::EvenCranks
                };
                CrankSequence::Three { leading, beats }
            }
        };
        let lags = match crank_lags(sequence) {
            Ok(lags) => lags,
            Err(e) => {
                if let Some(at) = &m.sequence {
                    self.fault(at, e.to_string(), "correct the incline");
                }
                return;
            }
        };
        let mut unplaced = Vec::new();
        for c in self.model.cylinders.iter_mut().filter(|c| c.lag_rad.is_none()) {
            match lags.iter().find(|(place, _)| *place == c.place) {
                Some((_, lag)) => c.lag_rad = Some(*lag),
                None => unplaced.push(c.id.clone()),
            }
        }
        if let (false, Some(at)) = (unplaced.is_empty(), &m.sequence) {
            let what = format!("this sequence has no crank for cylinder {}", unplaced.join(", "));
            self.fault(at, what, "give that cylinder its own lag, or correct its place");
        }
    }

    fn axle(&mut self, a: &AxleText) {
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
            ],
        );
        let masses =
            self.masses(&of, &[("left-weight", &a.left_weight), ("right-weight", &a.right_weight)]);
        let mut figures = Figures::new();
        self.shares(&mut figures, &[("reciprocating-share", &a.reciprocating_share)]);
        self.numbers(
            &mut figures,
            &[("left-weight-lag", &a.left_weight_lag), ("right-weight-lag", &a.right_weight_lag)],
            Dimension::Angle,
        );
        self.numbers(&mut figures, &[("wheel-load", &a.wheel_load)], Dimension::Force);
        let driven = a.driven.as_ref().is_some_and(|b| *b.get_ref());
        self.model.axles.push(Axle { id, driven, sizes, masses, figures });
    }

    fn turning_mass(&mut self, m: &TurningMassText) {
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

    fn reach(&mut self, r: &ReachText) {
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

    fn bump(&mut self, m: &BumpText) {
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
