"""Densities of the elements as periodictable and mendeleev hold them."""

import periodictable
from mendeleev import element
from table import Table

SYMBOLS = "Ag Au Cu Zn Ni Pd Pt Al Ti Nb Fe Sn Ge Cr Mn Mo Si Mg".split()


def tables() -> list[Table]:
    return [
        Table(
            name="periodictable_densities",
            about="Density of the element near room temperature.",
            libraries=["periodictable"],
            columns=["symbol", "density_g_cm3"],
            rows=[[s, float(getattr(periodictable, s).density)] for s in SYMBOLS],
        ),
        Table(
            name="mendeleev_densities",
            about="Density of the element near room temperature.",
            libraries=["mendeleev"],
            columns=["symbol", "density_g_cm3"],
            rows=[[s, float(element(s).density)] for s in SYMBOLS],
        ),
    ]
