"""A patch of colour with its name and temperature, as a sheet hands it to a panel.

It travels as the text of a :class:`cardgen.core.figure.Step`; this module is both ends of that.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Swatch:
    """A colour of a chart.

    Attributes
    ----------
    name
        The colour in words.
    temperature
        At which it is named [degC].
    low, high
        The band of temperatures that is called by this name [degC].
    colour
        ``#rrggbb``, sRGB.
    hatch
        Name of the pattern that stands for it where there is one ink.
    chosen
        Whether it is the one to work to.
    """

    name: str
    temperature: float
    low: float
    high: float
    colour: str
    hatch: str
    chosen: bool

    def written(self) -> str:
        """Return the swatch as one line of text."""
        numbers = f"{self.temperature:g};{self.low:g};{self.high:g}"
        return f"{self.name};{numbers};{self.colour};{self.hatch};{int(self.chosen)}"

    @classmethod
    def read(cls, text: str) -> Swatch:
        """Return the swatch that :meth:`written` wrote.

        Examples
        --------
        >>> straw = Swatch("straw", 229, 224.5, 235, "#a18d5b", "dots", True)
        >>> Swatch.read(straw.written()) == straw
        True
        """
        name, temperature, low, high, colour, hatch, chosen = text.split(";")
        return cls(name, float(temperature), float(low), float(high), colour, hatch, chosen == "1")

    @property
    def rgb(self) -> tuple[float, float, float]:
        """Red, green and blue, 0 to 1."""
        red, green, blue = (int(self.colour[k : k + 2], 16) / 255 for k in (1, 3, 5))
        return red, green, blue
