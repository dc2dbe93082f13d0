//! The words of the book's verbs.

use clap::{Args as Group, Subcommand};
use std::path::PathBuf;

/// Who writes.
#[derive(Clone, Debug, Group)]
pub(crate) struct Hand {
    /// Who writes: one of the people of the book.
    #[arg(long)]
    pub(crate) by: String,
    /// When, if not now: 2026-11-20T08:30:00Z.
    #[arg(long, value_name = "TIME")]
    pub(crate) when: Option<String>,
    /// On what; the name of this machine when not given.
    #[arg(long)]
    pub(crate) device: Option<String>,
    /// File with the password, for those who have one; else PINCHBAR_PASSWORD.
    #[arg(long, value_name = "FILE")]
    pub(crate) password_file: Option<PathBuf>,
}

/// What to do with a book.
#[derive(Debug, Subcommand)]
pub(crate) enum BookVerb {
    /// Begin a book; whoever begins it becomes its responsible engineer.
    Start {
        /// File for the book; must not exist.
        book: PathBuf,
        /// Engine folder to take descriptions and readings from.
        #[arg(long, value_name = "FOLDER")]
        from: Option<PathBuf>,
        /// Name or number of the engine; the folder's engine when not given.
        #[arg(long)]
        name: Option<String>,
        #[command(flatten)]
        hand: Hand,
    },
    /// Describe the engine, or change its description: one .toml file, whole.
    Describe {
        /// Book.
        book: PathBuf,
        /// File.
        file: PathBuf,
        #[command(flatten)]
        hand: Hand,
    },
    /// Add a table of readings.
    Add {
        /// Book.
        book: PathBuf,
        /// Table as a spreadsheet saves it (CSV).
        table: PathBuf,
        #[command(flatten)]
        hand: Hand,
    },
    /// A remark.
    Note {
        /// Book.
        book: PathBuf,
        /// Part, joint or feature.
        about: String,
        /// The remark.
        text: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// In what condition a part was found.
    Found {
        /// Book.
        book: PathBuf,
        /// Part.
        part: String,
        /// Condition.
        condition: String,
        /// Feature, when it is one surface: then in one of the engine's words.
        #[arg(long, default_value = "")]
        feature: String,
        /// Remark.
        #[arg(long, default_value = "")]
        note: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// A gauge was calibrated.
    Calibrated {
        /// Book.
        book: PathBuf,
        /// Gauge.
        gauge: String,
        /// Day of calibration.
        on: String,
        /// Day it runs out.
        #[arg(long, default_value = "")]
        due: String,
        /// Known correction.
        #[arg(long, default_value = "", allow_hyphen_values = true)]
        correction: String,
        /// Certificate or remark.
        #[arg(long, default_value = "")]
        note: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// Tie a tag to a part.
    Tag {
        /// Book.
        book: PathBuf,
        /// Part.
        part: String,
        /// Code; the next free one when not given.
        code: Option<String>,
        #[command(flatten)]
        hand: Hand,
    },
    /// Put a part or tin somewhere.
    Move {
        /// Book.
        book: PathBuf,
        /// Part, tin, or the code of a tag.
        thing: String,
        /// Place, tin, or "engine" when it goes back on.
        to: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// Where a part is, what is in a tin, what is off the engine, what an assembly lacks.
    Where {
        /// Book.
        book: PathBuf,
        /// Part, tin, or the code of a tag.
        thing: Option<String>,
        /// What lies in this place or tin.
        #[arg(long, value_name = "PLACE")]
        inside: Option<String>,
        /// What came off and never went back.
        #[arg(long)]
        off: bool,
        /// Parts of this assembly that do not lie with it and are not on the engine.
        #[arg(long, value_name = "ASSEMBLY")]
        missing_from: Option<String>,
    },
    /// Attach a photograph or drawing: JPEG, PNG or PDF by its content.
    Attach {
        /// Book.
        book: PathBuf,
        /// File.
        file: PathBuf,
        /// Part, joint or feature it shows.
        about: String,
        /// Remark.
        #[arg(long, default_value = "")]
        note: String,
        /// Keep what the camera wrote, the place too. Left out, it is taken away.
        #[arg(long)]
        keep_location: bool,
        #[command(flatten)]
        hand: Hand,
    },
    /// Get an attachment out.
    Picture {
        /// Book.
        book: PathBuf,
        /// Number of the entry that attached it, or its SHA-256.
        which: String,
        /// File to write; must not exist.
        to: PathBuf,
    },
    /// Work was done.
    Done {
        /// Book.
        book: PathBuf,
        /// Part or joint.
        about: String,
        /// What.
        what: String,
        /// Hold point that the work has reached.
        #[arg(long, default_value = "", value_name = "HOLD-POINT")]
        reaches: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// Set a hold point: work does not pass it unsigned.
    Hold {
        /// Book.
        book: PathBuf,
        /// Short name.
        id: String,
        /// Part or joint.
        about: String,
        /// What is to be looked at.
        what: String,
        /// Who did the work may not release it.
        #[arg(long)]
        not_by_doer: bool,
        #[command(flatten)]
        hand: Hand,
    },
    /// Release a hold point.
    Release {
        /// Book.
        book: PathBuf,
        /// Hold point.
        hold_point: String,
        /// What was seen.
        #[arg(long, default_value = "")]
        note: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// Sign off a part, a joint or the engine.
    Sign {
        /// Book.
        book: PathBuf,
        /// Part, joint or "engine".
        about: String,
        /// What is signed.
        what: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// A work of the plan is done, stuck, or not done after all.
    #[command(group = clap::ArgGroup::new("word").required(true))]
    Work {
        /// Book.
        book: PathBuf,
        /// Work, by its id in the plan.
        work: String,
        /// It is done.
        #[arg(long, group = "word")]
        done: bool,
        /// It cannot go on: why.
        #[arg(long, value_name = "WHY", group = "word")]
        stuck: Option<String>,
        /// It was ticked by mistake: why.
        #[arg(long, value_name = "WHY", group = "word")]
        not_done: Option<String>,
        /// The way it was done, or that does not go.
        #[arg(long, default_value = "", conflicts_with = "not_done")]
        way: String,
        /// Minutes it took.
        #[arg(long, default_value = "", conflicts_with_all = ["stuck", "not_done"])]
        minutes: String,
        /// Remark.
        #[arg(long, default_value = "", conflicts_with_all = ["stuck", "not_done"])]
        note: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// Let a joint, feature or part run beyond a limit until a day; the responsible engineer signs.
    Concede {
        /// Book.
        book: PathBuf,
        /// Joint, feature or part.
        about: String,
        /// The limit that is passed.
        limit: String,
        /// What is allowed, and under what conditions; left out with --close.
        #[arg(required_unless_present = "close", conflicts_with = "close")]
        what: Option<String>,
        /// Last day it holds.
        #[arg(
            long,
            value_name = "DAY",
            required_unless_present = "close",
            conflicts_with = "close"
        )]
        until: Option<String>,
        /// It holds no longer.
        #[arg(long)]
        close: bool,
        /// Why.
        #[arg(long)]
        reason: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// List the devices, give one a token in a person's name, or take its token away.
    Device {
        /// Book.
        book: PathBuf,
        /// Device.
        #[arg(requires = "by")]
        device: Option<String>,
        /// Person whose entries it writes.
        #[arg(long = "for", value_name = "PERSON", requires = "until", requires = "device")]
        person: Option<String>,
        /// Last day (UTC) its token is taken.
        #[arg(long, value_name = "DAY")]
        until: Option<String>,
        /// Take its token away: why.
        #[arg(long, value_name = "WHY", conflicts_with = "person", requires = "device")]
        withdraw: Option<String>,
        /// Who writes.
        #[arg(long)]
        by: Option<String>,
        /// When, if not now.
        #[arg(long, value_name = "TIME")]
        when: Option<String>,
        /// File with the password of who writes; else PINCHBAR_PASSWORD.
        #[arg(long, value_name = "FILE")]
        password_file: Option<PathBuf>,
    },
    /// Strike out an entry: it stays on the record but no longer counts.
    Strike {
        /// Book.
        book: PathBuf,
        /// Number of the entry.
        entry: u64,
        /// Why.
        #[arg(long)]
        reason: String,
        #[command(flatten)]
        hand: Hand,
    },
    /// List the people, or add one, or change roles or password.
    People {
        /// Book.
        book: PathBuf,
        /// Person to add or change.
        #[arg(requires = "by")]
        name: Option<String>,
        /// records, fits, releases or responsible; may be given many times.
        #[arg(long = "role")]
        roles: Vec<String>,
        /// They have no role any more.
        #[arg(long, conflicts_with = "roles")]
        no_role: bool,
        /// File with a new password for them.
        #[arg(long, value_name = "FILE")]
        new_password_file: Option<PathBuf>,
        /// Who writes.
        #[arg(long)]
        by: Option<String>,
        /// When, if not now.
        #[arg(long, value_name = "TIME")]
        when: Option<String>,
        /// On what.
        #[arg(long)]
        device: Option<String>,
        /// File with the password of who writes; else PINCHBAR_PASSWORD.
        #[arg(long, value_name = "FILE")]
        password_file: Option<PathBuf>,
    },
    /// What was said, oldest first: of one part, joint, feature, gauge or person, or all of it.
    History {
        /// Book.
        book: PathBuf,
        /// Of what; a joint brings its features and parts.
        about: Option<String>,
        /// Longer: every reading and text.
        #[arg(long)]
        all: bool,
    },
    /// Find entries by their words, newest first.
    Find {
        /// Book.
        book: PathBuf,
        /// Words; an entry must have all of them.
        #[arg(required = true)]
        words: Vec<String>,
        /// At most so many.
        #[arg(long, default_value_t = 20)]
        most: usize,
    },
    /// What waits for somebody: hold points not released, contradictions not settled, works stuck,
    /// concessions that hold.
    Open {
        /// Book.
        book: PathBuf,
    },
    /// Look through everything and name the first bad entry.
    Verify {
        /// Book.
        book: PathBuf,
        /// A hash kept elsewhere, on paper say, that must be in the chain.
        #[arg(long, value_name = "SHA-256")]
        head: Option<String>,
    },
    /// Copy the book while it is in use.
    Backup {
        /// Book.
        book: PathBuf,
        /// File to write; must not exist.
        to: PathBuf,
    },
    /// Put a backup in its place, looked through first.
    Restore {
        /// Backup.
        backup: PathBuf,
        /// File to write; must not exist.
        to: PathBuf,
    },
    /// The whole book as one archive (.tar), or its readings as a table (.csv, .xlsx).
    Export {
        /// Book.
        book: PathBuf,
        /// File to write: .tar, .csv or .xlsx; must not exist.
        to: PathBuf,
    },
    /// A book from an archive.
    Import {
        /// Archive.
        archive: PathBuf,
        /// File for the book; must not exist.
        to: PathBuf,
    },
    /// Join two copies of one book that each gained entries.
    Join {
        /// One copy.
        first: PathBuf,
        /// The other.
        second: PathBuf,
        /// File for the joined book; must not exist.
        to: PathBuf,
        #[command(flatten)]
        hand: Hand,
    },
    /// Get every whole entry out of a damaged file, before the damage and after it.
    Salvage {
        /// Damaged file.
        damaged: PathBuf,
        /// Folder to write them to; must not exist.
        to: PathBuf,
    },
}
