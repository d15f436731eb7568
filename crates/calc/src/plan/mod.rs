//! From an order and a workshop to run sheets.
