"""Wire gauge schedules as fluids hands them out."""

from fluids.piping import wire_schedules
from table import Table


def tables() -> list[Table]:
    return [
        schedule("AWG", "American wire gauge, inches as the library rounds them"),
        schedule("BSWG", "British standard wire gauge, inches as the library holds them"),
        schedule("SWG", "United States steel wire gauge, which this library calls SWG"),
    ]


def schedule(key: str, about: str) -> Table:
    """The library keeps gauge numbers and inches side by side."""
    numbers, inches, _, _ = wire_schedules[key]
    return Table(
        name=f"fluids_{key.lower()}",
        about=f"{about}.",
        libraries=["fluids"],
        columns=["gauge", "diameter_in"],
        rows=[[name(n), float(inch)] for n, inch in zip(numbers, inches, strict=True)],
    )


def name(number: float) -> str:
    """The library writes 2/0 as 0.5, 3/0 as 0.33 and so on; here they are 00, 000 as people write them."""
    if 0 < number < 1:
        return "0" * round(1 / number)
    return str(int(number))
