use crate::error::visible;
use crate::journal::Degrees;
use crate::journal::record::{Bath, Heat, HeatKind, Piece, Round, Setting, Soak, StrengthUnit};
use crate::sheet;
use std::io::{self, Write};

/// A piece's cloth and rounds with the baths it was in, temperatures in the studio's unit.
pub(in crate::cli) fn piece(
    out: &mut dyn Write,
    piece: &Piece,
    baths: &[Bath],
    degrees: Degrees,
) -> io::Result<()> {
    let cloth = cloth(piece);
    let name = [piece.code.as_str(), cloth.as_str()];
    writeln!(
        out,
        "{}",
        name.iter()
            .filter(|part| !part.is_empty())
            .map(|part| visible(part))
            .collect::<Vec<_>>()
            .join(": ")
    )?;
    for round in &piece.rounds {
        writeln!(out, "  {}", visible(&heading(round)))?;
        for (name, value) in settings(round, degrees) {
            let line = visible(&format!("{name:<14}{value}"));
            writeln!(out, "    {line}")?;
        }
        let made = round.made.as_deref();
        for bath in round
            .soaks
            .iter()
            .filter_map(|soak| sheet::bath_told(baths, soak, made))
        {
            writeln!(
                out,
                "{}",
                super::wrapped(&bath, "    bath          ", "                  ")
            )?;
        }
    }
    if let Some(remarks) = &piece.remarks {
        writeln!(out, "{}", super::wrapped(remarks, "  ", "  "))?;
    }
    Ok(())
}

fn cloth(piece: &Piece) -> String {
    let size = piece
        .width_cm
        .zip(piece.length_cm)
        .map(|(width, length)| format!("{} × {} cm", number(width), number(length)));
    let parts = [
        piece.fibre.clone(),
        piece.weave.clone(),
        piece.gsm.map(|gsm| format!("{gsm:.0} g/m²")),
        size,
        piece.dry_g.map(|grams| format!("{grams:.1} g dry")),
        piece.status.clone(),
        piece.price.map(|price| format!("price {}", number(price))),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn heading(round: &Round) -> String {
    let parts = [
        Some(format!("Round {}", round.round)),
        round.made.clone(),
        round
            .bundle
            .as_ref()
            .map(|bundle| format!("bundle {bundle}")),
        round.pot.as_ref().map(|pot| format!("pot {pot}")),
        round.layer.map(|layer| format!("layer {layer}")),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn settings(round: &Round, degrees: Degrees) -> Vec<(String, String)> {
    let soaks = round.soaks.iter().map(soak).collect::<Vec<_>>().join(" > ");
    let plants = round.plants.iter().map(|plant| match plant.how.is_empty() {
        true => plant.name.clone(),
        false => format!("{} ({})", plant.name, plant.how.join(", ")),
    });
    let mut lines = vec![
        ("mordant".to_owned(), soaks),
        ("plants".to_owned(), plants.collect::<Vec<_>>().join("; ")),
    ];
    lines.extend(
        round
            .heat
            .as_ref()
            .map(|heat| ("heat".to_owned(), warmth(heat, degrees))),
    );
    lines.extend(
        round
            .settings
            .iter()
            .map(|(name, value)| (name.clone(), setting(value))),
    );
    lines.retain(|(_, value)| !value.is_empty());
    lines
}

fn soak(soak: &Soak) -> String {
    let strength = soak.strength.map(|strength| match soak.unit {
        Some(StrengthUnit::GramsPerLitre) => format!(" {} g/L", number(strength)),
        Some(StrengthUnit::PercentOfFibre) => {
            format!(" {}% of the weight of fibre", number(strength))
        }
        None => format!(" {}", number(strength)),
    });
    let on = soak.on.as_ref().map(|on| format!(" on {on}"));
    let bath = soak.bath.as_ref().map(|bath| format!(" in bath {bath}"));
    format!(
        "{}{}{}{}",
        soak.mordant,
        strength.unwrap_or_default(),
        bath.unwrap_or_default(),
        on.unwrap_or_default()
    )
}

fn warmth(heat: &Heat, degrees: Degrees) -> String {
    let kind = heat.kind.map_or("heat", HeatKind::word);
    let range = match (heat.low_c, heat.high_c) {
        (Some(low), Some(high)) if low != high => {
            Some(format!(" {}", degrees.show_range(low, high)))
        }
        (low, high) => low.or(high).map(|only| format!(" {}", degrees.show(only))),
    };
    let time = heat
        .minutes
        .map(|minutes| format!(", {} min", number(minutes)));
    format!(
        "{kind}{}{}",
        range.unwrap_or_default(),
        time.unwrap_or_default()
    )
}

fn setting(value: &Setting) -> String {
    match value {
        Setting::Number(value) => number(*value),
        Setting::Text(text) => text.clone(),
    }
}

/// A number without needless noughts.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
