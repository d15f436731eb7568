//! Chores of the house, one word each; `cargo xtask help` lists them.

fn main() -> anyhow::Result<()> {
    anyhow::bail!("no chore is wired in yet")
}
