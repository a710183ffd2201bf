use super::wild::mixed;
use std::f64::consts::TAU;

/// Independent draws from the normal distribution of mean 0 and standard deviation 1, the same for the same seed.
///
/// Box & Muller 1958, Ann. Math. Stat. 29(2) 610-611, doi 10.1214/aoms/1177706645.
#[derive(Clone, Debug)]
pub struct Normals {
    seed: u64,
    drawn: u64,
}

impl Normals {
    /// Draws by `seed`.
    pub fn new(seed: u64) -> Self {
        Self { seed, drawn: 0 }
    }

    /// The next draw.
    pub fn draw(&mut self) -> f64 {
        let far = (-2.0 * self.even().ln()).sqrt();
        far * (TAU * self.even()).cos()
    }

    /// Between 0 and 1, neither of them.
    fn even(&mut self) -> f64 {
        self.drawn += 1;
        let bits = mixed(self.seed ^ mixed(self.drawn)) >> 11;
        (bits as f64 + 0.5) / (1u64 << 53) as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Shares within one and two standard deviations: 0.6827 and 0.9545 (scipy 1.17.1 `stats.norm`); 20,000 draws miss them by
    /// 0.003 at one standard error.
    #[test]
    fn draws_are_normal() {
        let mut normals = Normals::new(7);
        let draws: Vec<f64> = (0..20_000).map(|_| normals.draw()).collect();
        let within = |reach: f64| {
            draws.iter().filter(|d| d.abs() < reach).count() as f64 / draws.len() as f64
        };
        assert!((within(1.0) - 0.6827).abs() < 0.012, "{}", within(1.0));
        assert!((within(2.0) - 0.9545).abs() < 0.006, "{}", within(2.0));
        let above = draws.iter().filter(|d| **d > 0.0).count() as f64 / draws.len() as f64;
        assert!((above - 0.5).abs() < 0.014, "{above}");
    }
}
