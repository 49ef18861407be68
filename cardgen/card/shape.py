"""What is read of a template; :class:`cardgen.spec.job.Template` has it all."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, Protocol


class Hole(Protocol):
    """A hole: its centre from the upper left corner, its diameter [mm]."""

    @property
    def x(self) -> float: ...  # noqa: D102
    @property
    def y(self) -> float: ...  # noqa: D102
    @property
    def diameter(self) -> float: ...  # noqa: D102


class Sized(Protocol):
    """The size of a card [mm]."""

    @property
    def width(self) -> float: ...  # noqa: D102
    @property
    def height(self) -> float: ...  # noqa: D102


class Edged(Sized, Protocol):
    """Where a card is cut out, and where it is punched."""

    @property
    def holes(self) -> Sequence[Hole]: ...  # noqa: D102
    @property
    def corners(self) -> float: ...  # noqa: D102
    @property
    def trim(self) -> Literal["none", "corners", "outline"]: ...  # noqa: D102


class Typed(Sized, Protocol):
    """Margin, sizes of type and ink: enough for a page of plain rows."""

    @property
    def margin(self) -> float: ...  # noqa: D102
    @property
    def body(self) -> float: ...  # noqa: D102
    @property
    def dial(self) -> float: ...  # noqa: D102
    @property
    def head(self) -> float: ...  # noqa: D102
    @property
    def small(self) -> float: ...  # noqa: D102
    @property
    def ink(self) -> Literal["colour", "mono"]: ...  # noqa: D102


class Shape(Edged, Typed, Protocol):
    """All that the layout of a job's cards reads."""

    @property
    def columns(self) -> int: ...  # noqa: D102
    @property
    def order(self) -> tuple[str, ...]: ...  # noqa: D102
    @property
    def taken(self) -> tuple[float, float, float, float]: ...  # noqa: D102
    @property
    def record_line(self) -> float: ...  # noqa: D102
