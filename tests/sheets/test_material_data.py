"""The shipped materials and tables: every value sourced, Kienzle as printed, nothing absurd."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
import yaml

from cardgen import library
from cardgen.rules.hardenability import ideal_diameter
from cardgen.sheets._heat_depth import factors
from tests.parts import SHELF, material, names

GRADES = ("read", "derived", "practice", "memory")


@pytest.mark.parametrize("name", names())
def test_every_value_has_a_source_and_a_grade(name: str) -> None:
    raw = yaml.safe_load((SHELF / f"{name}.yaml").read_text("utf-8"))

    def walk(node: object, path: str) -> None:
        if isinstance(node, dict):
            if {"value", "low", "high"} & set(node):
                assert node.get("source"), path
                assert node.get("evidence") in GRADES, path
                memory = "memory" in str(node["source"])
                assert not memory or node["evidence"] != "derived" if "evidence" in node else True
            for key, child in node.items():
                walk(child, f"{path}.{key}")

    walk(raw, name)
    assert raw["composition"]["source"]
    assert raw["composition"]["evidence"] in GRADES
    if "heat" in raw:
        assert raw["heat"]["quench-source"]
        assert "temper" not in raw["heat"] or raw["heat"]["temper"]["source"]


@pytest.mark.parametrize("name", names())
def test_kienzle_rows_are_as_printed(name: str) -> None:
    """ISCAR turning catalogue 2017 p. 558; rows in tests/data/kienzle.csv."""
    cutting = material(name).cutting
    if cutting.kc11.evidence != "read":
        assert name == "acetal"
        return
    group = cutting.kc11.source.split("group")[1].split()[0].strip("s")
    if not group.isdigit():
        group = cutting.kc11.source.split("groups ")[1].split()[0]
    path = Path(__file__).parents[1] / "data" / "kienzle.csv"
    with path.open(encoding="utf-8") as file:
        row = next(row for row in csv.DictReader(file) if row["group"] == group)
    assert cutting.kc11.value == float(row["kc1.1_N_mm2"])
    assert cutting.mc.value == float(row["mc"])


@pytest.mark.parametrize("name", names())
def test_values_are_of_the_right_size(name: str) -> None:
    found = material(name)
    steel = found.group.endswith("steel") or found.group == "stainless"
    assert found.yield_.value <= found.strength.value or found.group == "plastic"
    assert (190e3 <= found.modulus.value <= 210e3) == steel
    assert (7600 <= found.density.value <= 8050) == steel
    assert 3 <= found.cutting.speed.value <= 30
    assert sum(found.composition.values()) <= 100.5


def test_threading_speeds_are_marked_as_remembered() -> None:
    for name in names():
        assert material(name).cutting.speed.evidence in ("memory", "practice")


@pytest.mark.parametrize(
    "table",
    [
        "heat/constants", "heat/critical_temperatures", "heat/critical_ranges",
        "heat/temper_colours", "heat/glow_colours", "heat/group_limits", "heat/hardenability",
        "heat/martensite", "heat/quench_media", "heat/furnaces", "heat/finishes", "heat/cie_1931",
        "load/constants", "load/friction", "load/bearing_pressure", "load/families",
        "safety/constants",
    ],
)  # fmt: skip
def test_every_row_has_a_source_and_a_grade(table: str) -> None:
    for row in library.table(table):
        assert row["source"], row
        assert row["evidence"] in GRADES, row
        assert None not in row
        assert None not in row.values()


def test_steels_carry_what_the_shop_needs() -> None:
    """What a file leaves out of hardness and depth follows from its composition."""
    with_heat = [name for name in names() if material(name).heat is not None]
    assert len(with_heat) >= 11
    for name in with_heat:
        steel = material(name).heat
        assert steel is not None
        assert steel.harden
        assert steel.quench
        if steel.section_limit is None:
            assert ideal_diameter(factors(), material(name).composition) > 20
        assert steel.as_quenched or 0.1 <= material(name).composition["C"] <= 0.7


def test_there_are_materials_enough() -> None:
    """What a maker meets: at least 24, and some of each kind."""
    assert len(names()) >= 24
    groups = {material(name).group for name in names()}
    assert groups == {
        "carbon-steel", "alloy-steel", "tool-steel", "free-cutting-steel", "stainless",
        "cast-iron", "bronze", "brass", "aluminium", "plastic",
    }  # fmt: skip


def test_no_name_means_two_materials() -> None:
    seen: dict[str, str] = {}
    for name in names():
        raw = yaml.safe_load((SHELF / f"{name}.yaml").read_text("utf-8"))
        for other in (name, *raw.get("also-known", [])):
            assert seen.setdefault(str(other).lower(), name) == name, other
