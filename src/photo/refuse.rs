use crate::error::Error;

/// Why a file is not opened, where its content alone decides that.
#[derive(Debug, PartialEq)]
pub(super) enum Refusal {
    Empty,
    NoPhoto,
    Series,
    Avif,
    Raw,
    Film,
    Cmyk,
    Claims { width: usize, height: usize },
    Heavy,
    Rare(&'static str),
}

impl Refusal {
    /// The sentence: what it is, and what to do next.
    pub(super) fn sentence(&self, name: &str) -> Error {
        Error::file(match self {
            Self::Empty => format!("{name} is empty: copy it again from the phone or camera."),
            Self::NoPhoto => format!(
                "{name} is not a photo, or not of a kind that can be opened here: give JPEG, HEIC, PNG, TIFF or WebP pictures."
            ),
            Self::Series => format!(
                "{name} is a series of pictures in one HEIC file, not a single photo: choose one of them on the phone and export that as JPEG."
            ),
            Self::Avif => format!(
                "{name} is an AVIF picture, which cannot be opened here: export the photo as JPEG, and give that."
            ),
            Self::Raw => format!(
                "{name} is a camera's raw file, which cannot be opened here: export the photo as JPEG or TIFF, and give that."
            ),
            Self::Film => format!("{name} is a film, not a photo: give a still picture, as JPEG."),
            Self::Cmyk => format!(
                "{name} is kept in the inks of a printing press (CMYK), from which no colour can be measured: export it again as RGB."
            ),
            Self::Claims { width, height } => format!(
                "{name} claims to be {width} by {height} pixels, and at most 200 million pixels can be opened: export it smaller, or copy \
                 it again if that size cannot be right."
            ),
            Self::Heavy => format!(
                "{name} takes more than 800 MB of memory when it is opened: export it with 8 bits a channel, or smaller."
            ),
            Self::Rare(what) => format!(
                "{name} holds {what}, which cannot be opened here: export the photo again as an ordinary JPEG, and give that."
            ),
        })
    }
}

/// The picture begins, but is not whole.
pub(super) fn damaged(name: &str, source: impl std::error::Error + Send + Sync + 'static) -> Error {
    Error::file(format!(
        "{name} is damaged or was not copied whole: copy it again from the phone or camera."
    ))
    .because(source)
}

/// The file's own end mark is missing, or its data are too few for the size it claims.
#[derive(Debug, thiserror::Error)]
#[error("the picture's data stop before its end")]
pub(super) struct CutShort;
