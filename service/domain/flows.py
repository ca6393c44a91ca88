"""What flows where: the flows that a placement asks of its paths, and what each path makes of them."""

from dataclasses import dataclass

from service.domain.vehicles import Duty


@dataclass(frozen=True, slots=True)
class PathFlow:
    """One flowing path. `unrated`: SKUs without flow data; `hose_rated` None: no hose or car line on the path."""

    duty: Duty
    spots: tuple[str, ...]
    flow_l_h: float
    drop_kpa: float
    peak_m_s: float
    limit_kpa: float
    limit_m_s: float
    unrated: tuple[str, ...]
    hose_rated: bool | None


@dataclass(frozen=True, slots=True)
class FlowDemand:
    """L/h: what the engine burns, and what each path of a duty carries."""

    demand_l_h: float
    feed_l_h: float
    return_l_h: float
    link_l_h: float
