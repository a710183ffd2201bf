//! Drawings as PDF.

use super::{Drawing, Face, Part, Placed, Rgb8, Shape, Stroke, Text};
use crate::error::{Error, Result};
use krilla::color::{Color, luma, rgb};
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, SpanTag, TableHeaderScope, Tag, TagGroup,
    TagKind, TagTree,
};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};
use std::num::NonZeroU16;

/// Points of a PDF (1/72 inch) to a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// What a PDF says of itself.
#[derive(Clone, Copy, Debug)]
pub struct About<'a> {
    /// What a reader's window is called.
    pub title: &'a str,
    /// The language by BCP 47: `en`.
    pub language: &'a str,
}

/// Drawings as one PDF, each a page of its own size; at least one. Colours are the printer's own, so that black is its black ink.
pub fn pdf(pages: &[Drawing]) -> Result<Vec<u8>> {
    written(pages, Document::new())
}

/// Drawings as one PDF to be looked at for its colours: all of them are said to be sRGB.
pub fn document(pages: &[Drawing], about: &About) -> Result<Vec<u8>> {
    let mut document = Document::new_with(SerializeSettings {
        no_device_cs: true,
        ..SerializeSettings::default()
    });
    let metadata = Metadata::new()
        .title(about.title.to_owned())
        .language(about.language.to_owned());
    document.set_metadata(metadata);
    written(pages, document)
}

fn written(pages: &[Drawing], mut document: Document) -> Result<Vec<u8>> {
    let broken = || {
        Error::machine("The PDF could not be made, since a page has no size; choose .svg instead.")
    };
    if pages.is_empty() {
        return Err(Error::machine(
            "There is nothing to print, so no PDF was made; name what is to go on it.",
        ));
    }
    let fonts = Fonts::new()?;
    let mut tree = TagTree::new();
    for page in pages {
        let size = [page.width, page.height].map(|mm| (mm * POINTS) as f32);
        let settings = PageSettings::from_wh(size[0], size[1]).ok_or_else(broken)?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        surface.push_transform(&Transform::from_scale(POINTS as f32, POINTS as f32));
        for picture in &page.pictures {
            tree.push(lay(&mut surface, picture)?);
        }
        for part in structure(parts(&mut surface, &page.shapes, &fonts)) {
            tree.push(part);
        }
        surface.pop();
        surface.finish();
        sheet.finish();
    }
    document.set_tag_tree(tree);
    document
        .finish()
        .map_err(|_| Error::machine("The PDF could not be made; choose .svg instead."))
}

/// Draws a picture as a figure that says what it shows.
fn lay(surface: &mut Surface, picture: &Placed) -> Result<TagGroup> {
    let unreadable =
        || Error::machine("A picture could not be put into the PDF; choose .png or .svg instead.");
    let [x, y] = picture.corner.map(|mm| mm as f32);
    let [width, height] = picture.size.map(|mm| mm as f32);
    let size = Size::from_wh(width, height).ok_or_else(unreadable)?;
    let image = Image::from_jpeg(picture.jpeg.clone().into(), true).map_err(|_| unreadable())?;
    let part = surface.start_tagged(ContentTag::Other);
    surface.push_transform(&Transform::from_translate(x, y));
    surface.draw_image(image, size);
    surface.pop();
    surface.end_tagged();
    let mut figure = TagGroup::new(Tag::Figure(Some(picture.says.clone())));
    figure.push(part);
    Ok(figure)
}

/// Every typeface, regular and bold.
struct Fonts(Vec<(Face, bool, Font)>);

impl Fonts {
    fn new() -> Result<Self> {
        let load = |(face, bold): (Face, bool)| {
            let font = Font::new(face.data(bold).into(), 0).ok_or_else(|| {
                Error::machine("The typeface inside the program is damaged; install filemot again.")
            })?;
            Ok((face, bold, font))
        };
        let all = Face::ALL
            .into_iter()
            .flat_map(|face| [(face, false), (face, true)]);
        all.map(load).collect::<Result<_>>().map(Self)
    }

    fn of(&self, face: Face, bold: bool) -> Option<&Font> {
        let found = self.0.iter().find(|font| (font.0, font.1) == (face, bold));
        found.map(|(.., font)| font)
    }
}

/// A part of the text with the places of its lines, and what it says.
struct Told {
    part: Part,
    lines: Vec<Identifier>,
    words: String,
}

impl Told {
    fn new(part: Part) -> Self {
        Self {
            part,
            lines: Vec::new(),
            words: String::new(),
        }
    }

    /// Its lines under a tag of the structure.
    fn tagged(self, tag: impl Into<TagKind>) -> TagGroup {
        let mut group = TagGroup::new(tag);
        for line in self.lines {
            group.push(line);
        }
        group
    }
}

/// Draws shapes in their order; what it gives back are the parts of the text that have any. What is drawn is said in words
/// elsewhere.
fn parts(surface: &mut Surface, shapes: &[Shape], fonts: &Fonts) -> Vec<Told> {
    let unmarked = !shapes.iter().any(|s| matches!(s, Shape::Begin(_)));
    let mut parts = vec![Told::new(Part::Paragraph)];
    for shape in shapes {
        match shape {
            Shape::Begin(part) => parts.push(Told::new(*part)),
            Shape::Text(text, _) => {
                let line = draw(surface, shape, ContentTag::Span(SpanTag::empty()), fonts);
                if let Some(part) = parts.last_mut() {
                    part.lines.push(line);
                    part.words += &text.text;
                }
            }
            Shape::Path { .. } | Shape::Circle { .. } => {
                let layout = Artifact::new(ArtifactType::Layout, None);
                draw(surface, shape, ContentTag::Artifact(layout), fonts);
                if unmarked {
                    parts.push(Told::new(Part::Paragraph));
                }
            }
        }
    }
    parts.retain(|part| !part.lines.is_empty());
    parts
}

