"""How the parts of a bill go together: its joints and steps in working order, and what stands at each spot."""

from service.assembly.assemble import assemble
from service.assembly.spots import rail_plans

__all__ = ["assemble", "rail_plans"]
