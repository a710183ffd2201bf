//! Any question that the language can say.

use super::*;
use jiff::civil::date;

fn a_bound(units: &'static [Unit]) -> impl Strategy<Value = Bound> {
    let end = |included: bool, unit: Unit, n: u32| {
        Some(End::new(unit.kept(f64::from(n) / 2.0), included))
    };
    (prop::sample::select(units), 1..150u32, 1..150u32, 0..6u8).prop_map(
        move |(unit, n, more, how)| match how {
            0 => Bound {
                from: end(true, unit, n),
                to: None,
                unit,
            },
            1 => Bound {
                from: end(false, unit, n),
                to: None,
                unit,
            },
            2 => Bound {
                from: None,
                to: end(true, unit, n),
                unit,
            },
            3 => Bound {
                from: None,
                to: end(false, unit, n),
                unit,
            },
            4 => Bound::exactly(f64::from(n) / 2.0, unit),
            _ => Bound {
                from: end(true, unit, n),
                to: end(true, unit, n + more),
                unit,
            },
        },
    )
}

fn a_filter() -> impl Strategy<Value = Filter> {
    let is = |factor: Factor, values: &'static [&'static str]| {
        prop::sample::select(values)
            .prop_map(move |value| Filter::Is(factor.clone(), value.to_owned()))
    };
    let number = |factor: Factor, units: &'static [Unit]| {
        a_bound(units).prop_map(move |bound| Filter::Number(factor.clone(), bound))
    };
    let day = || (2019..2027i16, 1..13i8, 1..29i8).prop_map(|(y, m, d)| date(y, m, d));
    let column = |name: &str| Factor::Column(name.to_owned());
    prop_oneof![
        prop::sample::select(USED).prop_map(|name| Filter::With(name.to_owned())),
        prop::sample::select(USED).prop_map(|name| Filter::Without(name.to_owned())),
        prop::sample::select(&["silk", "wool", "crepe de chine"][..])
            .prop_map(|name| Filter::On(name.to_owned())),
        is(Factor::Pot, &["P1", "P 3"]),
        is(Factor::Bundle, &["B1"]),
        is(Factor::Layer, &["1", "4"]),
        is(Factor::Round, &["2"]),
        is(Factor::Status, &["sold", "for sale"]),
        is(Factor::Heat, &["steam", "simmer"]),
        is(Factor::Month, &["May", "March", "September"]),
        is(Factor::Season, &["spring", "winter"]),
        is(column("moon"), &["full", "new"]),
        is(column("time"), &["morning"]),
        number(
            Factor::SimmerTemperature,
            &[Unit::Celsius, Unit::Fahrenheit]
        ),
        number(Factor::SimmerTime, &[Unit::Minutes, Unit::Hours]),
        number(Factor::Weight, &[Unit::GramsPerSquareMetre, Unit::Momme]),
        number(Factor::BathAge(None), &[Unit::Days, Unit::Weeks]),
        number(Factor::BathAge(Some("alum".to_owned())), &[Unit::Days]),
        number(
            Factor::Strength("iron".to_owned()),
            &[Unit::PercentOfFibre, Unit::GramsPerLitre]
        ),
        number(column("leaf_age"), &[Unit::Plain]),
        number(column("vat number"), &[Unit::Plain]),
        day().prop_map(|day| Filter::Made {
            from: Some(day),
            until: None
        }),
        day().prop_map(|day| Filter::Made {
            from: None,
            until: Some(day)
        }),
        (day(), day()).prop_map(|(one, other)| Filter::Made {
            from: Some(one.min(other)),
            until: Some(one.max(other))
        }),
    ]
}

const USED: &[&str] = &[
    "walnut",
    "smokebush",
    "red oak",
    "olive",
    "alum",
    "iron",
    "alum > iron",
    "alum / iron",
    "none",
];

fn a_factor() -> impl Strategy<Value = Factor> {
    let with = prop::sample::select(USED).prop_map(|name| Factor::With(name.to_owned()));
    let column = prop::sample::select(&["leaf_age", "moon", "time", "vat number", "blanket"][..]);
    prop_oneof![
        prop::sample::select(factors()),
        with,
        column.prop_map(|name| Factor::Column(name.to_owned())),
    ]
}

/// Every setting but columns, mordants and plants where names are free.
pub fn factors() -> Vec<Factor> {
    use Factor::*;
    let alum = || "alum".to_owned();
    vec![
        Mordant,
        Soak,
        Plant,
        Pot,
        Bundle,
        Round,
        Layer,
        Fibre,
        Weave,
        Weight,
        SimmerTemperature,
        SimmerTime,
        Heat,
        Month,
        Season,
        Year,
        BathAge(None),
        BathAge(Some(alum())),
        Strength(alum()),
        Status,
        Piece,
    ]
}

fn some_colours() -> impl Strategy<Value = Option<Colours>> {
    let own = prop::sample::select(&["moss gold", "dark honey", "rust", "light"][..]);
    prop::option::of(prop_oneof![
        prop::sample::select(&Family::ALL[..]).prop_map(Colours::Family),
        own.prop_map(|word| Colours::Own(word.to_owned())),
    ])
}

fn a_part() -> impl Strategy<Value = Option<Part>> {
    let parts = vec![
        Part::Ground,
        Part::Print(None),
        Part::Print(Some("olive".to_owned())),
    ];
    prop::option::of(prop::sample::select(parts))
}

prop_compose! {
    pub fn a_question()(
        measure in prop::sample::select(&Measure::ALL[..]),
        highest in any::<bool>(),
        by in a_factor(),
        kind in 0..4u8,
        colours in some_colours(),
        part in a_part(),
        filters in prop::collection::vec(a_filter(), 0..4),
        state in prop::sample::select(&State::ALL[..]),
        seen in any::<bool>(),
    ) -> Question {
        let order = if highest { Order::Highest } else { Order::Lowest };
        let colours = if measure == Measure::Share { colours.or(Some(Colours::Family(Family::Olive))) } else { colours };
        let wanted = match kind {
            0 => Wanted::Count { seen: seen || colours.is_some() || part.is_some() },
            1 => Wanted::Next { measure, order },
            2 if by.is_number() => Wanted::Slope { measure, by },
            _ => Wanted::Compare { measure, order, by },
        };
        let mut different: Vec<Filter> = Vec::new();
        for filter in filters {
            if !different.contains(&filter) {
                different.push(filter);
            }
        }
        let state = match (&wanted, measure) {
            (Wanted::Count { seen: false }, _) => State::Dry,
            (Wanted::Count { .. }, _) => state,
            (_, Measure::Lightening) => State::Dry,
            (_, Measure::Fading) => State::Washed,
            _ => state,
        };
        Question { wanted, colours, part, filters: different, state }
    }
}
