"""How far along the coil a round blade cuts a round wire through, by trying points of the wire."""

import math

from scipy.optimize import brentq, minimize_scalar
from table import Table

# Blade diameter, wire diameter, projection.
CUTS = [
    (22.0, 1.291, 1.8),
    (22.0, 1.291, 2.6),
    (22.0, 1.291, 3.5),
    (22.0, 1.291, 1.292),
    (31.75, 2.053, 4.0),
    (38.1, 0.644, 1.0),
    (16.0, 0.81, 2.0),
    (50.0, 3.0, 8.0),
]


def tables() -> list[Table]:
    rows = [[*cut, severed_mm(*cut), touched_mm(*cut)] for cut in CUTS]
    return [
        Table(
            name="scipy_slit",
            about="Distance from the blade's centre within which a turn is severed, and touched at all.",
            libraries=["scipy"],
            columns=[
                "blade_diameter_mm",
                "wire_diameter_mm",
                "projection_mm",
                "severed_reach_mm",
                "touched_reach_mm",
            ],
            rows=rows,
            relative=1e-6,
        )
    ]


def extreme_mm(blade: float, wire: float, projection: float, s: float, sign: int) -> float:
    """Distance of the farthest (sign 1) or nearest (-1) point of the wire's rim from the blade's
    centre; the blade's centre is blade/2 - projection above the top of the coil."""
    height = blade / 2 - projection + wire / 2

    def off(angle: float) -> float:
        return -sign * math.hypot(s + wire / 2 * math.sin(angle), height + wire / 2 * math.cos(angle))

    coarse = min((off(i * math.pi / 180), i * math.pi / 180) for i in range(360))[1]
    best = minimize_scalar(off, bounds=(coarse - 0.02, coarse + 0.02), method="bounded", options={"xatol": 1e-9})
    return -sign * best.fun


def severed_mm(blade: float, wire: float, projection: float) -> float:
    """Every point of the rim lies inside the blade."""
    return brentq(
        lambda s: extreme_mm(blade, wire, projection, s, 1) - blade / 2, 0.0, blade, xtol=1e-12
    )


def touched_mm(blade: float, wire: float, projection: float) -> float:
    """At least one point of the rim lies inside the blade."""
    return brentq(
        lambda s: extreme_mm(blade, wire, projection, s, -1) - blade / 2, 0.0, blade, xtol=1e-12
    )
