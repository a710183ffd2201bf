//! The studio's own habits, entered once, that plans are reckoned with.

use super::record::Studio;

/// A habit that plans are reckoned with; what each is without the studio's word is common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Habit {
    /// Litres of water for each kilogram of dry cloth.
    LiquorRatio,
    /// Grams of neutral soap a litre when cloth is scoured.
    Scour,
    /// Hours in each mordant bath but iron.
    SoakHours,
    /// Hours in a bath of iron, which harms silk the longer it stays.
    IronHours,
    /// Hours a bundle cools before it is opened.
    CoolHours,
    /// Days a dry piece rests before its first wash.
    CureDays,
}

impl Habit {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::LiquorRatio,
        Self::Scour,
        Self::SoakHours,
        Self::IronHours,
        Self::CoolHours,
        Self::CureDays,
    ];

    /// The name under which the studio sets it.
    pub fn name(self) -> &'static str {
        match self {
            Self::LiquorRatio => "liquor-ratio",
            Self::Scour => "scour-g-per-l",
            Self::SoakHours => "soak-hours",
            Self::IronHours => "iron-hours",
            Self::CoolHours => "cool-hours",
            Self::CureDays => "cure-days",
        }
    }

    /// What it means, the end of a sentence that begins with its value.
    pub fn meaning(self) -> &'static str {
        match self {
            Self::LiquorRatio => "litres of water for each kilogram of dry cloth",
            Self::Scour => "g of neutral soap a litre for scouring",
            Self::SoakHours => "hours in each mordant bath but iron",
            Self::IronHours => "hours in a bath of iron",
            Self::CoolHours => "hours to cool in the bundle",
            Self::CureDays => "days of rest before the first wash",
        }
    }

    /// What is assumed without the studio's word: common practice, no source.
    pub fn assumed(self) -> f64 {
        match self {
            Self::LiquorRatio => 30.0,
            Self::Scour => 1.0,
            Self::SoakHours => 24.0,
            Self::IronHours => 1.0,
            Self::CoolHours => 12.0,
            Self::CureDays => 7.0,
        }
    }

    /// The least and the most that can be meant.
    fn range(self) -> (f64, f64) {
        match self {
            Self::LiquorRatio => (5.0, 200.0),
            Self::Scour => (0.0, 20.0),
            Self::SoakHours | Self::IronHours | Self::CoolHours => (0.0, 240.0),
            Self::CureDays => (0.0, 365.0),
        }
    }
}

/// The studio's habits, as far as it told them.
#[derive(Clone, Debug, Default)]
pub struct Habits<'a> {
    studio: Option<&'a Studio>,
}

impl<'a> Habits<'a> {
    /// Those among the studio's own values.
    pub fn of(studio: &'a Studio) -> Self {
        Self {
            studio: Some(studio),
        }
    }

    /// The studio's own word on a habit.
    pub fn own(&self, habit: Habit) -> Option<f64> {
        self.number(habit.name())
    }

    /// The studio's own word on a habit, else what is assumed.
    pub fn get(&self, habit: Habit) -> f64 {
        self.own(habit).unwrap_or(habit.assumed())
    }

    /// The studio's usual strength of a mordant, % of the weight of fibre.
    pub fn wof(&self, mordant: &str) -> Option<f64> {
        self.number(&wof_name(mordant))
    }

    fn number(&self, name: &str) -> Option<f64> {
        let value = self.studio?.get(name)?;
        check(name, value)?.ok()
    }
}

/// The name under which the usual strength of a mordant is kept.
pub fn wof_name(mordant: &str) -> String {
    format!("wof {}", mordant.trim().to_lowercase())
}

/// The value of a habit, or what it must be instead; `None` where `name` is none.
pub fn check(name: &str, value: &str) -> Option<Result<f64, String>> {
    let habit = Habit::ALL.into_iter().find(|habit| habit.name() == name);
    let (low, high) = match habit {
        Some(habit) => habit.range(),
        None => {
            name.strip_prefix("wof ")?;
            (0.0, 100.0)
        }
    };
    let number = value.trim().parse::<f64>().ok();
    let least = habit.is_none();
    Some(
        number
            .filter(|n| (low..=high).contains(n) && !(least && *n == 0.0))
            .ok_or_else(|| match habit {
                Some(_) => format!("a number from {low} to {high}"),
                None => format!("per cent of the weight of fibre, above 0 and at most {high}"),
            }),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_studios_word_comes_before_what_is_assumed() {
        let studio: Studio = [
            ("liquor-ratio", "20"),
            ("cure-days", "odd"),
            ("wof alum", "12.5"),
        ]
        .map(|(name, value)| (name.to_owned(), value.to_owned()))
        .into();
        let habits = Habits::of(&studio);
        assert_eq!(habits.get(Habit::LiquorRatio), 20.0);
        assert_eq!(
            (habits.own(Habit::CureDays), habits.get(Habit::CureDays)),
            (None, 7.0)
        );
        assert_eq!((habits.wof("Alum"), habits.wof("iron")), (Some(12.5), None));
        assert_eq!(Habits::default().get(Habit::SoakHours), 24.0);
    }

    #[test]
    fn what_can_be_meant() {
        for (name, value, good) in [
            ("liquor-ratio", "30", true),
            ("liquor-ratio", "1:30", false),
            ("liquor-ratio", "0", false),
            ("soak-hours", "0", true),
            ("soak-hours", "NaN", false),
            ("wof alum", "12", true),
            ("wof alum", "0", false),
            ("wof alum", "200", false),
        ] {
            assert_eq!(
                check(name, value).is_some_and(|told| told.is_ok()),
                good,
                "{name} {value}"
            );
        }
        assert_eq!(check("paper", "1"), None);
    }
}
