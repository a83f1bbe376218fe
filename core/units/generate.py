"""Write the factors of ``units.csv`` anew from pint: ``python -m core.units.generate``.

The library is used here and in tests only. It calculates in decimal fractions, so each factor in
the file is the float nearest to the exact one. A new row starts with factor and offset 0.
"""

import csv
import io
from decimal import Decimal
from typing import Any

from core.units.table import TABLE_PATH


def generated_table() -> str:
    """The text that ``units.csv`` has to have.

    Returns
    -------
    str
        The file's own rows, with factor and offset to SI as the units library gives them now

    Examples
    --------
    >>> generated_table().splitlines()[0]
    'id,symbol,dimension,pint,factor,offset,spellings'
    """
    import pint

    registry: Any = pint.UnitRegistry(non_int_type=Decimal)
    with TABLE_PATH.open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file)
        names, rows = list(reader.fieldnames or ()), list(reader)
    out = io.StringIO()
    writer = csv.DictWriter(out, names, lineterminator="\n")
    writer.writeheader()
    for row in rows:
        factor, offset = _factor_and_offset(registry, row["pint"])
        writer.writerow(row | {"factor": repr(factor), "offset": repr(offset)})
    return out.getvalue()


def _factor_and_offset(registry: Any, expression: str) -> tuple[float, float]:
    unit = registry.Unit(expression)
    zero, one = (
        registry.Quantity(Decimal(number), unit).to_base_units().magnitude for number in (0, 1)
    )
    return float(one - zero), float(zero)


if __name__ == "__main__":
    TABLE_PATH.write_text(generated_table(), encoding="utf-8", newline="")
