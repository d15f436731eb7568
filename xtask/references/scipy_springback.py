"""Winding with every flow law: moment, relaxed curvature, inverse mandrel and work."""

from flow_laws import LAWS
from springback import mandrel_mm, moment_n_mm, relaxed_curvature, work_n
from table import Table

# Wire and mandrel in mm, from a hard bend to one that stays elastic in most metals.
BENDS = [(1.6, 2.4), (0.3, 0.6), (1.291, 5.0), (1.02, 4.0), (2.053, 14.0), (0.8, 12.0), (1.0, 60.0), (0.5, 200.0)]
NATURAL = [(1.291, 5.0, 0.02), (1.291, 5.0, -0.02)]
WANTED = [(1.291, 5.0), (0.81, 9.0)]

LAW_COLUMNS = ["law", "youngs_modulus_mpa", "p1", "p2", "p3"]


def tables() -> list[Table]:
    return [winding(), mandrels(), work()]


def of(law) -> list:
    """Name, modulus and parameters, in the order of the batch interface; an empty cell where none."""
    parameters = [float(p) for p in law.parameters]
    return [law.name, float(law.modulus_mpa)] + parameters + [None] * (3 - len(parameters))


def winding() -> Table:
    rows = []
    for law in LAWS:
        for d, mandrel, natural in [(d, mandrel, 0.0) for d, mandrel in BENDS] + NATURAL:
            curvature = 2 / (mandrel + d)
            rows.append(
                of(law)
                + [
                    d,
                    mandrel,
                    natural,
                    moment_n_mm(law, curvature - natural, d),
                    relaxed_curvature(law, curvature, d, natural),
                ]
            )
    return Table(
        name="scipy_winding",
        about="Bending moment on the mandrel and curvature after elastic unloading.",
        libraries=["scipy"],
        columns=LAW_COLUMNS
        + [
            "wire_diameter_mm",
            "mandrel_diameter_mm",
            "natural_curvature_per_mm",
            "bending_moment_n_mm",
            "relaxed_curvature_per_mm",
        ],
        rows=rows,
        relative=1e-9,
    )


def mandrels() -> Table:
    rows = [
        of(law) + [d, inside, mandrel_mm(law, d, inside)] for law in LAWS for d, inside in WANTED
    ]
    return Table(
        name="scipy_mandrel",
        about="Mandrel that leaves a coil of this inside diameter; empty where none does.",
        libraries=["scipy"],
        columns=LAW_COLUMNS + ["wire_diameter_mm", "coil_inside_diameter_mm", "mandrel_diameter_mm"],
        rows=rows,
        relative=1e-9,
    )


def work() -> Table:
    rows = [of(law) + [1.291, 5.0, work_n(law, 2 / 6.291, 1.291)] for law in LAWS[::3]]
    return Table(
        name="scipy_work",
        about="Work to bend a millimetre of wire onto the mandrel, N mm per mm.",
        libraries=["scipy"],
        columns=LAW_COLUMNS + ["wire_diameter_mm", "mandrel_diameter_mm", "work_n"],
        rows=rows,
        relative=1e-7,
    )
