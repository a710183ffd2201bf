//! The machine against published data and other programs: `testdata/published` says where each table comes from.

use super::rows::Rows;
use super::*;

const GRUNFELD: &str = include_str!("../../testdata/published/grunfeld.csv");
const SLEEPSTUDY: &str = include_str!("../../testdata/published/sleepstudy.csv");

const DRUG_1: [f64; 10] = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
const DRUG_2: [f64; 10] = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

#[track_caller]
fn check(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted}");
}

/// A design of these rows: pot, y, and x.
struct Table(Pieces);

impl Table {
    fn of(rows: impl IntoIterator<Item = (usize, f64, Vec<f64>)>) -> Self {
        let mut pieces = Pieces::default();
        for (pot, y, x) in rows {
            pieces.columns = x.len();
            pieces.x.extend(x);
            pieces.y.push(y);
            pieces.pot.push(pot);
            pieces.known.push(0.0);
        }
        Self(pieces)
    }

    fn fit(&self) -> Fit {
        Fit::of(self.0.clone()).unwrap()
    }

    /// Fitted with a spread that is given, not estimated.
    fn fit_with(&self, between: f64, within: f64) -> Fit {
        let spread = Spread { between, within };
        Fit::with(Rows::of(self.0.clone()).unwrap(), |_| spread).unwrap()
    }
}

fn numbers(table: &str) -> impl Iterator<Item = Vec<f64>> {
    let lines = table.lines().skip(1);
    lines.map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect())
}

/// Investment on value and capital, and a constant last; the firms as pots.
fn grunfeld() -> Table {
    Table::of(numbers(GRUNFELD).map(|row| (row[0] as usize, row[2], vec![row[3], row[4], 1.0])))
}

fn sleepstudy() -> Table {
    Table::of(numbers(SLEEPSTUDY).map(|row| (row[0] as usize, row[2], vec![1.0, row[1]])))
}

/// Both drugs as groups, drug first; `pot` says to which pot a patient's two values belong.
fn sleep(pot: impl Fn(usize, usize) -> usize) -> Table {
    let drugs = [DRUG_1, DRUG_2];
    Table::of((0..2).flat_map(|drug| {
        let (pot, drugs) = (&pot, &drugs);
        let cell = vec![f64::from(drug == 0), f64::from(drug == 1)];
        (0..10)
            .map(move |patient| {
                (
                    pot(drug as usize, patient),
                    drugs[drug as usize][patient],
                    cell.clone(),
                )
            })
            .collect::<Vec<_>>()
    }))
}

impl Fit {
    /// A contrast's value, error and degrees of freedom under the working covariance alone, as other programs have them.
    fn alike(&self, contrast: &[f64]) -> (f64, f64, f64) {
        let k = self.coordinates(contrast).unwrap();
        let variance = self.variance(&k);
        let value = self.value(contrast).unwrap();
        (value, variance.squared_error.sqrt(), variance.df)
    }
}

const UNITS: [[f64; 3]; 3] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];

/// Estimates: Stata's `regress, vce(cluster)` as the tests of statsmodels 0.15.0 print it. Errors and degrees of freedom: R 4.2.2,
/// clubSandwich 0.5.8, `conf_int(lm(invest ~ value + capital), vcov = "CR2", cluster = firm, test = "Satterthwaite")`.
#[test]
fn plain_least_squares_on_grunfeld() {
    let fit = grunfeld().fit_with(0.0, 1.0);
    let wanted = [
        (0.11556215606596, 0.016245077780, 2.342616413393),
        (0.23067848754982, 0.110467620919, 2.863484618830),
        (-42.714369416733, 25.607403771788, 6.386093423355),
    ];
    for (unit, (value, error, df)) in UNITS.iter().zip(wanted) {
        let (found_value, found_error, found_df) = fit.alike(unit);
        check(found_value, value, 1e-7);
        check(found_error, error, 1e-9);
        check(found_df, df, 1e-8);
    }
}

