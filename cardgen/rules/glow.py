"""What colour a hot body glows: Planck's radiation as the standard observer sees it.

Temperatures in kelvin, wavelengths in nm, luminance in cd/m2; colours as CIE XYZ or sRGB.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, fsum, log10

PLANCK = 6.62607015e-34
"""[J s], exact in the SI of 2019."""
LIGHT = 299792458.0
"""[m/s], exact."""
BOLTZMANN = 1.380649e-23
"""[J/K], exact in the SI of 2019."""
EFFICACY = 683.0
"""Lumens to a watt at the observer's best, by the definition of the candela."""

XYZ = tuple[float, float, float]
RGB = tuple[float, float, float]

_TO_SRGB = (
    (3.2406, -1.5372, -0.4986),
    (-0.9689, 1.8758, 0.0415),
    (0.0557, -0.2040, 1.0570),
)
"""XYZ to linear sRGB, IEC 61966-2-1:1999."""
_D65 = (0.95047, 1.0, 1.08883)
"""White of an sRGB screen."""
_CONES = (
    (0.8951, 0.2664, -0.1614),
    (-0.7502, 1.7135, 0.0367),
    (0.0389, -0.0685, 1.0296),
)
_FROM_CONES = (
    (0.9869929, -0.1470543, 0.1599627),
    (0.4323053, 0.5183603, 0.0492912),
    (-0.0085287, 0.0400428, 0.9684867),
)
"""XYZ to the sharpened cones of Bradford, and back."""


def radiance(wavelength: float, kelvin: float) -> float:
    """Return the spectral radiance of a black body [W/(sr m2 m)]."""
    metres = wavelength * 1e-9
    power = PLANCK * LIGHT / (metres * BOLTZMANN * kelvin)
    return 2 * PLANCK * LIGHT**2 / metres**5 / (exp(power) - 1)


def tristimulus(observer: Sequence[tuple[float, XYZ]], kelvin: float, emissivity: float) -> XYZ:
    """Return what the observer sees of a grey body; Y is its luminance [cd/m2].

    Parameters
    ----------
    observer
        Wavelength [nm], in equal steps, and the three colour matching functions there.
    """
    step = (observer[1][0] - observer[0][0]) * 1e-9
    scale = EFFICACY * emissivity * step
    seen = [(radiance(wavelength, kelvin), matching) for wavelength, matching in observer]
    x, y, z = (
        scale * fsum(power * matching[axis] for power, matching in seen) for axis in range(3)
    )
    return x, y, z


def chromaticity(seen: XYZ) -> tuple[float, float]:
    """Return the chromaticity x, y."""
    return seen[0] / fsum(seen), seen[1] / fsum(seen)


def adapted(seen: XYZ, white: XYZ) -> XYZ:
    """Return a light as it looks to an eye for which another light is white (D65 on the screen).

    By the scaling of cone responses after von Kries, with the sharpened cones of Bradford.

    References
    ----------
    ISO 15076-1 (ICC.1:2022), annex E, linear Bradford matrix.
    """
    responses = _through(_CONES, seen)
    bright = _through(_CONES, white)
    screen = _through(_CONES, _D65)
    scaled = tuple(value * to / of for value, to, of in zip(responses, screen, bright, strict=True))
    return _through(_FROM_CONES, (scaled[0], scaled[1], scaled[2]))


def hue(seen: XYZ) -> RGB:
    """Return the colour of a light at full strength, linear sRGB.

    A light more saturated than a screen can show is moved to the edge of what it can, by adding
    white.
    """
    linear = _through(_TO_SRGB, seen)
    least = min(*linear, 0.0)
    raised = [value - least for value in linear]
    most = max(raised)
    red, green, blue = (value / most for value in raised)
    return red, green, blue


def _through(matrix: Sequence[XYZ], seen: XYZ) -> XYZ:
    first, second, third = (
        fsum(c * value for c, value in zip(row, seen, strict=True)) for row in matrix
    )
    return first, second, third


def strength(luminance: float, dark: float, bright: float, dimmest: float) -> float:
    """Return how bright a drawing may show a light, 0 to 1 (linear).

    The eye follows brightness by its logarithm. How much of it a patch of ink should show is a
    drawing's choice, not physics.

    Parameters
    ----------
    luminance, dark, bright
        Of the light, and of those that are drawn darkest and at full strength [cd/m2].
    dimmest
        Strength of the darkest.
    """
    level = (log10(luminance) - log10(dark)) / (log10(bright) - log10(dark))
    return dimmest + (1 - dimmest) * min(1.0, max(0.0, level))


def written(linear: RGB) -> str:
    """Return a linear colour as ``#rrggbb``, by the transfer curve of IEC 61966-2-1.

    Examples
    --------
    >>> written((1.0, 0.2140, 0.0))
    '#ff7f00'
    """
    return "#" + "".join(f"{round(255 * _encoded(part)):02x}" for part in linear)


def _encoded(part: float) -> float:
    return 12.92 * part if part <= 0.0031308 else 1.055 * part ** (1 / 2.4) - 0.055
