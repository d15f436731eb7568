"""Winding by scipy's quadrature, timed: `versus.py law,modulus,p1,p2,p3 wire,mandrel ...`.

Prints the seconds for all windings, then the relaxed curvature of each.
"""

import sys
import time

import flow_laws
from springback import relaxed_curvature

# What is asked of the quadrature here; the reference tables ask for more.
RELATIVE = 1e-8


def main(law: str, *bends: str) -> None:
    name, modulus, *parameters = law.split(",")
    metal = getattr(flow_laws, name)(float(modulus), *map(float, parameters))
    pairs = [tuple(map(float, bend.split(","))) for bend in bends]
    began = time.perf_counter()
    left = [relaxed_curvature(metal, 2 / (mandrel + d), d, relative=RELATIVE) for d, mandrel in pairs]
    print(time.perf_counter() - began)
    for curvature in left:
        print(repr(curvature))


if __name__ == "__main__":
    main(*sys.argv[1:])
