//! From a table's cells to patches with their true colours.

use super::cgats::{Parts, Row, Table, parts};
use super::{Chart, Patch};
use crate::colour::{D65, Lab, White, Xyz, apply, bradford, reflectance_to_xyz, white_of};
use crate::error::{Caution, Error, Result};
use palette::convert::FromColorUnclamped;
use std::collections::BTreeMap;

/// The most rows and columns of a chart, and the fewest patches that tell a light.
const MOST: usize = 64;
const FEWEST: usize = 6;

/// A spectrum counts where it reaches this far down and up and has no wider step, nm.
const REACH: (f64, f64, f64) = (430.0, 670.0, 25.0);

/// What a table gives of a patch's colour.
enum Given {
    /// The columns of a spectrum with their wavelengths, nm, rising.
    Spectrum(Vec<(usize, f64)>),
    /// The columns of L\*, a\*, b\*.
    Lab([usize; 3]),
    /// The columns of X, Y, Z.
    Xyz([usize; 3]),
}

/// The light and observer under which Lab and XYZ are given.
struct Viewing {
    white: White,
    ten: bool,
}

impl Chart {
    /// Reads a chart's CGATS.17 file (ISO 28178); `name` is what sentences call it.
    ///
    /// `SAMPLE_ID` is a letter for the row and a number for the column, A1 top left. Colours are spectra (`SPECTRAL_NM…`,
    /// preferred: nothing is lost), CIELAB or XYZ; the latter two under the illuminant and observer that `WEIGHTING_FUNCTION`
    /// names, else D50 and 2° as ISO 13655 has it, and are led to D65 by the linear Bradford adaptation.
    ///
    /// # Errors
    /// `Kind::File` with one sentence where it is no such file, a value is no number or no colour, or a place comes twice.
    pub fn parse(text: &str, name: &str) -> Result<Self> {
        let parts = parts(text, name)?;
        let mut best: BTreeMap<(usize, usize), (u8, Patch)> = BTreeMap::new();
        let mut ten_degrees = false;
        for table in &parts.tables {
            let Some(ids) = id_column(table) else {
                continue;
            };
            let Some(given) = given(table) else { continue };
            let (rank, viewing) = match given {
                Given::Spectrum(_) => (0, None),
                Given::Lab(_) => (1, Some(viewing(&parts, name)?)),
                Given::Xyz(_) => (2, Some(viewing(&parts, name)?)),
            };
            ten_degrees |= viewing.as_ref().is_some_and(|v| v.ten);
            for (place, patch) in patches(table, ids, &given, viewing.as_ref(), name)? {
                let known = best.get(&place).map(|(rank, _)| *rank);
                if known.is_none_or(|known| rank < known) {
                    best.insert(place, (rank, patch));
                }
            }
        }
        let patches: Vec<Patch> = best.into_values().map(|(_, patch)| patch).collect();
        whole(&parts, &patches, name)?;
        Ok(Self {
            name: name.to_owned(),
            cautions: ten_degrees
                .then(|| ten_degree_caution(name))
                .into_iter()
                .chain(without_white(&patches, name))
                .collect(),
            rows: 1 + patches.iter().map(|p| p.row).max().unwrap_or_default(),
            columns: 1 + patches.iter().map(|p| p.column).max().unwrap_or_default(),
            patches,
        })
    }
}

/// Whether there is a chart in the file at all.
fn whole(parts: &Parts, patches: &[Patch], name: &str) -> Result<()> {
    let wrong = if parts.tables.is_empty() {
        "is not a chart's file: it has no table of values between BEGIN_DATA and END_DATA (CGATS.17); ask the chart's maker for its reference file"
    } else if patches.is_empty() {
        "has no patches that can be used: it needs SAMPLE_ID (A1, A2, …: a letter for the row, a number for the column) and LAB_L, LAB_A, LAB_B or spectra; ask the chart's maker for such a file"
    } else if patches.len() < FEWEST {
        "has fewer than 6 patches, too few to tell the light; take a chart with more"
    } else {
        return Ok(());
    };
    Err(Error::file(format!("{name} {wrong}.")))
}

/// The lightest patch of a chart is at least this light, Y by the perfect diffuser: L\* 80.
const WHITE: f64 = 0.57;

