//! How a bundle looks that is being written down.

use super::bundles::Chips;
use super::deed::Done;
use super::form::Form;
use super::known::waiting;
use super::layer::Layer;
use crate::care;
use crate::error::{Caution, Result, capital};
use crate::journal::record::{Heat, HeatKind, Piece, Round};
use crate::journal::{Degrees, Journal};
use crate::sheet;
use askama::Template;
use jiff::civil::Date;

/// A bundle that is being written down.
#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>{{ self.heading() }}</h1>
{% if !like.is_empty() %}<p class="soft">As {{ like }} was. Change what is different, then write it down at the end.</p>{% endif %}
<p><a href="/pot">Back to Pot</a></p></header>
<p id="told" role="status" class="unseen"></p>
<form id="bundle" method="post" action="/pot/bundle" class="roll" data-told="{{ done.told }}" autocomplete="off">
<button name="deed" value="look" class="unseen" tabindex="-1" aria-hidden="true">Look it over</button>
<input type="hidden" name="of" value="{{ form.of }}"><input type="hidden" name="based_on" value="{{ form.based_on }}">
{% if !refused.is_empty() %}<div class="refused" role="alert" id="refused"><p><strong>Not written down yet; nothing of it is saved.</strong></p>
<ul>{% for why in refused %}<li>{{ why }}</li>{% endfor %}</ul></div>{% endif %}
<div class="facts">
<p class="field"><label for="name">Bundle</label><input id="name" name="bundle" value="{{ form.bundle }}" required maxlength="60"></p>
<p class="field"><label for="made">Day</label><input id="made" name="made" type="date" value="{{ form.made }}"></p>
<p class="field"><label for="pot">Pot <span class="soft">(if bundles share it)</span></label><input id="pot" name="pot" value="{{ form.pot }}" maxlength="60"></p>
</div>
<fieldset><legend>Heat</legend><div class="chips">
{% for kind in HEATS %}<label><input type="radio" name="heat" value="{{ kind }}"{% if form.heat == *kind %} checked{% endif %}>{{ kind }}</label>
{% endfor %}<label><input type="radio" name="heat" value=""{% if form.heat.is_empty() %} checked{% endif %}>not known</label></div>
<div class="facts">
<p class="field"><label for="low">Lowest, {{ sign }}</label><input id="low" name="low" inputmode="decimal" value="{{ form.low }}"></p>
<p class="field"><label for="high">Highest, {{ sign }}</label><input id="high" name="high" inputmode="decimal" value="{{ form.high }}"></p>
<p class="field"><label for="minutes">Minutes</label><input id="minutes" name="minutes" inputmode="numeric" value="{{ form.minutes }}"></p>
</div></fieldset>
<section aria-labelledby="layers"><h2 id="layers">Layers, the first next to the stick</h2>
{% for layer in form.layers %}{% let n = loop.index0 %}<details class="layer" id="layer-{{ n }}"{% if self.is_open(loop.index0) %} open{% endif %}>
<summary><span class="state">{{ layer.layer }}</span> <strong>{{ layer.code }}</strong> <span>{% if layer.mordant.is_empty() %}no mordant{% else %}{{ layer.mordant }}{% endif %}</span> <span class="soft">{{ layer.plants }}</span></summary>
<div class="facts">
<p class="field"><label for="code-{{ n }}">Code</label><input id="code-{{ n }}" name="code" value="{{ layer.code }}" required maxlength="32" autocapitalize="characters" list="waiting"></p>
<p class="field"><label for="layer-no-{{ n }}">Layer</label><input id="layer-no-{{ n }}" name="layer" inputmode="numeric" value="{{ layer.layer }}"></p>
<p class="field"><label for="round-{{ n }}">Round <span class="soft">(2 if bundled again)</span></label><input id="round-{{ n }}" name="round" inputmode="numeric" value="{{ layer.round }}"></p>
</div>
<input type="hidden" name="known" value="{{ layer.known }}">
<fieldset><legend>Mordants, in the order of the baths</legend><div class="chips">
{% for name in chips.soaks %}<button class="chip" name="deed" value="soak {{ n }} {{ name }}" id="soak-{{ n }}-{{ loop.index0 }}" formnovalidate aria-pressed="{% if let Some(_) = layer.place_of_soak(name) %}true{% else %}false{% endif %}">{{ name }}{% if let Some(place) = layer.place_of_soak(name) %} <span class="order"><span class="unseen">bath </span>{{ place }}</span>{% endif %}</button>
{% endfor %}</div>
<p class="field"><label for="mordant-{{ n }}">In words <span class="soft">(alum 12% &gt; iron 2%)</span></label><input id="mordant-{{ n }}" name="mordant" value="{{ layer.mordant }}" maxlength="400" autocapitalize="none"></p></fieldset>
<fieldset><legend>Plants</legend><div class="chips">
{% for name in chips.plants %}<button class="chip" name="deed" value="plant {{ n }} {{ name }}" id="plant-{{ n }}-{{ loop.index0 }}" formnovalidate aria-pressed="{{ layer.has_plant(name) }}">{{ name }}</button>
{% endfor %}</div>
<p class="field"><label for="plants-{{ n }}">In words <span class="soft">(walnut [fresh]; birch)</span></label><input id="plants-{{ n }}" name="plants" value="{{ layer.plants }}" maxlength="400" autocapitalize="none"></p></fieldset>
<div class="facts">
<p class="field"><label for="fibre-{{ n }}">Fibre</label><input id="fibre-{{ n }}" name="fibre" value="{{ layer.fibre }}" list="fibres" autocapitalize="none"></p>
<p class="field"><label for="weave-{{ n }}">Weave</label><input id="weave-{{ n }}" name="weave" value="{{ layer.weave }}" list="weaves" autocapitalize="none"></p>
<p class="field"><label for="width-{{ n }}">Width, cm</label><input id="width-{{ n }}" name="width_cm" inputmode="decimal" value="{{ layer.width_cm }}"></p>
<p class="field"><label for="length-{{ n }}">Length, cm</label><input id="length-{{ n }}" name="length_cm" inputmode="decimal" value="{{ layer.length_cm }}"></p>
<p class="field"><label for="gsm-{{ n }}">Weight, g/m² <span class="soft">(or 12 momme)</span></label><input id="gsm-{{ n }}" name="gsm" value="{{ layer.gsm }}"></p>
</div>
<p class="deeds">{% if !loop.first %}<button class="quiet" name="deed" value="as {{ n }}" id="as-{{ n }}" formnovalidate>Mordants and plants as the layer before</button>{% endif %}
{% if !layer.known.is_empty() || form.layers.len() > 1 %}<button class="quiet" name="deed" value="drop {{ n }}" id="drop-{{ n }}" formnovalidate>Take this layer out</button>{% endif %}</p>
</details>
{% endfor %}{% if form.layers.is_empty() %}<p class="empty">No layer is left. Written down like this, the bundle is taken out of the journal; photos stay.</p>{% endif %}
<p class="deeds"><button class="quiet" name="deed" value="add" id="add" formnovalidate>Add a layer</button></p>
</section>
<details class="more"{% if self.has_settings() %} open{% endif %}><summary>More of this bundle</summary><div class="facts">
{% for (name, value) in form.settings %}<p class="field"><label for="setting-{{ loop.index0 }}">{{ self.setting_word(name) }}</label><input type="hidden" name="setting" value="{{ name }}"><input id="setting-{{ loop.index0 }}" name="value" value="{{ value }}"></p>
{% endfor %}</div></details>
<section id="mind" aria-labelledby="mind-head"><h2 id="mind-head">Please mind</h2>
{% if !odd.is_empty() %}<ul class="odd" id="odd">{% for odd in odd %}<li><strong>{{ odd }}</strong></li>{% endfor %}</ul>{% endif %}
{% if cautions.is_empty() %}<p class="soft">Nothing in particular for what is chosen so far.</p>{% endif %}
<ul class="cautions">{% for caution in cautions %}<li>{{ caution.text }}</li>{% endfor %}</ul>
<details><summary>What holds for every salt, pot and plant</summary><ul class="cautions">{% for caution in always %}<li>{{ caution.text }}</li>{% endfor %}</ul></details>
</section>
<p class="deeds last"><button name="deed" value="write" id="write">Write it down</button></p>
<datalist id="waiting">{% for code in waiting %}<option value="{{ code }}">{% endfor %}</datalist>
<datalist id="fibres">{% for name in chips.fibres %}<option value="{{ name }}">{% endfor %}</datalist>
<datalist id="weaves">{% for name in chips.weaves %}<option value="{{ name }}">{% endfor %}</datalist>
</form>"##
)]
pub(super) struct Roll {
    form: Form,
    chips: Chips,
    sign: &'static str,
    waiting: Vec<String>,
    /// The bundle whose settings are offered again.
    like: String,
    refused: Vec<String>,
    done: Done,
    /// What may be a slip.
    odd: Vec<String>,
    cautions: Vec<Caution>,
    always: Vec<Caution>,
}

