//! What a wet piece will look like dry: from a photo that is looked at and not kept, or from one of the journal.

mod seen;

use super::super::arrive::broken_off;
use super::super::files::tagged;
use super::super::frame::{self, Place};
use super::super::held::Glimpse;
use super::super::house::House;
use super::super::one_file::{Came, one_file};
use super::super::share::secret;
use super::super::shown;
use super::super::trouble::{Outcome, Trouble};
use crate::ask::{self, Aim, Outlook, Toward};
use crate::error::{Error, Kind, Result};
use crate::intake::{self, Options};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::State as PieceState;
use crate::{note, photo as photos};
use askama::Template;
use axum::extract::{Multipart, Path, Query, State};
use axum::http::header::HeaderMap;
use axum::response::{Redirect, Response};
use seen::Seen;
use serde::Deserialize;
use std::sync::Arc;

/// How near counts where nobody says, CIEDE2000: another step is another colour.
const NEAR: f64 = 5.0;

/// The longer side of the picture at most, pixels.
const SIDE: usize = 800;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<form method="post" action="/pot/wet" enctype="multipart/form-data" class="take">
<div class="doors">
<p><label class="door" for="wet-camera"><svg viewBox="0 0 24 24" aria-hidden="true"><path d="M3 8h4l2-3h6l2 3h4v11H3zM12 10a3.5 3.5 0 1 0 0 7 3.5 3.5 0 0 0 0-7z"/></svg>Take a photo of the wet piece</label><input id="wet-camera" name="photo" type="file" accept="image/*" capture="environment"></p>
<p><label class="door" for="wet-file"><svg viewBox="0 0 24 24" aria-hidden="true"><path d="M4 5h16v14H4zM4 16l5-5 4 4 2-2 5 5M15.5 9h.01"/></svg>Choose a photo</label><input id="wet-file" name="photo" type="file" accept="image/*,.heic,.heif"></p>
</div>
<p class="deeds"><button id="foresee">Foresee it</button></p></form>
<form method="get" action="/pot/wet" class="one"><label for="wet-piece" class="line">Or a piece whose wet photo the journal has</label><input id="wet-piece" name="piece" required maxlength="32" placeholder="LB007" autocapitalize="characters" autocomplete="off"><button class="quiet">Foresee it</button></form>"##
)]
struct Doors;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>{{ heading }}</h1><p><a href="/pot#wet">Another photo</a></p></header>
{% match seen %}{% when Err(why) %}<div class="refused" role="alert"><p>{{ why }}</p></div>
{% when Ok(seen) %}<p class="answer" id="answer">{{ seen.told }}</p>
<div class="foreseen">
{% if !picture.is_empty() %}<figure class="ground"><img src="{{ picture }}" alt="The photo of the wet piece in true light"></figure>{% endif %}
<figure class="ground side"><svg viewBox="0 0 100 100" preserveAspectRatio="none" role="img" aria-label="Its colours wet: {{ seen.wet_words }}">{% for band in seen.wet %}<rect y="{{ band.from }}" width="100" height="{{ band.wide }}" fill="{{ band.srgb }}"/>{% endfor %}</svg><figcaption>wet</figcaption></figure>
<figure class="ground side"><svg viewBox="0 0 100 100" preserveAspectRatio="none" role="img" aria-label="Its colours dry, as foreseen: {{ seen.dry_words }}">{% for band in seen.dry %}<rect y="{{ band.from }}" width="100" height="{{ band.wide }}" fill="{{ band.srgb }}"/>{% endfor %}</svg><figcaption>dry, as foreseen</figcaption></figure>
</div>
<ul class="colours" id="colours">{% for colour in seen.colours %}<li>
<svg class="blob" viewBox="0 0 48 48" aria-hidden="true"><rect class="surround" width="48" height="48"/><rect x="5" y="5" width="19" height="38" fill="{{ colour.wet }}"/><rect x="24" y="5" width="19" height="38" fill="{{ colour.dry }}"/></svg>
<div><p><strong>{{ colour.share }} {{ colour.word }}</strong></p><p class="soft">L* {{ colour.l }}<br>a* {{ colour.a }}<br>b* {{ colour.b }}</p></div></li>
{% endfor %}</ul>
<p class="soft">{{ seen.rests }}</p>
{% if !seen.cautions.is_empty() %}<ul class="cautions">{% for caution in seen.cautions %}<li>{{ caution }}</li>{% endfor %}</ul>{% endif %}
<section aria-labelledby="wish"><h2 id="wish">Does it come near to what you wish for?</h2>
<form method="get" action="{{ here }}" class="facts">
{% if !piece.is_empty() %}<input type="hidden" name="piece" value="{{ piece }}">{% endif %}
<p class="field"><label for="toward">A piece, a colour word of yours, or L*,a*,b* <span class="soft">(62,14,38)</span></label><input id="toward" name="toward" value="{{ toward }}" list="own-words" autocomplete="off"{% if seen.refused.is_some() %} aria-describedby="refused" autofocus{% endif %}></p>
<p class="field"><label for="within">How near counts <span class="soft">(1 is just seen, 5 is another colour)</span></label><input id="within" name="within" inputmode="decimal" value="{{ within }}"{% if seen.refused.is_some() %} aria-describedby="refused"{% endif %}></p>
{% if !words.is_empty() %}<datalist id="own-words">{% for word in words %}<option value="{{ word }}"></option>{% endfor %}</datalist>{% endif %}
{% if let Some(why) = seen.refused %}<p class="refused deeds" role="alert" id="refused">{{ why }}</p>{% endif %}
<p class="deeds"><button class="quiet" id="ask-chance">What is the chance?</button></p></form></section>
{% endmatch %}
{% if keeps %}<section aria-labelledby="keeping"><h2 id="keeping">Keep the photo?</h2><p class="soft">Nothing is kept yet. Kept, it is a wet photo in the journal, and helps to foresee the next pieces once this one is photographed dry.</p>
<form method="post" action="{{ here }}/keep"><p class="deeds"><button id="keep">Keep it as wet</button> <a class="button quiet" href="/pot">No</a></p></form></section>{% endif %}"##
)]
struct Wet {
    heading: String,
    seen: std::result::Result<Seen, String>,
    /// The address of the photo's picture; empty where there is none.
    picture: String,
    /// The address of this page.
    here: String,
    piece: String,
    toward: String,
    within: String,
    /// The studio's own colour words.
    words: Vec<String>,
    keeps: bool,
}

