"""A small shop on disk for the tests: one good job and all that it refers to."""

from __future__ import annotations

from pathlib import Path

JOB = """\
cardgen: 1
job: press-main-screw
title: Main screw, nipping press
note: Cut the nut first.
units: mm

thread:
  form: trapezoidal
  surface: external
  diameter: 28 mm
  pitch: 5 mm
  starts: 1
  hand: right
  class: 7e
  length: 120 mm

mate:
  kind: nut
  length: 35 mm
  material: bronze-pb1
  class: 7H

work:
  material: c45
  stock: 30 mm
  holding: chuck-and-centre
  stickout: 160 mm
  rest: none
  thread-end: groove
  groove: 8 mm

tool:
  material: hss
  blank: 10 mm
  setting: level
  infeed: auto
  wires: [3.0 mm, 3.5 mm]

machine: ../machines/bench-metric.yaml

heat:
  - {step: harden, hardness: 52 HRC}
  - {step: temper, temperature: 320 degC, time: 1 h}
  - {step: blacken, temperature: 300 degC}

duty:
  load: 8 kN
  handle: 300 mm
  friction: 0.12

card:
  template: a5-two-column
  show: [thread, setup, infeed, tool, measure, mate, heat, load, safety]
"""

LEAST = """\
cardgen: 1
job: least
thread: {form: metric, diameter: 10 mm, length: 25 mm}
work: {material: c45}
"""

MACHINE = """\
cardgen: 1
machine: bench-metric
title: Bench lathe, metric leadscrew
leadscrew: {pitch: 3 mm}
gears: [20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 120, 127]
train:
  arrangements: [single, compound]
  module: 1 mm
  centre-distance: {min: 60 mm, max: 160 mm}
gearbox: {ratios: {A: 1, B: 2, C: 0.5}}
spindle:
  speeds: [60 rev/min, 110 rev/min, 200 rev/min, 350 rev/min, 700 rev/min]
  power: 550 W
  efficiency: 0.75
  reverse: true
  hand-crank: false
cross-slide: {division: 0.02 mm, per-turn: 2 mm, reads: diameter}
compound-slide: {division: 0.02 mm, per-turn: 2 mm, swivel: true}
thread-dial: {gear: 16, marks: 8}
carriage-stop: {kind: fixed, reaction: 0.8 s}
limits: {thread-overhang: 250 mm}
"""

SHOP = """\
cardgen: 1
machine: machines/bench-metric.yaml
template: a5-two-column
wires: [2.5 mm, 3.0 mm]
paper: a4
"""

TEMPLATE = """\
cardgen: 1
template: a5-two-column
title: A5 portrait, two columns
page: A5
orientation: portrait
margin: 6 mm
seal-edge: 3 mm
columns: 2
order: [thread, setup, infeed, tool, heat, safety]
type: {body: 9 pt, dial: 14 pt, head: 12 pt, small: 7 pt}
ink: colour
"""

MATERIAL = """\
cardgen: 1
material: spring-steel
yield: 600 MPa
strength: {low: 800 MPa, high: 1000 MPa}
hardness: 240 HB
modulus: 205 GPa
density: 7.85 g/cm3
composition: {C: 0.6, Mn: 0.8, Cr: 0.9, V: 0.15}
cutting: {kc11: 1700 MPa, mc: 0.25, speed: 8 m/min, rake: 6 deg}
heat:
  harden: {low: 850 degC, high: 870 degC, source: mill sheet, evidence: read}
  quench: oil
  as-quenched: 62 HRC
  temper: {time: 2 h, rows: [[200 degC, 60 HRC], [400 degC, 52 HRC]]}
source: mill sheet of the bar in the rack
"""


def lay_out(folder: Path, job: str = JOB, *, shop: bool = True) -> Path:
    """Write a small shop below a folder, and return the path of its one job."""
    for path, text in {
        "specs/jobs/press.yaml": job,
        "specs/machines/bench-metric.yaml": MACHINE,
        "specs/materials/spring-steel.yaml": MATERIAL,
        "templates/a5-two-column.yaml": TEMPLATE,
        **({"specs/shop.yaml": SHOP} if shop else {}),
    }.items():
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return folder / "specs/jobs/press.yaml"
