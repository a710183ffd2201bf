//! Drawings and pictures as PNG and JPEG.

use super::{Drawing, Face, Placed};
use crate::error::{Error, Result};
use crate::picture::Picture;
use image::codecs::jpeg::JpegEncoder;
use image::imageops::{FilterType, resize};
use image::{ExtendedColorType, ImageEncoder, RgbImage};
use resvg::tiny_skia::{Color, FilterQuality, Pixmap, PixmapPaint, Transform};
use resvg::usvg;

/// The largest side of a rendered drawing, in pixels.
const LARGEST_SIDE: f64 = 20_000.0;

/// How much of a picture's detail JPEG keeps, of 100.
const JPEG_QUALITY: u8 = 90;

impl Drawing {
    /// The drawing as PNG, at `dots_per_mm` (11.8 is 300 to the inch).
    pub fn png(&self, dots_per_mm: f64) -> Result<Vec<u8>> {
        let (width, height, rgb) = self.pixels(dots_per_mm)?;
        png(width, height, &rgb)
    }

    /// The drawing as pixels: width, height, and three bytes of sRGB for each, row by row.
    pub fn pixels(&self, dots_per_mm: f64) -> Result<(usize, usize, Vec<u8>)> {
        let side = |mm: f64| (mm * dots_per_mm).round();
        let (width, height) = (side(self.width), side(self.height));
        let sides = 1.0..=LARGEST_SIDE;
        if !(sides.contains(&width) && sides.contains(&height)) {
            return Err(Error::caller(format!(
                "A picture of {width} × {height} pixels cannot be drawn; choose sides of 1 to {LARGEST_SIDE}."
            )));
        }
        let unreadable = |e| {
            Error::machine("The drawing could not be made into a picture; choose .svg instead.")
                .because(e)
        };
        let mut options = usvg::Options::default();
        let fonts = options.fontdb_mut();
        for face in Face::ALL {
            for bold in [false, true] {
                fonts.load_font_data(face.data(bold).to_vec());
            }
        }
        fonts.set_sans_serif_family("DejaVu Sans");
        fonts.set_serif_family("DejaVu Serif");
        let tree = usvg::Tree::from_str(&self.document(""), &options).map_err(unreadable)?;
        let mut pixmap = Pixmap::new(width as u32, height as u32).ok_or_else(|| {
            Error::machine(
                "There is not enough memory for so large a picture; choose a smaller one, or .svg.",
            )
        })?;
        pixmap.fill(Color::WHITE);
        for picture in &self.pictures {
            lay(
                picture,
                &mut pixmap,
                [width / self.width, height / self.height],
            );
        }
        let size = tree.size();
        let scale =
            Transform::from_scale(width as f32 / size.width(), height as f32 / size.height());
        resvg::render(&tree, scale, &mut pixmap.as_mut());
        let rgb = pixmap
            .data()
            .chunks_exact(4)
            .flat_map(|p| [p[0], p[1], p[2]]);
        Ok((width as usize, height as usize, rgb.collect()))
    }
}

/// Lays a picture onto the page; `dots` to a millimetre across and down.
fn lay(picture: &Placed, page: &mut Pixmap, dots: [f64; 2]) {
    let pixels = &picture.pixels;
    // A picture that does not fit into memory twice leaves its place white.
    let Some(mut pixmap) = Pixmap::new(pixels.width as u32, pixels.height as u32) else {
        return;
    };
    for (to, [r, g, b]) in pixmap.data_mut().chunks_exact_mut(4).zip(&pixels.pixels) {
        to.copy_from_slice(&[*r, *g, *b, u8::MAX]);
    }
    let paint = PixmapPaint {
        quality: FilterQuality::Bilinear,
        ..PixmapPaint::default()
    };
    let scale = |axis: usize, count: usize| (picture.size[axis] * dots[axis] / count as f64) as f32;
    let at = |axis: usize| (picture.corner[axis] * dots[axis]) as f32;
    let across = scale(0, pixels.width);
    let down = scale(1, pixels.height);
    let transform = Transform::from_row(across, 0.0, 0.0, down, at(0), at(1));
    page.draw_pixmap(0, 0, pixmap.as_ref(), &paint, transform, None);
}

/// A picture as PNG that says it is sRGB: `rgb` holds `3 * width * height` bytes, row by row from the top left.
pub fn png(width: usize, height: usize, rgb: &[u8]) -> Result<Vec<u8>> {
    check(width, height, rgb)?;
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, width as u32, height as u32);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_source_srgb(png::SrgbRenderingIntent::RelativeColorimetric);
    encoder
        .write_header()
        .and_then(|mut picture| picture.write_image_data(rgb))
        .map_err(|e| unwritten(width, height).because(e))?;
    Ok(file)
}

/// A picture that is wider than `width` made so wide, its sides in proportion; one that is not stays as it is.
pub fn narrowed(picture: Picture<[u8; 3]>, width: usize) -> Picture<[u8; 3]> {
    if picture.width <= width {
        return picture;
    }
    let height = (picture.height * width).div_ceil(picture.width).max(1);
    let (across, down) = (picture.width as u32, picture.height as u32);
    let whole = RgbImage::from_fn(across, down, |x, y| {
        image::Rgb(*picture.at(x as usize, y as usize))
    });
    let small = resize(&whole, width as u32, height as u32, FilterType::Triangle);
    Picture {
        width,
        height,
        pixels: small.pixels().map(|pixel| pixel.0).collect(),
    }
}

/// A picture as JPEG: `rgb` holds `3 * width * height` bytes of sRGB, row by row from the top left.
pub fn jpeg(width: usize, height: usize, rgb: &[u8]) -> Result<Vec<u8>> {
    let mut file = Vec::new();
    check(width, height, rgb)?;
    JpegEncoder::new_with_quality(&mut file, JPEG_QUALITY)
        .write_image(rgb, width as u32, height as u32, ExtendedColorType::Rgb8)
        .map_err(|e| unwritten(width, height).because(e))?;
    Ok(file)
}

fn check(width: usize, height: usize, rgb: &[u8]) -> Result<()> {
    match rgb.len() == 3 * width * height {
        true => Ok(()),
        false => Err(Error::machine(format!(
            "A picture of {width} × {height} pixels came with {} bytes and cannot be written.",
            rgb.len()
        ))),
    }
}

fn unwritten(width: usize, height: usize) -> Error {
    Error::machine(format!(
        "A picture of {width} × {height} pixels could not be written; choose a smaller one."
    ))
}
