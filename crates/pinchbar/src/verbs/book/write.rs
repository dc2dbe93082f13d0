//! Verbs that write entries.

use super::{BookVerb, failed, open, password, pen};
use crate::args::Args;
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::{from_book, texts_and_tables};
use crate::say;
use crate::verbs::book::args::Hand;
use book::{
    AttachedWords, Attachment, Book, Location, MAX_ATTACHMENT_BYTES, Pen, Role, Said, Start, Tag,
    Token, Written,
};
use engine::model::Date;
use std::io::Read as _;
use std::path::Path;

/// Larger files are no table or description; an entry has less room.
pub(super) const MOST_BYTES: usize = 90 << 20;

/// Reads a file, but not one that is too large, or that never ends.
pub(super) fn read(file: &Path, most: usize) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    let limit = most as u64 + 1;
    std::fs::File::open(file).and_then(|f| f.take(limit).read_to_end(&mut bytes)).map_err(|e| {
        Failure::wrong(format!("{} cannot be read: {e}", file.display()), "check the name")
    })?;
    if most < bytes.len() {
        return Err(Failure::wrong(
            format!("{} is larger than is taken", file.display()),
            format!("at most {} MiB", most >> 20),
        ));
    }
    Ok(bytes)
}

pub(super) fn text_of(name: &str, bytes: Vec<u8>) -> Result<String, Failure> {
    String::from_utf8(bytes).map_err(|e| {
        Failure::wrong(
            format!("{name}: byte {} is not UTF-8", e.utf8_error().valid_up_to() + 1),
            "save the file as UTF-8 text",
        )
    })
}

