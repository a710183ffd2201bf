use super::doubt::{NINETY_FIVE, deviations, moved};
use super::matching::matching;
use super::shown::{Colour, Shown};
use crate::colour::Lab;
use crate::stats;

/// All photos of a piece in one state, as one palette.
#[derive(Debug)]
pub struct Side {
    /// Its colours, shares summing to 1; photos count alike.
    pub palette: Vec<(Lab, f64)>,
    /// Of each colour how much of its doubt each photo brings; `None` where any doubt is unknown.
    doubts: Option<Vec<Vec<f64>>>,
}

/// A colour as several photos show it: which photo, the colour, its share among all photos.
type Sightings = Vec<(usize, Colour, f64)>;

impl Side {
    /// `None` without photos. The photo that is doubted least gives the palette; the colours of the others are matched to it, and
    /// what is the same colour is averaged by share.
    pub fn of(photos: &[&Shown]) -> Option<Self> {
        let doubted = |photo: &Shown| {
            let each: Option<Vec<(f64, f64)>> = (photo.colours.iter())
                .map(|c| Some((c.doubt?, c.share)))
                .collect();
            each.and_then(stats::weighted_mean).unwrap_or(f64::INFINITY)
        };
        let mut order: Vec<&Shown> = photos.to_vec();
        order.sort_by(|a, b| doubted(a).total_cmp(&doubted(b)));
        let first = order.first()?;
        let many = order.len() as f64;
        let seen = |(lab, share): (Lab, f64), doubt| Colour { lab, share, doubt };
        let mut sightings: Vec<Sightings> = (palette(first).into_iter().zip(&first.colours))
            .map(|(c, colour)| vec![(0, seen(c, colour.doubt), c.1 / many)])
            .collect();
        for (n, photo) in order.iter().enumerate().skip(1) {
            let theirs = palette(photo);
            let of = |j: usize, share: f64| {
                let colour = seen(theirs[j], photo.colours[j].doubt);
                (n, colour, share / many)
            };
            let matching = matching(&palette(first), &theirs);
            for &(i, j, share) in &matching.moves {
                sightings[i].push(of(j, share));
            }
            sightings.extend(matching.new.iter().map(|&(j, share)| vec![of(j, share)]));
        }
        let doubts = sightings.iter().map(|s| doubts(s, order.len()));
        Some(Self {
            doubts: doubts.collect(),
            palette: sightings.iter().filter_map(averaged).collect(),
        })
    }

    /// The colours alone.
    pub fn colours(&self) -> Vec<Lab> {
        self.palette.iter().map(|c| c.0).collect()
    }

    /// The palette as it would be if one photo erred by the end of its 95 % interval along one direction of colour: for each
    /// photo and direction once to either side. `None` where a doubt is not known.
    ///
    /// The light of a photo errs in all its colours together and in each photo on its own.
    pub fn erring(&self) -> Option<Vec<[Vec<Lab>; 2]>> {
        let doubts = self.doubts.as_ref()?;
        let photos = doubts.first().map_or(0, Vec::len);
        let along = |photo: usize, axis: usize, sign: f64| -> Vec<Lab> {
            let colours = self.palette.iter().zip(doubts);
            let one = |((lab, _), doubts): (&(Lab, f64), &Vec<f64>)| {
                let by = sign * NINETY_FIVE * deviations(*lab, doubts[photo])[axis];
                moved(*lab, axis, by)
            };
            colours.map(one).collect()
        };
        let all = (0..photos).flat_map(|photo| (0..3).map(move |axis| (photo, axis)));
        Some(
            all.map(|(photo, axis)| [1.0, -1.0].map(|sign| along(photo, axis, sign)))
                .collect(),
        )
    }
}

/// Shares made to sum to 1.
fn palette(photo: &Shown) -> Vec<(Lab, f64)> {
    let whole: f64 = photo.colours.iter().map(|c| c.share).sum();
    (photo.colours.iter())
        .map(|c| (c.lab, c.share / whole))
        .collect()
}

fn averaged(sightings: &Sightings) -> Option<(Lab, f64)> {
    let lab = crate::colour::mean(sightings.iter().map(|s| (s.1.lab, s.2)))?;
    Some((lab, sightings.iter().map(|s| s.2).sum()))
}

/// What each of so many photos brings to the doubt of a colour.
fn doubts(sightings: &Sightings, photos: usize) -> Option<Vec<f64>> {
    let whole: f64 = sightings.iter().map(|s| s.2).sum();
    let mut doubts = vec![0.0; photos];
    for (photo, colour, share) in sightings {
        doubts[*photo] += share / whole * colour.doubt?;
    }
    Some(doubts)
}
