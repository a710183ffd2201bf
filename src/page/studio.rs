//! Studio: the studio's own values, its sheets and backups, and letting a phone in.

mod again;
mod baths;
mod charts;
mod safe;
mod sheets;
mod values;
mod words;

use super::frame::{self, Place};
use super::guard::{Guest, LET_IN, key_name};
use super::house::House;
use super::trouble::{Outcome, Trouble};
use crate::tag;
use askama::Template;
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use axum::http::header::{HOST, SET_COOKIE};
use axum::response::{AppendHeaders, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Studio</h1></header>
<ul class="such">
<li><a href="/studio/values" id="to-values"><strong>Paper and ink</strong>, unit and habits <span class="soft line">{{ told.values }}</span></a></li>
<li><a href="/studio/words" id="to-words"><strong>Colour words</strong> of your own <span class="soft line">{{ told.words }}</span></a></li>
<li><a href="/studio/baths" id="to-baths"><strong>Baths</strong> that live on <span class="soft line">{{ told.baths }}</span></a></li>
<li><a href="/studio/charts" id="to-charts"><strong>Charts and cards</strong> to measure light by <span class="soft line">{{ told.charts }}</span></a></li>
<li><a href="/studio/sheets" id="to-sheets"><strong>Sheets and plans</strong> <span class="soft line">enter a table of pieces or baths; weigh out and plan the days</span></a></li>
</ul>
<section aria-labelledby="keep"><h2 id="keep">Backup</h2>
<p class="soft">The backup holds every record. Keep the journal's folder “photos” as well: it holds the pictures. To bring a backup back, end the program and put the file in the journal's folder in place of “journal.sqlite”, under that name.</p>
<p class="deeds"><a class="button" href="/studio/backup" id="backup" download>Fetch a backup</a>
<a class="button quiet" href="/studio/export.csv" download>Pieces as a sheet</a>
<a class="button quiet" href="/studio/export.json" download>Everything as JSON</a></p>
<details><summary>Take an exported journal in</summary><form method="post" action="/studio/import" enctype="multipart/form-data"><p class="field"><label for="export">A file that “Everything as JSON” gave</label><input id="export" type="file" name="export" accept=".json,application/json" required></p><p class="deeds"><button class="quiet" id="import">Take it in</button></p></form></details>
</section>
<section aria-labelledby="over"><h2 id="over">Look the journal over</h2>
<p class="soft">Whether every record is sound and every kept photo is there and whole; every photo is read, which takes its time.</p>
<form method="post" action="/studio/check"><p class="deeds"><button class="quiet" id="check">Look it over</button></p></form></section>
{{ again|safe }}
<section aria-labelledby="phone">
<h2 id="phone">A phone</h2>
{% if guest == Guest::Phone %}<p>You are in. Another phone is let in at the studio's computer.</p>
{% else if !shared %}<p>A phone on the same network can come in when the program is started with <code>filemot page --share</code>. Until then the page answers on this computer alone.</p>
{% else if let Some((address, code)) = link %}<p>Hold the phone's camera over this code, or open the address below it. It lets one phone in, once; the phone may then come in until the program ends.</p>
<figure class="code"><svg viewBox="0 0 {{ code.side() }} {{ code.side() }}" role="img" aria-label="QR code of the address below"><path class="paper" d="M0 0h{{ code.side() }}v{{ code.side() }}h-{{ code.side() }}z"/><path class="ink" d="{{ code.path() }}"/></svg>
<figcaption><code id="link">{{ address }}</code></figcaption></figure>
<p class="soft">The network's other people cannot come in without it. What phone and computer tell one another can be listened to on an open network: share only on your own.</p>
{% else %}<p>The last link has been used.</p>{% endif %}
{% if shared && guest == Guest::Here %}<form method="post" action="/studio/phone"><button id="let-in">Let a phone in</button></form>{% endif %}
</section>"##
)]
struct Studio {
    guest: Guest,
    shared: bool,
    link: Option<(String, tag::Link)>,
    told: Told,
    again: String,
}

/// What the studio has, in a line each.
struct Told {
    values: String,
    words: String,
    baths: String,
    charts: String,
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Come in?</h1></header>
<form method="post" class="knock">
<p>This lets this phone into the studio's journal until the program on the computer ends.</p>
<button id="come-in">Let this phone in</button>
</form>"##
)]
struct Knock;

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route(Place::Studio.path(), get(studio))
        .route("/studio/phone", post(new_link))
        .merge(values::routes())
        .merge(words::routes())
        .merge(baths::routes())
        .merge(charts::routes())
        .merge(sheets::routes())
        .merge(safe::routes())
        .merge(again::routes())
}

async fn studio(
    State(house): State<Arc<House>>,
    Extension(guest): Extension<Guest>,
) -> Outcome<Response> {
    let address = house.shared_at.as_ref().zip(house.share.link());
    let link = address.map(|(at, token)| -> crate::error::Result<_> {
        let address = format!("{at}{LET_IN}{token}");
        let code = tag::link(&address)?;
        Ok((address, code))
    });
    let today = (house.today)();
    let told = house.with(move |journal| {
        Ok(Told {
            values: values::told(&journal.studio()?),
            words: words::told(&journal.studio()?),
            baths: baths::told(&journal.baths()?, today),
            charts: charts::told(&journal.charts()?, &journal.cards()?),
        })
    });
    let studio = Studio {
        told: told.await?,
        again: again::section(&house)?,
        guest,
        shared: house.shared_at.is_some(),
        link: link.transpose()?,
    };
    Ok(frame::page(
        Place::Studio,
        "Studio",
        &["studio.js"],
        &studio,
    ))
}

async fn new_link(
    State(house): State<Arc<House>>,
    Extension(guest): Extension<Guest>,
) -> Outcome<Redirect> {
    if guest == Guest::Phone {
        return Err(Trouble::not_let_in(
            "Another phone is let in at the studio's computer, not from here.",
        ));
    }
    house.share.new_link()?;
    Ok(Redirect::to("/studio#phone"))
}

/// The page behind a link. Looking at it uses nothing up: programs that preview links look as well.
pub(super) async fn knock(
    State(house): State<Arc<House>>,
    Path(token): Path<String>,
) -> Outcome<Response> {
    match house.share.awaits(&token) {
        true => Ok(frame::page(None, "Come in?", &[], &Knock)),
        false => Err(used()),
    }
}

/// Lets in who brings the link's token, once.
pub(super) async fn let_in(
    State(house): State<Arc<House>>,
    Path(token): Path<String>,
    headers: HeaderMap,
) -> Outcome<Response> {
    let key = house.share.let_in(&token)?.ok_or_else(used)?;
    let host = headers.get(HOST).and_then(|host| host.to_str().ok());
    let name = key_name(host.unwrap_or_default());
    let cookie = format!("{name}={key}; Path=/; HttpOnly; SameSite=Strict");
    Ok((AppendHeaders([(SET_COOKIE, cookie)]), Redirect::to("/line")).into_response())
}

fn used() -> Trouble {
    Trouble::not_let_in(
        "This link has been used, or a newer one took its place; on the studio's computer open Studio and let the phone in again.",
    )
}
