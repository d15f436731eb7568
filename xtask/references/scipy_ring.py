"""The ring: curved-beam factors, closing shapes and the hinge under axial force, by quadrature."""

import math

from scipy.integrate import quad
from scipy.optimize import brentq
from table import Table

# Mean radius over half the wire.
CURVATURES = [2.2, 2.5, 3.0, 4.0, 5.0, 6.0, 9.0, 16.0]
# Kerf, inside diameter, wire; and how sharply the bending gathers opposite the joint.
CLOSINGS = [(0.3, 5.0, 1.291), (0.5, 9.6, 2.053), (0.15, 2.5, 0.644)]
LOCALISATIONS = [0, 1, 2, 4, 10]
HINGES = [(1.291, 4.0, 450.0), (1.0, 3.0, 300.0), (0.8, 5.0, 700.0), (2.053, 8.0, 250.0)]


def tables() -> list[Table]:
    return [beam_factors(), closings(), hinges()]


def beam_factors() -> Table:
    """Stress at the inside and outside over the straight-beam stress, from the strain of plane sections."""
    rows = []
    for ratio in CURVATURES:
        a, r = 1.0, ratio
        area = math.pi * a * a

        def section(weight):
            return quad(
                lambda t: weight(r + a * math.sin(t)) * 2 * (a * math.cos(t)) ** 2,
                -math.pi / 2,
                math.pi / 2,
                epsabs=0,
                epsrel=1e-13,
            )[0]

        neutral = area / section(lambda radius: 1 / radius)
        # Unit rotation strains a fibre by (radius - neutral)/radius; its moment about the middle:
        moment = section(lambda radius: (radius - neutral) / radius * (radius - r))
        straight = moment * a / (math.pi * a**4 / 4)
        inside = (neutral - (r - a)) / (r - a) / straight
        outside = ((r + a) - neutral) / (r + a) / straight
        rows.append([ratio, inside, outside])
    return Table(
        name="scipy_curved_beam",
        about="Curved-beam stress factors of a round section, inside and outside.",
        libraries=["scipy"],
        columns=["mean_radius_over_half_wire", "inside_factor", "outside_factor"],
        rows=rows,
        relative=1e-9,
    )


def closings() -> Table:
    rows = []
    for kerf, inside, wire in CLOSINGS:
        for m in LOCALISATIONS:
            rows.append([kerf, inside, wire, m, *closing(kerf, (inside + wire) / 2, m)])
    return Table(
        name="scipy_closing",
        about="Shape of a ring closed until its centre line meets; curvature gathers as ((1 + cos t)/2)^m.",
        libraries=["scipy"],
        columns=[
            "kerf_mm",
            "inside_diameter_mm",
            "wire_diameter_mm",
            "exponent",
            "height_mm",
            "width_mm",
            "end_rotation_factor",
        ],
        rows=rows,
        relative=1e-9,
    )


def closing(kerf: float, rho: float, m: int) -> tuple[float, float, float]:
    """Follows the centre line from the back of the ring to the joint: the heading at t is t plus
    the turning so far; the end must come back to the line of symmetry."""
    beta = math.asin(kerf / (2 * rho))
    end = math.pi - beta

    def gathered(t: float) -> float:
        return quad(lambda u: ((1 + math.cos(u)) / 2) ** m, 0, t, epsabs=0, epsrel=1e-12)[0] if t else 0.0

    whole = gathered(end)

    def place(factor: float, to: float) -> tuple[float, float]:
        def heading(t: float) -> float:
            return t + factor * beta * gathered(t) / whole

        across = quad(lambda t: math.cos(heading(t)), 0, to, epsabs=1e-13, epsrel=1e-12)[0]
        along = quad(lambda t: math.sin(heading(t)), 0, to, epsabs=1e-13, epsrel=1e-12)[0]
        return rho * across, rho * along

    factor = brentq(lambda c: place(c, end)[0], 0.2, 1.5, xtol=1e-13)
    # The widest point is where the heading is square to the width.
    widest = brentq(
        lambda t: t + factor * beta * gathered(t) / whole - math.pi / 2, 0.5, 2.0, xtol=1e-13
    )
    return place(factor, end)[1], 2 * place(factor, widest)[0], factor


def hinges() -> Table:
    """Pull that opens a ring at a hinge carrying bending and pull at once, perfectly plastic.

    The section is cut at depth h: metal on one side pulls, on the other pushes. The pull acts at
    the arm R, so M = N R.
    """
    rows = []
    for wire, ratio, strength in HINGES:
        a = wire / 2
        r = (ratio * wire + wire) / 2

        def side(low: float, high: float, power: int) -> float:
            """int y^power dA between two depths, with y = a sin t to tame the rim."""
            return quad(
                lambda t: (a * math.sin(t)) ** power * 2 * (a * math.cos(t)) ** 2,
                math.asin(low / a),
                math.asin(high / a),
                epsabs=1e-13,
                epsrel=1e-12,
            )[0]

        def resultants(h: float) -> tuple[float, float]:
            force, moment = (side(h, a, p) - side(-a, h, p) for p in (0, 1))
            return strength * force, strength * moment

        def miss(h: float) -> float:
            force, moment = resultants(h)
            return force * r - moment

        h = brentq(miss, -a, 0.0, xtol=1e-14)
        rows.append([wire, ratio, strength, resultants(h)[0]])
    return Table(
        name="scipy_hinge",
        about="Pull that opens an unsoldered ring, bending and pull together.",
        libraries=["scipy"],
        columns=["wire_diameter_mm", "aspect_ratio", "yield_strength_mpa", "opens_at_n"],
        rows=rows,
        relative=1e-9,
    )
