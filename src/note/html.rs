//! A note as one page that needs nothing else: no script, nothing fetched.

use super::text::percent;
use super::{Colour, Note};
use askama::Template;
use base64::{Engine, engine::general_purpose::STANDARD};

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{ note.code }}</title>
<style>
{{ css|safe }}</style>
</head>
<body>
<main>
{% if let Some(jpeg) = picture %}<img class="piece" alt="The piece {{ note.code }}" src="data:image/jpeg;base64,{{ jpeg|safe }}">
{% endif %}<svg class="ribbon" viewBox="0 0 100 10" preserveAspectRatio="none" role="img" aria-label="The colours of the piece, as wide as their share of the cloth">
{% for band in bands %}<rect x="{{ band.from }}" width="{{ band.wide }}" height="10" fill="{{ band.srgb }}"/>
{% endfor %}</svg>
<header>
<h1>{{ note.code }}</h1>
{% if !note.cloth.is_empty() %}<p class="cloth">{{ note.cloth }}</p>
{% endif %}</header>
{% for warning in note.warnings %}<p class="warning">{{ warning }}</p>
{% endfor %}{% if !note.making.is_empty() %}<p class="making">{{ note.making }}</p>
{% endif %}<ul class="colours">
{% for colour in note.colours %}<li>
<svg viewBox="0 0 10 10" aria-hidden="true"><path d="M0 10V4Q0 0 4 0H10V6Q10 10 6 10Z" fill="{{ colour.srgb }}"/></svg>
<span class="word">{{ colour.word }}</span>
<span class="share">{{ self.percent(colour.share) }}</span>
<span class="lab">{{ self.numbers(colour) }}</span>
</li>
{% endfor %}</ul>
{% if note.rest > 0.0 %}<p class="rest">and {{ self.percent(note.rest) }} in traces of other colours</p>
{% endif %}<section>
<h2>How sure</h2>
<p>{{ note.trust }}</p>
<h2>On screens</h2>
<p>{{ note.screens }}</p>
<h2>Care</h2>
<p>{{ note.care }}</p>
</section>
<footer>Written with Filemot</footer>
</main>
</body>
</html>
"##
)]
struct Page<'a> {
    note: &'a Note,
    css: &'static str,
    bands: Vec<Band<'a>>,
    picture: Option<String>,
}

/// A colour's place on the ribbon, in per cent of its length.
struct Band<'a> {
    from: String,
    wide: String,
    srgb: &'a str,
}

impl Note {
    /// The note as one page of HTML, its style, colours and picture inside it; made to be printed on A5.
    pub fn html(&self) -> String {
        let page = Page {
            note: self,
            css: include_str!("note.css"),
            bands: self.bands(),
            picture: self.picture.as_ref().map(|jpeg| STANDARD.encode(jpeg)),
        };
        page.render().expect("writing to memory does not fail")
    }

    fn bands<'a>(&'a self) -> Vec<Band<'a>> {
        let whole: f64 = self.ribbon.iter().map(|(_, share)| share).sum();
        let mut from = 0.0;
        let band = |(srgb, share): &'a (String, f64)| {
            let wide = 100.0 * share / whole;
            // Half a per cent of overlap, so that no seam shows where bands touch.
            let band = Band {
                from: format!("{from:.2}"),
                wide: format!("{:.2}", wide + 0.5),
                srgb,
            };
            from += wide;
            band
        };
        self.ribbon.iter().map(band).collect()
    }
}

impl Page<'_> {
    fn percent(&self, share: &f64) -> String {
        percent(*share)
    }

    fn numbers(&self, colour: &Colour) -> String {
        let lab = colour.lab;
        format!("L* {:.0}  a* {:.0}  b* {:.0}", lab.l, lab.a, lab.b)
    }
}
