"""Run cases and promises against a deployment, one after the other; whatever it answers becomes an outcome."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

import httpx

from service.client import BrokenAnswerError, ClientError, ServiceFailedError, UnavailableError, UnreachableError
from service.contract.cases import judged
from service.contract.outcomes import Broken, Outcome, State
from service.contract.promises import PROMISES
from service.contract.site import NO_ANSWERS, BrokenError, NotTriedError, Site

CASES = "cases"
API = "promises of the API"
_MOST_SILENCES = 3
_GONE = "not tried: the service has not answered {} times in a row"


def run_contract(site: Site, only: str = "") -> Iterator[Outcome]:
    """Yield what came of each case, then of each promise of the API; `only`: those whose name or group has this text.

    After some that had no answer in time the others are skipped, so that a dead service does not take hours.
    """
    silences = 0
    for trial in trials(site, only):
        if silences == _MOST_SILENCES:
            yield Outcome(trial.group, trial.name, state="skipped", why=_GONE.format(silences))
            continue
        outcome = trial.run()
        silences = silences + 1 if outcome.state == "slow" else 0
        yield outcome


@dataclass(frozen=True)
class Trial:
    """One case or one promise, to be tried."""

    site: Site
    group: str
    name: str
    judge: Callable[[], Iterator[Broken]]

    def run(self) -> Outcome:
        """Try it, and return what came of it."""
        return _tried(self.site, self.group, self.name, self.judge)


def trials(site: Site, only: str = "") -> list[Trial]:
    """Return every case, then every promise, whose name or group has this text."""
    return [Trial(site, *one) for one in _trials(site) if only in f"{one[0]}: {one[1]}"]


def _trials(site: Site) -> Iterator[tuple[str, str, Callable[[], Iterator[Broken]]]]:
    for case in site.cases:
        whose = "" if case.account is None else f"{case.account}/"
        yield CASES, f"{whose}{case.id}: {case.says}", partial(judged, site, case)
    for name, promise in PROMISES.items():
        yield API, name, partial(promise, site)


def _tried(site: Site, group: str, name: str, judge: Callable[[], Iterator[Broken]]) -> Outcome:
    broken: list[Broken] = []
    state: State = "kept"
    why = ""
    site.note = ""
    try:
        broken.extend(site.placed(fault) for fault in judge())
    except NotTriedError as error:
        state, why = "skipped", str(error)
    except BrokenError as error:
        broken.append(site.placed(error.broken))
    except (ClientError, httpx.HTTPError) as error:
        silent = _silent(error)
        if silent is None:
            got = f"{type(error).__name__}: {error}"
            broken.append(site.placed(Broken(got, "", "an answer as the API describes it", got)))
        else:
            state, why = silent, _told(site, error)
    except (LookupError, TypeError, ValueError, AttributeError) as error:  # an answer of a shape that nobody expects
        got = f"{type(error).__name__}: {error}"
        broken.append(site.placed(Broken(f"an answer has another shape: {got}", "", "as the API describes it", got)))
    return Outcome(group, name, tuple(broken), "broken" if broken else state, why, site.note)


def _silent(error: Exception) -> State | None:
    """What an error says of the service where it is no answer at all: slow, failing, or None for a wrong answer."""
    if isinstance(error, BrokenAnswerError) and error.status in NO_ANSWERS:
        return "failing"
    cause = error.__cause__ if isinstance(error, UnreachableError) else error
    if isinstance(cause, httpx.TimeoutException):
        return "slow"
    if isinstance(cause, httpx.DecodingError | httpx.UnsupportedProtocol):
        return None
    if isinstance(error, UnreachableError | UnavailableError | ServiceFailedError | httpx.TransportError):
        return "failing"
    return None


def _told(site: Site, error: Exception) -> str:
    last = site.watch.last
    return f"{error or type(error).__name__}" + ("" if last is None else f"; repeat: {last.curl}")