pub(super) fn name_of(file: &Path) -> String {
    file.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// Begins a book, from an engine's folder if one is named.
pub(super) fn start(args: &Args, verb: &BookVerb) -> Result<u8, Failure> {
    let BookVerb::Start { book: to, from, name, hand } = verb else {
        return Err(Failure::Fault("not `start`".to_owned()));
    };
    let mut said = Vec::new();
    if let Some(folder) = from {
        let [texts, tables] = texts_and_tables(folder)?;
        for (file, bytes) in texts {
            said.push(Said::Described { text: text_of(&file, bytes)?, file });
        }
        for (file, bytes) in tables {
            said.push(Said::Readings { table: text_of(&file, bytes)?, file });
        }
    }
    let name = match (name, from) {
        (Some(name), _) => name.clone(),
        (None, Some(folder)) => crate::folder::open(folder, None)?.engine.name,
        (None, None) => {
            return Err(Failure::wrong(
                "the engine has no name yet",
                "give --name or --from FOLDER",
            ));
        }
    };
    let device = hand.device.clone().unwrap_or_else(super::device);
    let time = hand.when.clone().unwrap_or_else(super::now);
    let mut pen = Pen::new(&hand.by, &device, &time).map_err(|e| failed(&e))?;
    let password = password(hand.password_file.as_deref())?;
    let begin = Start { name, password: password.clone() };
    let mut book = Book::create(super::new_store(to)?, &pen, &begin).map_err(|e| failed(&e))?;
    if let Some(password) = &password {
        pen.show(&book, password).map_err(|e| failed(&e))?;
    }
    // The founder is responsible, and may therefore bring descriptions and readings in.
    let written = book.append_all(&pen, said).map_err(|e| failed(&e))?;
    say::book::begun(args, to, &book, written.len())?;
    Ok(DONE)
}

/// What a verb says, and the book it says it to.
pub(super) fn write(args: &Args, verb: &BookVerb, today: Date) -> Result<u8, Failure> {
    match verb {
        BookVerb::Describe { book, file, hand } => describe(args, book, file, hand, today),
        BookVerb::Add { book, table, hand } => {
            super::figures::add_table(args, book, table, hand, today)
        }
        BookVerb::Note { book, about, text, hand } => {
            let said = Said::Note { about: about.clone(), text: text.clone() };
            put(args, book, hand, said)
        }
        BookVerb::Found { book, part, condition, feature, note, hand } => put(
            args,
            book,
            hand,
            Said::Found {
                part: part.clone(),
                feature: feature.clone(),
                condition: condition.clone(),
                note: note.clone(),
            },
        ),
        BookVerb::Calibrated { book, gauge, on, due, correction, note, hand } => {
            for day in [on, due].into_iter().filter(|d| !d.is_empty()) {
                Date::parse(day).map_err(|e| Failure::wrong(e, ""))?;
            }
            let said = Said::Calibrated {
                gauge: gauge.clone(),
                on: on.clone(),
                due: due.clone(),
                correction: correction.clone(),
                note: note.clone(),
            };
            put(args, book, hand, said)
        }
        BookVerb::Tag { book, part, code, hand } => tag(args, book, part, code.as_deref(), hand),
        BookVerb::Move { book: path, thing, to, hand } => {
            let mut book = open(path)?;
            let pen = pen(&book, hand)?;
            // A tag's code stands for its part.
            let named = |text: &str| {
                Tag::parse(text)
                    .ok()
                    .and_then(|_| book.fold().thing(text).ok())
                    .map_or(text.to_owned(), |(name, _)| name.to_owned())
            };
            let said = Said::Moved { thing: named(thing), to: named(to) };
            append(args, &mut book, &pen, said)
        }
        BookVerb::Attach { book, file, about, note, keep_location, hand } => {
            let location = if *keep_location { Location::Kept } else { Location::TakenOut };
            let attachment = Attachment::of(&read(file, MAX_ATTACHMENT_BYTES)?, location)
                .map_err(|e| failed(&e))?;
            let mut book = open(book)?;
            let pen = pen(&book, hand)?;
            let words =
                AttachedWords { about: about.clone(), name: name_of(file), note: note.clone() };
            let written = book.attach(&pen, &attachment, words).map_err(|e| failed(&e))?;
            told(args, &mut book, written)
        }
        BookVerb::Done { book, about, what, reaches, hand } => put(
            args,
            book,
            hand,
            Said::Worked { about: about.clone(), what: what.clone(), reaches: reaches.clone() },
        ),
        BookVerb::Hold { book, id, about, what, not_by_doer, hand } => put(
            args,
            book,
            hand,
            Said::HoldPoint {
                id: id.clone(),
                about: about.clone(),
                what: what.clone(),
                not_by_doer: *not_by_doer,
            },
        ),
        BookVerb::Release { book, hold_point, note, hand } => put(
            args,
            book,
            hand,
            Said::Released { hold_point: hold_point.clone(), note: note.clone() },
        ),
        BookVerb::Sign { book, about, what, hand } => {
            put(args, book, hand, Said::SignedOff { about: about.clone(), what: what.clone() })
        }
        BookVerb::Work { book, work, done, stuck, not_done, way, minutes, note, hand } => {
            let (work, way) = (work.clone(), way.clone());
            let said = match (done, stuck, not_done) {
                (_, Some(why), _) => Said::WorkStuck { work, way, why: why.clone() },
                (_, _, Some(why)) => Said::WorkUndone { work, why: why.clone() },
                _ => Said::WorkDone { work, way, minutes: minutes.clone(), note: note.clone() },
            };
            put(args, book, hand, said)
        }
        BookVerb::Concede { book, about, limit, what, until, reason, hand, .. } => {
            let (about, limit, reason) = (about.clone(), limit.clone(), reason.clone());
            let said = match (what, until) {
                (Some(what), Some(until)) => {
                    let (what, until) = (what.clone(), a_day(until)?);
                    Said::Concession { about, limit, what, until, reason }
                }
                _ => Said::ConcessionClosed { about, limit, reason },
            };
            put(args, book, hand, said)
        }
        BookVerb::Device { .. } => device(args, verb),
        BookVerb::Strike { book, entry, reason, hand } => {
            let mut book = open(book)?;
            let pen = pen(&book, hand)?;
            let (_, hash) = book.entry(*entry).map_err(|e| failed(&e))?;
            let said = Said::StruckOut { entry: hash.to_string(), reason: reason.clone() };
            append(args, &mut book, &pen, said)
        }
        BookVerb::People { .. } => person(args, verb),
        _ => Err(Failure::Fault("not a verb that writes".to_owned())),
    }
}

/// A day as the book keeps it, from a day as people write it.
fn a_day(text: &str) -> Result<String, Failure> {
    Date::parse(text).map(|day| day.to_string()).map_err(|e| Failure::wrong(e, ""))
}

/// Gives a device a token, which is shown here and nowhere else, or takes it away.
fn device(args: &Args, verb: &BookVerb) -> Result<u8, Failure> {
    let BookVerb::Device {
        book: path,
        device: Some(device),
        person,
        until,
        withdraw,
        by: Some(by),
        when,
        password_file,
    } = verb
    else {
        return Err(Failure::wrong("who writes is not given", "--by NAME"));
    };
    let hand = Hand {
        by: by.clone(),
        when: when.clone(),
        device: None,
        password_file: password_file.clone(),
    };
    let device = device.trim().to_owned();
    let mut book = open(path)?;
    let pen = pen(&book, &hand)?;
    if let Some(reason) = withdraw {
        let said = Said::DeviceTokenWithdrawn { device, reason: reason.clone() };
        return append(args, &mut book, &pen, said);
    }
    let (Some(person), Some(until)) = (person, until) else {
        return Err(Failure::wrong(
            "what is to become of the device is not said",
            "--for PERSON --until DAY gives it a token, --withdraw WHY takes it away",
        ));
    };
    let token = Token::new().map_err(|e| failed(&e))?;
    let said = Said::DeviceToken {
        device,
        person: person.clone(),
        hash: token.hash().to_string(),
        until: a_day(until)?,
    };
    let written = book.append(&pen, said).map_err(|e| failed(&e))?;
    let (entry, hash) = book.entry(written.sequence).map_err(|e| failed(&e))?;
    say::book::token_given(args, book.fold(), &entry, hash, &token)?;
    Ok(DONE)
}

fn put(args: &Args, path: &Path, hand: &Hand, said: Said) -> Result<u8, Failure> {
    let mut book = open(path)?;
    let pen = pen(&book, hand)?;
    append(args, &mut book, &pen, said)
}

pub(super) fn append(args: &Args, book: &mut Book, pen: &Pen, said: Said) -> Result<u8, Failure> {
    let written = book.append(pen, said).map_err(|e| failed(&e))?;
    told(args, book, written)
}

/// Reads the entry back from the store, so that what is shown is what stands there.
fn told(args: &Args, book: &mut Book, written: Written) -> Result<u8, Failure> {
    let (entry, hash) = book.entry(written.sequence).map_err(|e| failed(&e))?;
    say::book::written(args, book.fold(), &entry, hash)?;
    if !args.json {
        super::slips::unknown_names(book, &entry.said);
    }
    Ok(DONE)
}

fn describe(
    args: &Args,
    path: &Path,
    file: &Path,
    hand: &Hand,
    today: Date,
) -> Result<u8, Failure> {
    let name = name_of(file);
    refuse_broken(file)?;
    let said = Said::Described { text: text_of(&name, read(file, MOST_BYTES)?)?, file: name };
    let mut book = open(path)?;
    let pen = pen(&book, hand)?;
    let code = append(args, &mut book, &pen, said)?;
    let opened = from_book(&book, Some(today))?;
    say::refused(&opened);
    Ok(if opened.whole() { code } else { PARTLY })
}

/// A file that is no TOML at all would only stand in the way of every later judgement.
fn refuse_broken(file: &Path) -> Result<(), Failure> {
    let text = text_of(&name_of(file), read(file, MOST_BYTES)?)?;
    let broken = toml::from_str::<toml::Table>(&text).err();
    broken.map_or(Ok(()), |e| {
        Err(Failure::wrong(
            format!(
                "{} is not in the form of a description; nothing was written\n{e}",
                file.display()
            ),
            "see docs/engine-file.md for the form of the file",
        ))
    })
}

fn tag(
    args: &Args,
    path: &Path,
    part: &str,
    code: Option<&str>,
    hand: &Hand,
) -> Result<u8, Failure> {
    let mut book = open(path)?;
    let pen = pen(&book, hand)?;
    let tag = match code {
        Some(code) => Tag::parse(code).map_err(|e| failed(&e))?,
        None => book.fold().free_tag(),
    };
    let said = Said::Tagged { part: part.to_owned(), tag: tag.code().to_owned() };
    append(args, &mut book, &pen, said)
}

fn person(args: &Args, verb: &BookVerb) -> Result<u8, Failure> {
    let BookVerb::People {
        book: path,
        name: Some(name),
        roles,
        no_role,
        new_password_file,
        by: Some(by),
        when,
        device,
        password_file,
    } = verb
    else {
        return Err(Failure::wrong("who writes is not given", "--by NAME"));
    };
    let hand = Hand {
        by: by.clone(),
        when: when.clone(),
        device: device.clone(),
        password_file: password_file.clone(),
    };
    let mut book = open(path)?;
    let pen = pen(&book, &hand)?;
    let known = book.fold().person(name);
    if known.is_none() && roles.is_empty() {
        return Err(Failure::wrong(
            format!("what {name} does is not said"),
            "--role records, fits, releases or responsible; several may be given",
        ));
    }
    let roles = match known {
        _ if *no_role => Vec::new(),
        // Only the password changes.
        Some(known) if roles.is_empty() => known.roles.clone(),
        _ => roles
            .iter()
            .map(|r| Role::parse(r))
            .collect::<Result<_, _>>()
            .map_err(|e| failed(&e))?,
    };
    let password = match new_password_file {
        Some(file) => password(Some(file))?
            .map(|p| p.hashed().map_err(|e| failed(&e)))
            .transpose()?
            .unwrap_or_default(),
        None => known.map_or(String::new(), |k| k.password.clone()),
    };
    append(args, &mut book, &pen, Said::Person { name: name.clone(), roles, password })
}
