"""Which tolerance class is meant: a screw and its nut write theirs differently."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.core.problems import nearest


@dataclass(frozen=True, slots=True)
class Part:
    """Screw or nut, and the classes that a form has for it and for the other.

    Attributes
    ----------
    word, other
        ``screw`` and ``nut``, or the other way round.
    classes, foreign
        Of this part and of the other.
    """

    word: str
    other: str
    classes: Sequence[str]
    foreign: Sequence[str]

    @classmethod
    def of(cls, *, internal: bool, screw: Sequence[str], nut: Sequence[str]) -> Part:
        """Return the part for a form's two lists of classes."""
        return cls("nut", "screw", nut, screw) if internal else cls("screw", "nut", screw, nut)


def settled(wanted: str, part: Part) -> str | None:
    """Return the class that a maker means; ``None`` if it is none of the part's.

    A number alone gets the letter of the part where only one class has that number: 2 is 2A on a
    Unified screw and 2B in its nut. Capitals do not matter unless the standard uses them to tell
    screw from nut, as ISO's g and G do.

    Examples
    --------
    >>> nut = Part.of(internal=True, screw=("1A", "2A"), nut=("1B", "2B"))
    >>> settled("2", nut), settled("2b", nut), settled("2A", nut)
    ('2B', '2B', None)
    """
    if wanted in part.classes:
        return wanted
    if wanted in part.foreign:
        return None
    every = "".join((*part.classes, *part.foreign))
    alike = []
    if every in (every.lower(), every.upper()):
        alike = [known for known in part.classes if known.lower() == wanted.lower()]
    if not alike and wanted.isdigit():
        alike = [known for known in part.classes if known[:1] == wanted]
    return alike[0] if len(alike) == 1 else None


def fault(wanted: str, form: str, part: Part, more: Sequence[str] = ()) -> tuple[str, str, str]:
    """Return what is found, allowed and to be done about a class that the part has not.

    Parameters
    ----------
    wanted
        As written.
    form
        The form's name.
    part
        Screw or nut.
    more
        Further classes, each of which would choose a variant of the form.
    """
    known = [*part.classes, *more]
    if not known:
        return f"{form} {part.word}s have no tolerance class", "no class", "leave class out"
    allowed = "one of " + ", ".join(known)
    if wanted in part.foreign and wanted not in part.classes:
        swapped = wanted.translate(str.maketrans("AB", "BA"))
        twins = [twin for twin in (swapped, wanted.swapcase()) if twin in known]
        mend = f"{twins[0]} for the {part.word}" if twins else ""
        return (
            f"{wanted} is a class of {form} {part.other}s, and this is a {part.word}",
            allowed,
            mend,
        )
    near = nearest(wanted, known)
    mend = f"did you mean {near}?" if near else "leave class out for the usual one"
    return f"{wanted} is not a class of {form} {part.word}s known here", allowed, mend
