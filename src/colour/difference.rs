use super::Lab;
use palette::color_difference::Ciede2000;

/// CIEDE2000 colour difference with kL = kC = kH = 1, from 0 up; symmetric.
///
/// ISO/CIE 11664-6; notes on implementing it in Sharma, Wu & Dalal 2005, doi 10.1002/col.20070.
pub fn de00(one: Lab, other: Lab) -> f64 {
    one.difference(other)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn all_pairs_of_sharma_wu_and_dalal() {
        // Table 1 of the paper, four printed digits. Pair 14 lies on the tie where the hues differ by exactly 180°.
        let rows = super::super::tests::rows::<8>(include_str!(
            "../../testdata/published/sharma-2005.csv"
        ));
        assert_eq!(rows.len(), 34);
        for [pair, l1, a1, b1, l2, a2, b2, printed] in rows {
            let (one, other) = (Lab::new(l1, a1, b1), Lab::new(l2, a2, b2));
            for found in [de00(one, other), de00(other, one)] {
                let near = (found - printed).abs() < 0.000_051;
                assert!(near, "pair {pair}: {found}, not {printed}");
            }
        }
    }

    fn colour() -> impl Strategy<Value = Lab> {
        (0.0..100.0, -100.0..100.0, -100.0..100.0).prop_map(|(l, a, b)| Lab::new(l, a, b))
    }

    proptest! {
        #[test]
        fn a_difference_is_symmetric_and_none_from_itself(one in colour(), other in colour()) {
            prop_assert_eq!(de00(one, one), 0.0);
            let (there, back) = (de00(one, other), de00(other, one));
            prop_assert!(there.is_finite() && (there - back).abs() < 1e-9);
        }
    }
}
