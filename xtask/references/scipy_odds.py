"""Odds of enough good rings, from scipy's beta-binomial distribution."""

import math

import numpy
from scipy.stats import betabinom
from table import Table

RATES = [(1, 1), (0.5, 0.5), (0.1, 3), (0.001, 0.001), (95, 5), (950, 50), (2, 200), (1e5, 3e3), (1e6, 1)]
TURNS = [1, 2, 7, 55, 600, 5000]

# Good rings wanted, turns that can become rings per coil, the rate, the confidence.
JOBS = [
    (500, 55, 95, 5, 0.95),
    (100, 40, 19, 1, 0.95),
    (100, 40, 19, 1, 0.5),
    (40, 40, 1, 1, 0.8),
    (1200, 60, 950, 50, 0.99),
    (1, 1, 95, 5, 0.9),
    (37, 12, 3, 2, 0.9),
    (3000, 55, 95, 5, 0.95),
]


def tables() -> list[Table]:
    return [survival(), coils()]


def survival() -> Table:
    rows = []
    for n in TURNS:
        for a, b in RATES:
            masses = betabinom.pmf(numpy.arange(n + 1), n, a, b)
            for wanted in sorted({0, 1, n // 2, (9 * n) // 10, (99 * n) // 100, n - 1, n}):
                # Summed from the small end of the tail, so that small odds keep their digits.
                rows.append([n, wanted, float(a), float(b), math.fsum(masses[wanted:])])
    return Table(
        name="scipy_odds",
        about="P(good rings >= wanted) of turns, rate ~ Beta(a, b): the sum of betabinom.pmf.",
        libraries=["scipy"],
        columns=["turns", "good_rings", "beta_a", "beta_b", "probability"],
        rows=rows,
        relative=1e-10,
    )


def coils() -> Table:
    rows = []
    for wanted, usable, a, b, confidence in JOBS:
        for rate, odds in [("shared", shared), ("per_coil", per_coil)]:
            count = 1
            while odds(wanted, usable, count, a, b) < confidence:
                count += 1
            row = [wanted, usable, float(a), float(b), confidence, rate, count]
            row.append(odds(wanted, usable, count, a, b))
            row.append(odds(wanted, usable, count - 1, a, b) if count > 1 else 0.0)
            rows.append(row)
    return Table(
        name="scipy_coils",
        about="Fewest coils for the confidence, and the odds with them and with one less.",
        libraries=["scipy", "numpy"],
        columns=[
            "good_rings",
            "usable_turns_per_coil",
            "beta_a",
            "beta_b",
            "confidence",
            "rate",
            "coils",
            "probability",
            "probability_one_less",
        ],
        rows=rows,
        relative=1e-10,
    )


def shared(wanted: int, usable: int, count: int, a: float, b: float) -> float:
    """One unknown rate for all coils."""
    turns = usable * count
    return math.fsum(betabinom.pmf(numpy.arange(wanted, turns + 1), turns, a, b))


def per_coil(wanted: int, usable: int, count: int, a: float, b: float) -> float:
    """The rate drawn anew for each coil: the sum of independent counts."""
    one = betabinom.pmf(numpy.arange(usable + 1), usable, a, b)
    total = numpy.array([1.0])
    for _ in range(count):
        total = numpy.convolve(total, one)
    return math.fsum(total[wanted:])
