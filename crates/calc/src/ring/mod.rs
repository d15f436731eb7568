//! The ring: closed size, seam, roundness, strength.