/// The working covariance of `nlme::lme(invest ~ value + capital, random = ~1 | firm)` (between 7366.99, within 2781.43), the rows
/// made white with it in R 4.2.2 and handed to clubSandwich 0.5.8 as `lm`, CR2 with Satterthwaite.
#[test]
fn weighted_least_squares_on_grunfeld() {
    let fit = grunfeld().fit_with(7366.99270708336_f64.sqrt(), 2781.42554218069_f64.sqrt());
    let wanted = [
        (0.109789723998, 0.017159822981, 1.896520839689),
        (0.308188114504, 0.085428525529, 1.821777260789),
        (-57.864424452247, 34.523951143988, 8.856791566453),
    ];
    for (unit, (value, error, df)) in UNITS.iter().zip(wanted) {
        let (found_value, found_error, found_df) = fit.alike(unit);
        check(found_value, value, 1e-8);
        check(found_error, error, 1e-8);
        check(found_df, df, 1e-7);
    }
}

/// All 1024 patterns of signs, computed with NumPy 2.4.6 from the definition (null imposed, t by the cluster-robust error).
#[test]
fn every_sign_of_grunfelds_firms() {
    let table = grunfeld();
    for (contrast, null, wanted) in [
        (UNITS[0], 0.0, 0.00390625),
        (UNITS[1], 0.0, 0.0234375),
        (UNITS[2], 0.0, 0.02734375),
        (UNITS[0], 0.09, 0.03515625),
        (UNITS[1], 0.10, 0.712890625),
    ] {
        assert_eq!(wild(table.0.clone(), &contrast, null, 1), Some(wanted));
    }
}

/// One summary a subject: lme4's `sleepstudy`, the mean of 18 slopes, as `lmerTest` 3.1.3 prints it for
/// `lmer(Reaction ~ Days + (Days | Subject))`: 10.467286, standard error 1.545790, 17 degrees of freedom; to more digits by
/// clubSandwich 0.5.8 on `nlme::lme(Reaction ~ Days, random = ~1 | Subject)`, CR2. The spread is that of the same `lme`.
#[test]
fn a_slope_in_the_sleepstudy() {
    let fit = sleepstudy().fit();
    let slope = fit.contrast(&[0.0, 1.0]).unwrap();
    check(slope.value, 10.467285959596, 1e-9);
    check(slope.error, 1.545788896295, 1e-6);
    check(slope.df, 17.0, 1e-6);
    check(slope.low, 7.205956466152, 1e-5);
    check(slope.high, 13.728615453040, 1e-5);
    let start = fit.contrast(&[1.0, 0.0]).unwrap();
    check(start.value, 251.405104848485, 1e-8);
    check(start.error, 6.824556532069, 1e-5);
    check(fit.spread().between, 37.1238266941664, 1e-5);
    check(fit.spread().within, 30.9912339045860, 1e-6);
}

/// Student's sleep data, each patient a pot of two: the paired t test, t = -4.0621, df = 9, p = 0.002833, interval -2.4598858 to
/// -0.7001142 (R `t.test(paired = TRUE)`), further digits by scipy 1.17.1 `stats.ttest_rel`.
#[test]
fn pots_that_hold_both_are_pairs() {
    let found = sleep(|_, patient| patient)
        .fit()
        .contrast(&[1.0, -1.0])
        .unwrap();
    check(found.value, -1.58, 1e-12);
    check(found.df, 9.0, 1e-9);
    check(found.low, -2.459885763276983, 1e-9);
    check(found.high, -0.7001142367230175, 1e-9);
    check(found.p, 0.002832890197384273, 1e-10);
}

/// The same, each value a pot: Welch's test, t = -1.8608, df = 17.776, p = 0.07939, interval -3.3654832 to 0.2054832 (R
/// `t.test(extra ~ group)`), further digits by scipy 1.17.1 `stats.ttest_ind(equal_var=False)`.
#[test]
fn pots_of_one_group_are_welchs_test() {
    let fit = sleep(|drug, patient| 10 * drug + patient).fit();
    let found = fit.contrast(&[1.0, -1.0]).unwrap();
    check(found.value, -1.58, 1e-12);
    check(found.df, 17.776473516, 1e-8);
    check(found.low, -3.3654832307117104, 1e-8);
    check(found.high, 0.20548323071171137, 1e-8);
    check(found.p, 0.07939, 5e-6);
}

