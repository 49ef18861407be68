"""The nomenclature: every figure's id, its words, symbol, unit and how it is rounded.

This is the closed list. A sheet cannot record, and a panel cannot ask for, an id that is not in
one of the lists put together here. Ids that begin with the same word belong to the sheet of that
word.
"""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.core.name import Name, Side
from cardgen.core.part_names import HEAT, LOAD, MATE, MEASURE, THREAD
from cardgen.core.work_names import CUTTING, SETUP, TOOL

__all__ = ["NAMES", "Name", "Side"]

NAMES: Mapping[str, Name] = {
    **THREAD,
    **SETUP,
    **CUTTING,
    **TOOL,
    **MEASURE,
    **MATE,
    **LOAD,
    **HEAT,
}
