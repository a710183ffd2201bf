//! Drawings against what a reader of each format must find in them.

use super::*;

fn line_of_text(text: &str) -> Text {
    Text {
        text: text.to_owned(),
        at: [10.0, 10.0],
        size: 5.0,
        bold: false,
        anchor: Anchor::Start,
        colour: BLACK,
    }
}

fn sample() -> Drawing {
    let mut drawing = Drawing::new(40.0, 20.0);
    drawing.rectangle([0.0, 0.0], [20.0, 20.0], Rgb8::new(200, 30, 40));
    drawing.circle([30.0, 10.0], 5.0, Rgb8::new(0, 90, 160));
    let stroke = Stroke {
        colour: BLACK,
        width: 1.0,
    };
    drawing.line(&[[0.0, 19.5], [40.0, 19.5]], stroke);
    drawing
}

/// Renders at ten dots to the millimetre and gives the colour at a place in mm.
fn check(drawing: &Drawing, [x, y]: [f64; 2], expected: Rgb8) {
    let (width, _, rgb) = drawing.pixels(10.0).unwrap();
    let at = 3 * ((y * 10.0) as usize * width + (x * 10.0) as usize);
    let seen = Rgb8::new(rgb[at], rgb[at + 1], rgb[at + 2]);
    assert_eq!(seen, expected, "at {x}, {y}");
}

#[test]
fn shapes_lie_where_they_were_put() {
    let drawing = sample();
    check(&drawing, [19.5, 1.0], Rgb8::new(200, 30, 40));
    check(&drawing, [20.5, 1.0], WHITE);
    check(&drawing, [30.0, 5.5], Rgb8::new(0, 90, 160));
    check(&drawing, [25.4, 5.4], WHITE);
    check(&drawing, [35.0, 19.5], BLACK);
    let mut page = Drawing::new(60.0, 40.0);
    page.place(&drawing, [15.0, 15.0]);
    check(&page, [34.5, 16.0], Rgb8::new(200, 30, 40));
    check(&page, [45.0, 20.5], Rgb8::new(0, 90, 160));
    check(&page, [14.0, 16.0], WHITE);
}

#[test]
fn the_typeface_is_in_the_program() {
    for text in ["LB007", "Lärche", "листья", "φύλλο"] {
        let mut drawing = Drawing::new(60.0, 20.0);
        let text = line_of_text(text);
        let width = text.width();
        drawing.text(text);
        let (across, _, rgb) = drawing.pixels(10.0).unwrap();
        let inked = |p: &[u8]| p[0] < 128;
        let columns = rgb.chunks_exact(3).enumerate().filter(|(_, p)| inked(p));
        let last = columns.map(|(i, _)| i % across).max().unwrap() as f64 / 10.0;
        // The ink ends less than a tenth of the size short of the advance, or a little kerning short of it.
        assert!((last - 10.0 - width).abs() < 0.8, "{last} {width}");
    }
}

#[test]
fn widths_are_the_typefaces() {
    // DejaVu Sans 2.37, table hmtx, read with fontTools 4 (Python package index): “L” 1141, “B” 1405, “0” 1303 of 2048 units an em.
    let units = line_of_text("LB0").width() / 5.0 * 2048.0;
    assert!(
        (units - f64::from(1141 + 1405 + 1303)).abs() < 0.5,
        "{units}"
    );
}

#[test]
fn svg_keeps_text_that_looks_like_markup() {
    let mut drawing = Drawing::new(60.0, 20.0);
    drawing.text(line_of_text("<b>&\u{7}\n\"x\""));
    let svg = drawing.svg();
    assert!(svg.contains(">&lt;b&gt;&amp;\"x\"</text>"), "{svg}");
    assert!(svg.starts_with("<svg ") && svg.contains("width=\"60mm\" height=\"20mm\""));
    assert!(drawing.pixels(2.0).is_ok());
}

#[test]
fn the_same_drawing_gives_the_same_bytes() {
    let pages = [sample(), sample()];
    assert_eq!(pdf(&pages).unwrap(), pdf(&pages).unwrap());
    assert_eq!(sample().png(4.0).unwrap(), sample().png(4.0).unwrap());
    assert!(pdf(&pages).unwrap().starts_with(b"%PDF-1."));
}

#[test]
fn pictures_come_back_from_png_and_nearly_from_jpeg() {
    let rgb: Vec<u8> = (0..3 * 16 * 8).map(|i| (i / 3 % 16 * 15) as u8).collect();
    let back = image::load_from_memory(&png(16, 8, &rgb).unwrap()).unwrap();
    assert_eq!(back.to_rgb8().into_raw(), rgb);
    let back = image::load_from_memory(&jpeg(16, 8, &rgb).unwrap()).unwrap();
    let off = back.to_rgb8().into_raw().into_iter().zip(&rgb);
    assert!(off.map(|(a, b)| a.abs_diff(*b)).max().unwrap() < 12);
}

#[test]
fn what_cannot_be_drawn_is_an_error() {
    assert!(png(4, 4, &[0; 47]).is_err());
    assert!(jpeg(0, 0, &[]).is_err());
    assert!(sample().pixels(1e6).is_err());
    assert!(sample().pixels(f64::NAN).is_err());
    assert!(pdf(&[Drawing::new(0.0, 10.0)]).is_err());
    assert!(pdf(&[]).is_err());
}

#[test]
fn lines_keep_to_their_room() {
    let words = "Nothing in this picture says what white is, so its colours are a guess.";
    for bold in [false, true] {
        let lines = wrapped(words, 3.0, bold, 40.0);
        assert!(lines.len() > 1);
        assert_eq!(lines.join(" "), words);
        assert!(
            lines
                .iter()
                .all(|line| 3.0 * Face::Sans.line(line, bold) <= 40.0)
        );
    }
}

/// ISO 32000-1, 14.8.4: headings, paragraphs, tables with rows, header and data cells are structure elements of their own.
#[test]
fn parts_of_the_text_are_tagged() {
    let mut page = Drawing::new(60.0, 60.0);
    for (part, words) in [
        (Part::Heading(1), "LB007"),
        (Part::Paragraph, "It came out so."),
        (Part::Row, "gold"),
        (Part::Cell, "62 %"),
        (Part::Row, "bark"),
        (Part::Cell, "30 %"),
        (Part::Cell, "± 2.0"),
        (Part::Heading(2), "Care"),
    ] {
        page.begin(part);
        page.rectangle([0.0, 0.0], [1.0, 1.0], BLACK);
        page.text(line_of_text(words));
    }
    let about = About {
        title: "LB007",
        language: "en",
    };
    let counted = |pages: &[Drawing], tag: &str| {
        let file = document(pages, &about).unwrap();
        let text = String::from_utf8_lossy(&file).into_owned();
        let ends = |rest: &&str| !rest.starts_with(char::is_alphanumeric);
        text.split(&format!("/S/{tag}"))
            .skip(1)
            .filter(ends)
            .count()
    };
    let pages = [page.clone(), page];
    let wanted = [
        ("H1", 2),
        ("H2", 2),
        ("P", 2),
        ("Table", 2),
        ("TR", 4),
        ("TH", 4),
        ("TD", 6),
    ];
    for (tag, number) in wanted {
        assert_eq!(counted(&pages, tag), number, "{tag}");
    }
    // A drawing without parts: what is drawn ends a paragraph.
    let mut plain = sample();
    plain.text(line_of_text("one"));
    plain.text(line_of_text("two"));
    plain.rectangle([0.0, 0.0], [1.0, 1.0], BLACK);
    plain.text(line_of_text("three"));
    assert_eq!(counted(&[plain], "P"), 2);
}
