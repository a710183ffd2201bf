//! The words that columns hold for the choices of the records; a CHECK in the schema lists the same.

use super::record::{BathWork, HeatKind, StrengthUnit};
use crate::reading::{Basis, Part, State};
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};

macro_rules! spoken {
    ($($choice:ident { $($variant:ident = $word:literal),+ })+) => {$(
        impl ToSql for $choice {
            fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
                Ok(match self { $(Self::$variant => $word),+ }.into())
            }
        }

        impl FromSql for $choice {
            fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
                match value.as_str()? {
                    $($word => Ok(Self::$variant),)+
                    other => Err(FromSqlError::Other(format!("the word “{other}”").into())),
                }
            }
        }
    )+};
}

spoken! {
    State { Wet = "wet", Dry = "dry", Washed = "washed", Worn = "worn" }
    Basis { Chart = "chart", Tag = "tag", Assumed = "assumed" }
    Part { Ground = "ground", Print = "print" }
    HeatKind { Simmer = "simmer", Steam = "steam" }
    BathWork { Made = "made", ToppedUp = "topped up", Diluted = "diluted", Discarded = "discarded" }
    StrengthUnit { PercentOfFibre = "% wof", GramsPerLitre = "g/L" }
}
