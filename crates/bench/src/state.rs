//! The book behind one lock, and the snapshot that readers share.

use crate::session::Sessions;
use crate::snapshot::Snapshot;
use crate::throttle::Throttle;
use crate::trouble::Trouble;
use book::{Book, Verified, Written};
use engine::model::Date;
use std::fs::File;
use std::io;
use std::path::PathBuf;
use std::pin::Pin;
use std::sync::atomic::{AtomicBool, AtomicI64, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock, TryLockError};
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::sync::{OwnedSemaphorePermit, Semaphore, mpsc};

/// Sheets that may wait for their turn at being set; who comes after that is told to come back.
const MOST_WAITING: usize = 12;
/// How long anybody waits for a turn.
const LONGEST_WAIT: Duration = Duration::from_secs(60);

/// Milliseconds after which a reader looks whether others have written into the book.
const LOOK_AGAIN_MS: i64 = 400;

/// Whom the server is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// This machine only: reading needs no signing in, and who has no password picks their name.
    ThisMachine,
    /// Other machines too: everybody signs in with a password before they see anything.
    OtherMachines,
}

/// How the server is set up.
#[derive(Clone)]
pub struct Settings {
    /// Whom it is for.
    pub reach: Reach,
    /// Served encrypted: cookies say so.
    pub encrypted: bool,
    /// Host names and addresses, with port, under which it may be asked; empty takes any.
    pub hosts: Vec<String>,
    /// The time.
    pub clock: Arc<dyn Fn() -> jiff::Timestamp + Send + Sync>,
    /// Day of judging; the clock's own when not given.
    pub today: Option<Date>,
    /// What is told on the sign-in page of a demo; empty otherwise.
    pub demo: String,
    /// Certificate of the local authority (PEM), for phones to take.
    pub authority: Option<String>,
    /// The book's file, to be copied whole while it is in use; none for a book on a server.
    pub file: Option<PathBuf>,
}

impl std::fmt::Debug for Settings {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Settings for {:?}", self.reach)
    }
}

/// Everything that handlers share.
#[derive(Clone)]
pub struct Bench(Arc<Shared>);

struct Shared {
    book: Mutex<Book>,
    snapshot: RwLock<Arc<Snapshot>>,
    looked_ms: AtomicI64,
    settings: Settings,
    sessions: Sessions,
    throttle: Throttle,
    hashing: Semaphore,
    setting: Turns,
    printing: Turns,
    verified: Mutex<Option<Arc<LookedThrough>>>,
    /// Costly answers are worked out anew when the book has gone on.
    warms: AtomicBool,
}

/// Turns at work that takes a processor's whole attention.
struct Turns {
    turns: Arc<Semaphore>,
    waiting: AtomicUsize,
    most_waiting: usize,
}

impl Turns {
    fn new(at_once: usize, most_waiting: usize) -> Turns {
        let turns = Arc::new(Semaphore::new(at_once));
        Turns { turns, waiting: AtomicUsize::new(0), most_waiting }
    }

    /// A turn, or word that there are too many before.
    async fn one(&self) -> Result<OwnedSemaphorePermit, Trouble> {
        if let Ok(turn) = Arc::clone(&self.turns).try_acquire_owned() {
            return Ok(turn);
        }
        /// Counted while it waits, however the waiting ends.
        struct Waits<'a>(&'a AtomicUsize);
        impl Drop for Waits<'_> {
            fn drop(&mut self) {
                self.0.fetch_sub(1, Ordering::SeqCst);
            }
        }
        let before = self.waiting.fetch_add(1, Ordering::SeqCst);
        let _counted = Waits(&self.waiting);
        if self.most_waiting <= before {
            return Err(Trouble::Busy(10));
        }
        let turn = Arc::clone(&self.turns).acquire_owned();
        match tokio::time::timeout(LONGEST_WAIT, turn).await {
            Ok(turn) => turn.map_err(|e| Trouble::Inside(e.to_string())),
            Err(_) => Err(Trouble::Busy(10)),
        }
    }
}

/// What came of looking through the whole book, and when.
#[derive(Debug)]
pub(crate) struct LookedThrough {
    /// The head it was looked through to.
    pub(crate) head: Written,
    /// When, RFC 3339.
    pub(crate) time: String,
    /// What came of it.
    pub(crate) verified: Verified,
}

impl std::fmt::Debug for Bench {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Bench")
    }
}

