"""Who we are: the address that links are told with, and the hosts under whose names requests are answered."""

import ipaddress
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import urlsplit

LOOPBACK_URL = "http://127.0.0.1:8000"
LOOPBACK_HOSTS = ("127.0.0.1", "localhost", "::1")

_LONGEST = 300
"""A name of the domain name system has at most 253 characters; a port comes to it."""


@dataclass(frozen=True)
class Site:
    """`url`: scheme, host and port, nothing behind. `hosts`: names and addresses without a port, IPv6 without brackets.

    What a request says of its host is only ever compared with these, never told to anybody.
    """

    url: str = LOOPBACK_URL
    hosts: frozenset[str] = frozenset(LOOPBACK_HOSTS)

    @property
    def is_of_loopback(self) -> bool:
        """Whether it is reached by this machine alone."""
        return host_of(self.url) in LOOPBACK_HOSTS and self.hosts <= frozenset(LOOPBACK_HOSTS)

    @property
    def is_secure(self) -> bool:
        """Whether others reach it by TLS, be it by a proxy: cookies then go no other way."""
        return self.url.startswith("https:")

    def answers_to(self, host: str) -> bool:
        """Whether a request to this host, as the header `Host` has it, is meant for us; whatever the port is."""
        return host_of(f"//{host}") in self.hosts

    def is_origin(self, origin: str, host: str) -> bool:
        """Whether the header `Origin` names this site: by its public address, or by the host that was asked."""
        return origin == self.url or origin in (f"http://{host}", f"https://{host}")


def site_of(public_url: str | None, allowed_hosts: Iterable[str] = ()) -> Site:
    """The site with this public address, which is allowed as a host too. No hosts: those of loopback."""
    url = LOOPBACK_URL if public_url is None else public_url
    hosts = tuple(allowed_hosts) or LOOPBACK_HOSTS
    own = host_of(url)
    return Site(url, frozenset(_plain(host) for host in (*hosts, *([own] if own else []))))


@lru_cache(64)
def host_of(url: str) -> str | None:
    """The host of an address in small letters, an IP address in its usual form; None where there is none."""
    if len(url) > _LONGEST:
        return None
    try:
        address = urlsplit(url)
        if address.username is not None or address.path or address.query or address.fragment:
            return None
        _ = address.port  # raises for what is no port
        return None if address.hostname is None else _plain(address.hostname)
    except ValueError:
        return None


def _plain(host: str) -> str:
    try:
        return str(ipaddress.ip_address(host.strip("[]")))
    except ValueError:
        return host.lower().removesuffix(".")
