//! The number of a record, typed by what it numbers.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::marker::PhantomData;
use std::num::ParseIntError;
use std::str::FromStr;

use rusqlite::types::{FromSql, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// The number of one record of kind `T`; an order's number is never taken for a blade's.
pub struct Id<T> {
    number: i64,
    of: PhantomData<fn() -> T>,
}

impl<T> Id<T> {
    /// The record with this number.
    #[must_use]
    pub const fn new(number: i64) -> Id<T> {
        Id { number, of: PhantomData }
    }

    /// The bare number, as it stands in addresses and in the data file.
    #[must_use]
    pub const fn number(self) -> i64 {
        self.number
    }
}

impl<T> Clone for Id<T> {
    fn clone(&self) -> Id<T> {
        *self
    }
}

impl<T> Copy for Id<T> {}

impl<T> PartialEq for Id<T> {
    fn eq(&self, other: &Id<T>) -> bool {
        self.number == other.number
    }
}

impl<T> Eq for Id<T> {}

impl<T> PartialOrd for Id<T> {
    fn partial_cmp(&self, other: &Id<T>) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Id<T> {
    fn cmp(&self, other: &Id<T>) -> Ordering {
        self.number.cmp(&other.number)
    }
}

impl<T> Hash for Id<T> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.number.hash(state);
    }
}

impl<T> fmt::Debug for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Id({})", self.number)
    }
}

impl<T> fmt::Display for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.number.fmt(f)
    }
}

impl<T> FromStr for Id<T> {
    type Err = ParseIntError;

    fn from_str(text: &str) -> Result<Id<T>, ParseIntError> {
        text.parse().map(Id::new)
    }
}

impl<T> Serialize for Id<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.number.serialize(serializer)
    }
}

impl<'de, T> Deserialize<'de> for Id<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Id<T>, D::Error> {
        i64::deserialize(deserializer).map(Id::new)
    }
}

impl<T> ToSql for Id<T> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(ToSqlOutput::from(self.number))
    }
}

impl<T> FromSql for Id<T> {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Id<T>> {
        value.as_i64().map(Id::new)
    }
}
