"""Drawings as SVG: rails to scale, the pressure along a path, drop against power; with the documents' figures."""

from service.drawing.curves import draw_curves
from service.drawing.pressure import draw_pressure
from service.drawing.rails import draw_rails, without_room

__all__ = ["draw_curves", "draw_pressure", "draw_rails", "without_room"]
