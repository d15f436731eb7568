//! Counting by weight, odds of good rings, coils to wind.