/// What a journal gives to a bundle that is being written down.
pub(super) struct Beside {
    pub chips: Chips,
    pub degrees: Degrees,
    pub today: Date,
    /// Codes of pieces that wait for their first bundle.
    pub waiting: Vec<String>,
}

impl Beside {
    pub(super) fn of(journal: &Journal, pieces: &[Piece], today: Date) -> Result<Self> {
        Ok(Self {
            chips: Chips::of(pieces),
            degrees: Degrees::of(&journal.studio()?),
            today,
            waiting: waiting(pieces).map(str::to_owned).collect(),
        })
    }
}

/// What may be a slip of the fingers, a sentence each.
fn odd(form: &Form, beside: &Beside) -> Vec<String> {
    let mut found = Vec::new();
    let mut ask = |typed: &str, meant: Option<&str>| {
        let told = meant.map(|meant| {
            format!(
                "{} was never used before: did you mean {meant}?",
                capital(typed)
            )
        });
        found.extend(told.filter(|told| !found.contains(told)));
    };
    for layer in &form.layers {
        for soak in sheet::mordant(&layer.mordant).unwrap_or_default() {
            ask(&soak.mordant, beside.chips.meant_mordant(&soak.mordant));
        }
        for plant in sheet::plants(&layer.plants).unwrap_or_default() {
            ask(&plant.name, beside.chips.meant_plant(&plant.name));
        }
    }
    if form
        .made
        .parse()
        .is_ok_and(|made: Date| made > beside.today)
    {
        found.push(format!("The day {} is still to come.", form.made));
    }
    found
}

