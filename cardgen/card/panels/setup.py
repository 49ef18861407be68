"""How the machine is set up: wheels, speed, thread dial, and how long until the stop."""

from __future__ import annotations

import re
from collections.abc import Sequence

from cardgen.card.panel import Block, Panel
from cardgen.card.panels._setup_bore import bore_run
from cardgen.card.panels._setup_dial import PREFIX, thread_dial
from cardgen.card.panels._setup_run import run
from cardgen.card.panels._setup_train import train
from cardgen.card.pen import Pen
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import Said, joined, told

_LOW = 50.0
"""Height of a column below which a drawing takes the most of it [mm]."""
_HIGH = 80.0
"""Height of a column from which a number and its picture are kept together [mm]."""
CAPTION = "Seen from the gear end, spindle forward. Shaded wheels drive; dashed: idler, any size."


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the panel's blocks for a column of a width [mm]."""
    kit = Kit(view, pen, width)
    return [
        *_wheels(view, kit),
        *_speed(view, kit),
        *_dial(view, kit),
        *_slides(view, kit),
        *_stop(view, kit),
    ]


def _wheels(view: View, kit: Kit) -> list[Block]:
    if not view.has("setup.train"):
        return []
    wheels = _spaced(view.written("setup.train"))
    low = view.tallest < _LOW
    stack: list[Block] = [kit.big("Wheels, driver / driven", wheels, keep=not low)]
    if view.has("setup.gearbox"):
        stack.append(kit.big("Gearbox", view.written("setup.gearbox"), keep=not low))
    if "setup.wheel.1" not in view.outlines:
        return [*stack, *_lead(view, kit)]

    def picture(kit: Kit) -> list[Block]:
        return [kit.space(1.0), train(kit, view), kit.note(CAPTION)]

    if low:
        # The rows fill the card that the drawing has no room on.
        return [*stack, *_lead(view, kit), kit.note(CAPTION), train(kit, view)]
    return [*stack, *kit.illustrated(picture, lambda kit: _lead(view, kit))]


def _lead(view: View, kit: Kit) -> list[Block]:
    stack = kit.figures("setup.idlers", "setup.leadscrew_turns")
    if view.number("setup.lead_error_ppm") == 0:
        cut = told("{lead}, exact", lead=view.written("setup.lead_cut"))
        stack.append(kit.pair(view.label("setup.lead_cut"), cut))
    else:
        stack += kit.figures(
            "setup.lead_cut",
            "setup.lead_error_ppm",
            "setup.lead_error_over_thread",
            "setup.lead_error_over_mate",
        )
    stack += kit.figures("setup.wheel_changes", "setup.check_travel")
    return [*stack, *_others(view, kit)]


def _others(view: View, kit: Kit) -> list[Block]:
    """Return the trains to fall back on, each with what its lead is off."""
    stack: list[Block] = []
    for id in ("setup.train_2", "setup.train_3"):
        if view.has(id):
            off = f"{id}_error_ppm"
            error = "exact" if view.number(off) == 0 else view.written(off)
            wheels = joined([_spaced(view.written(id)), error], ", ")
            stack.append(kit.pair(view.label(id), wheels))
            stack += kit.figures(f"{id}_changes")
    return stack


def _spaced(wheels: str) -> str:
    """Return wheels as they are read best: ``40 / 60 × 30 / 45``."""
    return Said(wheels.replace(" x ", " × ").replace("/", " / ").replace("; ", ", "))


def _speed(view: View, kit: Kit) -> list[Block]:
    speed = view.written("setup.speed")
    return [
        kit.space(),
        kit.big(view.marked("setup.speed"), speed),
        *kit.figures("setup.range", "setup.power"),
        kit.paragraph(_told(view, "setup.speed_reason")),
    ]


