//! Why a sheet could not be made.

/// A sheet that could not be made.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PaperError {
    /// A drawing on the sheet could not be made.
    #[error("the drawing \"{which}\": {why}")]
    Drawing {
        /// Which drawing.
        which: String,
        /// Why not.
        why: drawing::DrawingError,
    },
    /// There is nothing to put on the sheet.
    #[error("there is nothing to put on the sheet: {0}")]
    Nothing(String),
    /// What stands on the sheet could not be written as data.
    #[error("the sheet's content cannot be written down: {0}")]
    Content(#[from] serde_json::Error),
    /// The typesetter refused; this is a fault of the program, not of the engine described.
    #[error("the sheet could not be set: {0}")]
    Typesetting(String),
}
