"""What figures are called on a nut's card, where that differs from a screw's.

The thread is then the nut's own, and its mate is a screw.
"""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.core.name import Name

NUT_NAMES: Mapping[str, Name] = {
    "thread.major_diameter": Name("Major diameter (root)", "D4", "mm"),
    "thread.pitch_diameter": Name("Pitch diameter", "D2", "mm"),
    "thread.minor_diameter": Name("Minor diameter (bore)", "D1", "mm"),
    "thread.depth": Name("Depth to cut", "H4", "mm"),
    "thread.lead_angle_major": Name("Lead angle at the root", "phi1", "deg", 2),
    "thread.lead_angle_minor": Name("Lead angle at the crest", "phi3", "deg", 2),
    "thread.blank_diameter": Name("Bore to", "D1", "mm"),
    "thread.pitch_tolerance": Name("Pitch diameter tolerance", "TD2", "mm"),
    "setup.lead_error_over_mate": Name("Lead error over the screw", "En", "mm"),
    "cutting.deflection_max": Name("Boring bar bends away", "y", "mm", 3, "up"),
    "cutting.work_stress_max": Name("Stress in the bar, digging in", "sw", "MPa", 0, "up"),
    "cutting.work_stress_allowed": Name("Stress allowed in the bar", "swa", "MPa", 0, "down"),
    "cutting.unsupported_length": Name("Bar stands out", "lu", "mm", 0),
    "cutting.stickout_safe": Name("Boring bar may stand out", "", "mm", 0, "down"),
    "cutting.core_least": Name("Thinnest safe boring bar", "", "mm", 1, "up"),
    "tool.blank": Name("Bit, square", "B", "mm", 2),
    "tool.overhang": Name("Point stands out of the bar", "", "mm", 1, "down"),
    "measure.pin_chosen": Name("Ball on the root", "", "mm"),
    "measure.over_root_wires": Name("Between two balls on the root, in line", "", "mm"),
    "mate.major_diameter": Name("Screw major diameter", "d", "mm"),
    "mate.pitch_diameter": Name("Screw pitch diameter", "d2", "mm"),
    "mate.minor_diameter": Name("Screw minor diameter (root)", "d3", "mm"),
    "mate.designation": Name("Screw thread"),
    "mate.groove_width": Name("Screw groove at the pitch line", "S", "mm"),
    "mate.length": Name("Engagement", "", "mm", 1),
    "mate.class": Name("Screw class"),
    "mate.material": Name("Screw material"),
}
