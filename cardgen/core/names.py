"""The nomenclature: every figure's id, its words, symbol, unit and how it is rounded.

This is the closed list. A sheet cannot record, and a panel cannot ask for, an id that is not
here. Ids that begin with the same word belong to the sheet of that word.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Side = Literal["nearest", "down", "up"]


@dataclass(frozen=True, slots=True)
class Name:
    """How a figure is called and written.

    Attributes
    ----------
    label
        English words, as printed.
    symbol
        Symbol of the trade or the standard; may be empty.
    unit
        Unit of the house convention; empty for text and plain ratios.
    decimals
        Places printed in ``unit``; for lengths the inch form takes one more.
    side
        To which side the printed value is rounded.
    """

    label: str
    symbol: str = ""
    unit: str = ""
    decimals: int = 3
    side: Side = "nearest"


NAMES: Mapping[str, Name] = {
    # --- thread -------------------------------------------------------------------------------
    "thread.designation": Name("Thread"),
    "thread.form": Name("Form"),
    "thread.hand": Name("Hand"),
    "thread.class": Name("Class"),
    "thread.starts": Name("Starts", "n", "", 0),
    "thread.length": Name("Full thread", "l", "mm", 1),
    "thread.pitch": Name("Pitch", "P", "mm"),
    "thread.lead": Name("Lead", "L", "mm"),
    "thread.leading_flank": Name("Leading flank angle", "a1", "deg", 1),
    "thread.trailing_flank": Name("Trailing flank angle", "a2", "deg", 1),
    "thread.included_angle": Name("Angle of the groove", "a", "deg", 1),
    "thread.clearance": Name("Crest clearance", "ac", "mm"),
    "thread.height": Name("Height of the form", "h", "mm"),
    "thread.major_diameter": Name("Major diameter", "d", "mm"),
    "thread.pitch_diameter": Name("Pitch diameter", "d2", "mm"),
    "thread.minor_diameter": Name("Minor diameter", "d3", "mm"),
    "thread.depth": Name("Depth to cut", "h3", "mm"),
    "thread.crest_flat": Name("Crest flat", "wc", "mm"),
    "thread.root_flat": Name("Root flat", "wr", "mm"),
    "thread.crest_radius": Name("Crest radius, at most", "rc", "mm", 3, "down"),
    "thread.root_radius": Name("Root radius, at most", "rr", "mm", 3, "down"),
    "thread.groove_width": Name("Groove width at the pitch line", "S", "mm"),
    "thread.lead_angle_major": Name("Lead angle at the crest", "phi1", "deg", 2),
    "thread.lead_angle_pitch": Name("Lead angle at the pitch line", "phi2", "deg", 2),
    "thread.lead_angle_minor": Name("Lead angle at the root", "phi3", "deg", 2),
    "thread.blank_diameter": Name("Turn the blank to", "db", "mm"),
    "thread.drill": Name("Drill before boring", "", "mm", 1, "down"),
    "thread.engagement": Name("Overlap with the mate", "H1", "mm"),
    "thread.allowance": Name("Allowance", "A", "mm"),
    "thread.pitch_tolerance": Name("Pitch diameter tolerance", "Td2", "mm"),
    # --- setup --------------------------------------------------------------------------------
    "setup.train": Name("Wheels"),
    "setup.train_ratio": Name("Leadscrew turns per spindle turn", "i", "", 6),
    "setup.gearbox": Name("Gearbox"),
    "setup.idlers": Name("Idlers"),
    "setup.direction": Name("Cut"),
    "setup.leadscrew_turns": Name("Leadscrew turns"),
    "setup.lead_cut": Name("Lead that is cut", "Lc", "mm", 4),
    "setup.lead_error_ppm": Name("Lead error", "e", "ppm", 0),
    "setup.lead_error_over_thread": Name("Lead error over the thread", "E", "mm"),
    "setup.lead_error_over_mate": Name("Lead error over the nut", "En", "mm"),
    "setup.check_travel": Name("Check: 10 turns move the carriage", "", "mm", 2),
    "setup.speed": Name("Spindle speed", "n", "1/min", 0),
    "setup.speed_reason": Name("Ruled by"),
    "setup.cutting_speed": Name("Cutting speed", "v", "m/min", 1),
    "setup.carriage_speed": Name("Carriage speed", "vc", "mm/s", 2),
    "setup.time_to_stop": Name("Time from start to stop", "t", "s", 1, "down"),
    "setup.reaction": Name("Reaction allowed for", "tr", "s", 1),
    "setup.groove_needed": Name("Run-out needed", "g", "mm", 1, "up"),
    "setup.groove_given": Name("Run-out there is", "G", "mm", 1, "down"),
    "setup.stop": Name("Stop"),
    "setup.dial_marks": Name("Thread dial"),
    "setup.indexing": Name("Next start"),
    "setup.compound_angle": Name("Compound set to", "", "deg", 1),
    "setup.cross_division": Name("Cross-slide division", "", "mm"),
    # --- cutting ------------------------------------------------------------------------------
    "cutting.method": Name("Infeed"),
    "cutting.specific_force": Name("Specific cutting force", "kc11", "MPa", 0),
    "cutting.exponent": Name("Chip thickness exponent", "mc", "", 2),
    "cutting.correction": Name("Correction of the force", "K", "", 2),
    "cutting.width_max": Name("Widest cut", "b", "mm", 2),
    "cutting.worst_before": Name("Depth before the hardest pass", "t", "mm"),
    "cutting.worst_bite": Name("Bite of the hardest pass", "h", "mm"),
    "cutting.force_max": Name("Cutting force, worst pass", "Fc", "N", 0, "up"),
    "cutting.radial_force_max": Name("Radial force, worst pass", "Fp", "N", 0, "up"),
    "cutting.torque_max": Name("Spindle torque, worst pass", "M", "N m", 1, "up"),
    "cutting.force_allowed": Name("Cutting force allowed", "Fa", "N", 0, "down"),
    "cutting.power_max": Name("Spindle power, worst pass", "Pw", "W", 0, "up"),
    "cutting.power_allowed": Name("Spindle power there is", "Pa", "W", 0, "down"),
    "cutting.deflection_max": Name("Work bends away", "y", "mm", 3, "up"),
    "cutting.deflection_allowed": Name("Bend allowed", "ya", "mm", 3, "down"),
    "cutting.work_stress_max": Name("Stress in the work, digging in", "sw", "MPa", 0, "up"),
    "cutting.work_stress_allowed": Name("Stress allowed in the work", "swa", "MPa", 0, "down"),
    "cutting.tool_stress_max": Name("Stress at the root of the blade", "st", "MPa", 0, "up"),
    "cutting.tool_stress_allowed": Name("Stress allowed in the blade", "sta", "MPa", 0, "down"),
    "cutting.dig_in_factor": Name("Dig-in factor", "kd", "", 1),
    "cutting.bite_min": Name("Least bite", "hmin", "mm"),
    "cutting.bite_max": Name("Largest bite", "hmax", "mm"),
    "cutting.passes": Name("Passes", "", "", 0),
    "cutting.spring_passes": Name("Spring passes", "", "", 0),
    "cutting.dial_total": Name("Dial at full depth"),
    "cutting.compound_travel": Name("Compound travel", "", "mm"),
    "cutting.time": Name("Cutting time without returns", "", "s", 0),
    "cutting.unsupported_length": Name("Free length", "lu", "mm", 0),
    "cutting.rough_width": Name("Roughing tool width", "wr1", "mm", 2),
    "cutting.rough_depth": Name("Rough to a depth of", "tr", "mm", 3),
    # --- tool ---------------------------------------------------------------------------------
    "tool.blank": Name("Blank, square", "B", "mm", 2),
    "tool.setting": Name("Set"),
    "tool.tip_width": Name("Tip width", "w", "mm"),
    "tool.shank_width": Name("Blade width at the shank", "ws", "mm", 2),
    "tool.foot_width": Name("Blade width at its foot, least", "wf", "mm", 2, "down"),
    "tool.blade_length": Name("Blade length", "lb", "mm", 1, "up"),
    "tool.blade_height": Name("Blade height", "hb", "mm", 1),
    "tool.blade_taper": Name("Side taper in plan, each side", "", "deg", 1),
    "tool.corner_radius": Name("Corner radius, at most", "r", "mm", 2, "down"),
    "tool.included_angle": Name("Included angle, on the face", "", "deg", 2),
    "tool.included_angle_normal": Name("Included angle, square to the helix", "", "deg", 2),
    "tool.leading_side": Name("Leading side"),
    "tool.relief_leading": Name("Relief, leading side", "k1", "deg", 1),
    "tool.relief_trailing": Name("Relief, trailing side", "k2", "deg", 1),
    "tool.rest_leading": Name("Grinder's rest, leading side", "", "deg", 1),
    "tool.rest_trailing": Name("Grinder's rest, trailing side", "", "deg", 1),
    "tool.clearance_working": Name("Working clearance", "c", "deg", 1),
    "tool.clearance_least": Name("Least side clearance reached", "", "deg", 2, "down"),
    "tool.end_relief": Name("End relief", "ke", "deg", 1),
    "tool.rake": Name("Rake", "g", "deg", 1),
    "tool.tilt": Name("Tip the tool to", "", "deg", 2),
    "tool.bar": Name("Boring bar", "Db", "mm", 1, "down"),
    "tool.bar_largest": Name("Largest bar that passes", "", "mm", 1, "down"),
    "tool.bar_overhang": Name("Bar stands out of its holder", "Lb", "mm", 1, "up"),
    "tool.bar_reach": Name("Point stands out of the bar", "e", "mm", 2),
    "tool.withdraw": Name("Withdraw inwards by", "", "mm", 2, "up"),
    "tool.heel_angle": Name("Blade's foot round the bore", "th", "deg", 1),
    "tool.overhang": Name("Overhang from the holder, at most", "", "mm", 0, "down"),
    # --- measure ------------------------------------------------------------------------------
    "measure.wire_best": Name("Best wire", "wb", "mm"),
    "measure.wire_smallest": Name("Smallest usable wire", "", "mm", 3, "up"),
    "measure.wire_largest": Name("Largest usable wire", "", "mm", 3, "down"),
    "measure.wire_chosen": Name("Wire used", "w", "mm"),
    "measure.over_wires": Name("Over three wires", "M", "mm"),
    "measure.wire_sensitivity": Name("Change of M for a change of the wire", "dM/dw", "", 2),
    "measure.ball_best": Name("Best ball", "bb", "mm"),
    "measure.ball_smallest": Name("Smallest usable ball", "", "mm", 3, "up"),
    "measure.ball_largest": Name("Largest usable ball", "", "mm", 3, "down"),
    "measure.ball_chosen": Name("Ball used", "b", "mm"),
    "measure.between_balls": Name("Over two balls, in the bore", "Mb", "mm"),
    "measure.ball_sensitivity": Name("Change of Mb for a change of the ball", "", "", 2),
    "measure.groove_go": Name("Goes into the groove", "", "mm", 3, "down"),
    "measure.groove_not_go": Name("Does not go into the groove", "", "mm", 3, "up"),
    # --- mate ---------------------------------------------------------------------------------
    "mate.major_diameter": Name("Nut major diameter", "D4", "mm"),
    "mate.pitch_diameter": Name("Nut pitch diameter", "D2", "mm"),
    "mate.minor_diameter": Name("Nut minor diameter (bore)", "D1", "mm"),
    "mate.designation": Name("Nut thread"),
    "mate.groove_width": Name("Nut groove at the pitch line", "Sn", "mm"),
    "mate.length": Name("Nut length", "", "mm", 1),
    "mate.class": Name("Nut class"),
    "mate.backlash": Name("Backlash of the pair", "", "mm"),
    "mate.material": Name("Nut material"),
    "mate.engagement_least": Name("Overlap of the pair, least", "", "mm", 3, "down"),
    "mate.crest_clearance": Name("Clear over the screw's crest", "", "mm"),
    "mate.root_clearance": Name("Clear under the nut's bore", "", "mm"),
    "mate.bar_largest": Name("Largest boring bar for the nut", "", "mm", 1, "down"),
    "mate.blank": Name("Its bit, square", "", "mm", 1),
    "mate.drill": Name("Drill the nut", "", "mm", 1, "down"),
    "mate.tooth_pitch": Name("Tooth to tooth", "p", "mm", 4),
    "mate.tooth_thickness": Name("Tooth at the pitch line", "s", "mm"),
    "mate.tooth_space": Name("Space at the pitch line", "e", "mm"),
    "mate.tooth_angle": Name("Teeth slope by", "b", "deg", 2),
    "mate.tooth_lean": Name("Teeth lean"),
    "mate.axis_angle": Name("Axis set over by", "", "deg", 2),
    "mate.tooth_depth": Name("Depth of the teeth", "h", "mm"),
    "mate.tooth_tip": Name("Tooth tip, least", "", "mm", 3, "down"),
    "mate.end_clearance": Name("Clear at the tooth ends", "c", "mm"),
    "mate.axis_to_tips": Name("Screw's axis to the tooth tips", "A", "mm"),
    "mate.flank_excess": Name("Straight teeth bind by", "", "mm", 3, "up"),
    "mate.travel_per_turn": Name("Rack travels in a turn", "", "mm", 4),
    "mate.teeth": Name("Teeth", "z", "", 0),
    "mate.teeth_in_mesh": Name("Teeth in mesh", "", "", 1, "down"),
    "mate.rack_length": Name("Length of the teeth", "", "mm", 2),
    "mate.rack_width": Name("Width of the rack", "", "mm", 1),
    "mate.contact_width": Name("Screw reaches across", "", "mm", 1),
    "mate.cutter_tip": Name("Rack cutter's tip", "", "mm"),
    "mate.cutter_step": Name("Step square to the stroke", "", "mm", 4),
    "mate.cutter_angle": Name("Rack cutter's angle", "", "deg", 2),
    # --- load ---------------------------------------------------------------------------------
    "load.load": Name("Load", "F", "N", 0),
    "load.friction": Name("Friction", "mu", "", 2),
    "load.torque_raise": Name("Torque to tighten", "Tr", "N m", 1),
    "load.torque_lower": Name("Torque to release", "Tl", "N m", 1),
    "load.efficiency": Name("Efficiency", "eta", "", 2),
    "load.locking_friction": Name("Holds by itself from friction", "mu0", "", 3),
    "load.self_locking": Name("Holds by itself"),
    "load.core_stress": Name("Core stress, combined", "s", "MPa", 0),
    "load.thread_shear": Name("Thread shear", "ts", "MPa", 0),
    "load.nut_shear": Name("Thread shear in the nut", "tn", "MPa", 0),
    "load.bearing_pressure": Name("Bearing pressure", "p", "MPa", 1),
    "load.buckling_load": Name("Buckling load", "Fk", "N", 0, "down"),
    "load.handle_force": Name("Force at the handle", "Fh", "N", 0),
    # --- heat ---------------------------------------------------------------------------------
    "heat.a1": Name("Ac1", "A1", "degC", 0),
    "heat.ac3": Name("Ac3", "A3", "degC", 0),
    "heat.ms": Name("Ms", "Ms", "degC", 0),
    "heat.section": Name("Ruling section", "", "mm", 1),
    "heat.section_limit": Name("Hardens through to", "", "mm", 0, "down"),
    "heat.normalise_temperature": Name("Normalise at", "", "degC", 0),
    "heat.harden_temperature": Name("Harden from", "", "degC", 0),
    "heat.harden_colour": Name("Colour at hardening heat"),
    "heat.heating_time": Name("Time to come to heat", "", "s", 0),
    "heat.soak": Name("Soak at heat", "", "s", 0),
    "heat.quench": Name("Quench in"),
    "heat.hardness_quenched": Name("As quenched", "", "HRC", 0),
    "heat.retained_austenite": Name("Austenite left by the quench", "", "", 2),
    "heat.temper_temperature": Name("Temper at", "", "degC", 0),
    "heat.temper_time": Name("Temper for", "", "s", 0),
    "heat.temper_colour": Name("Temper colour"),
    "heat.torch_temperature": Name("By torch, 5 min at heat", "", "degC", 0),
    "heat.hardness_final": Name("Final hardness", "", "HRC", 0),
    "heat.stress_relieve_temperature": Name("Stress-relieve at", "", "degC", 0),
    "heat.blacken_temperature": Name("Blacken at", "", "degC", 0),
}

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
    "tool.overhang": Name("Bit from its bar, at most", "", "mm", 1, "down"),
    "mate.major_diameter": Name("Screw major diameter", "d", "mm"),
    "mate.pitch_diameter": Name("Screw pitch diameter", "d2", "mm"),
    "mate.minor_diameter": Name("Screw minor diameter (root)", "d3", "mm"),
    "mate.designation": Name("Screw thread"),
    "mate.groove_width": Name("Screw groove at the pitch line", "S", "mm"),
    "mate.length": Name("Engagement", "", "mm", 1),
    "mate.class": Name("Screw class"),
    "mate.material": Name("Screw material"),
}
"""What a nut's figures are called where that differs: the thread is the nut's, the mate a screw."""
