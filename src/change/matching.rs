use crate::colour::{Lab, de00, triple};
use crate::stats::{transport, weighted_median};
use serde::Serialize;

/// A colour and the one it became: wet and dry, or before and after washing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Match {
    /// Wet, or before; CIELAB.
    #[serde(with = "triple")]
    pub wet: Lab,
    /// Dry, or after; CIELAB.
    #[serde(with = "triple")]
    pub dry: Lab,
    /// Share of the cloth that went this way, 0 to 1; with what has no partner they sum to 1.
    pub share: f64,
    /// CIEDE2000 between the two.
    pub de00: f64,
}

/// Which colours became which, and what has no partner.
#[derive(Clone, Debug, Default)]
pub struct Matching {
    /// The places of both colours in their palettes and the share of the cloth that went this way, largest first.
    pub moves: Vec<(usize, usize, f64)>,
    /// Colours before without a partner, by place, with the share of the cloth that has none.
    pub gone: Vec<(usize, f64)>,
    /// Colours after without a partner.
    pub new: Vec<(usize, f64)>,
    /// What the colours have in common as they change.
    pub shift: Shift,
}

/// A change that colours have in common: of lightness, and of chroma by a factor.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shift {
    /// L\* after less L\* before, -30 to 30.
    pub lightness: f64,
    /// The natural logarithm of the factor on C\*, -0.5 to 0.5.
    pub chroma: f64,
}

/// How much of a move's own length counts beside what it departs from the common shift.
const OWN_LENGTH: f64 = 0.2;
/// Whatever costs more than this has no partner: a colour that far off the common shift, CIEDE2000, is another colour.
const ABSURD: f64 = 18.0;
/// Drying and washing do not shift all colours further than this.
const FURTHEST: Shift = Shift {
    lightness: 30.0,
    chroma: 0.5,
};
/// Near grey the factor on chroma tells nothing: this is added to both.
const GREY: f64 = 3.0;
/// The shift settles in two or three rounds; more are never worth it.
const ROUNDS: usize = 8;

/// Which of the colours `before` became which of those `after`; shares of each side sum to more than nothing.
///
/// Optimal transport: shares are masses, and a move costs what it departs from the common shift and a fifth of its own length,
/// both CIEDE2000. The shift is that of the weighted median move; it starts at the difference of the mean lightnesses, and plan
/// and shift take turns until both stay. Half of it is taken on either side, so that the way back is the same way.
pub fn matching(before: &[(Lab, f64)], after: &[(Lab, f64)]) -> Matching {
    let sides = [before, after];
    let [supply, demand] = sides.map(with_nobody);
    let lightness = sides.map(|side| side.iter().map(|(lab, s)| lab.l * s).sum::<f64>());
    let whole = sides.map(|side| side.iter().map(|c| c.1).sum::<f64>());
    let mut shift = Shift {
        lightness: lightness[1] / whole[1] - lightness[0] / whole[0],
        chroma: 0.0,
    }
    .kept_possible();
    let mut plan = Vec::new();
    for _ in 0..ROUNDS {
        let costs = costs(before, after, shift);
        plan = transport(&supply, &demand, |i, j| costs[i][j]);
        let Some(next) = common(before, after, &plan) else {
            break;
        };
        if next == shift {
            break;
        }
        shift = next;
    }
    Matching::of(plan, before.len(), after.len(), shift)
}

/// The same as pairs of colours, largest share first; what has no partner is left out.
pub fn matched(before: &[(Lab, f64)], after: &[(Lab, f64)]) -> Vec<Match> {
    let matching = matching(before, after);
    let moves = matching.moves.iter().map(|&(i, j, share)| {
        let (wet, dry) = (before[i].0, after[j].0);
        Match {
            wet,
            dry,
            share,
            de00: de00(wet, dry),
        }
    });
    moves.collect()
}

/// How far two palettes are apart: the mean CIEDE2000 of the cheapest way to move one onto the other, whatever their lightness;
/// the shares of each sum to 1.
pub(super) fn apart(one: &[(Lab, f64)], other: &[(Lab, f64)]) -> f64 {
    let shares = |palette: &[(Lab, f64)]| palette.iter().map(|c| c.1).collect::<Vec<_>>();
    let cost = |i: usize, j: usize| de00(one[i].0, other[j].0);
    let moves = transport(&shares(one), &shares(other), cost);
    moves.iter().map(|&(i, j, share)| share * cost(i, j)).sum()
}

/// The shares, which sum to 1, and room as large for what has no partner.
fn with_nobody(side: &[(Lab, f64)]) -> Vec<f64> {
    let whole: f64 = side.iter().map(|c| c.1).sum();
    side.iter().map(|c| c.1 / whole).chain([1.0]).collect()
}

