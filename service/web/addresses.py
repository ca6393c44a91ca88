"""Where a request comes from, as far as that can be known: its client, or whom a proxy of ours says that it is for."""

import ipaddress
from collections.abc import Iterable
from functools import lru_cache

from starlette.types import Scope

Network = ipaddress.IPv4Network | ipaddress.IPv6Network

_FORWARDED_FOR = b"x-forwarded-for"
_FORWARDED = (b"forwarded", _FORWARDED_FOR, b"x-forwarded-host", b"via")
_NOBODY = "unknown"
_HOME_BITS = 64
"""One client of IPv6 has a network of its own, of so many bits: all its addresses are one."""
_KEPT = 4_096
_LONGEST = 1_000


class Addresses:
    """Tells who sent a request. `proxies`: whose word is taken for it, in the last entries of X-Forwarded-For."""

    def __init__(self, proxies: Iterable[Network] = ()) -> None:
        self._proxies = tuple(proxies)
        self._is_proxy = lru_cache(_KEPT)(self._looked_up)

    def of(self, scope: Scope) -> str:
        """The address of a client, or the network of one of IPv6."""
        client = scope.get("client")
        nearest = _NOBODY if client is None else str(client[0])
        if not self._proxies or not self._is_proxy(nearest):
            return _home(nearest)
        told = b",".join(value for name, value in scope["headers"] if name == _FORWARDED_FOR)[-_LONGEST:]
        hops = [hop.strip() for hop in told.decode("latin-1").split(",")]
        return _home(next((hop for hop in reversed(hops) if hop and not self._is_proxy(hop)), nearest))

    def _looked_up(self, host: str) -> bool:
        try:
            address = ipaddress.ip_address(host)
        except ValueError:
            return False
        return any(address in network for network in self._proxies)


def is_local(scope: Scope) -> bool:
    """Whether a request came by the loopback of this machine, at both ends, and from nobody beyond a proxy."""
    if any(name in _FORWARDED for name, _ in scope["headers"]):
        return False
    ends = (scope.get("server"), scope.get("client"))
    return all(end is not None and _is_loopback(str(end[0])) for end in ends)


@lru_cache(_KEPT)
def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


@lru_cache(_KEPT)
def _home(host: str) -> str:
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        return _NOBODY  # a word that somebody made up is no address of its own
    if address.version == 4:
        return str(address)
    return str(ipaddress.ip_network((int(address), _HOME_BITS), strict=False))
