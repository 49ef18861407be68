"""What the binder's own pages hold: contents, dividers, index, what to lay out, room for notes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from cardgen.binder.entry import Entry
from cardgen.binder.pages import Paper, Row
from cardgen.card.grid import Column
from cardgen.card.panel import Block
from cardgen.card.pen import BLACK, HAIR, NARROW, SOFT, WHITE, Pen, Weight
from cardgen.card.table import Kit
from cardgen.core.words import Said, joined, told

_TAB = 9.0
"""Height of the strip of tabs on a divider [mm]."""
_RULE = 9.0
"""Distance of the lines to write on: for a marker on film [mm]."""

CHART = "Chart of every pitch it cuts"

_NAMED = 4
"""Jobs that are named beside a size; the others are counted, so that a row fits every page."""

TOPICS: Mapping[str, str] = {
    "setup": "Set-up",
    "infeed": "Infeed",
    "work": "Bend",
    "tool": "Cutter",
    "measure": "Measuring",
    "mate": "Mate",
    "load": "Load",
    "heat": "Heat",
}
"""Panels whose pages the index gives, and how it calls them; those that are left out first last."""

_DRAWER: Mapping[str, tuple[str, ...]] = {
    "Drills": ("thread.drill", "mate.drill"),
    "Wires and pins": ("measure.wire_chosen",),
    "Balls": ("measure.ball_chosen",),
    "Bits, square": ("tool.blank", "mate.blank"),
    "Boring bars": ("tool.bar",),
}
"""What is taken out of a drawer for a job, and the figures that say which size."""


@dataclass(frozen=True, slots=True)
class Bound:
    """A job in the binder, and the numbers of its first and last page there.

    Attributes
    ----------
    topics
        The page on which each panel begins, by the panel's name.
    """

    entry: Entry
    first: int
    last: int
    topics: Mapping[str, int] = field(default_factory=dict)

    @property
    def pages(self) -> str:
        """The pages as text."""
        return f"{self.first}" if self.first == self.last else f"{self.first}–{self.last}"


@dataclass(frozen=True, slots=True)
class Section:
    """Jobs behind one divider, and the number of the divider's page.

    Attributes
    ----------
    charts
        First page of each machine's chart, between the divider and the jobs.
    """

    name: str
    divider: int
    jobs: tuple[Bound, ...]
    charts: tuple[int, ...] = ()


def contents(
    paper: Paper, sections: Sequence[Section], back: Sequence[tuple[str, int]]
) -> list[Block]:
    """Return all jobs with their pages, part by part.

    Parameters
    ----------
    back
        Name and page of each list that stands behind the cards.
    """
    rows: list[Sequence[str] | str] = []
    goals: list[int] = []
    for section in sections:
        rows.append(section.name)
        goals.append(section.divider)
        for chart in section.charts:
            rows.append(("", CHART, f"{chart}"))
            goals.append(chart)
        for job in section.jobs:
            rows.append((job.entry.thread, job.entry.title, job.pages))
            goals.append(job.first)
    rows.append("At the back")
    goals.append(back[0][1])
    for name, page in back:
        rows.append(("", name, f"{page}"))
        goals.append(page)
    columns = [Column("Thread", bold=True), Column("For", stretch=True), Column("Page", "end")]
    return _leading(paper.kit(), columns, rows, goals)


def divider(paper: Paper, sections: Sequence[Section], number: int) -> list[Block]:
    """Return what stands on the divider of a part: its tab, and the jobs behind it."""
    kit = paper.kit()
    section = sections[number]
    columns = [
        Column("Thread", bold=True),
        Column("For", stretch=True),
        Column("Code"),
        Column("Page", "end"),
    ]
    rows = [("", CHART, "", f"{chart}") for chart in section.charts]
    rows += [(job.entry.thread, job.entry.title, job.entry.code, job.pages) for job in section.jobs]
    goals = [*section.charts, *(job.first for job in section.jobs)]
    tabs = kit.sketch(_TAB, lambda pen, x, y, width: _tabs(pen, x, y, width, number, len(sections)))
    return [tabs, kit.space(3.0), *_leading(kit, columns, rows, goals)]


def _tabs(pen: Pen, x: float, y: float, width: float, number: int, count: int) -> None:
    """Draw a tab for each part, the divider's own filled."""
    each = width / count
    size = 14.0
    base = y + (_TAB + pen.metrics.ascent(size)) / 2
    for tab in range(count):
        own = tab == number
        left, right = x + tab * each, x + (tab + 1) * each
        pen.rect(left, y, right, y + _TAB, stroke=SOFT, width=HAIR, fill=BLACK if own else None)
        text = f"{tab + 1}"
        if own or pen.width(text, size) < each - 1.0:
            middle = min(max((left + right) / 2, x + 4.0), x + width - 4.0)
            pen.text(middle, base, text, size, anchor="middle", ink=WHITE if own else SOFT)


