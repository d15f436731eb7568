//! Paper: run sheets, charts, labels and cards as PDF.
