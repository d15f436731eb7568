//! Slitting: blade projection, stop end, head start, chips and speeds.