/// Pots of one to four rows, fewer than there are columns or as many; R 4.2.2, clubSandwich 0.5.8, `linear_contrast` of
/// `lm(y ~ 0 + X)` with CR2 and Satterthwaite.
#[test]
fn small_pots_of_many_settings() {
    let pots = (0..12).flat_map(|pot| vec![pot; 1 + pot % 4]);
    let rows = pots.enumerate().map(|(i, pot)| {
        let group = (2 * i + pot) % 3;
        let plant = (i * (i / 2)) % 2;
        let cell = |g| f64::from(u8::from(group == g));
        let y = ((i * i) as f64).sin() + group as f64;
        (pot, y, vec![cell(0), cell(1), cell(2), plant as f64])
    });
    let fit = Table::of(rows).fit_with(0.0, 1.0);
    for (contrast, value, error, df) in [
        (
            [1.0, -1.0, 0.0, 0.0],
            -1.181444753679,
            0.412950473220,
            6.528440157497,
        ),
        (
            [0.0, 0.0, 0.0, 1.0],
            0.439424884202,
            0.319596196249,
            6.068948079303,
        ),
        (
            [0.0, 1.0, 0.0, 0.5],
            1.102462254283,
            0.271028838324,
            5.808778548692,
        ),
    ] {
        let (found_value, found_error, found_df) = fit.alike(&contrast);
        check(found_value, value, 1e-10);
        check(found_error, error, 1e-10);
        check(found_df, df, 1e-9);
    }
}

/// 400 pots of two, each of slight leverage; clubSandwich 0.5.8 as above, `conf_int(lm(y ~ x))`.
#[test]
fn many_pots() {
    let rows = (0..800).map(|i: usize| {
        let x = (i % 7) as f64 - 3.0;
        (i / 2, ((i * i) as f64).sin() + x / 10.0, vec![1.0, x])
    });
    let fit = Table::of(rows).fit_with(0.0, 1.0);
    for (contrast, value, error, df) in [
        ([1.0, 0.0], 0.002214738968, 0.024459908137, 398.597663329378),
        ([0.0, 1.0], 0.105500383903, 0.012271425151, 250.196373836600),
    ] {
        let (found_value, found_error, found_df) = fit.alike(&contrast);
        check(found_value, value, 1e-10);
        check(found_error, error, 1e-8);
        check(found_df, df, 1e-4);
    }
}

/// Beyond a thousand degrees of freedom a lower bound stands for them; the error is Welch's, to the last digit.
#[test]
fn more_pots_than_matter() {
    let value = |i: usize| ((i * i) as f64).sin() * (1 + i % 2) as f64;
    let cell = |i: usize| {
        vec![
            f64::from(u8::from(i.is_multiple_of(2))),
            f64::from(u8::from(i % 2 == 1)),
        ]
    };
    let fit = Table::of((0..4000).map(|i| (i, value(i), cell(i)))).fit();
    let found = fit.contrast(&[1.0, -1.0]).unwrap();
    let group = |start: usize| -> Vec<f64> { (start..4000).step_by(2).map(value).collect() };
    let squared = [0, 1].map(|g| variance(&group(g)).unwrap() / 2000.0);
    check(found.error, (squared[0] + squared[1]).sqrt(), 1e-10);
    assert!(found.df > 1000.0 && found.df <= 3998.0, "{}", found.df);
}

/// More pots than all patterns of signs are tried for: the 18 subjects of `sleepstudy`, a slope of 7. All 262,144 patterns by
/// NumPy 2.4.6: p = 0.03954; 9,999 draws come within four standard errors of it.
#[test]
fn drawn_signs_come_near_all_signs() {
    let table = sleepstudy();
    let p = |seed| wild(table.0.clone(), &[0.0, 1.0], 7.0, seed).unwrap();
    check(p(1), 0.03954315, 0.008);
    check(p(2), 0.03954315, 0.008);
    assert_eq!(p(3), p(3));
    assert_ne!(p(1), p(2));
}
