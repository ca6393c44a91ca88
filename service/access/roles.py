"""Roles and the rights of each, as one table."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType


class Right(StrEnum):
    """What an operation asks of its caller."""

    NONE = "none"
    """No right: health, signing in, static files."""
    ASK = "ask"
    """Questions that anybody may ask of the catalog; nothing is kept."""
    DESK = "desk"
    """Order checks, readings, files of orders, inquiries that are sent, links to sheets."""
    CASES = "cases"
    """A partner's own cases."""
    EDIT = "edit"
    """Drafts, impact, the list of inquiries with contact lines, and their answers."""
    PUBLISH = "publish"
    """Publishing and restoring revisions."""
    ADMIN = "admin"
    """The keys of others."""


class Role(StrEnum):
    """What a key is made for."""

    ASK = "ask"
    DESK = "desk"
    PARTNER = "partner"
    EDITOR = "editor"
    PUBLISHER = "publisher"
    ADMIN = "admin"


_ASK = frozenset({Right.NONE, Right.ASK})
_DESK = _ASK | {Right.DESK}
RIGHTS: Mapping[Role, frozenset[Right]] = MappingProxyType(
    {
        Role.ASK: _ASK,
        Role.DESK: _DESK,
        Role.PARTNER: _DESK | {Right.CASES},
        Role.EDITOR: _DESK | {Right.EDIT},
        Role.PUBLISHER: _DESK | {Right.EDIT, Right.PUBLISH},
        Role.ADMIN: frozenset(Right),
    }
)


@dataclass(frozen=True)
class Caller:
    """Who asks: the account that kept things belong to, and the rights. `key`: the id of the key, None without one."""

    account: str = ""
    rights: frozenset[Right] = field(default=frozenset({Right.NONE}))
    key: str | None = None
    role: Role | None = None

    def may(self, right: Right) -> bool:
        """Whether the caller has a right."""
        return right in self.rights


def without_key(roles: frozenset[Role]) -> Caller:
    """The caller that shows no key, where these roles are open to everybody."""
    return Caller(rights=frozenset({Right.NONE}).union(*(RIGHTS[role] for role in roles)))


EVERYBODY = Caller(rights=frozenset(Right))
"""Who asks where nobody is asked for a key: all belongs to one account."""
