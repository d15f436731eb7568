//! One data file: schema steps, records with their history, backup, import and export.
