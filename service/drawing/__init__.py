"""Drawings as SVG: what an assembly sheet tells of its rails, to scale where the catalog has the lengths."""

from service.drawing.rails import draw_rails

__all__ = ["draw_rails"]
