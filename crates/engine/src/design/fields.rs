//! The lines a `[[duty]]` may have: name, how it is written, what it means.

use quantity::Dimension;

/// How a value is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// One quantity, above zero.
    Above(Dimension),
    /// One quantity, zero or above.
    FromZero(Dimension),
    /// One quantity of any sign.
    Any(Dimension),
    /// A list of quantities, each above zero.
    Several(Dimension),
    /// A list of quantities of any sign.
    SeveralAny(Dimension),
    /// `0.02 mm to 0.08 mm`.
    Band,
    /// Low, likely and high coefficient of friction.
    Friction,
    /// `460 mm2/s at 40 degC`.
    OilPoint,
    /// Plain number with this unit, which `quantity` has no kind for.
    Odd(&'static str),
    /// `1 in 24`.
    Taper,
    /// One of some words.
    Word(&'static [&'static str]),
    /// Free text.
    Text,
    /// A list of free texts.
    Texts,
    /// A list of `stroke: force`.
    PressRecord,
    /// A list of `length x outside x bore`.
    Slices,
}

/// One line that a `[[duty]]` may have.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its name in the file.
    pub name: &'static str,
    /// How its value is written.
    pub form: Form,
    /// What it means.
    pub what: &'static str,
    /// A value as an example.
    pub example: &'static str,
}

const fn f(name: &'static str, form: Form, what: &'static str, example: &'static str) -> Field {
    Field { name, form, what, example }
}

use Dimension as D;
use Form as F;