/// A bundle that was written down.
#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>{% if codes.is_empty() %}{{ bundle }} is taken out{% else %}{{ bundle }} is written down{% endif %}</h1></header>
<p>{% if new.is_empty() && changes.is_empty() %}It was there already, to the letter.{% else %}{{ codes.join(", ") }}{% if !new.is_empty() %}; new: {{ new.join(", ") }}{% endif %}.{% endif %}</p>
{% let many = changes.len() > FEW %}{% if !changes.is_empty() %}<details{% if !many %} open{% endif %}><summary>What is different now</summary><ul id="changes">{% for change in changes %}<li>{{ change }}</li>{% endfor %}</ul></details>{% endif %}
<p class="deeds">{% if !codes.is_empty() %}<a class="button" href="/market?pieces={{ codes.join(" ")|urlencode_strict }}" id="tags">Print their tags</a>{% endif %}
<a class="button quiet" href="/pot/bundle" id="next">Start another</a>
{% if !codes.is_empty() %}<a class="button quiet" href="/pot/bundle/{{ bundle|urlencode_strict }}">Look at it again</a>{% endif %}
<a class="button quiet" href="/pot">Back to Pot</a></p>
{% if !cautions.is_empty() %}<section aria-labelledby="mind"><h2 id="mind">Please mind</h2><ul class="cautions">{% for caution in cautions %}<li>{{ caution }}</li>{% endfor %}</ul></section>{% endif %}"##
)]
pub(super) struct Written {
    pub bundle: String,
    pub codes: Vec<String>,
    pub new: Vec<String>,
    pub changes: Vec<String>,
    pub cautions: Vec<String>,
}

/// So many changes are shown without being asked for.
const FEW: usize = 6;

const HEATS: [&str; 2] = ["simmer", "steam"];

