"""Figures to a picture in millimetres: panels, drawing kit, layout. No shop arithmetic."""
