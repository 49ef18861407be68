"""The words of a card in the reader's language.

English is written where it is used, and is the key under which a translation is found. A sentence
with parts is made by :func:`told`, which remembers its pattern, so that another language can put
the parts in another order::

    told("A steady rest needs {room} beside the thread.", room="40 mm")

Nothing else changes on the way: what is told is a text like any other, in English, until a pen
writes it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

_DECIMAL = re.compile(r"(?<![\d.])(?<!ASME [A-Z])(\d+)\.(\d+)(?!\.?\d)")
"""A decimal number; not a version or a date, whose parts are more than two, nor ASME B1.5."""


class Told(str):
    """A text that remembers how it was put together.

    Attributes
    ----------
    pattern
        The text with a name in braces for each part.
    parts
        What stands for each name: texts, which may be told themselves, or what is written as
        its ``str``.
    """

    __slots__ = ("parts", "pattern")

    pattern: str
    parts: Mapping[str, object]


class Sentence(Told):
    """A told text that begins with a capital letter, whatever its first part begins with."""

    __slots__ = ()


class Said(str):
    """A text in the reader's language already, or one that is the same in all: a spec's word."""

    __slots__ = ()


def told(pattern: str, /, **parts: object) -> str:
    """Return a text put together from a pattern and its parts; it is a :class:`Told`.

    Examples
    --------
    >>> told("Turn to {size}.", size="28.0 mm")
    'Turn to 28.0 mm.'
    """
    text = Told(pattern.format_map(parts))
    text.pattern, text.parts = pattern, parts
    return text


def joined(parts: Iterable[object], between: str = " ") -> str:
    """Return parts in a row, each of which is said in the reader's language by itself.

    Parameters
    ----------
    between
        What stands between two of them; a word in it is translated as a text of its own.

    Examples
    --------
    >>> joined(["a rest", "a centre"], "; or ")
    'a rest; or a centre'
    """
    named = {f"p{number}": part for number, part in enumerate(parts)}
    places = ["{%s}" % name for name in named]  # noqa: UP031  (braces)
    if not between.strip(" ,;.\n"):
        return told(between.join(places), **named)
    return told("{between}".join(places), between=between, **named)


def sentence(text: str, end: str = ".") -> str:
    """Return a text with a capital first and a full stop last; nothing of nothing.

    Parameters
    ----------
    end
        What stands last, if not a full stop.

    Examples
    --------
    >>> sentence("from straight in")
    'From straight in.'
    """
    if not text:
        return text
    pattern = "{text}" + end
    made = Sentence(_capital(pattern.format(text=text)))
    made.pattern, made.parts = pattern, {"text": text}
    return made


def part(text: str, name: str) -> str:
    """Return a part of a text that was told; nothing of another text."""
    found = text.parts.get(name, "") if isinstance(text, Told) else ""
    return found if isinstance(found, str) else str(found)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


@dataclass(frozen=True, slots=True)
class Words:
    """How texts are put for one reader.

    Attributes
    ----------
    catalogue
        Translation of each text and of each pattern; empty for English.
    comma
        Whether decimals are set off by a comma.
    language
        Of the texts, as a BCP 47 tag.
    """

    catalogue: Mapping[str, str] = field(default_factory=dict)
    comma: bool = False
    language: str = "en"

    @property
    def plain(self) -> bool:
        """Whether everything is said as it is written in the program."""
        return not (self.catalogue or self.comma)

    def say(self, text: str) -> str:
        """Return a text in the reader's language; what has no translation stays as it is."""
        if self.plain or isinstance(text, Said):
            return text
        if isinstance(text, Told):
            pattern = self.catalogue.get(text.pattern, text.pattern)
            parts = {
                name: self.say(part) if isinstance(part, str) else part
                for name, part in text.parts.items()
            }
            said = pattern.format_map(parts)
            return Said(_capital(said) if isinstance(text, Sentence) else said)
        text = self.catalogue.get(text, text)
        return Said(_DECIMAL.sub(r"\1,\2", text) if self.comma else text)


ENGLISH = Words()
"""Words as they are written in the program."""
