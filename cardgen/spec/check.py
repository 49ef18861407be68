"""What a shape cannot say: keys of a job that must agree with one another."""

from __future__ import annotations

from collections.abc import Callable

from cardgen.spec.fit import Answers
from cardgen.spec.form import mate_part, settled_form
from cardgen.spec.thread import nominal_diameter
from cardgen.spec.tolerance_class import fault as class_fault
from cardgen.spec.tolerance_class import settled

_RACK_KEYS = ("teeth", "width", "axis")
_TO_HARDNESS = ("harden", "temper")


def check(said: Answers) -> None:
    """Note every disagreement between the keys of a job file.

    The thread's own keys are looked at where the thread is put together
    (:mod:`cardgen.spec.thread`).

    Parameters
    ----------
    said
        The job file; faults are added to it.
    """
    for rule in _RULES:
        rule(said)


def _groove(said: Answers) -> None:
    end = said.text("work.thread-end")
    if end == "groove" and not said.written("work.groove"):
        said.fault(
            "work.groove",
            "the thread ends in a groove, and its width is not given",
            "groove: 8 mm",
            "give its width, or say thread-end: open or shoulder",
        )
    elif said.written("work.groove") and end in ("shoulder", "open"):
        said.fault(
            "work.groove",
            f"a groove is given, and the thread's end is {end}",
            "a groove only with thread-end: groove",
            "say thread-end: groove, or leave groove out",
        )
    elif said.written("work.groove") and not said.written("work.thread-end"):
        said.fault(
            "work.groove",
            "a groove is given, and the thread's end is not said",
            "a groove only with thread-end: groove",
            "say thread-end: groove",
        )


def _stock(said: Answers) -> None:
    stock, diameter = said.quantity("work.stock"), nominal_diameter(said)
    if stock is not None and diameter is not None and stock.exact < diameter:
        said.fault(
            "work.stock",
            f"stock of {stock.text} is thinner than the thread of {float(diameter):.6g} mm",
            f"{float(diameter):.6g} mm or more",
        )


def _stickout(said: Answers) -> None:
    stickout = said.quantity("work.stickout")
    length = said.quantity("thread.length")
    # A nut is gripped outside its thread: jaws and thread may overlap.
    if stickout is None or length is None or said.text("thread.surface") == "internal":
        return
    groove = said.exact("work.groove") or 0
    needed = length.exact + groove
    if stickout.exact < needed:
        parts = "the thread and its groove are" if groove else "the thread is"
        said.fault(
            "work.stickout",
            f"a stick-out of {stickout.text} is too short: {parts} {float(needed):g} mm long",
            f"{float(needed):g} mm or more, from the jaws' face to the far end",
            "let the bar stick out further, or cut a shorter thread",
        )


_NUT_KEYS = ("work.blind", "tool.bar", "tool.overhang")
_NUT_WORDS = (
    ("work.holding", "chuck", "the boring bar comes in from the tailstock's side"),
    ("work.rest", "none", "a nut is short and stiff; it is the boring bar that bends"),
)


def _internal(said: Answers) -> None:
    """Note what has no meaning for a nut, or for a screw."""
    if said.text("thread.surface") != "internal":
        for key in _NUT_KEYS:
            if said.written(key):
                word = key.rpartition(".")[2]
                said.fault(
                    key,
                    f"{word} has no meaning for an external thread",
                    f"{word} only with thread.surface: internal",
                )
        return
    for key, word, why in _NUT_WORDS:
        given = said.text(key)
        if given is not None and given != word:
            said.fault(key, f"{given} does not go with an internal thread", word, why)
    if said.written("work.cut-towards"):
        said.fault(
            "work.cut-towards",
            "a nut is cut the way that its hand asks",
            "cut-towards only with an external thread",
        )
    if said.written("duty"):
        said.fault("duty", "a duty is given for a nut", "duty in the job of its screw")
    _blind(said)


