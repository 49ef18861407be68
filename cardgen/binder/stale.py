"""Whether a card on the wall still holds: its numbers against those of today's files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

_PARTS = ("value", "low", "high")
_LONGEST = 400
"""Signs of a line that is printed."""


@dataclass(frozen=True, slots=True)
class Moved:
    """One figure that is not what the card says.

    Attributes
    ----------
    id
        Of the figure.
    was, now
        Value with limits as text; ``"absent"`` where there is none.
    """

    id: str
    was: str
    now: str

    def __str__(self) -> str:
        """Return the line that is printed."""
        # A card's record is somebody's file: it must not bring in lines of its own.
        told = f"{self.id}: {self.was} -> {self.now}"
        return " ".join(told.split())[:_LONGEST]


def moved(
    old: Mapping[str, Mapping[str, Any]], new: Mapping[str, Mapping[str, Any]]
) -> tuple[Moved, ...]:
    """Return the figures that differ between a card and today.

    Parameters
    ----------
    old, new
        Figures by id, as ``cardgen figures --json`` prints them.

    Returns
    -------
    tuple of Moved
        In the order of today's figures, then those that are gone.
    """
    ids = [*new, *(id for id in old if id not in new)]
    return tuple(
        Moved(id, _told(old.get(id)), _told(new.get(id)))
        for id in ids
        if not _same(old.get(id), new.get(id))
    )


def moved_lines(
    old: Sequence[Mapping[str, Any]], new: Sequence[Mapping[str, Any]]
) -> tuple[Moved, ...]:
    """Return the passes of a schedule that are set otherwise today.

    Parameters
    ----------
    old, new
        Schedules, as ``cardgen figures --json`` prints them.
    """
    was = {line["pass"]: _setting(line) for line in old}
    now = {line["pass"]: _setting(line) for line in new}
    return tuple(
        Moved(f"pass {number}", was.get(number, "absent"), now.get(number, "absent"))
        for number in sorted(was | now)
        if was.get(number) != now.get(number)
    )


def _setting(line: Mapping[str, Any]) -> str:
    """Return what is dialled in for a pass."""
    return str(line.get("compound") or line.get("dial"))


def moved_warnings(
    old: Sequence[Mapping[str, Any]], new: Sequence[Mapping[str, Any]]
) -> tuple[Moved, ...]:
    """Return the warnings that a card bears and today's does not, or the other way round."""
    was, now = ({str(each["id"]) for each in all_} for all_ in (old, new))
    return (
        *(Moved(f"warning {id}", "absent", "present") for id in sorted(now - was)),
        *(Moved(f"warning {id}", "present", "absent") for id in sorted(was - now)),
    )


def _same(old: Mapping[str, Any] | None, new: Mapping[str, Any] | None) -> bool:
    if old is None or new is None:
        return old is new
    return all(_close(old.get(part), new.get(part)) for part in _PARTS)


def _close(old: object, new: object) -> bool:
    if isinstance(old, int | float) and isinstance(new, int | float):
        # Below this nothing that is printed can move.
        return abs(old - new) <= 1e-9 * max(1.0, abs(old), abs(new))
    return old == new


def _told(figure: Mapping[str, Any] | None) -> str:
    if figure is None:
        return "absent"
    value = figure.get("value")
    text = f"{value:.7g}" if isinstance(value, int | float) else str(value)[:80]
    limits = [figure[part] for part in ("low", "high") if isinstance(figure.get(part), int | float)]
    return f"{text} ({' to '.join(f'{limit:.7g}' for limit in limits)})" if limits else text
