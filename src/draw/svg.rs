//! Drawings as SVG, written by hand (Scalable Vector Graphics 1.1, W3C).

use super::{Anchor, Drawing, Face, Placed, Rgb8, Shape, Stroke, Text, WHITE};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use std::fmt::Write;

impl Drawing {
    /// The drawing as an SVG document, sized in millimetres.
    pub fn svg(&self) -> String {
        let [white, size] = [
            hex(WHITE),
            format!(
                "width=\"{}\" height=\"{}\"",
                Number(self.width),
                Number(self.height)
            ),
        ];
        let mut under = format!("<rect {size} fill=\"{white}\"/>\n");
        for picture in &self.pictures {
            under.push_str(&image(picture));
        }
        self.document(&under)
    }

    /// The shapes as an SVG document, with what lies under them.
    pub(super) fn document(&self, under: &str) -> String {
        let (width, height) = (Number(self.width), Number(self.height));
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\">\n{under}"
        );
        for shape in &self.shapes {
            svg.push_str(&element(shape));
            svg.push('\n');
        }
        svg.push_str("</svg>\n");
        svg
    }
}

/// A length to a thousandth of a millimetre, without needless noughts.
struct Number(f64);

impl std::fmt::Display for Number {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = format!("{:.3}", self.0);
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}

fn image(picture: &Placed) -> String {
    let ([x, y], [width, height]) = (picture.corner, picture.size);
    format!(
        "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\" href=\"data:image/jpeg;base64,{}\"/>\n",
        Number(x),
        Number(y),
        Number(width),
        Number(height),
        STANDARD.encode(&picture.jpeg)
    )
}

fn element(shape: &Shape) -> String {
    match shape {
        Shape::Path {
            outlines,
            closed,
            fill,
            stroke,
        } => {
            let path: String = outlines.iter().map(|o| outline(o, *closed)).collect();
            format!("<path d=\"{path}\"{}/>", paint(*fill, *stroke))
        }
        Shape::Circle {
            centre: [x, y],
            radius,
            fill,
        } => format!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"/>",
            Number(*x),
            Number(*y),
            Number(*radius),
            hex(*fill)
        ),
        Shape::Text(text, face) => words(text, *face),
        Shape::Begin(_) => String::new(),
    }
}

fn outline(points: &[[f64; 2]], closed: bool) -> String {
    let mut path = String::new();
    for (i, [x, y]) in points.iter().enumerate() {
        let letter = if i == 0 { 'M' } else { 'L' };
        // Writing to a string cannot fail.
        let _ = write!(path, "{letter}{} {}", Number(*x), Number(*y));
    }
    if closed {
        path.push('Z');
    }
    path
}

fn paint(fill: Option<Rgb8>, stroke: Option<Stroke>) -> String {
    let fill = fill.map_or("none".to_owned(), hex);
    let stroke = stroke.map_or(String::new(), |s| {
        format!(
            " stroke=\"{}\" stroke-width=\"{}\"",
            hex(s.colour),
            Number(s.width)
        )
    });
    format!(" fill=\"{fill}\"{stroke}")
}

fn words(text: &Text, face: Face) -> String {
    let anchor = match text.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = if text.bold {
        " font-weight=\"bold\""
    } else {
        ""
    };
    // The page asks for a sans serif already; narrow is asked for by width, since readers know the family by its plain name.
    let family = match face {
        Face::Sans => "",
        Face::Serif => " font-family=\"serif\" font-stretch=\"condensed\"",
        Face::SerifItalic => {
            " font-family=\"serif\" font-stretch=\"condensed\" font-style=\"italic\""
        }
    };
    format!(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{family}{weight} text-anchor=\"{anchor}\" fill=\"{}\">{}</text>",
        Number(text.at[0]),
        Number(text.at[1]),
        Number(text.size),
        hex(text.colour),
        escaped(&text.text)
    )
}

fn hex(colour: Rgb8) -> String {
    format!("#{colour:x}")
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}
