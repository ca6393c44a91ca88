"""What counting costs a repeated question, in processor time of the server: `python -m tests.limits_cost`.

One server, one question that was answered before, and two keys: the requests of one are counted, those of the other are
not. They ask in turns, so that what else the machine does strikes both alike; the least of each is told.
"""

import json
import tempfile
import time
from contextlib import closing

from service.access.roles import Role
from service.documents.folder import load_catalog
from service.storage.engine import open_database
from service.storage.keys import KeyStore
from service.usecases.access_keys import AccessKeys
from tests.attack import SEED_CATALOG, servers, with_catalog
from tests.bench.client import Connection, request
from tests.support.server import served

TURNS, REQUESTS = 20, 1_000
_NOT_COUNTED, _COUNTED = Role.ASK, Role.DESK
_A_MINUTE = f"{_NOT_COUNTED}=0,{_COUNTED}=1000000000"
_QUESTION = {"chassis": "fennic-16", "layout": "own-hose-6-centre"}


def processor_s(pid: int) -> float:
    """The processor time that a process has taken, by its own clock: clock_getcpuclockid(3), in Linux' numbers."""
    return time.clock_gettime(~pid << 3 | 2)


def microseconds(url: str, keys: dict[Role, str]) -> dict[Role, list[float]]:
    """What a request of each took, by turn."""
    front, connection = servers()[0], Connection(url)
    taken: dict[Role, list[float]] = {role: [] for role in keys}
    with closing(connection.socket):
        for _ in range(TURNS):
            for role, key in keys.items():
                headers = {"Authorization": f"Bearer {key}"}
                asked = request(url, "POST", "/v1/bills", json.dumps(_QUESTION).encode(), **headers)
                before_s = processor_s(front)
                for _ in range(REQUESTS):
                    status, _ = connection.ask(asked)
                    if status != 200:
                        raise AssertionError(f"answered {status}")
                taken[role].append((processor_s(front) - before_s) / REQUESTS * 1e6)
    return taken


def main() -> None:
    """Tell both, and how much more the counted one takes."""
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{folder}/catalog.sqlite3"
        with_catalog(url, load_catalog(SEED_CATALOG).model_dump(mode="json", exclude_none=True), 1)
        with closing(open_database(url)) as database:
            made = AccessKeys(KeyStore(database))
            keys = {role: made.make(role, role).text for role in (_NOT_COUNTED, _COUNTED)}
        with served(url, without_key="none", requests_a_minute=_A_MINUTE) as server:
            taken = microseconds(server, keys)
    less, more = min(taken[_NOT_COUNTED]), min(taken[_COUNTED])
    print(f"not counted {less:.1f} µs, counted {more:.1f} µs: {100 * (more / less - 1):+.1f} %")


if __name__ == "__main__":
    main()
