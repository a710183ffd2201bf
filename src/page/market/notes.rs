//! Notes for customers: their words to copy, and what is made of them to print, to send and to post.

use super::chosen::{Chosen, Meant, address};
use crate::error::{Error, Kind, Result, few};
use crate::journal::Journal;
use crate::note::{self, Batch, Language, Note, Options};
use crate::page::edition;
use crate::page::frame::{self, Place};
use crate::page::guard::NOTE_POLICY;
use crate::page::house::House;
use crate::page::shown;
use crate::page::trouble::{Outcome, Trouble};
use askama::Template;
use axum::Form;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::{IntoResponse, Redirect, Response};
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>{{ heading }}</h1><p><a href="/market">Other pieces</a> · {% if german %}<a href="/market/notes?{{ address }}" hreflang="en">in English</a>{% else %}<a href="/market/notes?{{ address }}&#38;lang=de" hreflang="de">in German</a>{% endif %}</p></header>
{% if !left_out.is_empty() %}<p class="soft">{{ left_out }}</p>{% endif %}
{% if !written.is_empty() %}<form method="post" action="/market/cards" class="take" id="print">
{% for field in written %}<input type="hidden" name="pieces" value="{{ field }}">{% endfor %}<input type="hidden" name="lang" value="{{ lang }}">{% for edition in editions %}<input type="hidden" name="seen" value="{{ edition }}">{% endfor %}
<fieldset><legend>Cards to print</legend><div class="chips">
<label><input type="radio" name="paper" value="a6"{% if !several %} checked{% endif %}>A6, both sides</label>
<label><input type="radio" name="paper" value="a4"{% if several %} checked{% endif %}>four on A4</label>
<label><input type="radio" name="paper" value="letter">four on Letter</label></div></fieldset>
<p class="deeds"><button id="cards">{% if several %}All cards as PDF{% else %}Card as PDF{% endif %}</button>{% if several %} <button class="quiet" formaction="/market/cover" id="cover">Cover sheet as PDF</button>{% endif %}</p>
<p class="soft">What is printed, fetched or marked as used keeps its words: later notes of the piece say the same until you take other words.</p>
</form>{% endif %}
{% for written in notes %}<section aria-labelledby="note-{{ loop.index0 }}">
<h2 id="note-{{ loop.index0 }}"><a href="/piece/{{ written.code|urlencode_strict }}">{{ written.code }}</a></h2>
{% match written.note %}{% when Ok(text) %}<p class="soft">Picture and colours are those of a photo that shows it {{ text.state }}.{% if let Some(day) = text.issued %} These words went out on {{ day }}, and are kept.{% endif %}</p>
<form method="post" action="/market/words"><input type="hidden" name="pieces" value="{{ written.code }}"><input type="hidden" name="lang" value="{{ lang }}"><input type="hidden" name="seen" value="{{ text.edition }}">
{% for field in fields %}<input type="hidden" name="shown" value="{{ field }}">{% endfor %}
<p class="deeds"><a class="button" href="/market/note/{{ written.code|urlencode_strict }}{% if german %}?lang=de{% endif %}">Look at it</a>
{% if several %}<button class="quiet" formaction="/market/cards">Print it as a card (PDF)</button>{% endif %}
<button class="quiet" formaction="/market/file">Fetch it as a file (HTML)</button>
<button class="quiet" formaction="/market/strip">Its colours as a picture</button>
{% if text.issued.is_none() %}<button class="quiet" name="take" value="these">I have used these words</button>{% endif %}
{% if text.differs %}<button class="quiet" name="take" value="today">Take today’s words</button>{% endif %}</p></form>
<p class="field"><label for="short-{{ loop.index0 }}">To copy into a shop listing</label><textarea id="short-{{ loop.index0 }}" rows="6" readonly lang="{{ lang }}">{{ text.short }}</textarea></p>
<p class="deeds"><button type="button" class="quiet" data-copies="short-{{ loop.index0 }}" hidden>Copy the listing</button> <span role="status" class="soft"></span></p>
<details><summary>The whole note as text</summary><p class="field"><label for="text-{{ loop.index0 }}">To send with the piece</label><textarea id="text-{{ loop.index0 }}" rows="12" readonly lang="{{ lang }}">{{ text.long }}</textarea></p>
<p class="deeds"><button type="button" class="quiet" data-copies="text-{{ loop.index0 }}" hidden>Copy the note</button> <span role="status" class="soft"></span></p></details>
{% when Err(why) %}<p>{{ why }}</p>{% endmatch %}
{% if !written.cautions.is_empty() %}<ul class="cautions">{% for caution in written.cautions %}<li>{{ caution }}</li>{% endfor %}</ul>{% endif %}
</section>
{% endfor %}"##
)]
struct Notes {
    heading: String,
    /// Which pieces of bundles have no note, and why; empty where none is left out.
    left_out: String,
    notes: Vec<Written>,
    /// What the address asks for.
    fields: Vec<String>,
    address: String,
    lang: &'static str,
    german: bool,
    /// The fields that mean those that have a note, and the editions of what is shown of them.
    written: Vec<String>,
    editions: Vec<String>,
    several: bool,
}