/// The cost of each move; last on either side stands nobody.
fn costs(before: &[(Lab, f64)], after: &[(Lab, f64)], shift: Shift) -> Vec<Vec<f64>> {
    let ahead: Vec<Lab> = before.iter().map(|c| shift.part(0.5, c.0)).collect();
    let back: Vec<Lab> = after.iter().map(|c| shift.part(-0.5, c.0)).collect();
    let alone = 0.5 * ABSURD;
    let of = |i: usize| -> Vec<f64> {
        let cost = |j: usize| de00(ahead[i], back[j]) + OWN_LENGTH * de00(before[i].0, after[j].0);
        (0..after.len()).map(cost).chain([alone]).collect()
    };
    let nobody = std::iter::repeat_n(alone, after.len()).chain([0.0]);
    (0..before.len())
        .map(of)
        .chain([nobody.collect()])
        .collect()
}

/// The weighted median of the moves; `None` where there is none.
fn common(
    before: &[(Lab, f64)],
    after: &[(Lab, f64)],
    plan: &[(usize, usize, f64)],
) -> Option<Shift> {
    let pairs: Vec<(Lab, Lab, f64)> = plan
        .iter()
        .filter(|&&(i, j, _)| i < before.len() && j < after.len())
        .map(|&(i, j, share)| (before[i].0, after[j].0, share))
        .collect();
    let chroma = |lab: Lab| lab.a.hypot(lab.b);
    let lightness = weighted_median(pairs.iter().map(|&(b, a, share)| (a.l - b.l, share)))?;
    let factor = weighted_median(pairs.iter().map(|&(b, a, share)| {
        let (b, a) = (chroma(b), chroma(a));
        (((a + GREY) / (b + GREY)).ln(), share * (a + b))
    }));
    let shift = Shift {
        lightness,
        chroma: factor.unwrap_or_default(),
    };
    Some(shift.kept_possible())
}

impl Shift {
    fn kept_possible(self) -> Self {
        let within = |value: f64, most: f64| value.clamp(-most, most);
        Self {
            lightness: within(self.lightness, FURTHEST.lightness),
            chroma: within(self.chroma, FURTHEST.chroma),
        }
    }

    /// A colour after this much of the shift.
    fn part(self, part: f64, lab: Lab) -> Lab {
        let factor = (part * self.chroma).exp();
        Lab::new(
            lab.l + part * self.lightness,
            lab.a * factor,
            lab.b * factor,
        )
    }
}

impl Matching {
    fn of(plan: Vec<(usize, usize, f64)>, before: usize, after: usize, shift: Shift) -> Self {
        let mut matching = Self {
            shift,
            ..Self::default()
        };
        for (i, j, share) in plan {
            match (i < before, j < after) {
                (true, true) => matching.moves.push((i, j, share)),
                (true, false) => matching.gone.push((i, share)),
                (false, true) => matching.new.push((j, share)),
                (false, false) => {}
            }
        }
        matching.moves.sort_by(|a, b| b.2.total_cmp(&a.2));
        matching
    }