fn without_white(patches: &[Patch], name: &str) -> Option<Caution> {
    let dark = patches.iter().all(|patch| patch.xyz.y < WHITE);
    dark.then(|| {
        Caution::new(
            "chart-dark",
            format!("No patch of {name} is near white, so either its values are wrong or light cloth is told by guess; check the file."),
        )
    })
}

fn ten_degree_caution(name: &str) -> Caution {
    Caution::new(
        "chart-observer",
        format!(
            "The colours in {name} are for the 10° observer and are used as if for the 2° one, which can cost about 1 to 2 in colour; a file with spectra, or with 2° values, is better."
        ),
    )
}

/// The column of places: `SAMPLE_ID`, else `SAMPLE_NAME`, else any other, whichever holds nothing but places.
fn id_column(table: &Table) -> Option<usize> {
    let fits = |&column: &usize| {
        table
            .rows
            .iter()
            .all(|row| place(&row.cells[column]).is_some())
    };
    let named = ["SAMPLE_ID", "SAMPLE_NAME"];
    let first = named.iter().filter_map(|name| column(table, name));
    first.chain(0..table.fields.len()).find(fits)
}

/// Row and column, from 0, of a place such as `B3` or `AA12`.
fn place(id: &str) -> Option<(usize, usize)> {
    let digits = id.find(|c: char| c.is_ascii_digit())?;
    let (letters, number) = id.split_at(digits);
    if letters.is_empty() || letters.len() > 2 || !letters.bytes().all(|c| c.is_ascii_alphabetic())
    {
        return None;
    }
    let row = letters.bytes().fold(0, |row, c| {
        26 * row + usize::from(c.to_ascii_uppercase() - b'A') + 1
    });
    let column: usize = number.parse().ok()?;
    (row <= MOST && (1..=MOST).contains(&column)).then(|| (row - 1, column - 1))
}

fn column(table: &Table, name: &str) -> Option<usize> {
    table.fields.iter().position(|field| field == name)
}

fn given(table: &Table) -> Option<Given> {
    let three = |names: [&str; 3]| {
        let [a, b, c] = names.map(|name| column(table, name));
        Some([a?, b?, c?])
    };
    spectrum(table)
        .map(Given::Spectrum)
        .or_else(|| three(["LAB_L", "LAB_A", "LAB_B"]).map(Given::Lab))
        .or_else(|| three(["XYZ_X", "XYZ_Y", "XYZ_Z"]).map(Given::Xyz))
}

fn spectrum(table: &Table) -> Option<Vec<(usize, f64)>> {
    let mut bands: Vec<(usize, f64)> = table
        .fields
        .iter()
        .enumerate()
        .filter_map(|(column, field)| Some((column, wavelength(field)?)))
        .collect();
    bands.sort_by(|a, b| a.1.total_cmp(&b.1));
    bands.dedup_by(|a, b| a.1 == b.1);
    let (low, high, step) = REACH;
    let fine = bands.windows(2).all(|pair| pair[1].1 - pair[0].1 <= step);
    let wide = bands.first()?.1 <= low && bands.last()?.1 >= high;
    (fine && wide).then_some(bands)
}

fn wavelength(field: &str) -> Option<f64> {
    let prefixes = ["SPECTRAL_NM", "SPECTRAL", "NM"];
    let rest = prefixes
        .iter()
        .find_map(|prefix| field.strip_prefix(prefix))?;
    let nm: f64 = rest.trim_start_matches('_').parse().ok()?;
    (200.0..=1200.0).contains(&nm).then_some(nm)
}

fn viewing(parts: &Parts, name: &str) -> Result<Viewing> {
    let said = |what: &str| {
        parts.keywords.iter().find_map(|(key, value)| {
            let value = value.to_ascii_uppercase();
            let spaced = value.replace([',', ';', '='], " ");
            let mut words = spaced.split_whitespace().map(str::to_owned);
            let about = key == what
                || (key == "WEIGHTING_FUNCTION" && words.next().as_deref() == Some(what));
            about.then(|| words.collect::<Vec<_>>().join(" "))
        })
    };
    let ten = said("OBSERVER").is_some_and(|observer| observer.starts_with("10"));
    let illuminant = said("ILLUMINANT")
        .filter(|i| !i.is_empty())
        .unwrap_or_else(|| "D50".to_owned());
    let short = illuminant.split(' ').next().unwrap_or_default();
    let white = white_of(short, ten).ok_or_else(|| {
        Error::file(format!(
            "{name} gives its colours under “{illuminant}”, which is not known here; export it with D50 or D65, or with spectra."
        ))
    })?;
    Ok(Viewing { white, ten })
}

