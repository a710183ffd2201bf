//! SVG, PNG and PDF out: one vector [`Drawing`] in millimetres for tags, notes and plots, and pictures as PNG or JPEG.
//!
//! The same drawing always gives the same bytes: there is no clock and no chance in it. PDF and PNG carry their own
//! typeface, so that they come out the same on a machine without any; SVG asks for the reader's own sans serif.

mod font;
mod pdf;
mod raster;
mod svg;

pub use font::{Face, unwritable};
pub use pdf::{About, document, pdf};
pub use raster::{jpeg, narrowed, png};

use crate::error::Result;
use crate::picture::Picture;

/// A colour to draw with: sRGB, 8 bits a channel.
pub type Rgb8 = palette::Srgb<u8>;

/// Black.
pub const BLACK: Rgb8 = Rgb8::new(0, 0, 0);

/// White.
pub const WHITE: Rgb8 = Rgb8::new(255, 255, 255);

/// A page of shapes and pictures, in millimetres from its top left corner; later shapes lie over earlier ones.
#[derive(Clone, Debug)]
pub struct Drawing {
    width: f64,
    height: f64,
    pictures: Vec<Placed>,
    shapes: Vec<Shape>,
}

/// A picture laid under all shapes.
#[derive(Clone, Debug)]
struct Placed {
    corner: [f64; 2],
    size: [f64; 2],
    pixels: Picture<[u8; 3]>,
    /// The same as a file.
    jpeg: Vec<u8>,
    /// What it shows, for those who do not see it; empty where the text tells.
    says: String,
}

/// A line's colour and width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its colour.
    pub colour: Rgb8,
    /// Its width in mm.
    pub width: f64,
}

/// One line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// What it says; line breaks and other control characters are left out.
    pub text: String,
    /// Where it stands: on the baseline, at the start, middle or end of the line as `anchor` says. Millimetres.
    pub at: [f64; 2],
    /// The size of the type in mm: a capital is about 0.73 of it high.
    pub size: f64,
    /// Bold or regular.
    pub bold: bool,
    /// Which part of the line stands at `at`.
    pub anchor: Anchor,
    /// The colour of the type.
    pub colour: Rgb8,
}

/// Which part of a line of text a place is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its start.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// What lines of text are part of, for those who have a PDF read to them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A heading, 1 the highest.
    Heading(u16),
    /// A paragraph.
    Paragraph,
    /// The first cell of a new row of a table, which names the row.
    Row,
    /// Another cell of the row.
    Cell,
}

#[derive(Clone, Debug)]
enum Shape {
    Path {
        outlines: Vec<Vec<[f64; 2]>>,
        closed: bool,
        fill: Option<Rgb8>,
        stroke: Option<Stroke>,
    },
    Circle {
        centre: [f64; 2],
        radius: f64,
        fill: Rgb8,
    },
    Text(Text, Face),
    /// Draws nothing: the text from here on is part of this.
    Begin(Part),
}

impl Drawing {
    /// An empty white page, `width` by `height` mm.
    pub fn new(width: f64, height: f64) -> Self {
        Self {
            width,
            height,
            pictures: Vec::new(),
            shapes: Vec::new(),
        }
    }

    /// Its width in mm.
    pub fn width(&self) -> f64 {
        self.width
    }

    /// Its height in mm.
    pub fn height(&self) -> f64 {
        self.height
    }

    /// A picture in sRGB: its top left corner and its size. Pictures lie under all shapes.
    ///
    /// # Errors
    /// A picture without pixels.
    pub fn picture(
        &mut self,
        corner: [f64; 2],
        size: [f64; 2],
        pixels: Picture<[u8; 3]>,
    ) -> Result<()> {
        self.picture_of("", corner, size, pixels)
    }

    /// The same, with what it shows for those who do not see it.
    ///
    /// # Errors
    /// A picture without pixels.
    pub fn picture_of(
        &mut self,
        says: &str,
        corner: [f64; 2],
        size: [f64; 2],
        pixels: Picture<[u8; 3]>,
    ) -> Result<()> {
        let jpeg = jpeg(pixels.width, pixels.height, pixels.pixels.as_flattened())?;
        self.pictures.push(Placed {
            corner,
            size,
            pixels,
            jpeg,
            says: says.to_owned(),
        });
        Ok(())
    }

