//! A note as one page that needs nothing else: no script, nothing fetched.

use super::{Colour, Key, Messages, Note, picture};
use crate::error::Result;
use askama::Template;
use base64::{Engine, engine::general_purpose::STANDARD};

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<!DOCTYPE html>
<html lang="{{ note.tag }}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{ note.code }}</title>
<style>
{{ css|safe }}</style>
</head>
<body>
<main>
{% if let Some(jpeg) = picture %}<img class="piece" alt="{{ note.alternative }}" src="data:image/jpeg;base64,{{ jpeg|safe }}">
{% endif %}<svg class="ribbon" viewBox="0 0 100 10" preserveAspectRatio="none" role="img" aria-label="{{ strip }}">
{% for band in bands %}<rect x="{{ band.from }}" width="{{ band.wide }}" height="10" fill="{{ band.srgb }}"/>
{% endfor %}</svg>
<header>
<h1>{{ note.code }}</h1>
{% if !note.cloth.is_empty() %}<p class="cloth">{{ note.cloth }}</p>
{% endif %}</header>
<p class="sentence">{{ note.sentence }}</p>
{% for warning in note.warnings %}<p class="warning">{{ warning }}</p>
{% endfor %}<ul class="colours">
{% for row in rows %}<li>
<svg viewBox="0 0 10 10" aria-hidden="true"><path d="M0 10V4Q0 0 4 0H10V6Q10 10 6 10Z" fill="{{ row.colour.srgb }}"/></svg>
<span class="word">{{ row.colour.word }}</span>
<span class="share">{{ row.share }}</span>
<span class="small">{% if let Some(beneath) = row.colour.beneath %}<i>{{ beneath }}</i> {% endif %}<span class="lab">{{ row.numbers }}</span></span>
</li>
{% endfor %}</ul>
{% if let Some(rest) = rest %}<p class="rest">{{ rest }}</p>
{% endif %}<section>
{% for (heading, text) in sections %}<h2>{{ heading }}</h2>
<p>{{ text }}</p>
{% endfor %}</section>
<footer>{{ maker }}</footer>
</main>
</body>
</html>
"##
)]
struct Page<'a> {
    note: &'a Note,
    css: &'static str,
    strip: String,
    bands: Vec<Band<'a>>,
    rows: Vec<Row<'a>>,
    rest: Option<String>,
    sections: Vec<(String, String)>,
    maker: String,
    picture: Option<String>,
}

/// A colour's place on the ribbon, in per cent of its length.
struct Band<'a> {
    from: String,
    wide: String,
    srgb: &'a str,
}

/// A colour with its numbers as they are written.
struct Row<'a> {
    colour: &'a Colour,
    share: String,
    numbers: String,
}

impl Note {
    /// The note as one page of HTML, its style, colours and picture inside it.
    ///
    /// # Errors
    /// A picture that cannot be written.
    pub fn html(&self) -> Result<String> {
        let messages = Messages::of(self.language);
        let picture = self.picture.as_ref().map(picture::jpeg).transpose()?;
        let page = Page {
            note: self,
            css: include_str!("note.css"),
            strip: messages.say(Key::Strip),
            bands: self.bands(),
            rows: self.colours.iter().map(|c| row(c, &messages)).collect(),
            rest: self.rest_told(&messages).map(|told| told.join(" ")),
            sections: self.sections(&messages),
            maker: messages.say(Key::WrittenWith),
            picture: picture.map(|jpeg| STANDARD.encode(jpeg)),
        };
        Ok(page.render().expect("writing to memory does not fail"))
    }

    fn bands<'a>(&'a self) -> Vec<Band<'a>> {
        let whole = self.colours.iter().map(|c| c.share).sum::<f64>().max(1.0);
        let mut from = 0.0;
        let band = |colour: &'a Colour| {
            let wide = 100.0 * colour.share / whole;
            // A little overlap, so that no seam shows where bands touch.
            let band = Band {
                from: format!("{from:.2}"),
                wide: format!("{:.2}", wide + 0.1),
                srgb: &colour.srgb,
            };
            from += wide;
            band
        };
        self.colours.iter().map(band).collect()
    }
}

fn row<'a>(colour: &'a Colour, messages: &Messages) -> Row<'a> {
    Row {
        colour,
        share: messages.percent(colour.share),
        numbers: colour.numbers(messages),
    }
}
