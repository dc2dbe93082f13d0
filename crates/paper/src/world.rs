//! All the typesetter may see: its templates, one file of data, the built-in letters, one day.

use engine::model::Date;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

/// Name under which templates read their data.
const DATA: &str = "/data.json";
/// Look shared by all sheets.
const LOOK: (&str, &str) = ("/look.typ", include_str!("typst/look.typ"));

struct Letters {
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

/// The letters come with the program and do not change: read once.
static LETTERS: LazyLock<Letters> = LazyLock::new(|| {
    let fonts: Vec<Font> =
        typst_assets::fonts().flat_map(|data| Font::iter(Bytes::new(data))).collect();
    Letters { book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
});

static LIBRARY: LazyLock<LazyHash<Library>> =
    LazyLock::new(|| LazyHash::new(Library::builder().build()));

/// One sheet's world.
pub(crate) struct SheetWorld {
    main: Source,
    sources: Vec<Source>,
    files: Vec<(FileId, Bytes)>,
    today: Option<Datetime>,
}

impl SheetWorld {
    /// A template with its data, on a day.
    pub(crate) fn new(template: &'static str, data: Vec<u8>, today: Option<Date>) -> SheetWorld {
        let source = |(path, text): (&str, &str)| Source::new(id(path), text.to_owned());
        SheetWorld {
            main: source(("/sheet.typ", template)),
            sources: vec![source(LOOK)],
            files: vec![(id(DATA), Bytes::new(data))],
            today: today.and_then(day),
        }
    }

    /// The same with pictures, each under a plain absolute path.
    pub(crate) fn with_pictures(mut self, pictures: Vec<(String, Bytes)>) -> SheetWorld {
        self.files.extend(pictures.into_iter().map(|(path, bytes)| (id(&path), bytes)));
        self
    }
}

fn id(path: &str) -> FileId {
    // The names are written above and hold nothing that a virtual path does not take.
    #[allow(clippy::expect_used)]
    let path = VirtualPath::new(path).expect("a plain absolute path");
    RootedPath::new(VirtualRoot::Project, path).intern()
}

fn day(date: Date) -> Option<Datetime> {
    let text = date.to_string();
    let mut parts = text.splitn(3, '-');
    let year = parts.next()?.parse().ok()?;
    let month = parts.next()?.parse().ok()?;
    let day = parts.next()?.parse().ok()?;
    Datetime::from_ymd(year, month, day)
}

impl World for SheetWorld {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &LETTERS.book
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        std::iter::once(&self.main)
            .chain(&self.sources)
            .find(|s| s.id() == id)
            .cloned()
            .ok_or(FileError::AccessDenied)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let found = self.files.iter().find(|(known, _)| *known == id);
        found.map(|(_, bytes)| bytes.clone()).ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        LETTERS.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        self.today
    }
}