/// A note in words.
struct Words {
    short: String,
    long: String,
    /// What its photo shows it as.
    state: &'static str,
    /// The edition of the whole text.
    edition: String,
    /// Since when it has these words, where they went out.
    issued: Option<String>,
    /// Whether today's would be others than those that were kept.
    differs: bool,
}

/// The note of one piece as text, or why there is none.
struct Written {
    code: String,
    note: std::result::Result<Words, String>,
    cautions: Vec<String>,
}

pub(super) async fn notes(
    State(house): State<Arc<House>>,
    Query(chosen): Query<Chosen>,
) -> Outcome<Response> {
    let options = chosen.options();
    let _turn = house.pictures.acquire().await.ok();
    let page = house.with_trouble(move |journal| {
        let meant = chosen.meant(journal)?;
        if meant.codes.is_empty() && meant.left_out.is_empty() {
            return Err(none_named());
        }
        let all = meant.codes.iter();
        let notes = all.map(|code| written(journal, code, &options));
        Ok(page(
            &meant,
            notes.collect::<Result<Vec<Written>>>()?,
            options.language,
        ))
    });
    Ok(frame::page(
        Place::Market,
        "Notes",
        &["market.js"],
        &page.await?,
    ))
}

fn page(meant: &Meant, notes: Vec<Written>, language: Language) -> Notes {
    let count = shown::count(notes.len(), "note", "notes");
    let fields = meant.fields();
    let with_note = notes.iter().filter(|written| written.note.is_ok());
    let codes: Vec<String> = with_note.map(|written| written.code.clone()).collect();
    let texts = notes
        .iter()
        .filter_map(|written| written.note.as_ref().ok());
    let editions: Vec<String> = texts.map(|text| text.edition.clone()).collect();
    let left_out: Vec<&str> = meant.left_out.iter().map(String::as_str).collect();
    Notes {
        heading: match &meant.bundle {
            Some(bundle) => format!("Bundle {bundle}: {count}"),
            None => count,
        },
        left_out: match left_out.len() {
            0 => String::new(),
            _ => format!(
                "Without a note, since no photo shows it dry or washed yet: {}.",
                few(&left_out)
            ),
        },
        several: codes.len() > 1,
        // A bundle is meant by its name as long as all of it has a note.
        written: match codes.len() == notes.len() {
            true => fields.clone(),
            false => codes,
        },
        editions,
        address: address(&fields),
        fields,
        notes,
        lang: language.tag(),
        german: language == Language::German,
    }
}

/// A note as its own page, made to be printed, with a way back above that is not printed.
pub(super) async fn alone(
    State(house): State<Arc<House>>,
    Path(code): Path<String>,
    Query(chosen): Query<Chosen>,
) -> Outcome<Response> {
    let options = chosen.options();
    let _turn = house.pictures.acquire().await.ok();
    let html = house.with_trouble(move |journal| {
        let note = composed(journal, &code, &options)?.ok_or_else(|| no_piece(&code))?;
        let back = format!(
            "{}&lang={}",
            address(std::slice::from_ref(&note.code)),
            note.tag
        );
        Ok(with_way_back(&note.html()?, &back))
    });
    let headers = [
        (CONTENT_TYPE, "text/html; charset=utf-8"),
        (CONTENT_SECURITY_POLICY, NOTE_POLICY),
    ];
    Ok((headers, html.await?).into_response())
}

/// A note's page with a link above it, which its own style leaves room for and paper does not show.
fn with_way_back(html: &str, address: &str) -> String {
    let address = address.replace('&', "&#38;");
    let bar = format!(
        "<body>\n<style>.back {{ margin: 0 auto; max-width: 35rem; padding: .7rem 1.25rem; }} .back a {{ color: inherit; display: inline-block; padding: .5rem 0; }} @media print {{ .back {{ display: none; }} }}</style>\n\
         <nav class=\"back\" lang=\"en\" aria-label=\"Back\"><a href=\"/market/notes?{address}\">Back, to print, fetch or copy it</a></nav>\n"
    );
    html.replacen("<body>\n", &bar, 1)
}

/// What is made of the notes asked for; their words are kept from now on. They must be those that were seen: of what changed
/// meanwhile nothing is kept.
async fn issued<T: Send + 'static>(
    house: &House,
    chosen: Chosen,
    make: impl FnOnce(&[Note], &Meant) -> Result<T> + Send + 'static,
) -> Outcome<T> {
    let today = (house.today)();
    // Nobody closes this. Each note decodes a photo, and drawing many takes its time: nobody who saves waits for it.
    let _turn = house.pictures.acquire().await.ok();
    let made = house.with_trouble(move |journal| {
        let options = chosen.options();
        let meant = chosen.meant(journal)?;
        let notes = meant
            .codes
            .iter()
            .map(|code| composed(journal, code, &options)?.ok_or_else(|| no_piece(code)));
        let notes = notes.collect::<Outcome<Vec<Note>>>()?;
        if notes.is_empty() {
            return Err(none_named());
        }
        let texts = notes.iter().map(Note::text);
        if !chosen.saw(texts) {
            return Err(changed(&meant.fields()));
        }
        Ok((make(&notes, &meant)?, notes))
    });
    let (made, notes) = made.await?;
    let kept = house.change(move |journal| Ok(note::issue(journal, &notes, today)?));
    kept.await?;
    Ok(made)
}

