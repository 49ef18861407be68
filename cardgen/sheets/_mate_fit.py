"""What the pair has between screw and nut at their limits, and what it takes to bore the nut."""

from __future__ import annotations

from math import degrees

from cardgen.core.figure import Input, Sheet, Step
from cardgen.core.rounding import MM_PER_INCH, with_unit
from cardgen.core.words import told
from cardgen.forms.sizes import basic_sizes
from cardgen.rules import boring
from cardgen.rules.pair import Pair
from cardgen.sheets._constants import source, value
from cardgen.sheets._form import form_of
from cardgen.sheets._mate_picture import mean_size, record_picture
from cardgen.sheets._thread_nut import drill
from cardgen.sheets._tool_bar import LARGEST, largest_bar, largest_inputs
from cardgen.sheets._tool_tables import PRACTICE, bits
from cardgen.spec.job import Job

_GEOMETRY = "geometry of the pair"


def clearances(sheet: Sheet) -> None:
    """Record the least overlap of the ridges, and what is clear over crest and under bore."""
    screw, nut = ("mate", "thread") if sheet.internal else ("thread", "mate")
    crest, root = sheet[f"{screw}.major_diameter"], sheet[f"{screw}.minor_diameter"]
    bore, bottom = sheet[f"{nut}.minor_diameter"], sheet[f"{nut}.major_diameter"]
    if crest.low is not None and bore.high is not None:
        least = (crest.low - bore.high) / 2
        sheet.add(
            "mate.engagement_least",
            least,
            formula="(dl - D1h) / 2",
            inputs={"dl": sheet.low(crest.id), "D1h": sheet.high(bore.id)},
            source=_GEOMETRY,
            basis="computed",
            note="radial: the thinnest screw in the widest bore",
        )
        if least <= 0:
            sheet.warn(
                "mate.no_overlap",
                told(
                    "At the worst of both classes screw and nut do not overlap ({least} mm): "
                    "take a finer class, or bore the nut to its least size.",
                    least=f"{least:.3f}",
                ),
            )
    for id, outer, inner, symbols, note in (
        ("mate.crest_clearance", bottom, crest, ("D4", "d"), "radial, over the screw's crest"),
        ("mate.root_clearance", bore, root, ("D1", "d3"), "radial, under the nut's ridge"),
    ):
        sheet.add(
            id,
            (outer.number - inner.number) / 2,
            low=None if outer.low is None or inner.high is None else (outer.low - inner.high) / 2,
            high=None if outer.high is None or inner.low is None else (outer.high - inner.low) / 2,
            formula=f"({symbols[0]} - {symbols[1]}) / 2",
            inputs={symbols[0]: sheet.ref(outer.id), symbols[1]: sheet.ref(inner.id)},
            source=_GEOMETRY,
            basis="computed",
            note=note if outer.high is not None else f"{note}; the nut's groove may be deeper",
        )


def picture(job: Job, sheet: Sheet) -> None:
    """Give the pair in the middle of both tolerances, the nut against one flank."""
    screw, nut = ("mate", "thread") if sheet.internal else ("thread", "mate")
    sizes = basic_sizes(form_of(job), job.thread.diameter, job.thread.pitch)
    pair = Pair(
        pitch=job.thread.pitch,
        near=sizes.leading,
        far=sizes.trailing,
        line=sheet.number(f"{screw}.pitch_diameter") / 2,
        screw_groove=mean_size(sheet, f"{screw}.groove_width"),
        nut_groove=mean_size(sheet, f"{nut}.groove_width"),
        crest=mean_size(sheet, f"{screw}.major_diameter") / 2,
        root=mean_size(sheet, f"{screw}.minor_diameter") / 2,
        bore=mean_size(sheet, f"{nut}.minor_diameter") / 2,
        bottom=mean_size(sheet, f"{nut}.major_diameter") / 2,
        arcs=(sizes.crest_arc, sizes.root_arc, sizes.nut_root_arc, sizes.nut_crest_arc),
    )
    record_picture(sheet, pair)


def boring_room(job: Job, sheet: Sheet) -> None:
    """Record the drill for the nut, and the largest bit and bar that can thread it."""
    bore = Input(
        sheet.number("mate.minor_diameter"),
        "mm",
        "mate.minor_diameter",
        sheet["mate.minor_diameter"].evidence,
    )
    drill(float(bore.value), bore, "mate.drill", sheet)
    depth = (sheet.number("mate.major_diameter") - float(bore.value)) / 2
    fits = [
        (side, name) for side, name in bits(job.inch) if _bit_fits(side, float(bore.value), depth)
    ]
    if not fits:
        sheet.steps.append(
            Step(
                told(
                    "No boring bar with a ground bit passes this bore of {bore}: cut the nut with "
                    "a tap.",
                    bore=_length(job, float(bore.value)),
                ),
                "bar",
                _GEOMETRY,
            )
        )
        return
    side, _ = fits[-1]
    sheet.add(
        "mate.blank",
        side,
        formula="B",
        inputs={"B": Input(side, "mm", "table:tool/bits", "practice")},
        source=source(PRACTICE, "bar-least"),
        basis="practice",
        evidence="practice",
        note="the largest that its bar holds and whose heel clears the bore",
    )
    sheet.add(
        "mate.bar_largest",
        largest_bar(float(bore.value), depth, side),
        formula=LARGEST.replace("(h + x)", "((D4 - D1) / 2 + x)"),
        inputs={
            "D4": sheet.ref("mate.major_diameter"),
            **{
                symbol: part
                for symbol, part in largest_inputs(bore, bore, sheet.ref("mate.blank")).items()
                if symbol != "h"
            },
        },
        source="geometry of a bar that travels in a bore",
        basis="computed",
        note="clears the bore at full depth and withdrawn, with room for chips",
    )
    _reach(job, sheet)


def _bit_fits(side: float, bore: float, depth: float) -> bool:
    """Whether a bar passes that holds the bit, and the bit's heel clears the bore."""
    heel = boring.heel_angle(side, bore)
    relief_deg = degrees(boring.heel_relief(heel)) + value(PRACTICE, "heel-clear")
    return (
        largest_bar(bore, depth, side) >= value(PRACTICE, "bar-least") * side
        and relief_deg <= value(PRACTICE, "end-relief-most")
        and side <= value(PRACTICE, "bit-share") * bore
    )


def _reach(job: Job, sheet: Sheet) -> None:
    """Say how far the bar must reach, and what a blind nut needs beyond its thread."""
    if job.mate is None or job.mate.length is None:
        return
    pitch, bit = sheet.number("thread.pitch"), sheet.number("mate.blank")
    turns = value(PRACTICE, "bar-turns")
    reach = job.mate.length + turns * pitch + bit
    slender = reach / sheet.number("mate.bar_largest")
    text = told(
        "Nut: the bar reaches {reach} from its holder, {ratio} of its diameters. A "
        "blind nut needs a recess behind its thread, as deep as the groove and "
        "{width} wide at least, besides what the hand's reaction takes.",
        reach=_length(job, reach),
        ratio=f"{slender:.1f}",
        width=_length(job, pitch + bit),
    )
    sheet.steps.append(Step(text, "bar", "common practice"))


def _length(job: Job, length: float) -> str:
    if job.inch:
        return with_unit(length / MM_PER_INCH, "in", 2)
    return with_unit(length, "mm", 1)
