"""What is counted of the service, as Prometheus reads it: by the template of a path, never by what stood in one.

Where `serve` has set a folder for it, all its processes count into files there, and each tells the sums. Nothing of
`service.cli` may import this: where the folder is decides, when it is first imported, how counting is done.
"""

import os
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from fastapi import APIRouter
from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, generate_latest
from prometheus_client.metrics_core import GaugeMetricFamily, Metric
from prometheus_client.multiprocess import MultiProcessCollector, mark_process_dead
from prometheus_client.registry import REGISTRY, Collector
from starlette.routing import Route

_LONGEST = 512
_KEPT = 4_096
_OTHER = "other"
_METHODS = frozenset({"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"})
_SECONDS = (0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0, 30.0)
_STEPS = (100, 1_000, 4_000, 8_000, 50_000, 200_000, 1_000_000)
_OF_A_PROCESS = re.compile(r"gauge_live[a-z]*_(\d+)\.db")

_REQUESTS = Histogram(
    "portwright_request_seconds",
    "Time from a request's head to the end of its answer; kept: whether it was given before",
    ("method", "path", "detail", "status", "kept"),
    buckets=_SECONDS,
)
_REFUSALS = Counter("portwright_refusals", "Refusals, by the code of their problem", ("problem",))
_UNDER_WAY = Gauge(
    "portwright_requests_under_way",
    "Requests that are answered now, without those given again",
    multiprocess_mode="livesum",
)
_SEARCH = Histogram("portwright_search_steps", "Steps that a call took in a lane", ("lane",), buckets=_STEPS)


class Templates:
    """Tells the template of the path of a request; `other` for what there is not."""

    def __init__(self, routers: Iterable[APIRouter]) -> None:
        routes = [route for router in routers for route in router.routes if isinstance(route, Route)]
        self._routes = [(route.path_regex, route.methods or {"GET"}, route.path_format) for route in routes]
        self._found = lru_cache(_KEPT)(self._find)

    def of(self, method: str, path: str) -> str:
        """The template, by method and path."""
        return self._found(method, path) if len(path) <= _LONGEST else self._find(method, path)

    def _find(self, method: str, path: str) -> str:
        asked = "GET" if method == "HEAD" else method
        fits = (template for regex, methods, template in self._routes if asked in methods and regex.match(path))
        return next(fits, _OTHER)


@lru_cache(_KEPT)
def _counted(method: str, template: str, detail: str, status: int, is_kept: bool) -> Histogram:
    named = method if method in _METHODS else _OTHER
    return _REQUESTS.labels(named, template, detail, str(status), "yes" if is_kept else "no")


def count_request(method: str, template: str, status: int, took_s: float, state: dict[str, Any]) -> None:
    """Count a request, with what is known of it in its state."""
    _counted(method, template, state.get("detail") or "", status, "is_kept" in state).observe(took_s)
    if "refusal" in state:
        _REFUSALS.labels(state["refusal"]).inc()


@lru_cache
def steps_in(lane: str) -> Callable[[float], None]:
    """What counts the steps of a call in this lane."""
    return _SEARCH.labels(lane).observe


def begin_one() -> None:
    """Count a request that is answered now."""
    _UNDER_WAY.inc()


def end_one() -> None:
    """Count it no more."""
    _UNDER_WAY.dec()


@dataclass(frozen=True)
class Answering(Collector):
    """The revision that is answered from: its number, and how long ago it was published [s]."""

    number: int
    age_s: float

    def collect(self) -> Iterator[Metric]:
        yield GaugeMetricFamily("portwright_revision", "The number of the newest revision", value=self.number)
        yield GaugeMetricFamily("portwright_revision_age_seconds", "Since it was published", value=self.age_s)


def told(answering: Answering | None) -> bytes:
    """All that is counted, by all processes that count into the same folder."""
    folder = os.environ.get("PROMETHEUS_MULTIPROC_DIR")
    registry = CollectorRegistry()
    if answering is not None:
        registry.register(answering)
    if folder is None:
        return generate_latest(registry) + generate_latest(REGISTRY)
    _forget_the_dead(Path(folder))
    MultiProcessCollector(registry, folder)
    return generate_latest(registry)


def _forget_the_dead(folder: Path) -> None:
    """What processes had under way that are gone is no more; what they have counted stays."""
    for file in folder.iterdir():
        found = _OF_A_PROCESS.fullmatch(file.name)
        if found is not None and not _is_alive(int(found[1])):
            mark_process_dead(int(found[1]), str(folder))


def _is_alive(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        pass
    return True
