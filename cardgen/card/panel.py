"""What a panel is: a titled stack of blocks that knows its height at a given width.

A panel file in ``card/panels/`` holds one object ``PANEL``. Its blocks are the pieces
that stay whole; the layout engine stacks them into columns and carries what does not fit to the
next column or card. A block draws within its box and nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from cardgen.card.pen import Pen
from cardgen.card.view import View


class Block(Protocol):
    """A piece of a panel; only a long list of equal rows lets itself be cut."""

    @property
    def height(self) -> float:
        """Height at the width the block was made for [mm]."""
        ...

    @property
    def keep(self) -> bool:
        """Whether it must stand in the same column as the next block."""
        ...

    @property
    def under(self) -> Block | None:
        """The table head that is drawn again above it where it begins a column, if any."""
        ...

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        """Draw with the top left corner at (x, y)."""
        ...

    def cut(self, room: float) -> tuple[Block, Block] | None:
        """Return what fits a height [mm] and what is left, if the block can be cut there."""
        ...


@dataclass(frozen=True, slots=True)
class Panel:
    """One question answered on the card.

    Attributes
    ----------
    name
        The file's name, as used in templates and in ``card.show``.
    title
        Heading on the card.
    needs
        Ids of figures without which the panel is left out.
    blocks
        Given the view, a pen for measuring text (not for drawing) and the width of a column
        [mm], returns the blocks.
    """

    name: str
    title: str
    needs: tuple[str, ...]
    blocks: Callable[[View, Pen, float], Sequence[Block]]