/// What is asked of a wet piece.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Asked {
    piece: String,
    toward: String,
    within: String,
}

/// The form that a photo comes by.
pub(super) fn door() -> Outcome<String> {
    Doors.render().map_err(|_| {
        Error::machine("There is no memory left to write the page; close other programs.").into()
    })
}

/// Takes a photo, measures it, and keeps nothing of it.
pub(super) async fn photo(State(house): State<Arc<House>>, parts: Multipart) -> Outcome<Redirect> {
    let Came { file, folder, .. } = one_file(&house, parts, "a photo").await?;
    // The house lives as long as the program, and nobody closes this.
    let turn = house.measuring.acquire().await.ok();
    let path = file.clone();
    let photo = house
        .with(move |journal| intake::glimpse(journal, &path, Some(PieceState::Wet)))
        .await?;
    drop(turn);
    let name = secret()?;
    let next = format!("/pot/wet/{name}");
    house.held.hold(Glimpse {
        name,
        file,
        photo,
        _folder: folder,
    });
    Ok(Redirect::to(&next))
}

/// What is foreseen of a photo that is not kept.
pub(super) async fn looked_at(
    State(house): State<Arc<House>>,
    Path(name): Path<String>,
    Query(asked): Query<Asked>,
) -> Outcome<Response> {
    let glimpse = house.held.named(&name).ok_or_else(gone)?;
    let photo = glimpse.photo.clone();
    let here = format!("/pot/wet/{name}");
    let kept = photo.id.is_some();
    let picture = format!("{here}/picture");
    let page = house.with(move |journal| {
        let photo = Photo {
            state: Some(PieceState::Wet),
            ..photo
        };
        page(journal, &photo, picture, here, &asked, !kept)
    });
    Ok(frame::page(Place::Pot, "Foreseen", &[], &page.await?))
}

/// What is foreseen of a piece from its newest wet photo in the journal.
pub(super) async fn of_piece(
    State(house): State<Arc<House>>,
    Query(asked): Query<Asked>,
) -> Outcome<Response> {
    let page = house.with(move |journal| {
        let piece = journal.piece(&asked.piece)?.ok_or_else(|| {
            Error::caller(format!(
                "No piece is called {}; look for it on the shelf.",
                asked.piece
            ))
        })?;
        let photo = ask::newest_wet(journal, &piece.code)?;
        let picture = photo.id.map(|id| format!("/picture/{id}/piece"));
        page(
            journal,
            &photo,
            picture.unwrap_or_default(),
            "/pot/wet".to_owned(),
            &asked,
            false,
        )
    });
    Ok(frame::page(Place::Pot, "Foreseen", &[], &page.await?))
}

