"""Where cards stand on sheets that are printed on both sides and cut.

Cards of one size stand edge to edge in a grid in the middle of the sheet, so that one cut parts
two of them, and every cut runs from edge to edge. A sheet is printed on both sides and turned
over its **long edge**. On an upright sheet the columns of the back are mirrored. On a lying sheet
the rows are, and the backs stand on their heads: each card that is cut out turns over like the
page of a book, whichever way its sheet lay.

Lengths are millimetres from the top left corner of the side as it is printed, y down. Nothing here
knows what is on a card.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.core.problems import CardgenError

_TICK = 5.0
"""Length of a cut mark outside the cards [mm]."""
_LEAST_TICK = 2.0
"""Room beside the cards below which the mark stands in their margins [mm]."""
_CLEAR = 1.0
"""How far a mark in the margins stays away from what is printed on a card [mm]."""
_SLACK = 0.05
"""What a card may be larger than its place, for sizes that are rounded inches [mm]."""

Line = tuple[float, float, float, float]


class ImposeError(CardgenError, ValueError):
    """A card that is larger than the sheet it is to be printed on."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One card of paper: the numbers of the leaves on its front and its back, if it has one."""

    front: int
    back: int | None = None


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a leaf stands on a side, its top left corner at (x, y); ``turned``: on its head."""

    leaf: int
    x: float
    y: float
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a sheet.

    Attributes
    ----------
    cuts
        Marks for the knife, each from (x1, y1) to (x2, y2).
    """

    width: float
    height: float
    stands: tuple[Stand, ...]
    cuts: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """Equal places edge to edge in the middle of a sheet."""

    width: float
    height: float
    columns: int
    rows: int
    place_width: float
    place_height: float

    @property
    def left(self) -> float:
        """Left edge of the first column [mm]."""
        return (self.width - self.columns * self.place_width) / 2

    @property
    def top(self) -> float:
        """Upper edge of the first row [mm]."""
        return (self.height - self.rows * self.place_height) / 2

    @property
    def lying(self) -> bool:
        """Whether the sheet's long edge runs across."""
        return self.width > self.height

    def front(self, place: int, leaf: int) -> Stand:
        """Return where the front of a card stands; places run along the rows."""
        row, column = divmod(place, self.columns)
        return self._stand(leaf, column, row, False)

    def back(self, place: int, leaf: int) -> Stand:
        """Return where its back stands, on the other side of the sheet."""
        row, column = divmod(place, self.columns)
        if self.lying:
            return self._stand(leaf, column, self.rows - 1 - row, True)
        return self._stand(leaf, self.columns - 1 - column, row, False)

    def _stand(self, leaf: int, column: int, row: int, turned: bool) -> Stand:
        x = self.left + column * self.place_width
        return Stand(leaf, x, self.top + row * self.place_height, turned)

    def cuts(self, margin: float) -> tuple[Line, ...]:
        """Return the marks at both ends of each cut, and a cross where two cuts meet.

        Parameters
        ----------
        margin
            Of the cards [mm]: where the sheet has no room beside them, a mark stands on the cut,
            between what is printed on one card and on the next.
        """
        inside = max(0.0, min(_TICK, margin - _CLEAR))
        right, bottom = self.width - self.left, self.height - self.top
        xs = [self.left + k * self.place_width for k in range(self.columns + 1)]
        ys = [self.top + k * self.place_height for k in range(self.rows + 1)]
        marks: list[Line] = []
        for x in xs:
            if _SLACK < x < self.width - _SLACK:
                low, high = _ends(self.top, bottom, inside)
                marks += [(x, low[0], x, low[1]), (x, high[0], x, high[1])]
        for y in ys:
            if _SLACK < y < self.height - _SLACK:
                low, high = _ends(self.left, right, inside)
                marks += [(low[0], y, low[1], y), (high[0], y, high[1], y)]
        for x in xs[1:-1]:
            for y in ys[1:-1]:
                marks += [(x - inside, y, x + inside, y), (x, y - inside, x, y + inside)]
        return tuple(marks)


def _ends(first: float, last: float, inside: float) -> tuple[tuple[float, float], ...]:
    """Return the marks at the two ends of a cut from ``first`` to ``last`` along the sheet."""
    if first >= _LEAST_TICK:
        tick = min(_TICK, first)
        return (first - tick, first), (last, last + tick)
    return (first, first + inside), (last - inside, last)


def grid(sheet: tuple[float, float], card: tuple[float, float]) -> Grid:
    """Return the grid that takes the most cards, the sheet upright or lying.

    Parameters
    ----------
    sheet, card
        Width and height [mm].

    Raises
    ------
    ImposeError
        If not even one card fits.

    Examples
    --------
    >>> found = grid((210, 297), (148, 210))
    >>> found.columns, found.rows, found.lying
    (2, 1, True)
    """
    short, long = sorted(sheet)
    width, height = card
    best: Grid | None = None
    for across, along in ((short, long), (long, short)):
        columns = int((across + _SLACK) / width)
        rows = int((along + _SLACK) / height)
        if columns and rows and (best is None or columns * rows > best.columns * best.rows):
            best = Grid(across, along, columns, rows, width, height)
    if best is None:
        msg = f"a card of {width:g} x {height:g} mm does not fit a sheet of {short:g} x {long:g} mm"
        raise ImposeError(msg)
    return best


def impose(
    pieces: Sequence[Piece],
    sheet: tuple[float, float],
    card: tuple[float, float],
    *,
    margin: float,
    both: bool = True,
) -> tuple[Side, ...]:
    """Return the sides to print for cards of one size: front, back, front, back and so on.

    Parameters
    ----------
    pieces
        In the order in which they are to be bound.
    sheet, card
        Width and height [mm].
    margin
        Of the cards [mm].
    both
        Whether sheets are printed on both sides; if not, no card may have a back.

    Raises
    ------
    ImposeError
        If a card is larger than the sheet.
    """
    places = grid(sheet, card)
    each = places.columns * places.rows
    cuts = places.cuts(margin)
    sides: list[Side] = []
    for first in range(0, len(pieces), each):
        group = list(enumerate(pieces[first : first + each]))
        fronts = [places.front(place, piece.front) for place, piece in group]
        sides.append(Side(places.width, places.height, tuple(fronts), cuts))
        if both:
            backs = [
                places.back(place, piece.back) for place, piece in group if piece.back is not None
            ]
            sides.append(Side(places.width, places.height, tuple(backs), cuts))
    return tuple(sides)


def paired(leaves: Sequence[int], *, both: bool = True) -> list[Piece]:
    """Return what belongs together as cards of paper, two leaves to each; the last may have one."""
    if not both:
        return [Piece(leaf) for leaf in leaves]
    return [
        Piece(leaves[at], leaves[at + 1] if at + 1 < len(leaves) else None)
        for at in range(0, len(leaves), 2)
    ]
