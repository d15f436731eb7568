"""A thick ring between plates by Castigliano's second theorem, integrated numerically."""

import math

from scipy.integrate import quad
from table import Table

SHEAR_FACTOR = 10 / 9  # round section
RINGS = [(1.291, 5.2, 0.34), (1.0, 3.0, 0.34), (1.0, 5.0, 0.3), (0.8, 6.4, 0.37), (2.053, 9.6, 0.34), (1.0, 20.0, 0.34)]


def tables() -> list[Table]:
    rows = []
    for d, inside, poisson in RINGS:
        shortening, widening = flexibilities(d, inside, poisson)
        rows.append([d, inside, poisson, shortening, widening])
    return [
        Table(
            name="scipy_thick_ring",
            about="Change of diameter along and across the load, as multiples of P R^3 / (E I).",
            libraries=["scipy"],
            columns=["wire_diameter_mm", "inside_diameter_mm", "poisson_ratio", "shortening", "widening"],
            rows=rows,
            relative=1e-9,
        )
    ]


def flexibilities(d: float, inside: float, poisson: float) -> tuple[float, float]:
    """Energy of a curved bar, per quarter, with theta from the side to the plate:

    M^2/(2 A e E R) - M N/(A E R) + N^2/(2 A E) + F V^2/(2 G A), each times R dtheta. M lessens
    the curvature where it is positive, N pulls. E = 1 and R, d as given; P = 1.
    """
    a = d / 2
    r = (inside + d) / 2
    area = math.pi * a * a
    inertia = math.pi * a**4 / 4
    neutral = area / radial_integral(r, a)
    e = r - neutral
    shear = SHEAR_FACTOR * 2 * (1 + poisson)

    def energy_of(first, second) -> float:
        """Mixed energy of two load states (M, N, V): d2U/dF1 dF2 over the whole ring."""

        def density(t: float) -> float:
            m1, n1, v1 = first(t)
            m2, n2, v2 = second(t)
            bending = m1 * m2 / (area * e * r)
            coupling = -(m1 * n2 + m2 * n1) / (area * r)
            return (bending + coupling + n1 * n2 / area + shear * v1 * v2 / area) * r

        return 4 * quad(density, 0, math.pi / 2, epsabs=0, epsrel=1e-12)[0]

    def hoop(_t: float):
        return 1.0, 0.0, 0.0

    def squeeze(t: float):
        return r / 2 * (1 - math.cos(t)), -math.cos(t) / 2, math.sin(t) / 2

    def stretch(t: float):
        return -r / 2 * (1 - math.sin(t)), math.sin(t) / 2, math.cos(t) / 2

    # The side section does not turn: dU/dM0 = 0 gives the moment there.
    m0 = -energy_of(squeeze, hoop) / energy_of(hoop, hoop)
    scale = inertia / r**3
    shortening = energy_of(squeeze, squeeze) + m0 * energy_of(hoop, squeeze)
    widening = energy_of(squeeze, stretch) + m0 * energy_of(hoop, stretch)
    return shortening * scale, widening * scale


def radial_integral(r: float, a: float) -> float:
    """int dA / radius over a round section."""
    return quad(
        lambda y: 2 * math.sqrt(max(a * a - y * y, 0.0)) / (r + y), -a, a, epsabs=0, epsrel=1e-12
    )[0]
