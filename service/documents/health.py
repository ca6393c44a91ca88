"""How the service is."""

from typing_extensions import TypedDict


class Live(TypedDict):
    """The process answers."""

    live: bool


class Ready(TypedDict):
    """The database answers and holds a catalog; `revision` is the newest."""

    live: bool
    ready: bool
    revision: int