/// A lock whose holder panicked still guards whole data: the book writes all or nothing, and a
/// snapshot is replaced at once.
pub(crate) fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Bench {
    /// A bench on a book.
    ///
    /// # Errors
    /// The book cannot be read.
    pub fn new(mut book: Book, settings: Settings) -> Result<Bench, book::Error> {
        let now = (settings.clock)();
        let today = settings.today.or_else(|| day_of(now));
        let snapshot = Snapshot::of(&mut book, None, today)?;
        Ok(Bench(Arc::new(Shared {
            book: Mutex::new(book),
            snapshot: RwLock::new(Arc::new(snapshot)),
            looked_ms: AtomicI64::new(now.as_millisecond()),
            sessions: Sessions::new().map_err(book::Error::Unavailable)?,
            throttle: Throttle::default(),
            // A password takes a processor's whole attention: two at a time leave the pages alive.
            hashing: Semaphore::new(2),
            // Plans and designs likewise, and typesetting, which uses every processor there is.
            setting: Turns::new(1, 40),
            printing: Turns::new(1, MOST_WAITING),
            verified: Mutex::new(None),
            warms: AtomicBool::new(false),
            settings,
        })))
    }

    /// How the server is set up.
    pub fn settings(&self) -> &Settings {
        &self.0.settings
    }

    /// Now.
    pub(crate) fn now(&self) -> jiff::Timestamp {
        (self.0.settings.clock)()
    }

    /// Now, as an entry quotes it.
    pub(crate) fn time(&self) -> String {
        let now = self.now();
        jiff::Timestamp::from_second(now.as_second()).unwrap_or(now).to_string()
    }

    fn today(&self) -> Option<Date> {
        self.0.settings.today.or_else(|| day_of(self.now()))
    }

    pub(crate) fn sessions(&self) -> &Sessions {
        &self.0.sessions
    }

    pub(crate) fn throttle(&self) -> &Throttle {
        &self.0.throttle
    }

    /// What the book says now. Entries that another program wrote are in it within half a second.
    pub(crate) async fn snapshot(&self) -> Result<Arc<Snapshot>, Trouble> {
        let now = self.now().as_millisecond();
        let looked = self.0.looked_ms.load(Ordering::Relaxed);
        let stale = LOOK_AGAIN_MS <= now - looked || now < looked;
        // One reader looks; the others take what is there.
        if stale
            && self
                .0
                .looked_ms
                .compare_exchange(looked, now, Ordering::Relaxed, Ordering::Relaxed)
                .is_ok()
        {
            self.look().await?;
        }
        Ok(self.current())
    }

    /// Reads what others have written. Somebody who has the book to themselves for long is not
    /// waited for: what they do is shown when they are done.
    async fn look(&self) -> Result<(), Trouble> {
        let bench = self.clone();
        spawn(move || match bench.0.book.try_lock() {
            Err(TryLockError::WouldBlock) => Ok(()),
            Err(TryLockError::Poisoned(book)) => bench.read_on(&mut book.into_inner()),
            Ok(mut book) => bench.read_on(&mut book),
        })
        .await?
        .map_err(Trouble::from)
    }

    fn read_on(&self, book: &mut Book) -> Result<(), book::Error> {
        book.read_on()?;
        self.renew(book)
    }

    /// Shows readers what the book says, when that has changed, or the day has.
    fn renew(&self, book: &mut Book) -> Result<(), book::Error> {
        let (before, today) = (self.current(), self.today());
        if before.head != book.head() || before.today != today {
            let after = Snapshot::of(book, Some(&before), today)?;
            *self.0.snapshot.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(after);
            self.warm_again();
        }
        Ok(())
    }

    fn current(&self) -> Arc<Snapshot> {
        Arc::clone(&self.0.snapshot.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// Does something with the book, alone, on a thread that may wait; then shows readers what the
    /// book says afterwards.
    pub(crate) async fn write<T: Send + 'static>(
        &self,
        act: impl FnOnce(&mut Book) -> Result<T, book::Error> + Send + 'static,
    ) -> Result<T, Trouble> {
        let bench = self.clone();
        spawn(move || {
            let mut book = held(&bench.0.book);
            let done = act(&mut book);
            // Written is written, whether or not it can be shown at once.
            if let Err(e) = bench.renew(&mut book) {
                crate::trouble::log(&e.to_string());
            }
            done
        })
        .await?
        .map_err(Trouble::from)
    }

    /// Hashes or checks a password, at most two at a time.
    pub(crate) async fn hashing<T: Send + 'static>(
        &self,
        act: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Trouble> {
        let _turn = self.0.hashing.acquire().await.map_err(|e| Trouble::Inside(e.to_string()))?;
        spawn(act).await
    }

    /// Works something out that takes a processor's whole attention for a while: one at a time, off the
    /// threads that serve. Who asked may go away; the turn ends with the work, not with the asking.
    pub(crate) async fn working_out<T: Send + 'static>(
        &self,
        act: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Trouble> {
        in_turn(self.0.setting.one().await?, act).await
    }

    /// Sets a sheet, in the same way; with too many waiting, whoever comes is told to come back.
    pub(crate) async fn printing<T: Send + 'static>(
        &self,
        act: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Trouble> {
        in_turn(self.0.printing.one().await?, act).await
    }

    /// What came of looking through the whole book as it stands: looked through now, unless that was
    /// done since the last entry and `again` is not asked for. Its time is told with it, for a disk may
    /// fail at any time.
    pub(crate) async fn looked_through(&self, again: bool) -> Result<Arc<LookedThrough>, Trouble> {
        let head = self.snapshot().await?.head;
        let known = held(&self.0.verified).clone();
        if let Some(known) = known.filter(|k| !again && k.head == head) {
            return Ok(known);
        }
        let bench = self.clone();
        let fresh = self
            .write(move |book| {
                let verified = book.verify(None)?;
                Ok(LookedThrough { head: book.head(), time: bench.time(), verified })
            })
            .await?;
        let fresh = Arc::new(fresh);
        *held(&self.0.verified) = Some(Arc::clone(&fresh));
        Ok(fresh)
    }

    /// Works out what was asked for lately, unless the book goes on meanwhile.
    fn warm_again(&self) {
        let here = tokio::runtime::Handle::try_current();
        let (true, Ok(here)) = (self.0.warms.load(Ordering::Relaxed), here) else { return };
        let (bench, meant) = (self.clone(), self.current());
        here.spawn(async move {
            tokio::time::sleep(Duration::from_millis(100)).await;
            let now = bench.current();
            let (Ok(judged), Ok(before)) = (now.engine.clone(), meant.engine.as_ref()) else {
                return;
            };
            if Arc::ptr_eq(&judged, before) {
                let _ = bench.working_out(move || judged.warm_again()).await;
            }
        });
    }

    /// Works out beforehand what the first to ask would wait for: summary, drawing, plan, the book
    /// looked through; and from then on what was asked for lately. Nothing depends on it.
    pub(crate) fn warm(&self) {
        self.0.warms.store(true, Ordering::Relaxed);
        let bench = self.clone();
        tokio::spawn(async move {
            let Ok(snap) = bench.snapshot().await else { return };
            if let Ok(judged) = snap.engine.clone() {
                let _ = bench.working_out(move || judged.warm()).await;
            }
            let _ = bench.looked_through(false).await;
        });
    }
}

async fn in_turn<T: Send + 'static>(
    turn: OwnedSemaphorePermit,
    act: impl FnOnce() -> T + Send + 'static,
) -> Result<T, Trouble> {
    spawn(move || {
        let done = act();
        drop(turn);
        done
    })
    .await
}

