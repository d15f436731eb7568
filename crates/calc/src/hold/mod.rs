//! Holding the coil between parallel plates: crushing, marking, pinching, leaning.
