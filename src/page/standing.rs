//! How a piece stands in the studio: for sale, sold, its price, remarks.

use super::edition::{self, Changed, Overtaken, answer};
use super::house::House;
use super::shown;
use super::trouble::{Outcome, Trouble};
use crate::error::Error;
use crate::journal::Journal;
use crate::journal::record::{Piece, Standing};
use crate::sheet::STATUS;
use askama::Template;
use axum::extract::{Path, State};
use axum::response::Response;
use serde::Deserialize;
use std::sync::Arc;

/// The form on a piece's page. A touch on a status keeps what is typed beside it as well.
#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<section aria-labelledby="stands">
<h2 id="stands">In the studio</h2>
<form method="post" action="/piece/{{ code|urlencode_strict }}/stands" id="standing">
<input type="hidden" name="based_on" value="{{ edition }}">
<div class="chips" role="group" aria-label="How {{ code }} stands">
{% for word in STATUS %}<button class="chip" name="status" value="{{ word }}" aria-pressed="{{ said.status.as_deref() == Some(word) }}">{{ word }}</button>
{% endfor %}{% if said.status.is_some() %}<button class="chip" name="status" value="none">take that back</button>{% endif %}</div>
<p class="field price"><label for="price">Price</label><input id="price" name="price" inputmode="decimal" value="{{ price }}" maxlength="16"></p>
<p class="field"><label for="remarks">Remarks</label><textarea id="remarks" name="remarks" rows="3" maxlength="4000">{{ said.remarks.as_deref().unwrap_or_default() }}</textarea></p>
<p class="deeds"><button class="quiet" id="keep-standing">Keep price and remarks</button></p>
</form></section>"##
)]
pub(super) struct Form {
    code: String,
    edition: String,
    said: Standing,
    price: String,
}

impl Form {
    /// Of this piece.
    pub(super) fn of(piece: &Piece) -> Self {
        let said = piece.standing();
        Self {
            code: piece.code.clone(),
            edition: edition_of(&said),
            price: said.price.map(shown::number).unwrap_or_default(),
            said,
        }
    }
}

/// What is said of a piece.
#[derive(Debug, Deserialize)]
pub(super) struct Says {
    based_on: String,
    /// The word that was touched, `none` where it is taken back; empty where none was.
    #[serde(default)]
    status: String,
    #[serde(default)]
    price: String,
    #[serde(default)]
    remarks: String,
}

/// Whether something was said just now.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Done {
    done: String,
}

impl Done {
    /// How the piece stands now, where that was said just now.
    pub(super) fn told(&self, piece: &Piece) -> String {
        match self.done.is_empty() {
            true => String::new(),
            false => format!("Kept. {}: {}.", piece.code, in_words(&piece.standing())),
        }
    }
}

/// Says how a piece stands.
pub(super) async fn stands(
    State(house): State<Arc<House>>,
    Path(code): Path<String>,
    axum::Form(form): axum::Form<Says>,
) -> Outcome<Response> {
    let changed = house.change(move |journal| say(journal, &code, &form));
    let (changed, page) = changed.await?;
    answer(changed, &format!("{page}?done=stands#told"))
}

/// What came of it, and the piece's page.
fn say(journal: &mut Journal, code: &str, form: &Says) -> Outcome<(Changed, String)> {
    let piece = journal.piece(code)?.ok_or_else(|| {
        Trouble::not_there(format!(
            "No piece is called {code}; look for it on the shelf."
        ))
    })?;
    let Ok(name) = askama::filters::urlencode_strict(&piece.code);
    let page = format!("/piece/{name}");
    let now = piece.standing();
    let said = said(&now, form)?;
    if edition_of(&now) != form.based_on {
        let fields = vec![
            ("status", form.status.clone()),
            ("price", form.price.clone()),
            ("remarks", form.remarks.clone()),
            ("based_on", edition_of(&now)),
        ];
        let both = Overtaken {
            there: in_words(&now),
            yours: in_words(&said),
            action: format!("{page}/stands"),
            fields,
            back: page.clone(),
        };
        return Ok((Changed::Overtaken(both), page));
    }
    journal.say_standing(&piece.code, &said)?;
    Ok((Changed::Made, page))
}

fn edition_of(said: &Standing) -> String {
    edition::of_text(&format!("{said:?}"))
}

fn said(now: &Standing, form: &Says) -> Outcome<Standing> {
    let status = match form.status.as_str() {
        "" => now.status.clone(),
        "none" => None,
        word => Some(known(word)?.to_owned()),
    };
    let remarks = form.remarks.trim().replace("\r\n", "\n");
    Ok(Standing {
        status,
        // What is shown of a price may be rounded.
        price: match form.price == now.price.map(shown::number).unwrap_or_default() {
            true => now.price,
            false => price(form.price.trim())?,
        },
        remarks: Some(remarks).filter(|remarks| !remarks.is_empty()),
    })
}

fn known(word: &str) -> Outcome<&'static str> {
    let known = STATUS.into_iter().find(|known| *known == word);
    known.ok_or_else(|| {
        let told = format!("“{word}” is no status; touch one of {}.", STATUS.join(", "));
        Error::caller(told).into()
    })
}

fn price(text: &str) -> Outcome<Option<f64>> {
    if text.is_empty() {
        return Ok(None);
    }
    let number = text.replace(',', ".").parse().ok();
    match number.filter(|number: &f64| number.is_finite() && *number >= 0.0) {
        Some(number) => Ok(Some(number)),
        None => Err(Error::caller(format!(
            "“{text}” is not a price: go back and write a number alone, such as 45 or 45.50."
        ))
        .into()),
    }
}

fn in_words(said: &Standing) -> String {
    let price = said
        .price
        .map(|price| format!("price {}", shown::number(price)));
    let remarks = said
        .remarks
        .as_ref()
        .map(|remarks| format!("remarks “{remarks}”"));
    let parts = [
        Some(said.status.as_deref().unwrap_or("no status").to_owned()),
        Some(price.unwrap_or_else(|| "no price".to_owned())),
        Some(remarks.unwrap_or_else(|| "no remarks".to_owned())),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join("; ")
}
