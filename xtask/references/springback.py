"""The bending moment of round wire by adaptive quadrature over the depth, and what follows from it.

Depth y runs from the middle of the wire to its surface at a = d/2; the strip at y is
2 sqrt(a^2 - y^2) wide. The integral is split where the metal starts to yield; the square root at
the surface is left to the quadrature's algebraic weight. No code and no change of variable is
shared with `calc`.
"""

import math

from flow_laws import Law
from scipy.integrate import quad
from scipy.optimize import brentq


def moment_n_mm(law: Law, curvature: float, d: float, relative: float = 1e-12) -> float:
    """M = 4 int_0^a sigma(kappa y) y sqrt(a^2 - y^2) dy; odd in the curvature."""
    if curvature < 0:
        return -moment_n_mm(law, -curvature, d, relative)
    a = d / 2

    def strip(y: float) -> float:
        return law.stress_mpa(curvature * y) * y * math.sqrt(a + y)

    split = law.onset / curvature if curvature > 0 else a
    if split >= a:
        return 4 * outer(strip, 0.0, a, relative)
    return 4 * (inner(strip, a, split, relative) + outer(strip, split, a, relative))


def inner(strip, a: float, split: float, relative: float) -> float:
    value, _ = quad(
        lambda y: strip(y) * math.sqrt(a - y), 0.0, split, epsabs=0, epsrel=relative, limit=500
    )
    return value


def outer(strip, low: float, a: float, relative: float) -> float:
    value, _ = quad(
        strip, low, a, weight="alg", wvar=(0.0, 0.5), epsabs=0, epsrel=relative, limit=500
    )
    return value


def stiffness(law: Law, d: float) -> float:
    return law.modulus_mpa * math.pi * d**4 / 64


def relaxed_curvature(
    law: Law, curvature: float, d: float, natural: float = 0.0, relative: float = 1e-12
) -> float:
    """What is left after elastic unloading; `natural` is the curvature the wire arrives with."""
    return curvature - moment_n_mm(law, curvature - natural, d, relative) / stiffness(law, d)


def mandrel_mm(law: Law, d: float, inside: float) -> float | None:
    """The mandrel that leaves this inside diameter, or nothing."""
    target = 2 / (inside + d)

    def miss(curvature: float) -> float:
        return relaxed_curvature(law, curvature, d) - target

    high = 2 * target
    while miss(high) < 0 and high < 100 / d:
        high *= 1.5
    if miss(high) < 0:
        return None
    curvature = brentq(miss, target, high, xtol=1e-14, rtol=1e-13)
    mandrel = 2 / curvature - d
    return mandrel if mandrel > 0 else None


def work_n(law: Law, curvature: float, d: float) -> float:
    """Work per length of wire, N mm per mm: the moment summed over the curvature."""
    bends = min(curvature, law.onset / (d / 2))
    pieces = [(0.0, bends)] if bends == curvature else [(0.0, bends), (bends, curvature)]
    return sum(
        quad(lambda k: moment_n_mm(law, k, d), low, high, epsabs=0, epsrel=1e-9)[0]
        for low, high in pieces
    )
