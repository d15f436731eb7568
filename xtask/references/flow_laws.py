"""Stress against strain for the seven flow laws, by root finding where no closed form exists.

Each takes a positive total strain and gives MPa. `onset` is the strain where the line bends.
"""

import math
from dataclasses import dataclass
from typing import Callable

from scipy.optimize import brentq


@dataclass
class Law:
    """A law with its name and its parameters as the batch interface writes them."""

    name: str
    parameters: list[float]
    modulus_mpa: float
    stress_mpa: Callable[[float], float]
    onset: float


def root(function: Callable[[float], float], high: float) -> float:
    return brentq(function, 0.0, high, xtol=1e-300, rtol=1e-15, maxiter=500)


def from_plastic(e_mpa: float, onset: float, hardening: Callable[[float], float]) -> Callable[[float], float]:
    """sigma = hardening(ep) with eps = sigma/E + ep, solved for ep."""

    def stress(strain: float) -> float:
        if strain <= onset:
            return e_mpa * strain
        plastic = root(lambda ep: hardening(ep) / e_mpa + ep - strain, strain)
        return hardening(plastic)

    return stress


def elastic_perfectly_plastic(e: float, sy: float) -> Law:
    return Law("elastic_perfectly_plastic", [sy], e, lambda strain: min(e * strain, sy), sy / e)


def bilinear(e: float, sy: float, et: float) -> Law:
    onset = sy / e
    return Law(
        "bilinear", [sy, et], e, lambda x: e * x if x <= onset else sy + et * (x - onset), onset
    )


def hollomon(e: float, k: float, n: float) -> Law:
    onset = (k / e) ** (1 / (1 - n))
    return Law("hollomon", [k, n], e, lambda x: e * x if x <= onset else k * x**n, onset)


def ludwik(e: float, s0: float, k: float, n: float) -> Law:
    return Law("ludwik", [s0, k, n], e, from_plastic(e, s0 / e, lambda ep: s0 + k * ep**n), s0 / e)


def swift(e: float, s0: float, k: float, n: float) -> Law:
    e0 = (s0 / k) ** (1 / n)
    return Law(
        "swift", [s0, k, n], e, from_plastic(e, s0 / e, lambda ep: k * (e0 + ep) ** n), s0 / e
    )


def voce(e: float, s0: float, q: float, b: float) -> Law:
    return Law(
        "voce",
        [s0, q, b],
        e,
        from_plastic(e, s0 / e, lambda ep: s0 + q * (1 - math.exp(-b * ep))),
        s0 / e,
    )


def ramberg_osgood(e: float, s02: float, m: float) -> Law:
    def stress(strain: float) -> float:
        if strain == 0.0:
            return 0.0
        # Either part alone bounds the stress; a hair more, lest rounding hide the root.
        high = min(e * strain, s02 * (strain / 0.002) ** (1 / m)) * (1 + 1e-12)
        return root(lambda s: s / e + 0.002 * (s / s02) ** m - strain, high)

    return Law("ramberg_osgood", [s02, m], e, stress, s02 / e)


# Round numbers in the range of soft and hard jewellery wire; they describe no particular metal.
LAWS = [
    elastic_perfectly_plastic(110000, 450),
    elastic_perfectly_plastic(76000, 220),
    elastic_perfectly_plastic(193000, 1500),
    bilinear(110000, 300, 1500),
    bilinear(193000, 250, 2500),
    bilinear(69000, 150, 600),
    hollomon(110000, 895, 0.49),
    hollomon(76000, 400, 0.3),
    hollomon(193000, 1400, 0.4),
    ludwik(110000, 120, 500, 0.5),
    ludwik(80000, 60, 350, 0.65),
    ludwik(193000, 300, 1000, 0.7),
    swift(110000, 120, 700, 0.4),
    swift(80000, 60, 450, 0.35),
    swift(105000, 250, 550, 0.15),
    voce(110000, 150, 300, 6),
    voce(69000, 100, 180, 12),
    voce(83000, 200, 150, 3),
    ramberg_osgood(193000, 1100, 12),
    ramberg_osgood(110000, 430, 8),
    ramberg_osgood(69000, 240, 20),
]
