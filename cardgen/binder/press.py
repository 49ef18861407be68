"""Drawn pages onto the sheets that are printed: page numbers, links, marks for the knife."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from cardgen.binder.impose import Side, Stand, impose, paired
from cardgen.binder.pages import Lead
from cardgen.card.pen import BLACK, HAIR, SOFT, Metrics, Page, Path, Text
from cardgen.core.words import Words, told
from cardgen.pdf.book import Book, Goal, Label, Leaf, Link, Placed

_OVER_FOLIO = 0.9
"""Clear space between what is printed on a page and its number below it [mm]."""
_LEAST_MARGIN = 4.0
"""Margin below which a page bears no number [mm]."""


@dataclass(frozen=True, slots=True)
class Bundle:
    """Pages that belong together: one job's cards, one chart, one list, one divider.

    Attributes
    ----------
    begins
        On which of its pages, counted from 0, each panel begins.
    """

    leaves: tuple[Leaf, ...]
    margin: float
    small: float
    leads: tuple[tuple[Lead, ...], ...] = ()
    begins: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Press:
    """Puts bundles of pages on sheets.

    Attributes
    ----------
    book
        Which the pages were drawn for, and the sheets are added to.
    metrics
        Of the typeface.
    sheet
        Width and height of the sheets [mm]; ``None`` for one page each.
    both
        Whether sheets are printed on both sides.
    words
        In which pages and sheets are numbered.
    """

    book: Book
    metrics: Metrics
    sheet: tuple[float, float] | None
    both: bool
    words: Words

    def put(self, bundles: Sequence[Bundle]) -> tuple[list[Goal], list[Label]]:
        """Put all leaves on sheets.

        Returns
        -------
        tuple
            Where each page came to lie, in the order of the pages, and how the sheets are called.
        """
        words = self.words
        leaves = [leaf for bundle in bundles for leaf in bundle.leaves]
        leads: list[tuple[Lead, ...]] = []
        folios: list[Leaf | None] = []
        for bundle in bundles:
            leads += bundle.leads or [()] * len(bundle.leaves)
            for leaf in bundle.leaves:
                said = words.say(told("page {number}", number=len(folios) + 1))
                folios.append(self._folio(said, leaf, bundle))
        sides = self._sides(bundles)
        where: dict[int, Goal] = {}
        for number, side in enumerate(sides):
            for stand in side.stands:
                leaf = leaves[stand.leaf]
                right, bottom = stand.x + leaf.width, stand.y + leaf.height
                where[stand.leaf] = Goal(number, stand.x, stand.y, right, bottom)
        for side in sides:
            placed: list[Placed] = []
            links: list[Link] = []
            for stand in side.stands:
                leaf = leaves[stand.leaf]
                folio = folios[stand.leaf]
                for each in (leaf, folio):
                    if each is not None:
                        placed.append(Placed(each, stand.x, stand.y, stand.turned))
                links += [
                    _link(lead, stand, leaf, where[lead.goal - 1]) for lead in leads[stand.leaf]
                ]
            if side.cuts:
                placed.append(Placed(self._cuts(side)))
            self.book.add(side.width, side.height, placed, links)
        labels = [Label(0, "", numbered=True)]
        if self.sheet:
            fronts, backs = "sheet {number} front", "sheet {number} back"
            faces = (fronts, backs) if self.both else ("sheet {number}",)
            labels = [
                Label(at, words.say(told(faces[at % len(faces)], number=at // len(faces) + 1)))
                for at in range(len(sides))
            ]
        return [where[number] for number in range(len(leaves))], labels

    def _sides(self, bundles: Sequence[Bundle]) -> list[Side]:
        """Return the sides to print: a page each, or cards of one size together."""
        sheet, both = self.sheet, self.both
        sides: list[Side] = []
        sizes: dict[tuple[float, float], list[tuple[Bundle, list[int]]]] = {}
        number = 0
        for bundle in bundles:
            size = bundle.leaves[0].width, bundle.leaves[0].height
            numbers = list(range(number, number + len(bundle.leaves)))
            number += len(bundle.leaves)
            sizes.setdefault(size, []).append((bundle, numbers))
            if sheet is None:
                sides += [Side(*size, (Stand(leaf, 0.0, 0.0),), ()) for leaf in numbers]
        if sheet is None:
            return sides
        for size, group in sizes.items():
            pieces = [piece for _, numbers in group for piece in paired(numbers, both=both)]
            margin = min(bundle.margin for bundle, _ in group)
            sides += impose(pieces, sheet, size, margin=margin, both=both)
        return sides

    def _folio(self, said: str, leaf: Leaf, bundle: Bundle) -> Leaf | None:
        """Return the page's number, to be laid over its lower margin.

        It only helps to find a page; nothing is lost where it is trimmed.
        """
        if bundle.margin < _LEAST_MARGIN:
            return None
        size = bundle.small
        base = leaf.height - bundle.margin + _OVER_FOLIO + self.metrics.ascent(size)
        text = Text(leaf.width / 2, base, said, size, "regular", "middle", SOFT, 0.0)
        return self.book.draw(Page(leaf.width, leaf.height, (text,), ()), mono=False)

    def _cuts(self, side: Side) -> Leaf:
        marks = tuple(
            Path(((x1, y1), (x2, y2)), False, BLACK, HAIR, (), None) for x1, y1, x2, y2 in side.cuts
        )
        return self.book.draw(Page(side.width, side.height, marks, ()), mono=False)


def _link(lead: Lead, stand: Stand, leaf: Leaf, goal: Goal) -> Link:
    """Return a link of a page where the page stands on its sheet."""
    left, top, right, bottom = lead.left, lead.top, lead.right, lead.bottom
    if stand.turned:
        left, right = leaf.width - right, leaf.width - left
        top, bottom = leaf.height - bottom, leaf.height - top
    return Link(left + stand.x, top + stand.y, right + stand.x, bottom + stand.y, goal)
