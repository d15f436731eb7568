//! The workshop app: pages, figures and assets served on this computer.
