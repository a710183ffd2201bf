use super::doubt::{LEAST, NINETY_FIVE, UNTOLD, deviations, moved};
use super::matching::matching;
use super::scatter::{Beyond, as_one, doubted};
use super::shown::{Colour, Shown};
use crate::colour::Lab;
use crate::stats::weighted_mean;

/// All photos of a piece in one state, as one palette.
#[derive(Debug)]
pub struct Side {
    /// Its colours, shares summing to 1; photos count alike.
    pub palette: Vec<(Lab, f64)>,
    /// Of each colour how much of its doubt each photo brings; `None` where any doubt is unknown.
    doubts: Option<Vec<Vec<f64>>>,
    /// Of each colour what the photos differ in beyond their doubts: one standard deviation of the mean along L\*, C\* and the arc
    /// of hue.
    beyond: Vec<[f64; 3]>,
}

/// A colour as several photos show it: which photo, the colour, its share among all photos.
type Sightings = Vec<(usize, Colour, f64)>;

impl Side {
    /// `None` without photos. The photo that is doubted least gives the palette; the colours of the others are matched to it, and
    /// what is the same colour is averaged by share.
    pub fn of(photos: &[&Shown]) -> Option<Self> {
        let mut order: Vec<&Shown> = photos.to_vec();
        let doubt = |photo: &Shown| doubted(photo).unwrap_or(f64::INFINITY);
        order.sort_by(|a, b| doubt(a).total_cmp(&doubt(b)));
        let sightings = sightings(&order)?;
        let whole: Vec<_> = order.iter().filter_map(|photo| as_one(photo)).collect();
        let common = Beyond::of(&whole);
        let doubts = sightings.iter().map(|s| doubts(s, order.len()));
        let palette: Vec<(Lab, f64)> = sightings.iter().filter_map(averaged).collect();
        let beyond = sightings.iter().zip(&palette).map(|(sightings, (lab, _))| {
            Beyond::of(&by_photo(sightings, order.len())).deviations(common, *lab)
        });
        Some(Self {
            beyond: beyond.collect(),
            doubts: doubts.collect(),
            palette,
        })
    }

    /// The colours alone.
    pub fn colours(&self) -> Vec<Lab> {
        self.palette.iter().map(|c| c.0).collect()
    }

    /// The doubt of the colour at this place, CIEDE2000, with what its photos differ in beyond theirs; `None` where one is not known.
    pub fn doubt(&self, place: usize) -> Option<f64> {
        let each = &self.doubts.as_ref()?[place];
        let squares: f64 = each.iter().map(|doubt| doubt * doubt).sum();
        // What one unit of doubt is along each axis turns the scatter into units of doubt.
        let unit = deviations(self.palette[place].0, 1.0);
        let beyond = self.beyond[place].iter().zip(unit);
        let beyond: f64 = beyond.map(|(sd, unit)| (sd / unit).powi(2)).sum();
        Some((squares + beyond / 3.0).sqrt())
    }

    /// The palette as it would be if one photo erred by the end of its 95 % interval along one direction of colour: for each
    /// photo and direction once to either side; and if all together did by what they differ in. `None` where a doubt is not known.
    ///
    /// The light of a photo errs in all its colours together and in each photo on its own.
    pub fn erring(&self) -> Option<Vec<[Vec<Lab>; 2]>> {
        let doubts = self.doubts.as_ref()?;
        let photos = doubts.first().map_or(0, Vec::len);
        let along = |of: &dyn Fn(usize, Lab) -> [f64; 3], axis: usize| {
            [1.0, -1.0].map(|sign| -> Vec<Lab> {
                let colours = self.palette.iter().enumerate();
                let by = |n, lab| sign * NINETY_FIVE * of(n, lab)[axis];
                colours
                    .map(|(n, (lab, _))| moved(*lab, axis, by(n, *lab)))
                    .collect()
            })
        };
        let axes = || 0..3;
        let own = (0..photos).flat_map(|photo| {
            axes().map(move |axis| along(&|n, lab| deviations(lab, doubts[n][photo]), axis))
        });
        let beyond = axes().map(|axis| along(&|n, _| self.beyond[n], axis));
        Some(own.chain(beyond).collect())
    }
}

/// What the photos show of each colour; `None` without photos.
fn sightings(order: &[&Shown]) -> Option<Vec<Sightings>> {
    let first = order.first()?;
    let many = order.len() as f64;
    let seen = |(lab, share): (Lab, f64), doubt: Option<f64>| Colour {
        lab,
        share,
        doubt: doubt.map(|doubt| doubt.max(LEAST)),
    };
    let mut sightings: Vec<Sightings> = (first.palette().into_iter().zip(&first.colours))
        .map(|(c, colour)| vec![(0, seen(c, colour.doubt), c.1 / many)])
        .collect();
    for (n, photo) in order.iter().enumerate().skip(1) {
        let theirs = photo.palette();
        let of = |j: usize, share: f64| {
            let colour = seen(theirs[j], photo.colours[j].doubt);
            (n, colour, share / many)
        };
        let matching = matching(&first.palette(), &theirs);
        for &(i, j, share) in &matching.moves {
            sightings[i].push(of(j, share));
        }
        sightings.extend(matching.new.iter().map(|&(j, share)| vec![of(j, share)]));
    }
    Some(sightings)
}

fn averaged(sightings: &Sightings) -> Option<(Lab, f64)> {
    // The mean of one is itself to the last digit.
    if let [(_, colour, share)] = sightings[..] {
        return Some((colour.lab, share));
    }
    let lab = crate::colour::mean(sightings.iter().map(|s| (s.1.lab, s.2)))?;
    Some((lab, sightings.iter().map(|s| s.2).sum()))
}

/// What each photo that shows a colour shows of it.
fn by_photo(sightings: &Sightings, photos: usize) -> Vec<(Lab, f64)> {
    let of = |photo: usize| {
        let own = || sightings.iter().filter(move |s| s.0 == photo);
        let lab = crate::colour::mean(own().map(|s| (s.1.lab, s.2)))?;
        let doubt = weighted_mean(own().map(|s| (s.1.doubt.unwrap_or(UNTOLD), s.2)))?;
        Some((lab, doubt))
    };
    (0..photos).filter_map(of).collect()
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
