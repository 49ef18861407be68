"""Finishes and changes of size: what they take of fit and hardness, and what may follow what."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians

import pytest

from cardgen.core.figure import Sheet
from cardgen.core.swatch import Swatch
from cardgen.sheets import heat
from tests.parts import heated, job, refusals, step, thread, warnings, worked
from tests.sheets.test_heat_sheet import HARDEN, TEMPER, check_ledger


def with_backlash(least: float, *heats: object, screw: str = "c45") -> Sheet:
    """The heat sheet of a screw whose nut has some backlash."""
    known = thread(job(screw))
    mate = Sheet("mate", known)
    mate.add("mate.backlash", 0.2, low=least, high=0.4, source="a test", basis="practice")
    sheet = Sheet("heat", known | mate.figures)
    heat.work_out(job(screw, heats=heats), sheet)  # type: ignore[arg-type]
    return sheet


def test_cold_blue_and_wax_take_no_hardness() -> None:
    plain = heated(HARDEN, TEMPER)
    done = heated(HARDEN, TEMPER, step("cold-blue"), step("wax"))
    assert not refusals(done)
    assert done.number("heat.hardness_final") == plain.number("heat.hardness_final")
    assert done["heat.finish"].value == "Cold blue, Wax"
    assert done.number("heat.finish_thickness") < 0.01
    assert any("hydrogen" in s.text for s in done.steps)
    check_ledger(done)


def test_oil_black_hotter_than_the_temper_is_refused() -> None:
    """C45: 57 HRC at 200 degC in an hour. Five minutes at 400 degC are an hour at 637 degC K:
    673.15 x 18.921 / 20 - 273.15 = 364 degC, so 52 - 9 x 0.64 = 46 HRC."""
    sheet = heated(HARDEN, step("temper", 200, 3600), step("oil-black", 400))
    text = refusals(sheet)["heat.oil_black_undoes_temper"]
    assert "57 HRC" in text
    assert "46 HRC" in text
    kept = heated(HARDEN, step("temper", 300, 3600), step("oil-black"))
    assert not refusals(kept)
    check_ledger(sheet)


def test_wax_on_an_untempered_part_is_refused() -> None:
    assert "temper step" in refusals(heated(HARDEN, step("wax")))["heat.wax_undoes_temper"]


@pytest.mark.parametrize(
    ("finish", "later"),
    [("wax", step("blacken", 250)), ("cold-blue", step("stress-relieve", 200)),
     ("blacken", step("harden"))],
)  # fmt: skip
def test_a_later_heat_spoils_a_finish(finish: str, later: object) -> None:
    sheet = heated(step(finish), later)  # type: ignore[arg-type]
    assert finish in refusals(sheet)["heat.finish_spoiled"]


def test_soft_brass_takes_wax_only() -> None:
    assert not refusals(heated(step("wax"), screw="cw614n"))
    for finish in ("blacken", "oil-black", "cold-blue"):
        assert "heat.no_black" in refusals(heated(step(finish), screw="cw614n"))


def test_scale_on_the_flanks() -> None:
    """15 min at 675 degC by Paidassi: sqrt(6.1e-4 exp(-169452 / (8.3145 x 948.15)) 900) m."""
    sheet = heated(step("blacken"), screw="1018")
    assert sheet.number("heat.finish_thickness") == pytest.approx(0.0159, abs=0.0002)
    flank = cos(radians(15))
    assert sheet.number("heat.finish_backlash") == pytest.approx(2 * 0.0159 / flank, abs=0.0005)
    thin = heated(HARDEN, step("temper", 400, 3600), step("blacken", 300))
    assert "heat.finish_thickness" not in thin


def test_what_the_fit_loses_is_held_against_the_backlash() -> None:
    """3 in 1000 of 35 mm, and of 28 mm by the slope of 15 degree flanks, are 0.128 mm; the burnt
    oil takes 0.010 mm more."""
    tight = with_backlash(0.12, HARDEN, TEMPER, step("oil-black", 250))
    assert "0.128 mm" in warnings(tight)["heat.growth_binds"]
    both = with_backlash(0.13, HARDEN, TEMPER, step("oil-black", 250))
    assert "heat.growth_binds" not in warnings(both)
    assert "0.010 mm" in warnings(both)["heat.finish_binds"]
    free = with_backlash(0.3, HARDEN, TEMPER, step("oil-black", 250))
    assert not {"heat.growth_binds", "heat.finish_binds"} & set(warnings(free))
    check_ledger(free)


def test_growth_as_the_oil_hardening_sheet_says() -> None:
    """O1 expands about 0.0015 in/in when oil quenched: 35 mm of nut, 28 mm of screw."""
    sheet = heated(HARDEN, step("temper", 230, 3600), screw="o1")
    assert sheet.number("heat.growth_lead") == pytest.approx(0.0525)
    assert sheet.number("heat.growth_diameter") == pytest.approx(0.042)


def test_order_of_thread_and_hardening() -> None:
    """Hard work is threaded before; what the tool still cuts, after, and then it does not grow."""
    before = heated(HARDEN, TEMPER)
    assert before["heat.order"].value == "before hardening"
    after = heated(HARDEN, step("temper", 600, 3600))
    assert after["heat.order"].value == "after tempering"
    assert "heat.growth_lead" not in after
    tool = job(heats=(HARDEN, step("temper", 420, 3600)))
    hard = worked(replace(tool, tool=replace(tool.tool, material="carbide")))["heat"]
    assert hard["heat.order"].value == "after tempering"


def test_twice_for_the_austenite_that_is_left() -> None:
    sheet = heated(HARDEN, step("temper", 180, 7200), screw="52100", stock=20)
    assert sheet.number("heat.tempers") == 2
    assert heated(HARDEN, TEMPER).number("heat.tempers") == 1
    check_ledger(sheet)


def test_depth_by_composition_refuses_and_warns() -> None:
    """1084 in oil: an ideal diameter of 32 mm, 6 to 10 mm through."""
    thick = worked(job("1084", diameter=44, pitch=7, stock=45, heats=(HARDEN, TEMPER)))["heat"]
    assert "too thick" in refusals(thick)["heat.section_too_thick"]
    assert "may stay soft" in warnings(heated(HARDEN, TEMPER, screw="1084"))["heat.hard_skin"]
    sheet = heated(HARDEN, step("temper", 500, 3600), screw="4340")
    assert not refusals(sheet)
    assert "heat.hard_skin" not in warnings(sheet)
    check_ledger(sheet)


def test_no_line_is_drawn_to_rows_that_begin_late() -> None:
    """4340 is published from 427 degC: below it nothing softer than its first row is promised."""
    sheet = heated(HARDEN, step("temper", 300, 3600), screw="4340")
    assert "heat.hardness_final" not in sheet


def test_furnace_of_the_step() -> None:
    still = heated(HARDEN, TEMPER).number("heat.temper_heating_time")
    fan = heated(HARDEN, replace(TEMPER, furnace="fan-oven")).number("heat.temper_heating_time")
    assert fan < still


def test_another_bath_than_the_steel_s_own() -> None:
    """C45 in oil: by composition, half martensite to a few mm only; O1 in water may crack."""
    oil = heated(replace(HARDEN, quench="oil"), TEMPER)
    assert "heat.mild_quench" in warnings(oil)
    assert "heat.section_too_thick" in refusals(oil)
    assert oil.number("heat.section_limit") < 5
    assert oil["heat.quench"].value == "oil"
    water = heated(replace(HARDEN, quench="water"), step("temper", 230, 3600), screw="o1")
    assert "heat.fierce_quench" in warnings(water)
    assert "heat.section_limit" not in water
    check_ledger(oil)


def test_a_nut_that_grows_wider_gives_play() -> None:
    """Only its longer pitch takes backlash: 3 in 1000 of 35 mm."""
    part = job(heats=(HARDEN, TEMPER))
    nut = replace(part, thread=replace(part.thread, surface="internal"))
    sheet = worked(nut)["heat"]
    assert sheet.number("heat.growth_backlash") == pytest.approx(0.105)
    check_ledger(sheet)


def test_the_chart_shows_what_there_is_to_see() -> None:
    """A temper past the colours marks the blackening's colour, 302 degC by one table; or none."""

    def marked(*heats: object) -> list[str]:
        sheet = heated(HARDEN, *heats)  # type: ignore[arg-type]
        swatches = [Swatch.read(s.text) for s in sheet.steps if s.kind == "swatch"]
        return [swatch.name for swatch in swatches if swatch.chosen]

    assert marked(step("temper", 500, 3600), step("blacken", 302)) == ["dark blue"]
    assert marked(step("temper", 275, 3600), step("blacken", 230)) == ["purple"]
    assert marked(step("temper", 500, 3600)) == []