/// Every line that a `[[duty]]` may have.
pub const FIELDS: &[Field] = &[
    f("of", F::Text, "the joint", "strap.left.1"),
    f(
        "like",
        F::Text,
        "another joint whose duty this one takes over, line by line, unless given here",
        "strap.left.1",
    ),
    f("source", F::Text, "who says so", "responsible engineer, 2025-11-20"),
    f("note", F::Text, "a remark", "drawing lost, sizes taken off the part"),
    // Loads and motion.
    f("load", F::FromZero(D::Force), "load on the joint", "12 tonf"),
    f("torque", F::FromZero(D::Torque), "torque that a pressed joint must hold", "9 kN m"),
    f(
        "turning",
        F::FromZero(D::AngularSpeed),
        "speed of the journal against its bearing",
        "250 rpm",
    ),
    f(
        "speed",
        F::FromZero(D::Speed),
        "speed of the engine at which the motion's loads are taken",
        "40 mph",
    ),
    f(
        "steam",
        F::FromZero(D::Pressure),
        "pressure of the steam then; the boiler's when not given",
        "150 psi",
    ),
    f(
        "cut-off",
        F::Above(D::Number),
        "share of the stroke at cut-off then; steam for the whole stroke when not given",
        "30 %",
    ),
    f("rubbing-speed", F::FromZero(D::Speed), "speed of a slipper on its bar", "3 m/s"),
    f(
        "load-character",
        F::Word(&["steady", "steady with swing", "reversing"]),
        "how the load behaves through a turn",
        "reversing",
    ),
    f("length", F::Above(D::Length), "length of the joint along its axis", "7 3/8 in"),
    f("width", F::Above(D::Length), "width of a flat bearing face", "3 in"),
    f("faces", F::Texts, "names of the two faces of a sliding joint", "[\"upper\", \"lower\"]"),
    f(
        "stands-off",
        F::Any(D::Length),
        "how far the sliding part stands from its line towards the second face",
        "0.010 in",
    ),
    f(
        "friction",
        F::Friction,
        "coefficient of friction: low, likely, high",
        "[\"0.08\", \"0.12\", \"0.18\"]",
    ),
    // Fits.
    f("fit", F::Text, "fit wanted, on the size when new", "H7/s6"),
    f("interference", F::Band, "interference wanted", "0.00 mm to 0.03 mm"),
    f("roughness-outer", F::FromZero(D::Length), "roughness Rz of bore or hole", "6 um"),
    f("roughness-inner", F::FromZero(D::Length), "roughness Rz of pin or bolt", "4 um"),
    // Bolts.
    f(
        "members",
        F::Several(D::Length),
        "depth of the hole in each member, head side first",
        "[\"2 in\", \"4 in\", \"2 in\"]",
    ),
    f("member-names", F::Texts, "names of the members", "[\"outer leg\", \"butt\", \"inner leg\"]"),
    f(
        "member-materials",
        F::Texts,
        "materials of the members",
        "[\"steel\", \"steel\", \"steel\"]",
    ),
    f(
        "member-outer",
        F::Several(D::Length),
        "outside of the ring that each member is taken as round its hole: twice the least edge distance",
        "[\"3 in\", \"4 in\", \"3 in\"]",
    ),
    f(
        "member-edge",
        F::Several(D::Length),
        "centre of the hole to the edge, in the load's direction",
        "[\"2 in\", \"3 in\", \"2 in\"]",
    ),
    f(
        "member-share",
        F::SeveralAny(D::Number),
        "share of the bolt's load that each member puts on it, with its sign; together zero",
        "[\"-0.5\", \"1\", \"-0.5\"]",
    ),
    f(
        "largest-pin-through",
        F::Above(D::Length),
        "largest plug that passes the holes as they are: shows how far they are out of line",
        "35.00 mm",
    ),
    f("reamers", F::Several(D::Length), "reamers in the shop", "[\"1 3/8 in\", \"1 13/32 in\"]"),
    f("ream-cut", F::Above(D::Length), "least a reamer must take off, on the diameter", "0.10 mm"),
    f("land-tolerance", F::Above(D::Length), "tolerance a land needs to be made", "0.008 mm"),
    f("slide", F::Above(D::Length), "clearance at which a land slides through a hole", "0.02 mm"),
    f("lead", F::Above(D::Length), "lead at the front of a land", "3 mm"),
    f(
        "head",
        F::Word(&["hexagon", "square", "round", "countersunk"]),
        "head of the bolt",
        "hexagon",
    ),
    f("head-across", F::Above(D::Length), "head across flats, or its diameter", "2 1/4 in"),
    f("head-height", F::Above(D::Length), "height of the head", "1 1/8 in"),
    f("head-angle", F::Above(D::Angle), "angle of a countersunk head", "60 deg"),
    f("thread-major", F::Above(D::Length), "outside of the thread", "1 1/4 in"),
    f("thread-pitch", F::Above(D::Length), "pitch of the thread", "3.6 mm"),
    f("thread-length", F::Above(D::Length), "length of the thread", "2 in"),
    f(
        "thread-run-out",
        F::FromZero(D::Length),
        "plain length between the last land and the thread",
        "5 mm",
    ),
    f(
        "security",
        F::Word(&["split pin", "lock nut", "cotter", "locking plate", "none"]),
        "what keeps the nut",
        "split pin",
    ),
    f(
        "security-size",
        F::Above(D::Length),
        "hole of the split pin, or thickness of the cotter",
        "1/4 in",
    ),
    f(
        "breakaway",
        F::Above(D::Number),
        "force to start a bolt that has stood, over the force to keep it moving; 1 or more",
        "1.5",
    ),
    f("jack-area", F::Above(D::Area), "ram of the jack that draws it", "32 cm2"),
    f("jack-rating", F::Above(D::Pressure), "pressure the jack is rated for", "700 bar"),
    f("bolts", F::Above(D::Number), "bolts that share the load", "2"),
    f("worst-factor", F::Above(D::Number), "load of the worst bolt over the mean", "1.2"),
    f(
        "shear-allowed",
        F::Above(D::Pressure),
        "shear stress the responsible engineer allows",
        "60 MPa",
    ),
    f("bearing-allowed", F::Above(D::Pressure), "bearing or crushing stress allowed", "120 MPa"),
    f("tension-allowed", F::Above(D::Pressure), "tensile stress allowed", "70 MPa"),
    f("edge-ratio", F::Above(D::Number), "least edge distance over the bolt's diameter", "1.5"),
    // Pressed and shrunk.
    f("hub-outer", F::Above(D::Length), "outside of the boss round the joint", "9 in"),
    f("pin-bore", F::FromZero(D::Length), "bore of the pin or bush; 0 mm when solid", "0 mm"),
    f(
        "slices",
        F::Slices,
        "the joint in slices: length x outside of the boss x bore of the pin",
        "[\"40 mm x 180 mm x 0 mm\"]",
    ),
    f("slip-safety", F::Above(D::Number), "factor wanted against slip", "2"),
    f("yield-safety", F::Above(D::Number), "factor wanted against yield", "1.2"),
    f(
        "plastic-share",
        F::FromZero(D::Number),
        "part of the boss's section that may yield, at most 0.3",
        "0",
    ),
    f(
        "hypothesis",
        F::Word(&["modified tresca", "tresca", "von mises"]),
        "hypothesis of yield",
        "modified tresca",
    ),
    f(
        "hub-rise",
        F::Any(D::TemperatureDifference),
        "boss above the temperature of measuring, in running",
        "20 K",
    ),
    f(
        "pin-rise",
        F::Any(D::TemperatureDifference),
        "pin above the temperature of measuring, in running",
        "20 K",
    ),
    f("press-rating", F::Above(D::Force), "the force the press can give", "100 tonf"),
    f("bush-wall", F::Above(D::Length), "wall of the bush that lines a bore", "4 mm"),
    f("bush-material", F::Text, "material of that bush", "bronze"),
    f("gap", F::FromZero(D::Length), "gap wanted when a heated joint goes together", "0.10 mm"),
    f("shop", F::Any(D::Temperature), "temperature of the shop", "15 degC"),
    f("pin-at", F::Any(D::Temperature), "temperature of the pin when it goes in", "15 degC"),
    f(
        "cooling-lost",
        F::FromZero(D::TemperatureDifference),
        "what the boss cools on the way",
        "20 K",
    ),
    f("heat-limit", F::Any(D::Temperature), "temperature the boss must not pass", "250 degC"),
    f(
        "press-record",
        F::PressRecord,
        "what was read in pressing: stroke and force",
        "[\"20 mm: 40 kN\", \"60 mm: 130 kN\"]",
    ),
    f(
        "press-gauge",
        F::Above(D::Number),
        "doubt of the press's gauge, as a share of what it shows",
        "5 %",
    ),
    f(
        "tyre-rule",
        F::Word(&["master mechanics", "eightieth inch per foot", "thousandth per inch"]),
        "old rule for the shrinkage of a tyre, to stand beside what is computed",
        "thousandth per inch",
    ),
    f(
        "tyre-rise",
        F::FromZero(D::TemperatureDifference),
        "how much hotter than its wheel centre brake blocks make a tyre",
        "80 K",
    ),
    // Wedges.
    f("preload", F::Above(D::Force), "force wanted across the wedge", "2 tonf"),
    f("drawn-with", F::Above(D::Force), "force it took to start the wedge out", "3 tonf"),
    f("liners", F::Several(D::Length), "liners on the shelf", "[\"1 mm\", \"1.5 mm\", \"2 mm\"]"),
    // Split bearings and white metal.
    f(
        "shell-bore",
        F::Above(D::Length),
        "recess in the brass that the white metal fills, on diameter",
        "8 1/8 in",
    ),
    f("crown", F::Above(D::Length), "brass at its crown, from back to finished bore", "1 1/4 in"),
    f(
        "bore-offset",
        F::FromZero(D::Length),
        "how far the bore's centre lies from the recess's",
        "0.2 mm",
    ),
    f(
        "wear-limit",
        F::FromZero(D::Length),
        "wear on the radius at which it is to be metalled again",
        "1 mm",
    ),
    f("least-metal", F::FromZero(D::Length), "least white metal left then", "2 mm"),
    f("least-bronze", F::FromZero(D::Length), "least bronze behind the white metal", "12 mm"),
    f("alloy", F::Text, "white metal by its standard's name", "ASTM B23 alloy 2"),
    f(
        "metal-thickness",
        F::Above(D::Length),
        "white metal wanted on a flat face or under a bore",
        "5 mm",
    ),
    f("arc", F::Above(D::Angle), "arc of the lining or of the brass", "160 deg"),
    f(
        "machining",
        F::FromZero(D::Length),
        "machining allowance on the radius, or on each face",
        "3 mm",
    ),
    f("shrinkage", F::FromZero(D::Number), "linear shrinkage of the white metal", "0.006"),
    f("pour-head", F::FromZero(D::Length), "head poured above the lining", "20 mm"),
    f("extra-metal", F::FromZero(D::Volume), "white metal for flanges and keys", "60 cm3"),
    f("waste", F::FromZero(D::Number), "waste as a share of what is cast", "0.15"),
    f(
        "joint-gap",
        F::Any(D::Length),
        "gap at the joint faces with both halves on their seats; negative when they stand proud",
        "0.05 mm",
    ),
    f("nip", F::Any(D::Length), "nip wanted at the joint; negative for a gap", "0.03 mm"),
    f("journal-hot", F::Any(D::Temperature), "journal at work", "70 degC"),
    f("bearing-hot", F::Any(D::Temperature), "bearing at work", "65 degC"),
    f("clearance-hot", F::Band, "clearance wanted at work", "0.15 mm to 0.35 mm"),
    // The film.
    f(
        "place",
        F::Word(&[
            "driving axle",
            "carrying axle",
            "big end",
            "crosshead pin",
            "slide bar",
            "eccentric",
            "coupling pin",
        ]),
        "where the bearing is, for handbook pressures",
        "driving axle",
    ),
    f("load-basis", F::Word(&["dead load", "greatest load"]), "which load `load` is", "dead load"),
    f(
        "bearing-metal",
        F::Word(&["cast bronze", "tin white metal", "lead white metal"]),
        "metal that rubs",
        "tin white metal",
    ),
    f(
        "load-angle",
        F::Above(D::Angle),
        "inlet edge of the brass to the load, as the journal turns",
        "80 deg",
    ),
    f(
        "oil-cool",
        F::OilPoint,
        "viscosity of the oil at the cooler reading of its sheet",
        "460 mm2/s at 40 degC",
    ),
    f("oil-warm", F::OilPoint, "and at the warmer", "30 mm2/s at 100 degC"),
    f("oil-density", F::Above(D::Density), "density of the oil at 15 degC", "900 kg/m3"),
    f("oil-heat", F::Odd("J/kg K"), "specific heat of the oil", "2000 J/kg K"),
    f("oil-inlet", F::Any(D::Temperature), "oil as it enters", "30 degC"),
    f("air", F::Any(D::Temperature), "air round the bearing", "15 degC"),
    f("surface-heat", F::Odd("W/K"), "heat the box or rod sheds to the air", "8 W/K"),
    f(
        "oil-cooling",
        F::Word(&["fresh inlet", "side flow replaced", "none"]),
        "how the oil takes heat with it",
        "side flow replaced",
    ),
    f("finish-journal", F::FromZero(D::Length), "roughness Rq of the journal", "0.4 um"),
    f("finish-metal", F::FromZero(D::Length), "roughness Rq of the bearing metal", "0.8 um"),
    f("felt-area", F::Above(D::Area), "felt pad or trimming, across the flow", "40 cm2"),
    f("felt-path", F::Above(D::Length), "length of felt between oil and journal", "40 mm"),
    f("felt-permeability", F::Odd("um2"), "permeability of the clean felt", "100 um2"),
    f("felt-pore", F::Above(D::Length), "radius of pore that gives its lift", "30 um"),
    f(
        "felt-left",
        F::Above(D::Number),
        "share of the clean flow that is left; 1 when clean",
        "0.7",
    ),
    f("felt-halving", F::Above(D::Time), "time in which dirt halves its flow", "2000 h"),
    f("oil-tension", F::Above(D::ForcePerLength), "surface tension of the oil", "0.03 N/m"),
    f("keep-surface", F::Above(D::Area), "surface of the oil in the keep", "200 cm2"),
    f("keep-lift", F::Any(D::Length), "oil's surface when full up to the journal", "30 mm"),
    f("keep-depth", F::Above(D::Length), "how far the level may fall", "25 mm"),
    f("keep-return", F::FromZero(D::Number), "share of the oil that runs back", "0.8"),
    // Cones and cotters.
    f(
        "held-by",
        F::Word(&["nut", "cotter", "gib and cotter", "taper pin"]),
        "what holds the cone in its socket; a taper pin holds itself",
        "cotter",
    ),
    f("shaft", F::Above(D::Length), "shaft that a taper pin goes through", "2 1/2 in"),
    f("cotter-taper", F::Taper, "taper of the cotter", "1 in 24"),
    f("drive-left", F::FromZero(D::Length), "length of cotter still to be driven", "1 1/2 in"),
    f(
        "gap-at-gib",
        F::FromZero(D::Length),
        "gap behind the gib, or behind the cotter's straight edge where there is none",
        "1/4 in",
    ),
    f(
        "gap-at-cotter",
        F::FromZero(D::Length),
        "gap at the cotter's far side, in the outer part's slot",
        "5/16 in",
    ),
    f("gib-width", F::Above(D::Length), "gib along the rod", "1 in"),
    f(
        "shoulder",
        F::Any(D::Length),
        "cone's large end back to the shoulder that would meet the socket",
        "10 mm",
    ),
    f("draw", F::FromZero(D::Length), "how far cotter or nut can still draw", "6 mm"),
    f("socket-outer", F::Above(D::Length), "outside of the socket", "5 in"),
    f("rod", F::Above(D::Length), "rod outside the joint", "2 3/4 in"),
    f("rod-end", F::Above(D::Length), "rod end where the cotter passes", "2 1/2 in"),
    f("socket-collar", F::Above(D::Length), "outside of the socket where the cotter bears", "5 in"),
    f("cotter-thickness", F::Above(D::Length), "cotter across the rod", "5/8 in"),
    f("cotter-width", F::Above(D::Length), "cotter along the rod", "2 1/4 in"),
    f("rod-beyond", F::Above(D::Length), "slot to the end of the rod", "1 1/2 in"),
    f("socket-beyond", F::Above(D::Length), "slot to the end of the socket", "1 1/2 in"),
];

/// The field of this name.
pub(super) fn field(name: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|f| f.name == name)
}
