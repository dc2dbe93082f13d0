//! Who may say what: by role, and by what they have shown.

use super::Fold;
use crate::pen::Shown;
use crate::{Error, Pen, Person, Role, Said};

/// The roles that may say this; none means any role at all.
fn roles_for(said: &Said) -> &'static [Role] {
    match said {
        Said::Person { .. }
        | Said::Described { .. }
        | Said::Decided { .. }
        | Said::HoldPoint { .. }
        | Said::Concession { .. }
        | Said::ConcessionClosed { .. }
        | Said::DeviceToken { .. }
        | Said::DeviceTokenWithdrawn { .. }
        | Said::SignedOff { .. } => &[Role::Responsible],
        Said::Released { .. } => &[Role::Releases],
        Said::Worked { .. }
        | Said::WorkDone { .. }
        | Said::WorkStuck { .. }
        | Said::WorkUndone { .. } => &[Role::Fits],
        Said::DayPlanned { .. } => &[Role::Fits, Role::Responsible],
        Said::Readings { .. } | Said::Calibrated { .. } | Said::FigureStruckOut { .. } => {
            &[Role::Records, Role::Responsible]
        }
        Said::Tagged { .. } | Said::Moved { .. } => &[Role::Fits, Role::Records, Role::Responsible],
        _ => &[],
    }
}

pub(super) fn may(person: &Person, said: &Said) -> Result<(), Error> {
    // Everyone sets their own password, and nothing else about themselves.
    if let Said::Person { name, roles, .. } = said
        && *name == person.name
        && *roles == person.roles
    {
        return Ok(());
    }
    let wanted = roles_for(said);
    let has = if wanted.is_empty() {
        !person.roles.is_empty()
    } else {
        wanted.iter().any(|r| person.roles.contains(r))
    };
    if has {
        return Ok(());
    }
    let is = person.roles.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    let who = wanted.iter().map(ToString::to_string).collect::<Vec<_>>().join(" or ");
    Err(Error::not_allowed(
        format!(
            "{} ({}) may not write \"{}\"",
            person.name,
            if is.is_empty() { "no role" } else { &is },
            said.kind()
        ),
        format!("that is for: {}", if who.is_empty() { "anyone with a role" } else { &who }),
    ))
}

/// What somebody must show to say something.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Proof {
    /// The password, if there is one; a device's token does as well.
    Any,
    /// The password, if there is one.
    Password,
    /// The password, and there must be one.
    Signature,
}

fn proof_for(said: &Said) -> Proof {
    match said {
        Said::Released { .. } | Said::SignedOff { .. } | Said::Concession { .. } => {
            Proof::Signature
        }
        // A device that could give tokens or change passwords would be as good as the password.
        Said::Person { .. } | Said::DeviceToken { .. } | Said::DeviceTokenWithdrawn { .. } => {
            Proof::Password
        }
        _ => Proof::Any,
    }
}

impl Fold {
    /// Whoever loses a device takes away its token themselves.
    pub(super) fn own_device(&self, person: &Person, said: &Said) -> bool {
        let Said::DeviceTokenWithdrawn { device, .. } = said else { return false };
        self.devices().iter().any(|d| d.name == *device && d.person == person.name)
    }

    pub(super) fn shown_who(&self, person: &Person, pen: &Pen, said: &Said) -> Result<(), Error> {
        let proof = proof_for(said);
        if let Shown::Token { hash, on } = pen.shown() {
            // Asked again here, in the lock: it may have been withdrawn a moment ago.
            let device = self
                .device_by_hash(hash)
                .filter(|d| d.person == person.name && d.name == pen.device());
            let Some(device) = device else {
                return Err(Error::not_allowed(
                    "this token is not that of the device any more",
                    "the responsible engineer gives a new one",
                ));
            };
            device.stands_on(*on)?;
            return if proof == Proof::Any {
                Ok(())
            } else {
                Err(Error::not_allowed(
                    format!("the token of a device does not do for \"{}\"", said.kind()),
                    "it takes the person's password",
                ))
            };
        }
        if person.password.is_empty() {
            return if proof == Proof::Signature {
                Err(Error::not_allowed(
                    format!("{} has no password, and a signature needs one", person.name),
                    "`pinchbar book people BOOK NAME --new-password-file FILE --by NAME` sets one",
                ))
            } else {
                Ok(())
            };
        }
        match pen.shown() {
            Shown::Password(hashed) if *hashed == person.password => Ok(()),
            _ => Err(Error::not_allowed(
                format!("{} has not shown the password", person.name),
                "give it in the file named by --password-file, or in PINCHBAR_PASSWORD",
            )),
        }
    }
}
