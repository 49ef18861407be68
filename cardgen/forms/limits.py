"""Limits of size by class: from the word in a form's data file to the rule that it names."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import pairwise

from cardgen.forms.form import Form, FormError
from cardgen.forms.limit import NutLimits, ScrewLimits
from cardgen.forms.limits_acme import (
    acme_nut,
    acme_screw,
    centralizing_nut,
    centralizing_screw,
)
from cardgen.forms.limits_ba import ba_nut, ba_screw
from cardgen.forms.limits_buttress import buttress_inch_nut, buttress_inch_screw
from cardgen.forms.limits_iso import metric_nut, metric_screw, trapezoidal_nut, trapezoidal_screw
from cardgen.forms.limits_pipe import pipe_nut, pipe_screw
from cardgen.forms.limits_square import square_nut, square_screw
from cardgen.forms.limits_unified import unified_nut, unified_screw
from cardgen.forms.limits_whitworth import whitworth_nut, whitworth_screw
from cardgen.forms.sizes import Sizes

SCREW: Mapping[str, Callable[[Form, Sizes, int, str], ScrewLimits]] = {
    "iso-965-1": metric_screw,
    "iso-2903": trapezoidal_screw,
    "asme-b1.5": acme_screw,
    "asme-b1.5-centralizing": centralizing_screw,
    "asme-b1.1": unified_screw,
    "ansi-b1.9": buttress_inch_screw,
    "square-practice": square_screw,
    "bs-84": whitworth_screw,
    "iso-228-1": pipe_screw,
    "bs-93": ba_screw,
}
NUT: Mapping[str, Callable[[Form, Sizes, int, str], NutLimits]] = {
    "iso-965-1": metric_nut,
    "iso-2903": trapezoidal_nut,
    "asme-b1.5": acme_nut,
    "asme-b1.5-centralizing": centralizing_nut,
    "asme-b1.1": unified_nut,
    "ansi-b1.9": buttress_inch_nut,
    "square-practice": square_nut,
    "bs-84": whitworth_nut,
    "iso-228-1": pipe_nut,
    "bs-93": ba_nut,
}


def screw_limits(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return the screw's limits of size.

    Parameters
    ----------
    form
        The thread form.
    sizes
        Its basic sizes.
    starts
        Number of starts.
    cls
        Tolerance class; empty for a form that has none.

    Raises
    ------
    FormError
        If the standard has no such class, if its tolerances do not reach the size, or if they are
        larger than the thread is deep.
    """
    _known_class(form, cls, form.classes)
    limits = SCREW[form.tolerances["rule"]](form, sizes, starts, cls)
    inner, pitch, outer = limits.minor, limits.pitch, limits.major
    lines = (inner, outer) if pitch is None else (inner, pitch, outer)
    _in_order(form, cls, (0.0, inner.low), *((a.high, b.low) for a, b in pairwise(lines)))
    return limits


def nut_limits(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return the nut's limits of size; parameters and errors as for :func:`screw_limits`."""
    _known_class(form, cls, form.mate_classes)
    limits = NUT[form.tolerances["rule"]](form, sizes, starts, cls)
    pitch, root = limits.pitch, limits.major.low
    if root is not None:
        outermost = limits.minor.high if pitch is None else max(limits.minor.high, pitch.high)
        _in_order(form, cls, (outermost, root))
    return limits


def _in_order(form: Form, cls: str, *pairs: tuple[float, float]) -> None:
    """Refuse limits that overlap: a root that may lie above the pitch line, or no core at all."""
    if any(inner >= outer for inner, outer in pairs):
        inner, outer = next(pair for pair in pairs if pair[0] >= pair[1])
        of_class = f" of class {cls}" if cls else ""
        msg = (
            f"the tolerances{of_class} are larger than {form.title} is deep at this size: they put"
            f" {outer:.3f} mm, which must lie outside, within {inner:.3f} mm; take a closer class,"
            " a coarser pitch or a larger diameter"
        )
        raise FormError(msg)


def _known_class(form: Form, cls: str, classes: tuple[str, ...]) -> None:
    if classes and cls not in classes:
        msg = f"{form.title} has no class {cls!r} here; it has {', '.join(classes)}"
        raise FormError(msg)
