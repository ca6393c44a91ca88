"""The trade's engineering as pure functions with units and sources: supply, screws, seals."""

from service.engineering.screws import Thread, preload_n, proof_load_n, stripping_load_n, torque_nm
from service.engineering.seals import fill, root_sum_square, squeeze, worst_case
from service.engineering.supply import (
    OperatingPoint,
    PumpCurve,
    hydraulic_power_w,
    injector_flow_l_h,
    injectors_l_h,
    operating_point,
    power_kw,
    warming_k,
)

__all__ = [
    "OperatingPoint",
    "PumpCurve",
    "Thread",
    "fill",
    "hydraulic_power_w",
    "injector_flow_l_h",
    "injectors_l_h",
    "operating_point",
    "power_kw",
    "preload_n",
    "proof_load_n",
    "root_sum_square",
    "squeeze",
    "stripping_load_n",
    "torque_nm",
    "warming_k",
    "worst_case",
]