fn patches(
    table: &Table,
    ids: usize,
    given: &Given,
    viewing: Option<&Viewing>,
    name: &str,
) -> Result<BTreeMap<(usize, usize), Patch>> {
    let scale = scale(table, given);
    let mut found = BTreeMap::new();
    for row in &table.rows {
        let id = row.cells[ids].trim().to_ascii_uppercase();
        let Some(place) = place(&id) else { continue };
        let xyz = colour(row, given, scale, viewing, name)?;
        let line = row.line;
        let patch = Patch {
            id: id.clone(),
            row: place.0,
            column: place.1,
            xyz,
        };
        if found.insert(place, patch).is_some() {
            return Err(Error::file(format!(
                "Line {line} of {name} gives {id} a second time; leave one of the two."
            )));
        }
    }
    Ok(found)
}

/// What values are divided by so that a perfect diffuser is 1: 100 where they are percent.
fn scale(table: &Table, given: &Given) -> f64 {
    let largest = |columns: &mut dyn Iterator<Item = usize>| {
        let all = columns.flat_map(|c| {
            table
                .rows
                .iter()
                .filter_map(move |row| number(&row.cells[c]))
        });
        all.fold(0.0, f64::max)
    };
    let largest = match given {
        Given::Lab(_) => return 1.0,
        Given::Spectrum(bands) => largest(&mut bands.iter().map(|(c, _)| *c)),
        Given::Xyz([_, y, _]) => largest(&mut std::iter::once(*y)),
    };
    if largest > 2.0 { 100.0 } else { 1.0 }
}

fn colour(
    row: &Row,
    given: &Given,
    scale: f64,
    viewing: Option<&Viewing>,
    name: &str,
) -> Result<Xyz> {
    let value = |column: usize| {
        let cell = &row.cells[column];
        number(cell).ok_or_else(|| {
            Error::file(format!(
                "Line {} of {name} has “{}” where a number belongs; mend it there, or export the chart's file again.",
                row.line,
                cell.escape_debug()
            ))
        })
    };
    let three = |[a, b, c]: [usize; 3]| Ok([value(a)?, value(b)?, value(c)?]);
    let under = |xyz: [f64; 3]| match viewing {
        Some(Viewing { white, .. }) => apply(bradford(*white, D65), xyz),
        None => xyz,
    };
    let xyz = match given {
        Given::Spectrum(bands) => {
            let point = |&(column, nm): &(usize, f64)| Ok([nm, value(column)? / scale]);
            reflectance_to_xyz(&bands.iter().map(point).collect::<Result<Vec<_>>>()?)
        }
        Given::Lab(columns) => {
            let [l, a, b] = three(*columns)?;
            let relative = Xyz::from_color_unclamped(Lab::new(l, a, b));
            let [x, y, z] = [relative.x, relative.y, relative.z];
            let white = viewing.map_or(D65, |v| v.white);
            under([
                x / D65[0] * white[0],
                y / D65[1] * white[1],
                z / D65[2] * white[2],
            ])
        }
        Given::Xyz(columns) => under(three(*columns)?.map(|v| v / scale)),
    };
    let believable = xyz.iter().all(|v| (-0.05..=1.6).contains(v));
    if !believable {
        return Err(Error::file(format!(
            "Line {} of {name} gives a colour that no patch has; check its numbers.",
            row.line
        )));
    }
    let [x, y, z] = xyz.map(|v| v.max(0.0));
    Ok(Xyz::new(x, y, z))
}

/// A number with a point or a decimal comma.
fn number(cell: &str) -> Option<f64> {
    let value: f64 = cell.trim().replace(',', ".").parse().ok()?;
    value.is_finite().then_some(value)
}
