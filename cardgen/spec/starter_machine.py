"""A commented machine file: what to write, and how to find it with a ruler in ten minutes."""

from __future__ import annotations

import re

from cardgen.spec.keys.words import NAME
from cardgen.spec.meant import line

_MACHINE = """\
# {name}: one lathe, measured once. A ruler, a felt pen and ten minutes are enough.
# Every quantity is a number and its unit. What you do not know, leave as a comment: a safe value
# is assumed, and every card names it until you know better.
cardgen: 1
machine: {name}
title: {title}

# LEADSCREW. Lay the ruler along it and count: ten threads over 30 mm are 3 mm; eight threads over
# one inch are 8 tpi. Measure over as many threads as you can see.
leadscrew: {{pitch: 3 mm}}

# GEARS. The teeth of every change wheel in the drawer and on the machine; most have the number
# stamped on. A wheel owned twice stands twice. Leave out wheels that cannot be taken off.
gears: [20, 30, 40, 50, 60, 65, 70, 80]

train:
  # What the arm (banjo) takes: single (one pair, idlers between), compound (two wheels on one
  # stud), double-compound (two such studs).
  arrangements: [single, compound]
  # Module: measure a wheel over its tips with the caliper, in mm, and divide by its teeth + 2.
  # Without it nothing is checked for room: try each train before you trust it.
  # module: 1 mm
  # Middle of the spindle's gear to middle of the leadscrew's gear, by ruler. Most lathes have one
  # distance: write it twice. Where the first stud swings, write its nearest and its furthest.
  # centre-distance: {{min: 60 mm, max: 160 mm}}
  # Middle of the leadscrew to the middle of a stud, pushed to either end of the slot.
  # banjo: {{min: 35 mm, max: 120 mm}}
  # Across the nut, washer or screw head that stands out of a stud.
  # stud-nut: 9 mm
  # Whether a lever on the headstock turns the leadscrew's way round.
  # tumbler: true
  # Wheels that stay on: the first driver, the last driven wheel. ratio: pull the spindle round ten
  # turns by hand and count those of the first driver; ten again is 1.
  # fixed: {{first: 40, last: 60, ratio: 1}}
  # What is on the machine now, from the spindle: driver, driven, driver, driven; no idlers.
  # now: [40, 60]

# GEARBOX. For each lever and each of its positions: turn the last change wheel ten times by hand
# and count the turns of the leadscrew; five are 1/2. One lever only: ratios: {{A: 1, B: 1/2}}
# gearbox:
#   levers:
#     letter: {{A: 1, B: 1/2, C: 2}}
#     number: {{1: 1, 2: 5/4}}

spindle:
  # From the plate on the headstock. To check: a felt-pen mark on the chuck, a stop-watch, count.
  speeds: [60 rev/min, 110 rev/min, 200 rev/min, 350 rev/min, 700 rev/min]
  # A variable speed instead of steps, a line for each belt or gear; full-power-from is the speed
  # below which it begins to labour (about four tenths of the largest, if you do not know).
  # ranges:
  #   low: {{min: 50 rev/min, max: 1100 rev/min, full-power-from: 450 rev/min}}
  #   high: {{min: 120 rev/min, max: 2500 rev/min, full-power-from: 1000 rev/min}}
  # From the motor's plate; 1/2 hp is as good as 375 W. Left out, 150 W is taken.
  power: 550 W
  # What is left of it at the spindle, after belts and bearings.
  # efficiency: 0.75
  # Whether the switch runs it backwards, and whether you made a crank for the spindle's tail.
  # reverse: true
  # hand-crank: false
  # Whether the chuck stays on its nose when the spindle cuts backwards.
  # chuck-locked: false
  # Slots of the driver plate, evenly spaced.
  # driver-slots: 4

# DIALS. division: what one line is worth. per-turn: wind one full turn and read. reads: take a
# cut, wind in ten lines, cut again, and measure with the caliper how much thinner the bar is: ten
# lines are diameter, twenty lines are radius. backlash: wind in, then back; what the dial turns
# before the slide moves.
cross-slide:
  division: 0.02 mm
  per-turn: 2 mm
  # reads: diameter
  # backlash: 0.1 mm

# Its travel is how far it goes from end to end; swivel, whether it can be set to an angle.
# compound-slide: {{division: 0.02 mm, per-turn: 2 mm, swivel: true, travel: 50 mm}}

# THREAD DIAL. Teeth of the little gear that runs on the leadscrew, and all lines on the dial's
# face. other-gears: further gears that came with it.
# thread-dial: {{gear: 16, marks: 8, other-gears: [14, 15]}}

# STOPPING. kind: trip (opens the half-nut or stops the spindle), fixed (only blocks the way) or
# none. reaction: let somebody drop a ruler through your fingers; 30 cm are 0.25 s. At the lever,
# thinking of something else, take three times that. Of coast: how many turns the spindle still
# makes once it is switched off at a threading speed.
# carriage-stop: {{kind: none, reaction: 0.8 s, coast: 1}}

# GIVE. Pull with 10 kg (100 N) and read a dial gauge: at the jaws on a short stout bar; 100 mm out
# of the jaws, less what it was there (tilt); at either centre; at the jaws of a rest.
# give: {{chuck: 0.002 mm, tilt: 0.01 mm, head-centre: 0.002 mm, centre: 0.005 mm, rest: 0.003 mm}}

# The longest free length of bar that you trust on it.
# limits: {{thread-overhang: 250 mm}}
"""

_SHOP = """\
# What all jobs of this folder share, unless a job says otherwise.
cardgen: 1
machine: machines/{name}.yaml
# template: a5-two-column   # the card's shape: a file in templates/, or a shipped one
# units: mm                 # mm or in: what cards show first; the cross-slide's dial says it else
# wires: [1.0 mm, 2.0 mm]   # the pins that you own, for measuring over wires
"""


def starter_shop(name: str) -> str:
    """Return the text of a shop file that names a machine.

    Parameters
    ----------
    name
        Of the machine.
    """
    return _SHOP.format(name=name)


def starter_machine(name: str) -> str:
    """Return the text of a machine file that loads as it stands.

    Parameters
    ----------
    name
        Of the machine, and of its file without ending.

    Raises
    ------
    ValueError
        If the name is none.
    """
    if len(name) > NAME.longest or not re.fullmatch(NAME.pattern, name):
        mend = line(name, NAME)
        known = f"take {NAME.meaning}, at most {NAME.longest}"
        msg = f"{name[:60]!r} cannot name a machine: {mend or known}"
        raise ValueError(msg)
    return _MACHINE.format(name=name, title=name.replace("-", " ").capitalize())