def index(paper: Paper, sections: Sequence[Section]) -> list[Block]:
    """Return all threads by form and size: figures that one looks up most, pages of the others.

    On paper too narrow for all columns the last ones are left out.
    """
    kit = paper.kit()
    jobs = sorted((job for each in sections for job in each.jobs), key=lambda job: job.entry.order)
    figures = {
        "Turn or bore to": "thread.blank_diameter",
        "Depth": "thread.depth",
        "Lead": "thread.lead",
        "Wheels": "setup.train",
        "Speed": "setup.speed",
    }
    threads: list[Sequence[str] | str] = []
    goals: list[int] = []
    family = ""
    for job in jobs:
        entry = job.entry
        if entry.written("thread.form") != family:
            family = entry.written("thread.form")
            threads.append(family)
            goals.append(job.first)
        threads.append((entry.thread, *map(entry.written, figures.values()), job.pages))
        goals.append(job.first)
    topics = {
        title: name for name, title in TOPICS.items() if any(name in job.topics for job in jobs)
    }
    pages = [
        (job.entry.thread, *(_page(job, name) for name in topics.values()), job.pages)
        for job in jobs
    ]
    return [
        *_indexed(kit, list(figures), threads, goals),
        kit.space(3.0),
        kit.heading("On which page"),
        *_indexed(kit, list(topics), pages, [job.first for job in jobs]),
    ]


def _page(job: Bound, topic: str) -> str:
    return f"{job.topics[topic]}" if topic in job.topics else "–"


def _indexed(
    kit: Kit, titles: Sequence[str], rows: Sequence[Sequence[str] | str], goals: Sequence[int]
) -> list[Block]:
    """Return a table of threads: as many of the columns between name and pages as have room."""
    for shown in range(len(titles), -1, -1):
        columns = [
            Column("Thread", bold=True, stretch=True),
            *(Column(title, "end") for title in titles[:shown]),
            Column("Page", "end"),
        ]
        fewer = [row if isinstance(row, str) else (*row[: shown + 1], row[-1]) for row in rows]
        if not shown or _fits(kit, columns, fewer):
            break
    return _leading(kit, columns, fewer, goals)


def _fits(kit: Kit, columns: Sequence[Column], rows: Sequence[Sequence[str] | str]) -> bool:
    """Whether a table has room without breaking a word or a number."""
    cells = [row for row in rows if not isinstance(row, str)]
    needed = 0.0
    for place, column in enumerate(columns):
        weight: Weight = "bold" if column.bold else "regular"
        widths = [kit.pen.width(row[place], kit.body, weight) for row in cells]
        words = map(Said, kit.pen.words.say(column.title).split())
        titles = [kit.pen.width(word, kit.small, "bold") for word in words]
        needed += max([*widths, *titles])
    return needed + 2.0 * len(columns) <= kit.width


@dataclass(slots=True)
class _Size:
    """A size of something in the drawer [mm], as it is written, and the jobs that need it."""

    value: float
    text: str
    jobs: list[Bound] = field(default_factory=list)


def drawer(paper: Paper, sections: Sequence[Section]) -> list[Block]:
    """Return what must be in the drawer for all jobs: each size once, where it is used, a box."""
    kit = paper.kit()
    jobs = [job for section in sections for job in section.jobs]
    rows: list[Sequence[str] | str] = []
    for kind, ids in _DRAWER.items():
        sizes: dict[tuple[float, str], _Size] = {}
        for job in jobs:
            for id in ids:
                figure = job.entry.figures.get(id)
                if figure is None or isinstance(figure.value, str):
                    continue
                text = job.entry.written(id)
                number, _, unit = text.partition(" ")
                # 8.0 mm and 8.00 mm are one size, as they are read.
                size = sizes.setdefault((float(number), unit), _Size(figure.value, text))
                if job not in size.jobs:
                    size.jobs.append(job)
        if sizes:
            rows.append(kind)
        for size in sorted(sizes.values(), key=lambda size: (size.value, size.text)):
            where = [
                told("{thread} (page\u00a0{page})", thread=job.entry.thread, page=job.first)
                for job in size.jobs
            ]
            named, more = joined(where[:_NAMED], ", "), len(where) - _NAMED
            if more > 0:
                named = told("{jobs}, and {more} more", jobs=named, more=more)
            rows.append((size.text, named, ""))
    columns = [
        Column("Size", bold=True),
        Column("For", stretch=True),
        Column("There", "middle", tick=True),
    ]
    if not rows:
        return [kit.paragraph("No job asks for a drill, a wire or a bit.")]
    return kit.table(columns, rows)


def notes(paper: Paper, title: str) -> list[Block]:
    """Return lines to write on, as many as one page holds."""
    kit = paper.kit()

    def field(pen: Pen, x: float, y: float, width: float) -> None:
        size = kit.body
        base = y + _RULE - 1.5
        for left, right, word in ((0.0, 0.62, "Job"), (0.64, 1.0, "Date")):
            at = x + left * width
            wide = pen.text(at, base, word, size)
            pen.line(at + wide + 1.5, base, x + right * width, base, width=NARROW)

    def rule(pen: Pen, x: float, y: float, width: float) -> None:
        pen.line(x, y + _RULE - 1.5, x + width, y + _RULE - 1.5, stroke=SOFT, width=HAIR)

    count = int(paper.room(title) / _RULE)
    return [kit.sketch(_RULE, field), *(kit.sketch(_RULE, rule) for _ in range(count - 1))]


def _leading(
    kit: Kit,
    columns: Sequence[Column],
    rows: Sequence[Sequence[str] | str],
    goals: Sequence[int],
) -> list[Block]:
    """Return a table whose rows lead to pages of the binder."""
    blocks = kit.table(columns, rows)
    if blocks[-1].under is None:
        # Too narrow for columns: each text of a row is a block of its own, and there is no head.
        parts = [1 if isinstance(row, str) else sum(map(bool, row)) for row in rows]
        each = [goal for goal, count in zip(goals, parts, strict=True) for _ in range(count)]
        return [Row(block, goal) for block, goal in zip(blocks, each, strict=True)]
    head, *body = blocks
    return [head, *(Row(block, goal) for block, goal in zip(body, goals, strict=True))]
