"""Cards for the lathe from a job spec.

A YAML spec of a screw-cut thread, its material, machine and heat treatment goes in; numbered
figures that explain themselves, an infeed schedule and a printable card come out. ``make`` holds
the whole flow.
"""

__version__ = "0.1.0"