def _dial(view: View, kit: Kit) -> list[Block]:
    # The marks themselves large, what goes with them under them.
    marks, more = _halves(view.written("setup.dial_marks"))
    drawn = any(name.startswith(PREFIX) for name in view.outlines)
    label, note = view.label("setup.dial_marks"), view.figures["setup.dial_marks"].note
    high = drawn and view.tallest > _HIGH
    stack: list[Block] = [kit.space(), kit.big(label, marks, more, keep=high)]
    if drawn and view.tallest >= _LOW:
        stack.append(thread_dial(kit, view))
    elif note and not drawn:
        stack.append(kit.note(note))
    stack += kit.figures("setup.dial_gear")
    if view.has("setup.indexing"):
        stack.append(kit.paragraph(_told(view, "setup.indexing")))
    stack += kit.figures("setup.index_gear")
    if view.has("setup.index_error"):
        exact = view.number("setup.index_error") == 0
        error = "exact, but for backlash" if exact else view.written("setup.index_error")
        stack.append(kit.pair(view.label("setup.index_error"), error))
    # How near the next start must be found follows from the tool, but it is here that it is found.
    stack += kit.figures("tool.index_degree", "tool.index_allowed")
    if drawn and view.tallest < _LOW:
        stack.append(thread_dial(kit, view))
    return stack


def _slides(view: View, kit: Kit) -> list[Block]:
    """Return the play of the slides and how to take it up, and how far the compound goes."""
    stack = kit.figures("setup.cross_play", "setup.compound_play")
    if view.has("setup.cross_play"):
        stack.append(kit.note(view.figures["setup.cross_play"].note))
    return [*stack, *kit.figures("setup.compound_travel")]


def _halves(text: str) -> tuple[str, str]:
    """Split a text in the reader's language at its first colon, semicolon or bracket."""
    found = re.match(r"([^:;(]+)[:;(]?\s*([^)]*)\)?$", text)
    return (Said(found[1].strip()), Said(found[2])) if found else (text, "")


def _told(view: View, id: str) -> str:
    """Return a figure as a sentence that its label begins."""
    return told("{what}: {how}.", what=view.label(id), how=view.written(id))


def _stop(view: View, kit: Kit) -> list[Block]:
    stack: list[Block] = [
        kit.space(),
        kit.paragraph(
            told(
                "{cut} {how}.",
                cut=view.label("setup.direction"),
                how=view.written("setup.direction"),
            ),
            weight="bold",
            keep=True,
        ),
        bore_run(kit, view) if view.internal else run(kit, view),
        kit.space(1.0),
        kit.paragraph(_told(view, "setup.stop")),
        *_times(view, kit),
        *_run_out(view, kit),
        *kit.figures("setup.coast"),
    ]
    for step in view.steps.get("setup", ()):
        if step.kind == "return":
            stack.append(kit.paragraph(told("Back: {text}.", text=step.text)))
        elif step.kind == "caution":
            stack.append(kit.warning(step.text))
    return stack


def _times(view: View, kit: Kit) -> list[Block]:
    """Give where the tool starts, and the seconds from there."""
    stack = kit.figures("setup.approach", "setup.time_from_nut", "setup.start_groove")
    if view.has("setup.time_from_nut"):
        stack.append(kit.note(view.figures["setup.time_from_nut"].note))
    return stack


def _run_out(view: View, kit: Kit) -> list[Block]:
    """Give the way that the hand's reaction takes, and the room that there is."""
    if not view.has("setup.groove_needed", "setup.reaction"):
        return []
    label = told("Run-out in {reaction}", reaction=view.written("setup.reaction"))
    if not view.has("setup.groove_given"):
        return [
            kit.pair(
                label,
                told("needs {needed}", needed=view.written("setup.groove_needed")),
            )
        ]
    needed, given = view.bare("setup.groove_needed"), view.written("setup.groove_given")
    return [
        kit.pair(label, told("needs {needed}, has {given}", needed=needed, given=given)),
        *kit.figures("setup.stop_time", "setup.stop_margin"),
    ]


PANEL = Panel("setup", "Set-up", ("setup.speed", "setup.dial_marks", "setup.stop"), blocks)
