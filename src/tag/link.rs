//! A QR code that no photo is read by: an address for a phone's camera.

use super::QUIET_ZONE;
use super::print::encode;
use crate::error::Result;
use qrcode::Color;

/// The modules of a QR code, to be shown on a screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    modules: usize,
    dark: Vec<bool>,
}

/// The QR code (ISO/IEC 18004) of an address.
///
/// # Errors
/// `Caller` where the address is too long for one.
pub fn link(address: &str) -> Result<Link> {
    let code = encode(address)?;
    let dark = code
        .to_colors()
        .into_iter()
        .map(|colour| colour == Color::Dark);
    Ok(Link {
        modules: code.width(),
        dark: dark.collect(),
    })
}

impl Link {
    /// Modules along one side with the quiet zone.
    pub fn side(&self) -> usize {
        self.modules + 2 * QUIET_ZONE as usize
    }

    /// Whether the module in this column and row, counted with the quiet zone, is dark.
    fn dark(&self, x: usize, y: usize) -> bool {
        let inside = |at: usize| {
            at.checked_sub(QUIET_ZONE as usize)
                .filter(|at| *at < self.modules)
        };
        inside(x)
            .zip(inside(y))
            .is_some_and(|(x, y)| self.dark[y * self.modules + x])
    }

    /// The dark modules as the path of an SVG whose sides are [`side`](Self::side) long.
    pub fn path(&self) -> String {
        let all = (0..self.side()).flat_map(|y| (0..self.side()).map(move |x| (x, y)));
        all.filter(|(x, y)| self.dark(*x, *y))
            .map(|(x, y)| format!("M{x} {y}h1v1h-1z"))
            .collect()
    }

    /// The code for a terminal, two rows of modules to a line. Light modules are drawn, so that it reads on a dark ground; most
    /// cameras read it turned round as well.
    pub fn text(&self) -> String {
        let cell = |x: usize, y: usize| match (!self.dark(x, y), !self.dark(x, y + 1)) {
            (true, true) => '█',
            (true, false) => '▀',
            (false, true) => '▄',
            (false, false) => ' ',
        };
        let row = |y: usize| (0..self.side()).map(|x| cell(x, y)).collect::<String>();
        let rows: Vec<String> = (0..self.side()).step_by(2).map(row).collect();
        rows.join("\n")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An independent decoder reads what was drawn: `rqrr`, a crate from the registry.
    #[test]
    fn a_drawn_link_is_read_back() {
        let address = "http://192.168.1.20:4173/let-in/0123456789abcdef0123456789abcdef01234567";
        let link = link(address).unwrap();
        let scale = 4;
        let side = link.side() * scale;
        let mut seen = rqrr::PreparedImage::prepare_from_greyscale(side, side, |x, y| {
            if link.dark(x / scale, y / scale) {
                0
            } else {
                255
            }
        });
        let grids = seen.detect_grids();
        assert_eq!(grids.len(), 1);
        assert_eq!(grids[0].decode().unwrap().1, address);
        let drawn = link.path().matches('M').count();
        assert_eq!(drawn, link.dark.iter().filter(|dark| **dark).count());
        assert_eq!(link.text().lines().count(), link.side().div_ceil(2));
    }
}
