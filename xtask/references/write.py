"""Writes every reference table, or with --check compares each with the file on disk."""

import sys

import densities
import gauges
import scipy_clamp
import scipy_odds
import scipy_ring
import scipy_slit
import scipy_springback
import units
from table import FOLDER

SOURCES = [
    gauges,
    units,
    densities,
    scipy_odds,
    scipy_springback,
    scipy_clamp,
    scipy_slit,
    scipy_ring,
]


def main(arguments: list[str]) -> int:
    if arguments not in ([], ["--check"]):
        print("usage: write.py [--check]", file=sys.stderr)
        return 2
    tables = [table for source in SOURCES for table in source.tables()]
    if arguments == ["--check"]:
        wanted = {table.path().name for table in tables}
        differences = [line for table in tables for line in table.differences()]
        differences += [
            f"{path.name}: no source writes it"
            for path in sorted(FOLDER.glob("*.csv"))
            if path.name not in wanted
        ]
        for line in differences:
            print(line, file=sys.stderr)
        print(f"{len(tables)} tables compared, {len(differences)} differences")
        return 1 if differences else 0
    FOLDER.mkdir(parents=True, exist_ok=True)
    for table in tables:
        table.path().write_text(table.text(), encoding="utf-8", newline="\n")
        print(f"{table.path().name}: {len(table.rows)} rows")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
