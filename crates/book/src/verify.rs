//! Looking through a whole book, whether or not its entries can be folded.

use crate::chain::{Fault, Verified, Walk, look_closely};
use crate::checkpoint::Comparing;
use crate::store::Store;
use crate::{Error, Hash, Said};
use std::collections::HashSet;

/// Looks through a store, whether or not its entries can be folded.
///
/// # Errors
/// Only when it cannot be read at all.
pub fn verify(store: &mut dyn Store, head: Option<&Hash>) -> Result<Verified, Error> {
    let mut verified = Verified::default();
    let looked = store.look();
    let mut checkpoint = Comparing::with(store);
    let mut walk = Walk::default();
    let mut found_head = head.is_none();
    let mut faults = Vec::new();
    let mut wanted: Vec<(u64, String)> = Vec::new();
    let read = store.read(0, &mut |sequence, line, hash| {
        verified.entries += 1;
        let step = walk.step(sequence, line, hash);
        checkpoint.push(sequence, step.as_ref().ok(), hash);
        match step {
            Ok(entry) => {
                found_head |= head == Some(&hash) || head == entry.origin.as_ref().map(|o| &o.hash);
                if let Err(e) = look_closely(&entry, line) {
                    faults.push(fault_of(sequence, &e));
                }
                if let Said::Attached { sha256, thumbnail, .. } = entry.said {
                    wanted.extend(
                        [sha256, thumbnail]
                            .into_iter()
                            .filter(|h| !h.is_empty())
                            .map(|h| (sequence, h)),
                    );
                }
            }
            Err(e) => faults.push(fault_of(sequence, &e)),
        }
        Ok(())
    });
    if let Err(e) = read {
        faults.push(fault_of(walk.last + 1, &e));
    }
    verified.faults = faults;
    if 0 < walk.last {
        verified.head = walk.head.to_string();
    }
    if let Some(head) = head
        && !found_head
    {
        let what = format!("no entry has the hash {head}");
        verified.faults.push(Fault { sequence: 0, what });
    }
    look_at_attachments(store, &wanted, &mut verified);
    checkpoint.finish();
    let Comparing { faults, not_looked_at, .. } = checkpoint;
    verified.faults.extend(faults.into_iter().map(|what| Fault { sequence: 0, what }));
    verified.not_looked_at = not_looked_at;
    match looked {
        Ok(looked) => {
            let others = looked.faults.into_iter().map(|what| Fault { sequence: 0, what });
            verified.faults.extend(others);
            verified.not_looked_at.extend(looked.not_looked_at);
        }
        Err(e) => verified.faults.push(Fault { sequence: 0, what: e.to_string() }),
    }
    Ok(verified)
}

fn fault_of(sequence: u64, error: &Error) -> Fault {
    let text = error.to_string();
    let what = text.strip_prefix(&format!("entry {sequence}: ")).unwrap_or(&text).to_owned();
    Fault { sequence, what }
}

fn look_at_attachments(store: &mut dyn Store, wanted: &[(u64, String)], verified: &mut Verified) {
    let there = match store.attachments() {
        Ok(there) => there,
        Err(e) => {
            verified.faults.push(Fault { sequence: 0, what: format!("attachments: {e}") });
            return;
        }
    };
    for hash in &there {
        verified.attachments += 1;
        let what = match store.attachment(hash) {
            Ok(Some(bytes)) if Hash::of(&bytes) == *hash => continue,
            Ok(_) => format!("the attachment {hash} is not as it was attached"),
            Err(e) => format!("the attachment {hash}: {e}"),
        };
        verified.faults.push(Fault { sequence: 0, what });
    }
    let there: HashSet<String> = there.iter().map(ToString::to_string).collect();
    for (sequence, hash) in wanted {
        if !there.contains(hash) {
            let what = format!("its attachment {hash} is missing");
            verified.faults.push(Fault { sequence: *sequence, what });
        }
    }
}
