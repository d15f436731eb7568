//! Reads the tables in `data/`, each of which names its source in its first lines.

/// One line of a table, with the names of its columns.
pub struct Row<'a> {
    columns: Vec<&'a str>,
    cells: Vec<&'a str>,
}

/// The lines of a table; lines that begin with `#` tell what it is and who vouches for it.
pub fn rows(text: &str) -> Vec<Row<'_>> {
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let columns: Vec<&str> = lines.next().expect("the names of the columns").split(',').collect();
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            assert_eq!(cells.len(), columns.len(), "{line}");
            Row { columns: columns.clone(), cells }
        })
        .collect()
}

impl<'a> Row<'a> {
    /// The cell as it stands.
    pub fn text(&self, column: &str) -> &'a str {
        let at = self.columns.iter().position(|name| *name == column);
        self.cells[at.unwrap_or_else(|| panic!("no column {column}"))]
    }

    /// The cell as a number; nothing if it is empty.
    pub fn maybe(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| text.parse().expect("a number"))
    }

    /// The cell as a number.
    pub fn number(&self, column: &str) -> f64 {
        self.maybe(column).unwrap_or_else(|| panic!("{column} is empty"))
    }

    /// The cell as a whole number.
    pub fn count(&self, column: &str) -> u32 {
        self.text(column).parse().expect("a whole number")
    }

    /// The line, to say which one failed.
    pub fn line(&self) -> String {
        self.cells.join(",")
    }
}
