//! The `linkwright` program: every calculation of the bench as a command.

fn main() {}