fn changed(codes: &[String]) -> Trouble {
    Trouble::new(
        StatusCode::CONFLICT,
        format!(
            "The words of {} have changed since you looked at them, so nothing was kept: go back, look at them again, and copy them anew.",
            codes.join(", ")
        ),
    )
}

pub(super) async fn cards(
    State(house): State<Arc<House>>,
    Form(chosen): Form<Chosen>,
) -> Outcome<Response> {
    let (paper, language) = (chosen.paper(), chosen.options().language);
    let pdf = issued(&house, chosen, move |notes, meant| {
        note::pdf(notes, &batch(meant, language), paper)
    });
    let pdf = pdf.await?;
    Ok(sent("application/pdf", "inline", "cards.pdf", pdf))
}

fn batch(meant: &Meant, language: Language) -> Batch {
    let bundle = meant.bundle.clone();
    Batch { bundle, language }
}

/// The sheet that lies on a batch of cards.
pub(super) async fn cover(
    State(house): State<Arc<House>>,
    Form(chosen): Form<Chosen>,
) -> Outcome<Response> {
    let (paper, language) = (chosen.paper(), chosen.options().language);
    let pdf = issued(&house, chosen, move |notes, meant| {
        note::cover(notes, &batch(meant, language), paper)
    });
    Ok(sent("application/pdf", "inline", "cover.pdf", pdf.await?))
}

/// The colours of the first piece as a picture to post.
pub(super) async fn strip(
    State(house): State<Arc<House>>,
    Form(chosen): Form<Chosen>,
) -> Outcome<Response> {
    let png = issued(&house, chosen, |notes, _| notes[0].png()).await?;
    Ok(sent("image/png", "attachment", "colours.png", png))
}

/// The note of the first piece as the file that a customer is sent.
pub(super) async fn file(
    State(house): State<Arc<House>>,
    Form(chosen): Form<Chosen>,
) -> Outcome<Response> {
    let made = issued(&house, chosen, |notes, _| {
        Ok((notes[0].file_stem(), notes[0].html()?))
    });
    let (stem, html) = made.await?;
    // A header's letters are those of ASCII.
    let name = match stem.is_ascii() {
        true => format!("{stem}.html"),
        false => "note.html".to_owned(),
    };
    Ok(sent(
        "text/html; charset=utf-8",
        "attachment",
        &name,
        html.into_bytes(),
    ))
}

fn sent(kind: &'static str, how: &str, name: &str, bytes: Vec<u8>) -> Response {
    let headers = [
        (CONTENT_TYPE, kind.to_owned()),
        (CONTENT_DISPOSITION, format!("{how}; filename=\"{name}\"")),
    ];
    (headers, bytes).into_response()
}

/// Words that were used are kept, or today's taken in the place of those that were.
pub(super) async fn words(
    State(house): State<Arc<House>>,
    Form(chosen): Form<Chosen>,
) -> Outcome<Redirect> {
    let shown = match chosen.shown.is_empty() {
        true => address(&chosen.pieces),
        false => address(&chosen.shown),
    };
    let lang = chosen.options().language.tag();
    issued(&house, chosen, |_, _| Ok(())).await?;
    Ok(Redirect::to(&format!("/market/notes?{shown}&lang={lang}")))
}

/// A piece without a photo has no note; that is told in its place, and the others are written.
fn written(journal: &Journal, code: &str, options: &Options) -> Result<Written> {
    let composed = composed(journal, code, options)
        .and_then(|note| note.ok_or_else(|| Error::caller(no_piece(code).to_string())));
    Ok(match composed {
        Ok(note) => Written {
            cautions: note
                .cautions
                .iter()
                .map(|caution| shown::advice(&caution.text))
                .collect(),
            note: Ok(Words {
                short: note.short(),
                edition: edition::of_text(&note.text()),
                long: note.text(),
                state: note.state.word(),
                differs: note.cautions.iter().any(|c| c.code == note::WORDS_ISSUED),
                issued: note.issued,
            }),
            code: note.code,
        },
        Err(error) if error.kind() == Kind::Caller => Written {
            code: code.to_owned(),
            note: Err(shown::advice(&error.to_string())),
            cautions: Vec::new(),
        },
        Err(error) => return Err(error),
    })
}

fn composed(journal: &Journal, code: &str, options: &Options) -> Result<Option<Note>> {
    let piece = journal.piece(code)?;
    piece
        .map(|piece| note::of_piece(journal, &piece, options))
        .transpose()
}

fn no_piece(code: &str) -> Trouble {
    Trouble::not_there(format!(
        "No piece or bundle is called {code}; look for it on the shelf."
    ))
}

fn none_named() -> Trouble {
    Trouble::not_there("Choose pieces first: tick some, or name them or a bundle.")
}
