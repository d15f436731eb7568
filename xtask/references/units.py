"""Conversion factors as pint defines them."""

import pint
from table import Table

# Our word, the library's word, and the unit we keep it in.
UNITS = [
    ("inch", "inch", "millimeter"),
    ("thou", "thou", "millimeter"),
    ("foot", "foot", "millimeter"),
    ("yard", "yard", "millimeter"),
    ("centimetre", "centimeter", "millimeter"),
    ("metre", "meter", "millimeter"),
    ("grain", "grain", "gram"),
    ("pennyweight", "pennyweight", "gram"),
    ("troy ounce", "troy_ounce", "gram"),
    ("troy pound", "troy_pound", "gram"),
    ("avoirdupois ounce", "ounce", "gram"),
    ("avoirdupois pound", "pound", "gram"),
    ("metric carat", "carat", "gram"),
    ("kilogram", "kilogram", "gram"),
    ("kilopound per square inch", "kpsi", "megapascal"),
    ("pound force", "pound_force", "newton"),
    ("foot per minute", "foot/minute", "meter/minute"),
    ("pound per cubic inch", "pound/inch**3", "gram/centimeter**3"),
]

# Words that mean one thing at the bench and another in the library: what the library makes of them.
TRAPS = ["mil", "karat", "point", "gr", "oz", "ct"]


def tables() -> list[Table]:
    registry = pint.UnitRegistry()
    factors = [
        [ours, float(registry.Quantity(1.0, theirs).to(kept).magnitude), kept]
        for ours, theirs, kept in UNITS
    ]
    traps = []
    for word in TRAPS:
        known = registry.parse_units(word)
        traps.append([word, str(known), str(known.dimensionality).strip("[]")])
    return [
        Table(
            name="pint_units",
            about="One unit in the unit we keep.",
            libraries=["pint"],
            columns=["unit", "factor", "kept_in"],
            rows=factors,
            relative=1e-14,
        ),
        Table(
            name="pint_traps",
            about="Bench words that the library reads as something else.",
            libraries=["pint"],
            columns=["word", "library_unit", "library_dimension"],
            rows=traps,
        ),
    ]
