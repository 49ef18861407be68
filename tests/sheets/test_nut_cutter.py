"""A nut's cutter from its recorded figures alone, against the cloud of points; and its bar."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import degrees, radians
from typing import Literal

import pytest

from cardgen.core.figure import Sheet
from cardgen.rules.helicoid import Groove
from cardgen.sheets import thread, tool
from cardgen.spec.job import Hand, Job
from tests.rules.cloud import Cloud
from tests.tool_job import job, recorded_nose

Setting = Literal["level", "tipped"]


def nut(pitch: int = 5, starts: int = 1, hand: Hand = "right", setting: Setting = "level") -> Job:
    screw = job("trapezoidal", 28.0, Fraction(pitch), starts, hand, setting, blank=5.0)
    return replace(screw, thread=replace(screw.thread, surface="internal", class_="7H"))


def worked(asked: Job) -> tuple[Sheet, Sheet]:
    first = Sheet("thread", {}, internal=True)
    thread.work_out(asked, first)
    second = Sheet("tool", first.figures, internal=True)
    tool.work_out(asked, second)
    return first, second


@pytest.mark.parametrize("setting", ["level", "tipped"])
@pytest.mark.parametrize("starts", [1, 3])
def test_recorded_reliefs_clear_by_what_is_recorded(starts: int, setting: Setting) -> None:
    sizes, sheet = worked(nut(starts=starts, setting=setting))
    n = sheet.number
    nose = recorded_nose(sheet)
    leading, trailing = nose.leading, nose.trailing
    flank = radians(15)
    groove = Groove(
        sizes.number("thread.lead"),
        sizes.number("thread.major_diameter") / 2,
        sizes.number("thread.minor_diameter") / 2,
        flank,
        flank,
        nose.tip_width,
    )
    for corner in (0.0, n("tool.corner_radius")):
        for sign, side in ((-1.0, leading), (1.0, trailing)):
            clear = degrees(side.relief - Cloud(nose, groove, corner).touching(sign))
            assert clear >= n("tool.clearance_working") - 0.02
    assert n("tool.clearance_least") > 0.9 * n("tool.clearance_working")
    # Behind the blade the full blank must be out of the work, down to its foot.
    shoulder = complex(groove.root - nose.length, nose.height)
    assert abs(shoulder) < groove.crest


@pytest.mark.parametrize("setting", ["level", "tipped"])
def test_left_hand_is_the_mirror_image(setting: Setting) -> None:
    (_, right), (_, left) = (
        worked(nut(starts=2, hand=h, setting=setting)) for h in ("right", "left")
    )
    assert right["tool.leading_side"].value == "chuck"
    assert left["tool.leading_side"].value == "tailstock"
    for id, figure in right.figures.items():
        if id != "tool.leading_side":
            assert left[id].value == figure.value, id
    mirrored = [(-x, y) for x, y in left.outlines["tool.silhouette.end"].points]
    shape = right.outlines["tool.silhouette.end"].points
    for (x, y), (there, down) in zip(sorted(mirrored), sorted(shape), strict=True):
        assert (x, y) == pytest.approx((there, down))


def test_a_bar_that_just_passes_and_one_that_does_not() -> None:
    asked = nut()
    _, sheet = worked(asked)
    largest = sheet.number("tool.bar_largest")
    _, just = worked(replace(asked, tool=replace(asked.tool, bar=largest)))
    assert just.number("tool.bar") == largest
    assert not any(finding.refuses for finding in just.findings)
    _, more = worked(replace(asked, tool=replace(asked.tool, bar=largest + 0.02)))
    (refusal,) = [finding for finding in more.findings if finding.refuses]
    assert refusal.id == "tool.bar_too_large"
    assert f"{largest:.2f} mm" in refusal.text


@pytest.mark.parametrize("bit", [5.0, 4.0, 3.5, 2.5, 2.0])
def test_a_small_bore_is_refused_with_the_bit_that_does(bit: float) -> None:
    """Too high for the bore's curve, for its bar, or too narrow: each names a bit that is right."""
    asked = nut()
    asked = replace(asked, thread=replace(asked.thread, diameter=14.0, pitch_exact=Fraction(3)))
    _, sheet = worked(replace(asked, tool=replace(asked.tool, blank=bit)))
    (refusal,) = [finding for finding in sheet.findings if finding.refuses]
    better = float(refusal.text.split("What helps: a bit of ")[1].split()[0])
    _, again = worked(replace(asked, tool=replace(asked.tool, blank=better)))
    assert not any(finding.refuses for finding in again.findings)
