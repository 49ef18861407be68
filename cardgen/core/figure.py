"""A number that can explain itself, and the sheet on which it is recorded.

House convention for every figure: lengths in mm, angles in **degrees**, forces in N, stresses in
MPa, times in s, temperatures in degC, torque in N m, power in W, speeds in 1/min, ratios plain.
Rules work in radians; a sheet converts once, where it records.

Formulas are text that an independent evaluator can work out from ``inputs`` alone, in the same
units (trigonometric functions of degrees): names, numbers, ``+ - * / ^``, a space between factors
for a product, and the functions ``sqrt sin cos tan asin acos atan exp ln log10 min max abs pi``.
A figure that a search or a numerical solution found says so with a formula that begins
``"method: "``; a figure that is text or was read from the spec or a table may leave it empty.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from cardgen.core.names import NAMES, Name
from cardgen.core.nut_names import NUT_NAMES

Basis = Literal["standard", "handbook", "computed", "data", "practice"]
Evidence = Literal["read", "derived", "practice", "memory"]

_WEAKNESS: Mapping[str, int] = {"read": 0, "derived": 1, "practice": 2, "memory": 3}


def weakest(*evidence: Evidence) -> Evidence:
    """Return the weakest of several kinds of evidence: a chain is as good as its worst link."""
    return max(evidence, key=lambda kind: _WEAKNESS[kind], default="derived")


@dataclass(frozen=True, slots=True)
class Input:
    """One quantity that a formula uses, and where it came from.

    Attributes
    ----------
    value
        In ``unit``.
    unit
        A unit of the house convention, or ``""`` for a plain number.
    origin
        The id of another figure (``"thread.pitch"``), or ``"spec:KEY.PATH"``,
        ``"machine:KEY.PATH"``, ``"material:KEY.PATH"`` for something the maker wrote, or
        ``"table:FILE ROW"`` for a published row, or ``"constant"``.
    evidence
        How well the value is known.
    """

    value: float | str
    unit: str
    origin: str
    evidence: Evidence = "derived"


@dataclass(frozen=True, slots=True)
class Figure:
    """A value with its limits, working and source.

    Attributes
    ----------
    id
        One of :data:`cardgen.core.names.NAMES`.
    value
        Basic or chosen value in the unit of its name; text where the answer is a word.
    low, high
        Limits, where there are any.
    formula
        Working, in the grammar of this module.
    inputs
        Symbol to input, in the order in which the formula uses them.
    source
        Standard and year, book and table, or ``common practice`` or ``from memory``.
    basis
        What kind of figure it is.
    evidence
        Weakest evidence among the figure's own source and its inputs.
    note
        One sentence: the reason for a choice, what was rejected, or a condition.
    internal
        Whether the job's thread is a nut's: its figures then bear a nut's names.
    """

    id: str
    value: float | str
    low: float | None
    high: float | None
    formula: str
    inputs: Mapping[str, Input]
    source: str
    basis: Basis
    evidence: Evidence
    note: str
    internal: bool = False

    @property
    def name(self) -> Name:
        """Label, symbol, unit and rounding of this figure."""
        return NUT_NAMES.get(self.id, NAMES[self.id]) if self.internal else NAMES[self.id]

    @property
    def number(self) -> float:
        """The value, for a figure that is a number.

        Raises
        ------
        TypeError
            If the figure is text.
        """
        if isinstance(self.value, str):
            msg = f"{self.id} is text, not a number"
            raise TypeError(msg)
        return self.value


@dataclass(frozen=True, slots=True)
class Finding:
    """Something the maker must know: a warning, or the reason why the job is refused.

    Attributes
    ----------
    id
        Topic and name, such as ``"cutting.no_safe_pass"``.
    text
        What is wrong in numbers, and what would help.
    refuses
        Whether the job must not be cut as written.
    """

    id: str
    text: str
    refuses: bool = False


@dataclass(frozen=True, slots=True)
class Pass:
    """One line of the infeed schedule.

    Attributes
    ----------
    number
        Counted from 1 over the whole schedule, all starts alike.
    depth
        Radial depth reached, from the surface of the blank [mm].
    increment
        Radial increment of this pass [mm].
    dial
        What the cross-slide's dial shows, as text (turns and divisions).
    compound
        What the compound slide's dial shows, as text; empty when it is not used.
    force
        Tangential cutting force [N].
    limited_by
        Which limit ruled the bite.
    step
        ``rough``, ``side`` (the roughing tool again, beside its groove), ``widen`` (the form tool
        down the rough groove), ``finish`` or ``spring``.
    used
        How much of the limit that it comes nearest to the pass uses; 0 for a spring pass.
    nearest
        That limit; empty for a spring pass.
    """

    number: int
    depth: float
    increment: float
    dial: str
    compound: str
    force: float
    limited_by: str
    step: str
    used: float = 0.0
    nearest: str = ""


@dataclass(frozen=True, slots=True)
class Outline:
    """A shape in millimetres for a panel to draw to scale; y points up.

    Attributes
    ----------
    points
        Corners in order [mm].
    closed
        Whether the last point joins the first.
    """

    points: tuple[tuple[float, float], ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One instruction in an order of work.

    Attributes
    ----------
    text
        What to do, in the imperative, with its numbers.
    kind
        A word for the panel to sort or mark by, such as ``harden`` or ``caution``.
    source
        Where the instruction comes from.
    """

    text: str
    kind: str
    source: str


