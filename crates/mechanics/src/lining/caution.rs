//! What can hurt when white metal is melted and poured, and who decides about it.
//!
//! These are cautions, not instructions. They do not replace a competent person, the maker's data
//! sheet, or the rules of the place.

/// A hazard of hot metal work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hazard {
    /// Molten metal: burns and splashes.
    HotMetal,
    /// Water or damp meeting molten metal: steam explosion.
    Moisture,
    /// Lead and its dross.
    Lead,
    /// Fume from metal, flux and old oil.
    Fume,
    /// Flux and acid.
    Flux,
    /// Fire: oil, rags, gas.
    Fire,
}

/// A caution to print on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// The hazard.
    pub hazard: Hazard,
    /// The text.
    pub text: &'static str,
}

const HOT: Caution = Caution {
    hazard: Hazard::HotMetal,
    text: "Molten white metal burns deep and sets fire to clothing. Work under a competent \
           person, with face, hands, arms and feet covered, the floor clear and dry, and a way out.",
};
const MOISTURE: Caution = Caution {
    hazard: Hazard::Moisture,
    text: "Damp in shell, mandrel, clay, ladle or ingot turns to steam at once and throws the metal \
           about: a steam explosion. Everything the metal touches must be dry and warmed first; a \
           competent person decides when it is.",
};
const LEAD: Caution = Caution {
    hazard: Hazard::Lead,
    text: "This metal holds lead. Fume, dross and dust poison through breath and mouth, also at home \
           on clothes. Local rules on work with lead apply: exposure, washing, eating, health checks \
           and waste are for a competent person to settle before work begins.",
};
const OLD_LEAD: Caution = Caution {
    hazard: Hazard::Lead,
    text: "The old lining may hold lead even where the new does not. Until a competent person knows \
           what it is, treat melting-out, dross and dust as leaded, under the local rules for lead.",
};
const FUME: Caution = Caution {
    hazard: Hazard::Fume,
    text: "Metal, flux and old oil in the pores of the brass give off fume. Extraction and breathing \
           protection are for a competent person and local rules to decide; do not overheat the \
           metal.",
};
const FLUX: Caution = Caution {
    hazard: Hazard::Flux,
    text: "Tinning flux is acid and spits when heated. Follow the maker's data sheet and local rules \
           for eyes, skin, storage and washing off.",
};
const FIRE: Caution = Caution {
    hazard: Hazard::Fire,
    text: "Oil, rags and gas catch fire near the pot. Hot-work permission, fire watch and \
           extinguishing means are for local rules and a competent person; never water on molten \
           metal.",
};

const WITH_LEAD: [Caution; 6] = [HOT, MOISTURE, LEAD, FUME, FLUX, FIRE];
const WITHOUT_LEAD: [Caution; 6] = [HOT, MOISTURE, OLD_LEAD, FUME, FLUX, FIRE];

/// The cautions for pouring, by whether the new metal holds lead.
#[must_use]
pub fn pouring_cautions(holds_lead: bool) -> &'static [Caution] {
    if holds_lead { &WITH_LEAD } else { &WITHOUT_LEAD }
}
