//! A mixture of normal distributions that stands for the colours of a region.
//!
//! Started by splitting the widest part along its longest axis (Orchard & Bouman 1991, Color quantization of images,
//! doi 10.1109/78.107417), then bettered by expectation and maximisation. Nothing is drawn at random.

use nalgebra::{Matrix3, SymmetricEigen, Vector3};

/// A colour as the outline sees it: see [`super::field`].
pub(super) type Feature = [f32; 3];

/// One part of a mixture.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// Its share of the region, 0 to 1.
    pub(super) share: f32,
    pub(super) mean: Feature,
    /// The inverse of its covariance: xx, xy, xz, yy, yz, zz.
    inverse: [f32; 6],
    /// The logarithm of the density at its mean.
    peak: f32,
    /// The logarithm of its share.
    log_share: f32,
}

/// A colour that neither mixture explains has this log density under a broad one.
pub(super) const STRANGE: f32 = -12.5;

/// The smallest variance of a part along any axis: noise and reduced edges are never finer than this.
const FLOOR: f64 = 4.0;

impl Part {
    fn new(share: f64, mean: Vector3<f64>, covariance: Matrix3<f64>) -> Option<Self> {
        let wide = covariance + Matrix3::identity() * FLOOR;
        let inverse = wide.try_inverse()?;
        let peak = -0.5 * (wide.determinant().ln() + 3.0 * std::f64::consts::TAU.ln());
        Some(Self {
            share: share as f32,
            mean: [mean.x as f32, mean.y as f32, mean.z as f32],
            inverse: [
                inverse.m11,
                inverse.m12,
                inverse.m13,
                inverse.m22,
                inverse.m23,
                inverse.m33,
            ]
            .map(|v| v as f32),
            peak: peak as f32,
            log_share: (share as f32).max(1e-6).ln(),
        })
    }

    /// The logarithm of the density at `feature` times the share.
    pub(super) fn log_part(&self, feature: Feature) -> f32 {
        self.log_share + self.log_density(feature)
    }

    /// The logarithm of the density at `feature`, the share left out.
    pub(super) fn log_density(&self, feature: Feature) -> f32 {
        let [x, y, z] = [0, 1, 2].map(|i| feature[i] - self.mean[i]);
        let [xx, xy, xz, yy, yz, zz] = self.inverse;
        let square =
            xx * x * x + yy * y * y + zz * z * z + 2.0 * (xy * x * y + xz * x * z + yz * y * z);
        self.peak - 0.5 * square
    }
}

/// Raises each of `best` to the log density of a mixture at a feature, given coordinate by coordinate.
pub(super) fn raise(mixture: &[Part], [x, y, z]: [&[f32]; 3], best: &mut [f32]) {
    for part in mixture {
        for (((best, &x), &y), &z) in best.iter_mut().zip(x).zip(y).zip(z) {
            let density = part.log_part([x, y, z]);
            *best = if density > *best { density } else { *best };
        }
    }
}

/// Weighted first and second moments.
#[derive(Clone, Default)]
struct Moments {
    weight: f64,
    sum: Vector3<f64>,
    square: Matrix3<f64>,
}

impl Moments {
    fn add(&mut self, feature: Feature, weight: f64) {
        let v = Vector3::from(feature.map(f64::from));
        self.weight += weight;
        self.sum += v * weight;
        self.square += v * v.transpose() * weight;
    }

    fn mean(&self) -> Vector3<f64> {
        self.sum / self.weight.max(1e-9)
    }

    fn covariance(&self) -> Matrix3<f64> {
        let mean = self.mean();
        self.square / self.weight.max(1e-9) - mean * mean.transpose()
    }
}

/// A mixture of at most `parts` parts fitted to `features` in `rounds` rounds; empty where there are none.
pub(super) fn fit(features: &[Feature], parts: usize, rounds: usize) -> Vec<Part> {
    let mut mixture = split(features, parts);
    for _ in 0..rounds {
        let mut moments = vec![Moments::default(); mixture.len()];
        let mut shares = vec![0f32; mixture.len()];
        for &feature in features {
            responsibilities(&mixture, feature, &mut shares);
            for (moment, &share) in moments.iter_mut().zip(&shares) {
                if share > 0.01 {
                    moment.add(feature, share.into());
                }
            }
        }
        mixture = parts_of(&moments, features.len());
    }
    mixture
}

fn parts_of(moments: &[Moments], count: usize) -> Vec<Part> {
    let total = count as f64;
    moments
        .iter()
        .filter(|m| m.weight > 4.0)
        .filter_map(|m| Part::new(m.weight / total, m.mean(), m.covariance()))
        .collect()
}

/// The logarithm of a share that is nothing beside 1, in single precision.
const NOTHING: f32 = -18.0;

/// Which part a colour belongs to, as shares that sum to 1.
pub(super) fn responsibilities(mixture: &[Part], feature: Feature, shares: &mut [f32]) {
    let mut best = f32::MIN;
    for (share, part) in shares.iter_mut().zip(mixture) {
        *share = part.log_part(feature);
        best = best.max(*share);
    }
    let mut total = 0.0;
    for share in shares.iter_mut() {
        // What is nothing beside the best needs no exponential.
        let below = *share - best;
        *share = if below > NOTHING { below.exp() } else { 0.0 };
        total += *share;
    }
    for share in shares.iter_mut() {
        *share /= total;
    }
}

/// Groups of features, the widest split again and again across its longest axis.
fn split(features: &[Feature], parts: usize) -> Vec<Part> {
    let mut groups: Vec<(Vec<Feature>, Moments)> = vec![gather(features.to_vec())];
    while groups.len() < parts {
        let widest = groups
            .iter()
            .enumerate()
            .map(|(i, (_, m))| (i, SymmetricEigen::new(m.covariance()), m))
            .map(|(i, e, m)| (e.eigenvalues.max() * m.weight, e.eigenvalues.max(), i, e))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, variance, index, eigen)) = widest else {
            break;
        };
        if variance < FLOOR {
            break;
        }
        let (group, moments) = groups.swap_remove(index);
        let axis = eigen.eigenvectors.column(eigen.eigenvalues.imax());
        let middle = axis.dot(&moments.mean());
        let (near, far): (Vec<_>, Vec<_>) = group
            .into_iter()
            .partition(|f| axis.dot(&Vector3::from(f.map(f64::from))) <= middle);
        groups.extend([gather(near), gather(far)]);
    }
    let moments: Vec<Moments> = groups.into_iter().map(|(_, m)| m).collect();
    parts_of(&moments, features.len())
}

fn gather(group: Vec<Feature>) -> (Vec<Feature>, Moments) {
    let mut moments = Moments::default();
    for &feature in &group {
        moments.add(feature, 1.0);
    }
    (group, moments)
}
