"""Many cards to one file to print: contents, dividers, cards, index, lists, room for notes.

Cards are taken one after the other and kept as packed leaves; only what the lists need of a job is
remembered. Then the binder's own pages are drawn, all pages are numbered, and the leaves are put on
sheets.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.binder import lists
from cardgen.binder.change import Change, changed
from cardgen.binder.entry import By, Entry
from cardgen.binder.impose import impose
from cardgen.binder.lists import Bound, Section
from cardgen.binder.pages import Drawn, Paper
from cardgen.binder.press import Bundle, Press
from cardgen.binder.record import listed
from cardgen.card.pen import Metrics, Picture
from cardgen.card.shape import Typed
from cardgen.core.words import ENGLISH, Words
from cardgen.pdf import book
from cardgen.pdf.book import Book, Goal

CONTENTS, INDEX, DRAWER, NOTES = "Contents", "Threads and figures", "Drills, wires, bits", "Notes"
CHANGED = "What the other machine moved"


@dataclass(frozen=True, slots=True)
class Style:
    """How a binder is put together.

    Attributes
    ----------
    by
        What the dividers part the cards by.
    sheet
        Width and height of the sheets that several cards are printed on [mm]; ``None`` for one
        card a page.
    both
        Whether such sheets are printed on both sides.
    notes
        How many pages for notes stand at the end.
    charts
        Whether each machine's chart of pitches stands behind its divider.
    """

    by: By = "machine"
    sheet: tuple[float, float] | None = None
    both: bool = True
    notes: int = 2
    charts: bool = True


@dataclass(frozen=True, slots=True)
class _Part:
    """What is behind one divider: its name, and the numbers of the jobs as they were taken."""

    name: str
    jobs: tuple[int, ...]


class Binder:
    """A binder in the making.

    Parameters
    ----------
    style
        How it is put together.
    metrics
        Of the typeface.
    """

    def __init__(self, style: Style, metrics: Metrics) -> None:
        self._style, self._metrics = style, metrics
        self._book = Book()
        self._entries: list[Entry] = []
        self._cards: list[Bundle] = []
        self._charts: dict[str, dict[str, Bundle]] = {}
        self._shapes: Counter[Typed] = Counter()
        self._words = ENGLISH
        self._changes: tuple[Change, ...] = ()

    def __len__(self) -> int:
        """Return how many jobs are in it."""
        return len(self._entries)

    def take(self, entry: Entry, picture: Picture, shape: Typed, words: Words = ENGLISH) -> None:
        """Put the cards of a job in; their marks are not kept.

        Raises
        ------
        ImposeError
            If a card is larger than the sheet; it is not put in.
        """
        if self._style.sheet:
            for page in picture.pages:
                impose([], self._style.sheet, (page.width, page.height), margin=shape.margin)
        # The binder's own pages are in the language of the first card.
        self._words = self._words if self._entries else words
        self._entries.append(entry)
        self._cards.append(self._drawn(picture, shape))
        self._shapes[shape] += 1

    def lacks_chart(self, machine: str, code: str) -> bool:
        """Whether the chart of a machine, by its title and its code, is still to be put in."""
        wanted = self._style.charts and self._style.by == "machine"
        return wanted and code not in self._charts.get(machine, ())

    def put_chart(self, machine: str, code: str, picture: Picture, shape: Typed) -> None:
        """Put a machine's chart behind its divider; it is of a size that a card had before."""
        self._charts.setdefault(machine, {})[code] = self._drawn(picture, shape)

    def _drawn(self, picture: Picture, shape: Typed) -> Bundle:
        begins: dict[str, int] = {}
        for number, page in enumerate(picture.pages):
            for box in page.boxes:
                if box.kind == "panel":
                    begins.setdefault(box.owner, number)
        leaves = tuple(self._book.draw(page, mono=picture.mono) for page in picture.pages)
        return Bundle(leaves, shape.margin, shape.small, begins=begins)

    def tell(self, changes: Sequence[Change]) -> None:
        """Add a page that tells what another machine did to the jobs."""
        self._changes = tuple(changes)

    def to_bytes(self, title: str, subject: str) -> bytes:
        """Return the binder as a file; nothing can be put in after that.

        Raises
        ------
        ValueError
            If there is no card in it.
        """
        if not self._entries:
            msg = "a binder without cards"
            raise ValueError(msg)
        words = self._words
        # The binder's own pages are of the size that most cards have.
        paper = Paper(self._shapes.most_common(1)[0][0], self._metrics, words)
        parts = self._parts()
        contents, dividers, sections = self._front(paper, parts)
        bundles = [self._bundle(paper, contents)]
        for part, divider in zip(parts, dividers, strict=True):
            bundles += [self._bundle(paper, divider), *self._charts.get(part.name, {}).values()]
            bundles += [self._cards[job] for job in part.jobs]
        for pages in self._back(paper, sections):
            bundles.append(self._bundle(paper, pages))
        where, labels = Press(
            self._book, self._metrics, self._style.sheet, self._style.both, words
        ).put(bundles)
        outline = [
            book.Entry(words.say(CONTENTS), where[0]),
            *(_outlined(section, where, words) for section in sections),
            *(
                book.Entry(words.say(name), where[page - 1])
                for name, page in self._after(paper, sections)
            ),
        ]
        return self._book.to_bytes(
            title=title,
            subject=subject,
            labels=labels,
            outline=outline,
            attachments=listed({entry.job: entry.code for entry in self._entries}),
        )

    def _parts(self) -> list[_Part]:
        found: dict[str, list[int]] = {}
        for number, entry in enumerate(self._entries):
            found.setdefault(entry.group(self._style.by), []).append(number)
        return [_Part(name, tuple(found[name])) for name in sorted(found, key=str.casefold)]

    def _front(
        self, paper: Paper, parts: Sequence[_Part]
    ) -> tuple[list[Drawn], list[list[Drawn]], list[Section]]:
        """Return contents and dividers, drawn with the page numbers that they themselves shift.

        Pages are counted, drawn and counted again until the count holds. A list that was longer
        with other numbers keeps its count, with an empty page, so that this comes to an end.
        """
        counts = [1] * (1 + len(parts))
        while True:
            sections = self._numbered(parts, counts)
            drawn = [
                paper.pages(
                    CONTENTS, lists.contents(paper, sections, self._after(paper, sections))
                ),
                *(
                    paper.pages(part.name, lists.divider(paper, sections, number))
                    for number, part in enumerate(parts)
                ),
            ]
            if all(len(pages) <= count for pages, count in zip(drawn, counts, strict=True)):
                break
            counts = [max(len(p), count) for p, count in zip(drawn, counts, strict=True)]
        for pages, count in zip(drawn, counts, strict=True):
            pages += paper.pages(NOTES, []) * (count - len(pages))
        return drawn[0], drawn[1:], sections

    def _back(self, paper: Paper, sections: Sequence[Section]) -> list[list[Drawn]]:
        """Return what stands behind the cards, drawn: the lists, and the pages for notes."""
        made = [[page for _, pages in self._lists(paper, sections) for page in pages]]
        if self._style.notes:
            made.append(paper.pages(NOTES, lists.notes(paper, NOTES)) * self._style.notes)
        return made

    def _lists(self, paper: Paper, sections: Sequence[Section]) -> list[tuple[str, list[Drawn]]]:
        """Return the lists behind the cards by name, drawn."""
        made = [
            (INDEX, paper.pages(INDEX, lists.index(paper, sections))),
            (DRAWER, paper.pages(DRAWER, lists.drawer(paper, sections))),
        ]
        if self._changes:
            made.append((CHANGED, paper.pages(CHANGED, changed(paper, self._changes))))
        return made

    def _after(self, paper: Paper, sections: Sequence[Section]) -> list[tuple[str, int]]:
        """Return the name and the first page of each list behind the cards."""
        at = 1 + sections[-1].jobs[-1].last
        after: list[tuple[str, int]] = []
        for name, pages in self._lists(paper, sections):
            after.append((name, at))
            at += len(pages)
        if self._style.notes:
            after.append((NOTES, at))
        return after

    def _numbered(self, parts: Sequence[_Part], counts: Sequence[int]) -> list[Section]:
        """Return the parts with page numbers, given how many pages contents and dividers take."""
        at = 1 + counts[0]
        sections: list[Section] = []
        for part, count in zip(parts, counts[1:], strict=True):
            divider = at
            at += count
            charts: list[int] = []
            for chart in self._charts.get(part.name, {}).values():
                charts.append(at)
                at += len(chart.leaves)
            jobs: list[Bound] = []
            for job in part.jobs:
                cards = self._cards[job]
                topics = {topic: at + page for topic, page in cards.begins.items()}
                after = at + len(cards.leaves)
                jobs.append(Bound(self._entries[job], at, after - 1, topics))
                at = after
            sections.append(Section(part.name, divider, tuple(jobs), tuple(charts)))
        return sections

    def _bundle(self, paper: Paper, pages: Sequence[Drawn]) -> Bundle:
        return Bundle(
            tuple(self._book.draw(each.page, mono=paper.mono) for each in pages),
            paper.shape.margin,
            paper.shape.small,
            tuple(each.leads for each in pages),
        )


def _outlined(section: Section, where: Sequence[Goal], words: Words) -> book.Entry:
    """Return a part's line of the outline, its charts and jobs below it."""
    chart = words.say(lists.CHART)
    charts = tuple(book.Entry(chart, where[page - 1]) for page in section.charts)
    jobs = tuple(
        book.Entry(f"{words.say(job.entry.thread)} – {job.entry.title}", where[job.first - 1])
        for job in section.jobs
    )
    return book.Entry(words.say(section.name), where[section.divider - 1], charts + jobs)
