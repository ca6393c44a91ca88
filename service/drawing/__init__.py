"""Drawings as SVG: rails to scale, the pressure along a path, what layouts carry; with the documents' figures."""

from service.drawing.bars import draw_bars
from service.drawing.pressure import draw_pressure
from service.drawing.rails import draw_rails, without_room

__all__ = ["draw_bars", "draw_pressure", "draw_rails", "without_room"]