/// A name in the system's place for such files that nobody can guess.
fn scratch_name() -> io::Result<PathBuf> {
    let mut bytes = [0u8; 12];
    getrandom::fill(&mut bytes).map_err(|e| io::Error::other(e.to_string()))?;
    let name: String = bytes.iter().map(|b| format!("{b:02x}")).collect();
    Ok(std::env::temp_dir().join(format!("pinchbar-{name}")))
}

/// A new folder for this program's user alone.
pub(crate) fn scratch_folder() -> io::Result<PathBuf> {
    let path = scratch_name()?;
    let mut folder = std::fs::DirBuilder::new();
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut folder, 0o700);
    folder.create(&path)?;
    Ok(path)
}

/// A file without a name, gone when it is closed.
pub(crate) fn scratch() -> io::Result<File> {
    let path = scratch_name()?;
    let file = File::options().read(true).write(true).create_new(true).open(&path)?;
    // Where an open file cannot be unnamed it is left to the system's own tidying.
    let _ = std::fs::remove_file(&path);
    Ok(file)
}

/// What comes through a channel, as a body takes it.
pub(crate) struct Received<T>(pub(crate) mpsc::Receiver<T>);

impl<T> futures_core::Stream for Received<T> {
    type Item = T;

    fn poll_next(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<Option<T>> {
        self.0.poll_recv(cx)
    }
}

/// Runs what takes long, or waits, off the threads that serve.
pub(crate) async fn spawn<T: Send + 'static>(
    act: impl FnOnce() -> T + Send + 'static,
) -> Result<T, Trouble> {
    tokio::task::spawn_blocking(act).await.map_err(|e| Trouble::Inside(e.to_string()))
}

/// The day of an instant, Universal Time.
fn day_of(now: jiff::Timestamp) -> Option<Date> {
    let day = now.to_zoned(jiff::tz::TimeZone::UTC).date();
    Date::new(day.year(), day.month(), day.day()).ok()
}
