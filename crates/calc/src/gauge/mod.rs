//! Wire gauges: numbers that mean nothing without their system.