def _duty(said: Answers) -> None:
    if said.written("duty.collar-friction") and not said.written("duty.collar"):
        said.fault(
            "duty.collar-friction",
            "friction of a collar is given and no collar",
            "collar: its mean diameter",
        )
    if said.text("duty.way") == "pull":
        for key in ("duty.ends", "duty.free-length"):
            if said.written(key):
                said.fault(
                    key,
                    "a screw that is pulled does not buckle",
                    "ends and free-length only with way: push",
                )


def _blind(said: Answers) -> None:
    blind, length = said.quantity("work.blind"), said.exact("thread.length")
    if blind is None:
        return
    if said.text("work.thread-end") == "open":
        said.fault(
            "work.thread-end",
            "a blind hole is given, and the thread's end is open",
            "groove or shoulder",
            "leave blind out if the hole goes through",
        )
    needed = (length or 0) + (said.exact("work.groove") or 0)
    if blind.exact < needed:
        said.fault(
            "work.blind",
            f"a hole {blind.text} deep is too shallow: thread and groove take {float(needed):g} mm",
            f"{float(needed):g} mm or more, from the free face",
        )


def _mate(said: Answers) -> None:
    kind = said.text("mate.kind")
    if kind == "rack":
        if said.text("thread.surface") == "internal":
            said.fault("mate.kind", "a nut does not drive a rack", "a rack only with a screw")
        if said.written("mate.class"):
            said.fault("mate.class", "class has no meaning for a rack", "class only for a nut")
        return
    form = settled_form(said)
    class_ = said.text("mate.class")
    if class_ is not None and form is not None:
        part = mate_part(said, form)
        if settled(class_, part) is None:
            said.fault("mate.class", *class_fault(class_, form, part))
    for key in _RACK_KEYS:
        if said.written(f"mate.{key}"):
            said.fault(f"mate.{key}", f"{key} has no meaning for a nut", f"{key} only for a rack")


def _heat(said: Answers) -> None:
    """Refuse steps that make no sense in their order, whatever the steel."""
    hardened: str | None = None
    hardness_known = False
    for path in said.items("heat"):
        step = said.text(f"{path}.step")
        if step is not None and step not in _TO_HARDNESS and said.written(f"{path}.hardness"):
            said.fault(
                f"{path}.hardness",
                f"a hardness is asked of the step {step}",
                "hardness only with harden or temper",
            )
        if step not in ("harden", None) and said.written(f"{path}.quench"):
            said.fault(
                f"{path}.quench", f"a quench is asked of the step {step}", "quench only with harden"
            )
        if step == "cold-blue" and said.written(f"{path}.temperature"):
            said.fault(
                f"{path}.temperature",
                "a temperature is given for a blue that is put on cold",
                "no temperature with cold-blue",
            )
        if step is None:
            # It may have been meant as the hardening: what follows is not judged by it.
            hardened, hardness_known = path, True
        elif step == "harden":
            if hardened is not None:
                said.fault(f"{path}.step", "the part is hardened twice", "one hardening")
            hardened, hardness_known = path, said.written(f"{path}.hardness")
        elif step == "normalise" and hardened is not None:
            said.fault(
                f"{path}.step",
                "normalising after hardening undoes it",
                "normalise before harden",
            )
        elif step == "temper":
            _temper(said, path, hardened, hardness_known)


def _temper(said: Answers, path: str, hardened: str | None, hardness_known: bool) -> None:
    if hardened is None:
        said.fault(
            f"{path}.step",
            "there is a temper and no hardening before it",
            "harden, then temper",
            "put a step harden first, or say stress-relieve",
        )
    elif not (
        hardness_known or said.written(f"{path}.temperature") or said.written(f"{path}.hardness")
    ):
        said.fault(
            path,
            "nothing says how far to temper",
            "a temperature, or a hardness here or on the step harden",
        )


_RULES: tuple[Callable[[Answers], None], ...] = (
    _groove,
    _internal,
    _stock,
    _stickout,
    _mate,
    _heat,
    _duty,
)