/// The piece in a photo that is not kept.
pub(super) async fn picture(
    State(house): State<Arc<House>>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Outcome<Response> {
    let glimpse = house.held.named(&name).ok_or_else(gone)?;
    let _turn = house.pictures.acquire().await.ok();
    let jpeg = house.with(move |_| {
        let path = &glimpse.file;
        let bytes = std::fs::read(path).map_err(|e| crate::error::refused("read", path, e))?;
        let opened = photos::decode(&bytes, "the photo")?;
        let reading = &glimpse.photo.reading;
        match note::piece_seen(&opened.photograph, reading, SIDE)? {
            Some(jpeg) => Ok(jpeg),
            None => note::photo_seen(&opened.photograph, reading, SIDE),
        }
    });
    Ok(tagged(
        &headers,
        &format!("\"{name}\""),
        "image/jpeg",
        jpeg.await?,
    ))
}

/// Takes the photo in as the Line would.
pub(super) async fn keep(
    State(house): State<Arc<House>>,
    Path(name): Path<String>,
) -> Outcome<Redirect> {
    let glimpse = house.held.named(&name).ok_or_else(gone)?;
    let _turn = house.measuring.acquire().await.ok();
    let photo = house
        .with(move |journal| {
            let options = Options {
                state: Some(PieceState::Wet),
                ..Options::default()
            };
            let summary = intake::ingest(
                journal,
                std::slice::from_ref(&glimpse.file),
                &options,
                &|_| (),
            )?;
            match summary.refused.into_iter().next() {
                Some(refused) => Err(Error::file(refused.why)),
                None => intake::photo_of(journal, &glimpse.file),
            }
        })
        .await?;
    house.held.let_go(&name);
    let id = photo.and_then(|photo| photo.id).ok_or_else(broken_off)?;
    Ok(Redirect::to(&format!("/photo/{id}")))
}

fn gone() -> Trouble {
    Trouble::not_there(
        "That photo was kept, or is not held any more; photograph the wet piece again.",
    )
}

fn page(
    journal: &Journal,
    photo: &Photo,
    picture: String,
    here: String,
    asked: &Asked,
    keeps: bool,
) -> Result<Wet> {
    let piece = photo.piece.clone();
    let seen = told(foresee(journal, photo, asked))?;
    let seen = match seen {
        // A wish that cannot be reckoned takes nothing away from what is foreseen.
        Err(why) if !asked.toward.trim().is_empty() => {
            let plain = told(ask::foresee(
                Some(journal),
                photo,
                Some(PieceState::Wet),
                None,
            ))?;
            plain.map(|seen| Seen {
                refused: Some(why),
                ..seen
            })
        }
        seen => seen,
    };
    let words = ask::own_words(&journal.studio()?);
    Ok(Wet {
        heading: format!("{}, still wet", piece.as_deref().unwrap_or("A piece")),
        seen,
        picture,
        here,
        piece: asked.piece.clone(),
        toward: asked.toward.clone(),
        within: match asked.within.is_empty() {
            true => shown::number(NEAR),
            false => asked.within.clone(),
        },
        words: words.into_iter().map(|word| word.name).collect(),
        keeps,
    })
}

/// What is foreseen, or why nothing is where that is the asker's to mend.
fn told(outlook: Result<Outlook>) -> Result<std::result::Result<Seen, String>> {
    match outlook {
        Ok(outlook) => Ok(Ok(Seen::of(&outlook))),
        Err(error) if error.kind() == Kind::Caller => Ok(Err(shown::advice(&error.to_string()))),
        Err(error) => Err(error),
    }
}

fn foresee(journal: &Journal, photo: &Photo, asked: &Asked) -> Result<Outlook> {
    let aim = match asked.toward.trim() {
        "" => None,
        toward => Some(Aim {
            toward: Toward::read(toward, Some(journal))?,
            within: near(&asked.within)?,
        }),
    };
    ask::foresee(Some(journal), photo, Some(PieceState::Wet), aim.as_ref())
}

fn near(text: &str) -> Result<f64> {
    let text = text.trim().replace(',', ".");
    if text.is_empty() {
        return Ok(NEAR);
    }
    let number = text.parse().ok();
    number
        .filter(|number| (0.1..=100.0).contains(number))
        .ok_or_else(|| {
            Error::caller(format!(
                "“{text}” is not how near counts: write a number from 0.1 to 100, such as 5."
            ))
        })
}
