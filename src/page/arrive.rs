//! Photos taken in: each streamed into the journal's folder, then measured as an ingest would, and told.

use super::arriving::Arriving;
use super::came::{Came, told, told_all};
use super::claim::washes;
use super::house::House;
use super::progress::{Batch, News};
use super::share::secret;
use super::trouble::{Outcome, Trouble};
use crate::ask;
use crate::error::{Error, Result, is_invisible, refused};
use crate::intake::{self, Options, Saying, Telling};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{Basis, State as PieceState};
use axum::extract::multipart::Field;
use axum::extract::{Multipart, Path, State};
use axum::http::StatusCode;
use axum::response::Redirect;
use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;
use tokio::fs::File;
use tokio::io::AsyncWriteExt;
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};
use tokio::task::JoinHandle;

/// The largest photo, bytes: a 48-megapixel JPEG has about 15 MB, a 16-bit TIFF of 12 megapixels 75 MB.
const LARGEST: usize = 100_000_000;

/// The most photos at once.
const MOST: usize = 500;

/// Photos measured at one time before what came of them is told.
const TOGETHER: usize = 2;

/// Takes the photos of a form in.
pub(super) async fn photos(
    State(house): State<Arc<House>>,
    Path(name): Path<String>,
    mut parts: Multipart,
) -> Outcome<Redirect> {
    if name.len() != 40 || !name.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        return Err(Trouble::not_there(
            "Photos are sent from the Line; open it, and try again.",
        ));
    }
    // A journal that was moved away is not begun anew by its photos.
    house.with(|_| Ok(())).await?;
    let mut taking = Taking::new(house, &name)?;
    let taken = taking.all(&mut parts).await;
    taking.finish(taken.as_ref().err()).await?;
    taken.map(|()| Redirect::to(&format!("/line?batch={name}#news")))
}

/// The chart of that hash, said to lie in the photos.
async fn chart(house: &House, hash: String) -> Outcome<Saying<(String, String)>> {
    if hash.is_empty() {
        return Ok(Saying::Nothing);
    }
    let known = house.with(move |journal| {
        let mut charts = journal.charts()?.into_iter();
        Ok(charts.find(|chart| chart.hash == hash))
    });
    match known.await? {
        Some(chart) => Ok(Saying::This((chart.name, chart.text))),
        None => Err(Trouble::not_there(
            "That chart is not in the journal; open the Line again and choose one of those that are.",
        )),
    }
}

/// What a word says that the pieces are; `None` where nothing is said.
fn state(word: &str) -> Outcome<Option<PieceState>> {
    match (word, PieceState::from_word(word)) {
        ("", _) => Ok(None),
        (_, Some(state)) => Ok(Some(state)),
        _ => Err(Error::caller(format!(
            "“{word}” is nothing that a piece can be: choose wet, dry, washed or worn."
        ))
        .into()),
    }
}

/// A form whose photos are being taken in.
struct Taking {
    house: Arc<House>,
    batch: Arc<Batch>,
    folder: PathBuf,
    options: Options,
    /// Photos that were in the form so far.
    count: usize,
    /// Where photos go to be measured, once there is one; what is done there is told there.
    work: Option<(UnboundedSender<PathBuf>, JoinHandle<()>)>,
    /// Whether the end is told.
    ended: bool,
}

impl Taking {
    fn new(house: Arc<House>, name: &str) -> Outcome<Self> {
        let batch = house.batches.named(name);
        batch.begin();
        Ok(Self {
            batch,
            folder: house.folder.join("arriving").join(secret()?),
            house,
            options: Options::default(),
            count: 0,
            work: None,
            ended: false,
        })
    }