    /// The share of the cloth that has a partner, 0 to 1.
    pub fn share(&self) -> f64 {
        self.moves.iter().map(|m| m.2).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn palette(colours: &[([f64; 3], f64)]) -> Vec<(Lab, f64)> {
        let colour = |&([l, a, b], share): &([f64; 3], f64)| (Lab::new(l, a, b), share);
        colours.iter().map(colour).collect()
    }

    /// The moves, with shares rounded to millionths, by place.
    fn check(
        before: &[([f64; 3], f64)],
        after: &[([f64; 3], f64)],
        wanted: &[(usize, usize, f64)],
    ) -> Matching {
        let found = matching(&palette(before), &palette(after));
        let mut moves = found.moves.clone();
        moves.sort_by_key(|m| (m.0, m.1));
        let near = |(f, w): (&(usize, usize, f64), &(usize, usize, f64))| {
            (f.0, f.1) == (w.0, w.1) && (f.2 - w.2).abs() < 6e-7
        };
        assert!(
            moves.len() == wanted.len() && moves.iter().zip(wanted).all(near),
            "{moves:?} are not {wanted:?}"
        );
        found
    }

    /// By hand: each lighter by 10; the second wet colour lies right on the first dry one, where it does not belong.
    #[test]
    fn a_common_shift_is_believed_before_a_short_way() {
        let wet = [
            ([30.0, 5.0, 10.0], 0.5),
            ([40.0, 5.0, 10.0], 0.3),
            ([50.0, 5.0, 10.0], 0.2),
        ];
        let dry = [
            ([40.0, 5.0, 10.0], 0.5),
            ([50.0, 5.0, 10.0], 0.3),
            ([60.0, 5.0, 10.0], 0.2),
        ];
        let found = check(&wet, &dry, &[(0, 0, 0.5), (1, 1, 0.3), (2, 2, 0.2)]);
        assert_eq!(found.shift.lightness, 10.0);
    }

    /// By hand: a colour that turns from brown into blue is no colour that dried.
    #[test]
    fn what_has_no_partner_is_said() {
        let wet = [([40.0, 10.0, 30.0], 0.8), ([30.0, 20.0, 25.0], 0.2)];
        let dry = [([48.0, 10.0, 30.0], 0.8), ([38.0, 5.0, -40.0], 0.2)];
        let found = check(&wet, &dry, &[(0, 0, 0.8)]);
        assert_eq!((found.gone.len(), found.new.len()), (1, 1));
        assert!((found.gone[0].1 - 0.2).abs() < 1e-12 && found.new[0].0 == 1);
        assert!((found.share() - 0.8).abs() < 1e-12);
    }

    #[derive(serde::Deserialize)]
    struct Transported {
        before: Vec<[f64; 4]>,
        after: Vec<[f64; 4]>,
        moves: Vec<(usize, usize, f64)>,
    }

    /// The linear programme by scipy, the differences by colour-science: see testdata/published/README.md.
    #[test]
    fn moves_as_by_linear_programming() {
        let all = include_str!("../../testdata/published/transported-palettes.json");
        let all: Vec<Transported> = serde_json::from_str(all).unwrap();
        assert_eq!(all.len(), 12);
        for pair in all {
            let colours = |side: &[[f64; 4]]| -> Vec<_> {
                side.iter()
                    .map(|&[l, a, b, share]| ([l, a, b], share))
                    .collect()
            };
            check(&colours(&pair.before), &colours(&pair.after), &pair.moves);
        }
    }

    /// Shares that differ move over the cheapest way, and shares need not sum to 1.
    #[test]
    fn shares_are_masses() {
        let wet = [([40.0, 0.0, 20.0], 6.0), ([50.0, 0.0, 20.0], 4.0)];
        let dry = [([45.0, 0.0, 20.0], 0.5), ([55.0, 0.0, 20.0], 0.5)];
        check(&wet, &dry, &[(0, 0, 0.5), (0, 1, 0.1), (1, 1, 0.4)]);
    }

    #[test]
    fn one_colour_may_become_many() {
        let wet = [([40.0, 5.0, 20.0], 1.0)];
        let dry: Vec<_> = (0..8)
            .map(|n| ([46.0 + f64::from(n), 5.0, 20.0], 0.125))
            .collect();
        let wanted: Vec<_> = (0..8).map(|n| (0, n, 0.125)).collect();
        check(&wet, &dry, &wanted);
    }

    fn any_palette() -> impl Strategy<Value = Vec<(Lab, f64)>> {
        let colour = (5.0..95.0, -40.0..40.0, -40.0..60.0, 0.02..1.0);
        let colour = colour.prop_map(|(l, a, b, share)| (Lab::new(l, a, b), share));
        prop::collection::vec(colour, 1..8)
    }

    proptest! {
        /// All of both sides is accounted for.
        #[test]
        fn nothing_is_lost(before in any_palette(), after in any_palette()) {
            let found = matching(&before, &after);
            for (left, all) in [(&found.gone, found.share()), (&found.new, found.share())] {
                let sum: f64 = left.iter().map(|l| l.1).sum();
                prop_assert!((sum + all - 1.0).abs() < 1e-9);
            }
        }

        /// The way back is the same way, as long as the cheapest plan is the only one.
        #[test]
        fn the_way_back_costs_the_same(before in any_palette(), after in any_palette()) {
            let (there, back) = (matching(&before, &after), matching(&after, &before));
            prop_assert!((there.share() - back.share()).abs() < 1e-9);
            let sum = there.shift.lightness + back.shift.lightness;
            prop_assert!(sum.abs() < 1e-9, "{:?} {:?}", there.shift, back.shift);
        }

        /// What dried all alike finds itself again.
        #[test]
        fn a_pure_shift_is_found(before in any_palette(), lighter in 2.0..15.0) {
            let after: Vec<_> = before.iter().map(|&(lab, share)| (Lab::new(lab.l + lighter, lab.a, lab.b), share)).collect();
            let found = matching(&before, &after);
            let right: f64 = found.moves.iter().filter(|m| m.0 == m.1).map(|m| m.2).sum();
            prop_assert!(right > 1.0 - 1e-9, "{right}");
        }
    }
}