    /// A filled rectangle: its top left corner and its size.
    pub fn rectangle(&mut self, corner: [f64; 2], size: [f64; 2], fill: Rgb8) {
        self.rectangles(&[(corner, size)], fill);
    }

    /// Rectangles of one colour (top left corner, size) as one shape, so that no seam shows where they touch.
    pub fn rectangles(&mut self, all: &[([f64; 2], [f64; 2])], fill: Rgb8) {
        let outline = |&([x, y], [w, h]): &([f64; 2], [f64; 2])| {
            vec![[x, y], [x + w, y], [x + w, y + h], [x, y + h]]
        };
        self.shapes.push(Shape::Path {
            outlines: all.iter().map(outline).collect(),
            closed: true,
            fill: Some(fill),
            stroke: None,
        });
    }

    /// A line through two or more points.
    pub fn line(&mut self, points: &[[f64; 2]], stroke: Stroke) {
        self.shapes.push(Shape::Path {
            outlines: vec![points.to_vec()],
            closed: false,
            fill: None,
            stroke: Some(stroke),
        });
    }

    /// A closed outline, filled or stroked or both.
    pub fn polygon(&mut self, corners: &[[f64; 2]], fill: Option<Rgb8>, stroke: Option<Stroke>) {
        self.shapes.push(Shape::Path {
            outlines: vec![corners.to_vec()],
            closed: true,
            fill,
            stroke,
        });
    }

    /// A filled circle.
    pub fn circle(&mut self, centre: [f64; 2], radius: f64, fill: Rgb8) {
        self.shapes.push(Shape::Circle {
            centre,
            radius,
            fill,
        });
    }

    /// Begins a part of the text; lines that follow belong to it, up to the next. Of a drawing that never says, lines with nothing
    /// drawn between them are a paragraph.
    pub fn begin(&mut self, part: Part) {
        self.shapes.push(Shape::Begin(part));
    }

    /// A line of text without serifs.
    pub fn text(&mut self, text: Text) {
        self.text_in(Face::Sans, text);
    }

    /// A line of text in a typeface.
    pub fn text_in(&mut self, face: Face, mut text: Text) {
        text.text.retain(|c| !c.is_control());
        let face = face.on(&text.text);
        self.shapes.push(Shape::Text(text, face));
    }

    /// All of another drawing, moved so that its top left corner lies at `corner`.
    pub fn place(&mut self, other: &Drawing, corner: [f64; 2]) {
        self.pictures.extend(other.pictures.iter().map(|picture| {
            let mut moved = picture.clone();
            moved.corner = [0, 1].map(|i| picture.corner[i] + corner[i]);
            moved
        }));
        self.shapes
            .extend(other.shapes.iter().map(|shape| shape.moved(corner)));
    }
}

impl Shape {
    fn moved(&self, [dx, dy]: [f64; 2]) -> Self {
        let mut moved = self.clone();
        let shift = |point: &mut [f64; 2]| *point = [point[0] + dx, point[1] + dy];
        match &mut moved {
            Self::Path { outlines, .. } => outlines.iter_mut().flatten().for_each(shift),
            Self::Circle { centre, .. } => shift(centre),
            Self::Text(text, _) => shift(&mut text.at),
            Self::Begin(_) => {}
        }
        moved
    }
}

impl Text {
    /// How wide the line is without serifs, in mm.
    pub fn width(&self) -> f64 {
        Face::Sans.width(self)
    }

    /// Where the line starts on its baseline, in mm.
    fn start(&self, face: Face) -> f64 {
        match self.anchor {
            Anchor::Start => self.at[0],
            Anchor::Middle => self.at[0] - face.width(self) / 2.0,
            Anchor::End => self.at[0] - face.width(self),
        }
    }
}

/// The words in lines no wider than `room` mm in type of `size` mm without serifs; a single word may be.
pub fn wrapped(words: &str, size: f64, bold: bool, room: f64) -> Vec<String> {
    Face::Sans.wrapped(words, size, bold, room)
}

#[cfg(test)]
mod tests;