    /// Takes all parts of the form.
    async fn all(&mut self, parts: &mut Multipart) -> Outcome<()> {
        let mut open = true;
        while open && let Some(part) = parts.next_part().await? {
            match part.name().unwrap_or_default() {
                "state" => self.options.state = state(&words(part).await?)?,
                "washes" => self.options.washes = washes(words(part).await?.trim())?,
                "chart" => {
                    self.options.telling.chart = chart(&self.house, words(part).await?).await?;
                }
                "photos" if part.file_name().is_some_and(|name| !name.is_empty()) => {
                    open = self.take(part).await?;
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// Takes one photo; false where no more can come.
    async fn take(&mut self, part: Field<'_>) -> Outcome<bool> {
        self.count += 1;
        if self.count > MOST {
            // What is left is read and forgotten, so that the browser hears the answer.
            return Ok(true);
        }
        let name = plain(part.file_name().unwrap_or_default());
        let (send, _) = self.work.get_or_insert_with(|| {
            let (send, received) = unbounded_channel();
            let arriving = Arriving(self.folder.clone());
            let work = measure(
                Arc::clone(&self.house),
                Arc::clone(&self.batch),
                self.options.clone(),
                received,
                arriving,
            );
            (send, tokio::spawn(work))
        });
        match save(part, &self.folder, &name).await {
            Ok(file) => Ok(send.send(file).is_ok()),
            // Those before it are measured all the same, and after one that is too large the others still come.
            Err(trouble) => {
                let goes_on = trouble.status() == StatusCode::PAYLOAD_TOO_LARGE;
                let why = Came::Refused(name, trouble.to_string());
                self.batch.tell(News::Refused, told_all(&[why], &[])?);
                Ok(goes_on)
            }
        }
    }

    /// Waits until all are measured; `why` the form ended in the middle.
    async fn finish(mut self, why: Option<&Trouble>) -> Outcome<()> {
        if self.count > MOST {
            let told = format!(
                "More than {MOST} photos came at once: the first {MOST} were taken in, send the rest again."
            );
            let too_many = Came::Refused(format!("{} photos", self.count - MOST), told);
            self.batch.tell(News::Refused, told_all(&[too_many], &[])?);
        }
        match self.work.take() {
            Some((send, work)) => {
                self.ended = true;
                drop(send);
                // A fault in it ends only what it worked on.
                let _ = work.await;
            }
            None => self.end(why.map_or_else(|| told(0, 0, 0), Trouble::to_string)),
        }
        Ok(())
    }

    fn end(&mut self, words: String) {
        self.ended = true;
        self.batch.tell(News::Done, words);
    }
}

impl Drop for Taking {
    /// Who leaves the page breaks the sending off, wherever it is. Who comes back must not wait for what never comes.
    fn drop(&mut self) {
        if self.work.is_none() && !self.ended {
            self.end(told(0, 0, 0));
        }
    }
}

/// A part of a form, or why the form ended in the middle.
pub(super) trait Parts {
    async fn next_part(&mut self) -> Outcome<Option<Field<'_>>>;
}

impl Parts for Multipart {
    async fn next_part(&mut self) -> Outcome<Option<Field<'_>>> {
        self.next_field().await.map_err(|_| broken_off())
    }
}

pub(super) fn broken_off() -> Trouble {
    Trouble::new(
        StatusCode::BAD_REQUEST,
        "The photos did not come whole; see that phone and computer stay connected, then send them again: those that came are known.",
    )
}

/// A field of a few words.
pub(super) async fn words(mut part: Field<'_>) -> Outcome<String> {
    let mut words = Vec::new();
    while let Some(chunk) = part.chunk().await.map_err(|_| broken_off())? {
        words.extend_from_slice(&chunk);
        if words.len() > 100 {
            return Err(broken_off());
        }
    }
    String::from_utf8(words).map_err(|_| broken_off())
}

/// Streams one photo into a folder of its own: the folder's name is random, so that it tells nothing of piece or state.
pub(super) async fn save(mut part: Field<'_>, folder: &FilePath, name: &str) -> Outcome<PathBuf> {
    let own = folder.join(secret()?);
    let place = own.join(name);
    let failed = |error| Trouble::from(refused("write", &place, error));
    tokio::fs::create_dir_all(&own).await.map_err(failed)?;
    let mut file = File::create(&place).await.map_err(failed)?;
    let mut size = 0;
    while let Some(chunk) = part.chunk().await.map_err(|_| broken_off())? {
        size += chunk.len();
        // What is left of it is read and forgotten, so that the photos after it still come.
        if size <= LARGEST {
            file.write_all(&chunk).await.map_err(failed)?;
        }
    }
    if size > LARGEST {
        return Err(Trouble::new(
            StatusCode::PAYLOAD_TOO_LARGE,
            format!("{name} is larger than 100 MB: export it smaller, and send that."),
        ));
    }
    file.flush().await.map_err(failed)?;
    Ok(place)
}

/// The longest name, in characters; disks take 255 bytes.
const LONGEST: usize = 60;

/// The last part of a name, with nothing in it that a disk could take for more than a name.
pub(super) fn plain(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let barred = |c: char| is_invisible(c) || matches!(c, ':' | '*' | '?' | '"' | '<' | '>' | '|');
    let name: String = last
        .chars()
        .map(|c| if barred(c) { '-' } else { c })
        .collect();
    let name = name.trim().trim_start_matches('.').trim_end_matches('.');
    let long = name.chars().count().saturating_sub(LONGEST);
    // The end is kept, for it says what kind of file it is.
    let name: String = name.chars().skip(long).collect();
    if name.is_empty() {
        "photo".to_owned()
    } else {
        name
    }
}

/// Measures photos as they come, and tells what came of each.
async fn measure(
    house: Arc<House>,
    batch: Arc<Batch>,
    options: Options,
    mut received: UnboundedReceiver<PathBuf>,
    arriving: Arriving,
) {
    let (mut new, mut known, mut refused) = (0, 0, 0);
    let mut dim = Vec::new();
    let mut paths = Vec::new();
    while received.recv_many(&mut paths, TOGETHER).await > 0 {
        // The house lives as long as the program, and nobody closes this.
        let _turn = house.measuring.acquire().await.ok();
        let options = options.clone();
        let some = std::mem::take(&mut paths);
        let came = house
            .with(move |journal| {
                let own = ask::own_words(&journal.studio()?);
                Ok((take_in(journal, &some, &options)?, own))
            })
            .await;
        let (came, own) = came.unwrap_or_else(|trouble| {
            let why = Came::Refused("These photos".to_owned(), trouble.to_string());
            (vec![why], Vec::new())
        });
        for came in &came {
            match came {
                Came::New(photo) => {
                    new += 1;
                    dim.extend(
                        photo
                            .id
                            .filter(|_| photo.reading.basis() == Some(Basis::Assumed)),
                    );
                }
                Came::Known(_) => known += 1,
                Came::Refused(..) => refused += 1,
            }
            let kind = match came {
                Came::Refused(..) => News::Refused,
                Came::New(_) | Came::Known(_) => News::Photo,
            };
            if let Ok(html) = told_all(std::slice::from_ref(came), &own) {
                batch.tell(kind, html);
            }
        }
    }
    // A photo whose tag was not readable may borrow the light of one that came after it.
    if !dim.is_empty() && new > 1 {
        let _turn = house.measuring.acquire().await.ok();
        let _ = house.with(move |journal| brighten(journal, &dim)).await;
    }
    drop(arriving);
    batch.tell(News::Done, told(new, known, refused));
}

fn take_in(journal: &mut Journal, paths: &[PathBuf], options: &Options) -> Result<Vec<Came>> {
    let before: Vec<Option<Photo>> = paths
        .iter()
        .map(|path| intake::photo_of(journal, path))
        .collect::<Result<_>>()?;
    let summary = intake::ingest(journal, paths, options, &|_| ())?;
    let came = |(path, before): (&PathBuf, Option<Photo>)| {
        if let Some(photo) = before {
            return Ok(Came::Known(photo));
        }
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        Ok(match intake::photo_of(journal, path)? {
            Some(photo) => Came::New(photo),
            None => {
                let why = summary.refused.iter().find(|refused| refused.photo == name);
                let why = why.map_or_else(|| no_reason(&name), |refused| refused.why.clone());
                Came::Refused(name, why)
            }
        })
    };
    paths.iter().zip(before).map(came).collect()
}

fn no_reason(name: &str) -> String {
    Error::file(format!("{name} could not be read; take the photo again.")).to_string()
}

fn brighten(journal: &mut Journal, dim: &[i64]) -> Result<()> {
    let photos: Vec<Option<Photo>> = dim
        .iter()
        .map(|id| journal.photo(*id))
        .collect::<Result<_>>()?;
    let photos: Vec<Photo> = photos.into_iter().flatten().collect();
    intake::remeasure(journal, &photos, &Telling::default(), &|| ()).map(drop)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_stays_a_name() {
        for (name, wanted) in [
            ("LB007 dry.jpg", "LB007 dry.jpg"),
            ("../../journal.sqlite", "journal.sqlite"),
            ("C:\\Photos\\wet.heic", "wet.heic"),
            ("..", "photo"),
            ("", "photo"),
            (".hidden.jpg", "hidden.jpg"),
            ("a\u{202e}b\n.jpg", "a-b-.jpg"),
            ("what?.png", "what-.png"),
            ("röße 漢.jpg", "röße 漢.jpg"),
        ] {
            assert_eq!(plain(name), wanted);
        }
        let long = plain(&format!("{}.jpg", "漢".repeat(300)));
        assert!(long.ends_with(".jpg") && long.len() < 255);
    }
}
