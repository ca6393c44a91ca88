"""Pure flow computation: fuel demand, the drop of one passage, and how parallel paths share a flow."""

from service.hydraulics.demand import fuel_demand_l_h
from service.hydraulics.passage import Fluid, Passage, drop_pa, friction_factor, merged, reynolds, velocity_m_s
from service.hydraulics.sharing import share_flow

__all__ = [
    "Fluid",
    "Passage",
    "drop_pa",
    "friction_factor",
    "fuel_demand_l_h",
    "merged",
    "reynolds",
    "share_flow",
    "velocity_m_s",
]