impl Roll {
    pub(super) fn new(form: Form, beside: Beside) -> Self {
        let always = care::always();
        let mut cautions = cautions(&form, beside.degrees);
        cautions.retain(|caution| !always.contains(caution));
        Self {
            odd: odd(&form, &beside),
            form,
            chips: beside.chips,
            sign: beside.degrees.sign(),
            waiting: beside.waiting,
            like: String::new(),
            refused: Vec::new(),
            done: Done::default(),
            cautions,
            always,
        }
    }

    /// Offered as `bundle` was.
    pub(super) fn like(self, bundle: String) -> Self {
        Self {
            like: bundle,
            ..self
        }
    }

    /// After a touch.
    pub(super) fn after(self, done: Done) -> Self {
        Self { done, ..self }
    }

    /// With why it cannot be written.
    pub(super) fn refused(self, why: Vec<String>) -> Self {
        Self {
            refused: why,
            ..self
        }
    }

    pub(super) fn heading(&self) -> String {
        match self.form.of.as_str() {
            "" => "A new bundle".to_owned(),
            name => format!("Bundle {name}"),
        }
    }

    /// The layer that was touched lies open, or the first of a new bundle.
    fn is_open(&self, layer: &usize) -> bool {
        self.done.layer == Some(*layer) || self.form.layers.len() == 1
    }

    fn has_settings(&self) -> bool {
        self.form
            .settings
            .iter()
            .any(|(_, value)| !value.is_empty())
    }

    /// What a setting is called on the page.
    fn setting_word<'a>(&self, name: &'a str) -> &'a str {
        match name {
            "cool_h" => "Hours to cool in the bundle",
            "water_ph" => "pH of the water",
            "blanket" => "Blanket, such as wool iron 2%",
            "barrier" => "Barrier between layers",
            "cure_days" => "Days of rest before the first wash",
            "washed_on" => "Washed on (year-month-day)",
            own => own,
        }
    }
}

/// What to know of the salts, plants and heat that are typed, as far as they can be read; each once.
fn cautions(form: &Form, degrees: Degrees) -> Vec<Caution> {
    let kind = HeatKind::Steam.word() == form.heat;
    let typed = form.high.replace(',', ".").parse::<f64>().ok();
    let heat = Heat {
        kind: (!form.heat.is_empty()).then_some(if kind {
            HeatKind::Steam
        } else {
            HeatKind::Simmer
        }),
        high_c: typed.map(|typed| match degrees {
            Degrees::Celsius => typed,
            Degrees::Fahrenheit => (typed - 32.0) / 1.8,
        }),
        ..Heat::default()
    };
    let piece = |layer: &Layer| Piece {
        code: layer.code.clone(),
        fibre: Some(layer.fibre.to_lowercase()),
        rounds: vec![Round {
            round: 1,
            soaks: sheet::mordant(&layer.mordant).unwrap_or_default(),
            plants: sheet::plants(&layer.plants).unwrap_or_default(),
            heat: Some(heat.clone()),
            ..Round::default()
        }],
        ..Piece::default()
    };
    let mut found: Vec<Caution> = Vec::new();
    for caution in form
        .layers
        .iter()
        .flat_map(|layer| sheet::cautions(&piece(layer)))
    {
        // One piece that boils stands for all.
        let told = |one: &Caution| {
            *one == caution || one.code == "near-boil" && caution.code == "near-boil"
        };
        if !found.iter().any(told) {
            found.push(caution);
        }
    }
    found
}

impl Form {
    /// A bundle in one sentence.
    pub(super) fn in_words(&self) -> String {
        let layer = |layer: &Layer| {
            let parts = [&layer.mordant, &layer.plants]
                .into_iter()
                .filter(|part| !part.is_empty());
            let how: Vec<&str> = parts.map(String::as_str).collect();
            format!("{} ({})", layer.code, how.join("; "))
        };
        let layers: Vec<String> = self.layers.iter().map(layer).collect();
        format!(
            "{} of {}: {}; {} {} to {}, {} minutes",
            self.bundle,
            self.made,
            layers.join(", "),
            self.heat,
            self.low,
            self.high,
            self.minutes
        )
    }
}
