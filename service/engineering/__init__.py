"""The trade's engineering as pure functions with units and sources: each module one matter, from pump to spacer."""

from service.engineering.clamping import Clamp, clamp, pressure_force_n
from service.engineering.conduction import conductance_w_k, ring_area_mm2
from service.engineering.glands import GlandSizes, RingFit, RingSizes, ring_fit
from service.engineering.rail import along_rail, spread_percent
from service.engineering.screws import Thread, preload_n, proof_load_n, stripping_load_n, torque_nm
from service.engineering.seals import fill, squeeze
from service.engineering.spread import Size, Spread, root_sum_square, spread
from service.engineering.stack import Length, Room, Stack, room
from service.engineering.supply import (
    OperatingPoint,
    PumpCurve,
    hydraulic_power_w,
    injector_flow_l_h,
    injectors_l_h,
    injectors_most_l_h,
    operating_point,
    power_kw,
    warming_k,
)
from service.engineering.tapers import effective_length_mm, engaged_threads
from service.engineering.vapour import VapourCurve, inlet_margin_kpa, soak_margin_kpa

__all__ = [
    "Clamp",
    "GlandSizes",
    "Length",
    "OperatingPoint",
    "PumpCurve",
    "RingFit",
    "RingSizes",
    "Room",
    "Size",
    "Spread",
    "Stack",
    "Thread",
    "VapourCurve",
    "along_rail",
    "clamp",
    "conductance_w_k",
    "effective_length_mm",
    "engaged_threads",
    "fill",
    "hydraulic_power_w",
    "injector_flow_l_h",
    "injectors_l_h",
    "injectors_most_l_h",
    "inlet_margin_kpa",
    "operating_point",
    "power_kw",
    "preload_n",
    "pressure_force_n",
    "proof_load_n",
    "ring_area_mm2",
    "ring_fit",
    "room",
    "root_sum_square",
    "soak_margin_kpa",
    "spread",
    "spread_percent",
    "squeeze",
    "stripping_load_n",
    "torque_nm",
    "warming_k",
]