@dataclass(slots=True)
class Sheet:
    """One topic's figures while they are being worked out.

    Parameters
    ----------
    topic
        The sheet's name: ``thread``, ``setup``, ``tool`` ...
    known
        Figures of the sheets worked before this one.
    internal
        Whether the job's thread is a nut's.
    """

    topic: str
    known: Mapping[str, Figure]
    figures: dict[str, Figure] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    outlines: dict[str, Outline] = field(default_factory=dict)
    passes: list[Pass] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    internal: bool = False

    def add(
        self,
        id: str,
        value: float | str,
        *,
        formula: str = "",
        inputs: Mapping[str, Input] | None = None,
        source: str,
        basis: Basis,
        low: float | None = None,
        high: float | None = None,
        evidence: Evidence = "derived",
        note: str = "",
    ) -> Figure:
        """Record a figure and return it.

        Parameters
        ----------
        id
            A name of the closed list; anything else is a fault of ours.
        value, formula, inputs, source, basis, low, high, note
            As the attributes of :class:`Figure`.
        evidence
            How well the figure's *own* source is known; the inputs' evidence is added here.

        Raises
        ------
        ValueError
            If the id is unknown or already recorded: nothing is computed twice.
        """
        if id not in NAMES:
            msg = f"{id} is not in core/names.py"
            raise ValueError(msg)
        if id in self.figures or id in self.known:
            msg = f"{id} is already recorded"
            raise ValueError(msg)
        used = dict(inputs or {})
        figure = Figure(
            id=id,
            value=value,
            low=low,
            high=high,
            formula=formula,
            inputs=used,
            source=source,
            basis=basis,
            evidence=weakest(evidence, *(part.evidence for part in used.values())),
            note=note,
            internal=self.internal,
        )
        self.figures[id] = figure
        return figure

    def __contains__(self, id: str) -> bool:
        """Whether a figure is known here, from this sheet or an earlier one."""
        return id in self.figures or id in self.known

    def __getitem__(self, id: str) -> Figure:
        """Return a figure of this sheet or an earlier one."""
        found = self.figures.get(id)
        return self.known[id] if found is None else found

    def number(self, id: str) -> float:
        """Return the value of a numeric figure of this sheet or an earlier one."""
        return self[id].number

    def ref(self, id: str) -> Input:
        """Use a recorded figure as an input, so that ``why`` can follow it down."""
        figure = self[id]
        return Input(figure.value, figure.name.unit, id, figure.evidence)

    def low(self, id: str) -> Input:
        """Use a figure's lower limit as an input."""
        return self._limit(id, self[id].low)

    def high(self, id: str) -> Input:
        """Use a figure's upper limit as an input."""
        return self._limit(id, self[id].high)

    def _limit(self, id: str, value: float | None) -> Input:
        if value is None:
            msg = f"{id} has no such limit"
            raise ValueError(msg)
        return Input(value, self[id].name.unit, id, self[id].evidence)

    def warn(self, id: str, text: str) -> None:
        """Record something the card must say."""
        self.findings.append(Finding(id, text))

    def refuse(self, id: str, text: str) -> None:
        """Record why the job must not be cut as written: numbers, and what would help."""
        self.findings.append(Finding(id, text, refuses=True))


@dataclass(frozen=True, slots=True)
class Sheets:
    """All sheets of one job, finished.

    Attributes
    ----------
    all
        The sheets in the order in which they build on one another.
    """

    all: tuple[Sheet, ...]

    def __iter__(self) -> Iterator[Sheet]:
        """Iterate over the sheets in order."""
        return iter(self.all)

    def __getitem__(self, topic: str) -> Sheet:
        """Return the sheet of a topic."""
        for sheet in self.all:
            if sheet.topic == topic:
                return sheet
        raise KeyError(topic)

    @property
    def figures(self) -> dict[str, Figure]:
        """Every figure by id, in order."""
        return {id: figure for sheet in self.all for id, figure in sheet.figures.items()}

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Every warning and refusal, in order."""
        return tuple(finding for sheet in self.all for finding in sheet.findings)

    @property
    def passes(self) -> tuple[Pass, ...]:
        """The infeed schedule; empty when there is none."""
        return tuple(line for sheet in self.all for line in sheet.passes)

    @property
    def refused(self) -> bool:
        """Whether the job must not be cut as written."""
        return any(finding.refuses for finding in self.findings)