/// Parts as the structure of a page (ISO 32000-1, 14.8.4): cells are gathered in their rows, and rows in their table.
fn structure(parts: Vec<Told>) -> Vec<TagGroup> {
    let mut all = Vec::new();
    let mut parts = parts.into_iter().peekable();
    let is_cell = |told: &Told| told.part == Part::Cell;
    while let Some(told) = parts.next() {
        match told.part {
            Part::Heading(level) => {
                let level = NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN);
                let words = told.words.clone();
                all.push(told.tagged(Tag::Hn(level, Some(words))));
            }
            Part::Paragraph => all.push(told.tagged(Tag::P)),
            Part::Row | Part::Cell => {
                let mut table = TagGroup::new(Tag::Table);
                let mut first = Some(told);
                while let Some(head) = first {
                    let mut row = TagGroup::new(Tag::TR);
                    row.push(head.tagged(Tag::TH(TableHeaderScope::Row)));
                    while let Some(cell) = parts.next_if(is_cell) {
                        row.push(cell.tagged(Tag::TD));
                    }
                    table.push(row);
                    first = parts.next_if(|told| told.part == Part::Row);
                }
                all.push(table);
            }
        }
    }
    all
}

/// Draws a shape; what it gives back is its place in the text.
fn draw(surface: &mut Surface, shape: &Shape, tag: ContentTag, fonts: &Fonts) -> Identifier {
    let part = surface.start_tagged(tag);
    paint(surface, shape, fonts);
    surface.end_tagged();
    part
}

fn paint(surface: &mut Surface, shape: &Shape, fonts: &Fonts) {
    let (path, fill, line) = match shape {
        Shape::Path {
            outlines,
            closed,
            fill,
            stroke,
        } => (path(outlines, *closed), *fill, *stroke),
        Shape::Circle {
            centre,
            radius,
            fill,
        } => (circle(*centre, *radius), Some(*fill), None),
        Shape::Text(text, face) => return write(surface, text, *face, fonts),
        Shape::Begin(_) => return,
    };
    if let Some(path) = path {
        surface.set_fill(fill.map(filled));
        surface.set_stroke(line.map(stroked));
        surface.draw_path(&path);
    }
}

fn write(surface: &mut Surface, text: &Text, face: Face, fonts: &Fonts) {
    let Some(font) = fonts.of(face, text.bold) else {
        return;
    };
    let glyphs: Vec<KrillaGlyph> = face
        .glyphs(&text.text, text.bold)
        .into_iter()
        .map(|g| {
            let advance = g.advance as f32;
            KrillaGlyph::new(GlyphId::new(g.id), advance, 0.0, 0.0, 0.0, g.bytes, None)
        })
        .collect();
    let start = Point::from_xy(text.start(face) as f32, text.at[1] as f32);
    surface.set_fill(Some(filled(text.colour)));
    surface.set_stroke(None);
    let size = text.size as f32;
    surface.draw_glyphs(start, &glyphs, font.clone(), &text.text, size, false);
}

fn path(outlines: &[Vec<[f64; 2]>], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for outline in outlines {
        for (i, &[x, y]) in outline.iter().enumerate() {
            if i == 0 {
                builder.move_to(x as f32, y as f32);
            } else {
                builder.line_to(x as f32, y as f32);
            }
        }
        if closed {
            builder.close();
        }
    }
    builder.finish()
}

/// A circle of four cubic curves; the handles are 4/3 tan(π/8) of the radius long, which stays within 0.03 % of it.
fn circle([x, y]: [f64; 2], r: f64) -> Option<Path> {
    let handle = r * 4.0 / 3.0 * (std::f64::consts::PI / 8.0).tan();
    let mut builder = PathBuilder::new();
    builder.move_to((x + r) as f32, y as f32);
    // Each quarter turns (right, down) by a right angle.
    let mut axes = [[1.0, 0.0], [0.0, 1.0]];
    for _ in 0..4 {
        let [[ux, uy], [vx, vy]] = axes;
        let at = |u: f64, v: f64| [(x + u * ux + v * vx) as f32, (y + u * uy + v * vy) as f32];
        let ([ax, ay], [bx, by], [cx, cy]) = (at(r, handle), at(handle, r), at(0.0, r));
        builder.cubic_to(ax, ay, bx, by, cx, cy);
        axes = [[vx, vy], [-ux, -uy]];
    }
    builder.close();
    builder.finish()
}

fn filled(colour: Rgb8) -> Fill {
    Fill {
        paint: ink(colour).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }
}

fn stroked(stroke: Stroke) -> krilla::paint::Stroke {
    krilla::paint::Stroke {
        paint: ink(stroke.colour).into(),
        width: stroke.width as f32,
        ..Default::default()
    }
}

/// Greys are given as grey, so that a printer takes its black ink and not a mixture.
fn ink(colour: Rgb8) -> Color {
    let (red, green, blue) = colour.into_components();
    if red == green && green == blue {
        luma::Color::new(red).into()
    } else {
        rgb::Color::new(red, green, blue).into()
    }
}
