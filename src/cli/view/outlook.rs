use super::reading::{cells, strip};
use crate::ask::{Outlook, whole};
use crate::change::Foreseen;
use crate::words;
use std::io::{self, Write};

/// What a wet piece will look like dry: both strips, then each colour with its bands.
pub(in crate::cli) fn outlook(
    out: &mut dyn Write,
    colour: bool,
    outlook: &Outlook,
) -> io::Result<()> {
    let (told, rests) = outlook.in_words();
    writeln!(out, "{}", super::wrapped(&told, "", ""))?;
    let colours = &outlook.swatches;
    if colour {
        for (name, of) in [("wet", wet as fn(&Foreseen) -> _), ("dry", dry)] {
            writeln!(
                out,
                "  {name}  {}",
                strip(colours.iter().map(|c| (of(c), c.share)))
            )?;
        }
    }
    for one in colours {
        writeln!(out, "{}", lines(one, colour))?;
    }
    writeln!(out, "{}", super::wrapped(&rests, "", ""))?;
    super::cautions(out, &outlook.cautions)
}

fn wet(colour: &Foreseen) -> crate::colour::Lab {
    colour.wet
}

fn dry(colour: &Foreseen) -> crate::colour::Lab {
    colour.dry
}

/// One colour in two lines: blocks, share, the word it will bear, how light it is wet; below it its dry CIELAB and from where to
/// where each number may lie.
fn lines(colour: &Foreseen, blocks: bool) -> String {
    let blocks = match blocks {
        true => format!("{}{} ", cells(colour.wet, 3), cells(colour.dry, 3)),
        false => String::new(),
    };
    // A quarter of the band of lightness is one standard deviation.
    let word = words::word(colour.dry, (colour.high.l - colour.low.l) / 4.0).text;
    let Foreseen { dry, low, high, .. } = colour;
    let range = |name: &str, dry: f64, low: f64, high: f64| {
        let [dry, low, high] = [dry, low, high].map(whole);
        format!("{name} {dry:.0} ({low:.0} to {high:.0})")
    };
    format!(
        "  {blocks}{:>4.0} %  {word}\n           wet L* {:.0}, dry {}  {}  {}",
        100.0 * colour.share,
        whole(colour.wet.l),
        range("L*", dry.l, low.l, high.l),
        range("a*", dry.a, low.a, high.a),
        range("b*", dry.b, low.b, high.b),
    )
}
