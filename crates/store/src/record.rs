//! What every kind of record has in common.

use rusqlite::{Row, ToSql};
use serde::Serialize;

use crate::id::Id;

/// A kind of record kept in a table of its own, one field a column.
pub trait Record: Sized + Serialize {
    /// Its table.
    const TABLE: &'static str;
    /// What one is called on a page, such as "wire lot".
    const NAME: &'static str;
    /// Its columns, in the order of [`values`](Record::values); the number is not among them.
    const COLUMNS: &'static [&'static str];

    /// The value of each column.
    fn values(&self) -> Vec<&dyn ToSql>;

    /// Reads it from a row that has all columns.
    ///
    /// # Errors
    /// If a column is absent or holds another type.
    fn from_row(row: &Row<'_>) -> rusqlite::Result<Self>;
}

/// A record with its number.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Saved<T> {
    /// Its number.
    pub id: Id<T>,
    /// What was saved.
    #[serde(flatten)]
    pub record: T,
}

impl<T: Record> Saved<T> {
    pub(crate) fn from_row(row: &Row<'_>) -> rusqlite::Result<Saved<T>> {
        Ok(Saved { id: row.get("id")?, record: T::from_row(row)? })
    }
}

/// `id` and all columns of `T`, for a `select`.
pub(crate) fn columns<T: Record>() -> String {
    format!("id, {}", T::COLUMNS.join(", "))
}

/// Defines a record: its structure, its table and its columns in one place.
macro_rules! record {
    (
        $(#[$about:meta])*
        $name:ident in $table:literal, a $called:literal {
            $($(#[$field_about:meta])* $field:ident: $kind:ty,)*
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
        pub struct $name {
            $($(#[$field_about])* pub $field: $kind,)*
        }

        impl $crate::Record for $name {
            const TABLE: &'static str = $table;
            const NAME: &'static str = $called;
            const COLUMNS: &'static [&'static str] = &[$(stringify!($field)),*];

            fn values(&self) -> Vec<&dyn rusqlite::ToSql> {
                vec![$(&self.$field),*]
            }

            fn from_row(row: &rusqlite::Row<'_>) -> rusqlite::Result<$name> {
                Ok($name { $($field: row.get(stringify!($field))?,)* })
            }
        }
    };
}

/// Defines an enum that is kept as a word.
macro_rules! words {
    (
        $(#[$about:meta])*
        $name:ident { $($(#[$word_about:meta])* $variant:ident = $word:literal,)* }
    ) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[derive(serde::Serialize, serde::Deserialize)]
        pub enum $name {
            $($(#[$word_about])* #[serde(rename = $word)] $variant,)*
        }

        impl $name {
            /// All of them, in reading order.
            pub const ALL: &'static [$name] = &[$($name::$variant),*];

            /// The word it is kept and shown as.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $($name::$variant => $word,)* }
            }

            /// The one kept as this word; `None` if there is none.
            #[must_use]
            pub fn from_word(word: &str) -> Option<$name> {
                match word { $($word => Some($name::$variant),)* _ => None }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.word())
            }
        }

        impl rusqlite::ToSql for $name {
            fn to_sql(&self) -> rusqlite::Result<rusqlite::types::ToSqlOutput<'_>> {
                Ok(self.word().into())
            }
        }

        impl rusqlite::types::FromSql for $name {
            fn column_result(
                value: rusqlite::types::ValueRef<'_>,
            ) -> rusqlite::types::FromSqlResult<$name> {
                $name::from_word(value.as_str()?).ok_or(rusqlite::types::FromSqlError::InvalidType)
            }
        }
    };
}

pub(crate) use {record, words};
