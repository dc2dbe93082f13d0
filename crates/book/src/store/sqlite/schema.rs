//! What is in the file of a book: tables, rules and the search index.

/// Name and text of everything in the file's schema; `look` compares them.
pub(super) const SCHEMA: &[(&str, &str)] = &[
    (
        "entry",
        "CREATE TABLE entry (sequence INTEGER PRIMARY KEY, line TEXT NOT NULL, hash BLOB NOT NULL)",
    ),
    (
        "entry_next",
        "CREATE TRIGGER entry_next BEFORE INSERT ON entry WHEN NEW.sequence IS NOT (SELECT coalesce(max(sequence), 0) + 1 FROM entry) BEGIN SELECT RAISE(ABORT, 'an entry must be the next one'); END",
    ),
    (
        "entry_stays",
        "CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'a book is only added to'); END",
    ),
    (
        "entry_never_goes",
        "CREATE TRIGGER entry_never_goes BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'a book is only added to'); END",
    ),
    (
        "attachment",
        "CREATE TABLE attachment (number INTEGER PRIMARY KEY, hash BLOB NOT NULL UNIQUE, bytes BLOB NOT NULL)",
    ),
    (
        "attachment_stays",
        "CREATE TRIGGER attachment_stays BEFORE UPDATE ON attachment BEGIN SELECT RAISE(ABORT, 'a book is only added to'); END",
    ),
    (
        "attachment_never_goes",
        "CREATE TRIGGER attachment_never_goes BEFORE DELETE ON attachment BEGIN SELECT RAISE(ABORT, 'a book is only added to'); END",
    ),
    (
        "find",
        "CREATE VIRTUAL TABLE find USING fts5(words, tokenize = 'unicode61 remove_diacritics 2')",
    ),
];

/// The checkpoint's table, made when there is first something to keep in it.
pub(super) const CHECKPOINT: (&str, &str) =
    ("checkpoint", "CREATE TABLE checkpoint (last INTEGER PRIMARY KEY, bytes BLOB NOT NULL)");

/// The tables that FTS5 makes for itself.
pub(super) const INDEX_SCHEMA: &[(&str, &str)] = &[
    ("find_data", "CREATE TABLE 'find_data'(id INTEGER PRIMARY KEY, block BLOB)"),
    (
        "find_idx",
        "CREATE TABLE 'find_idx'(segid, term, pgno, PRIMARY KEY(segid, term)) WITHOUT ROWID",
    ),
    ("find_content", "CREATE TABLE 'find_content'(id INTEGER PRIMARY KEY, c0)"),
    ("find_docsize", "CREATE TABLE 'find_docsize'(id INTEGER PRIMARY KEY, sz BLOB)"),
    ("find_config", "CREATE TABLE 'find_config'(k PRIMARY KEY, v) WITHOUT ROWID"),
];

/// The index that SQLite makes for the hashes of attachments.
pub(super) const OWN_INDEX: [&str; 4] =
    ["index", "sqlite_autoindex_attachment_1", "attachment", ""];

/// Type, name, table and text, as SQLite lists a table or rule.
pub(super) fn as_listed(&(name, sql): &(&'static str, &'static str)) -> [&'static str; 4] {
    if !sql.starts_with("CREATE TRIGGER") {
        return ["table", name, name, sql];
    }
    let on = if name.starts_with("entry") { "entry" } else { "attachment" };
    ["trigger", name, on, sql]
}
