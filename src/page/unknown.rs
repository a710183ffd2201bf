//! A code that no piece has is asked back once: mistyped, it would make a piece that nobody wanted.

use askama::Template;

/// A code that no piece has.
#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>No piece is called {{ code }} yet</h1></header>
<p>Nothing is changed so far.{% if !near.is_empty() %} Did you mean one that is there?{% endif %}</p>
<form method="post" action="{{ action }}">
{% for (name, value) in fields %}<input type="hidden" name="{{ name }}" value="{{ value }}">
{% endfor %}{% if !near.is_empty() %}<p class="deeds">{% for code in near %}<button name="take" value="{{ code }}">It is {{ code }}</button>
{% endfor %}</p>{% endif %}
<p class="field"><label for="again">Write the code again, as it stands on the tag</label><input id="again" name="piece" value="{{ code }}" required maxlength="32" autocapitalize="characters" autocomplete="off"></p>
<p class="deeds"><button class="quiet" id="this">It is this</button></p>
<section aria-labelledby="new"><h2 id="new">Or is {{ code }} a new piece?</h2>
<p>Then it begins with this photo. What it was soaked in and rolled with is written down in Pot.</p>
<p class="deeds"><button name="take" value="{{ code }}" id="make" formnovalidate>Make {{ code }}</button> <a class="button quiet" href="{{ back }}">Change nothing</a></p></section>
</form>"##
)]
pub(super) struct Unknown {
    /// The code.
    pub code: String,
    /// Codes of pieces that are written nearly so.
    pub near: Vec<String>,
    /// Where the form goes.
    pub action: String,
    /// Its fields, but for the piece.
    pub fields: Vec<(&'static str, String)>,
    /// Where nothing is changed.
    pub back: String,
}
