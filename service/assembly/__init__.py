"""How the parts of a bill go together: its joints and steps in working order, and what stands at each spot."""

from service.assembly.assemble import assemble

__all__ = ["assemble"]
