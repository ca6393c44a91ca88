"""JSON Merge Patch: what a patch makes of a value. Source: RFC 7396, section 2."""

from typing import Any


def merged(target: Any, patch: Any) -> Any:
    """Return the value with the patch applied: members that are null go, objects are merged, all else replaces.

    >>> merged({"a": "b", "c": {"d": "e", "f": "g"}}, {"a": "z", "c": {"f": None}})
    {'a': 'z', 'c': {'d': 'e'}}
    """
    if not isinstance(patch, dict):
        return patch
    made = dict(target) if isinstance(target, dict) else {}
    for name, value in patch.items():
        if value is None:
            made.pop(name, None)
        else:
            made[name] = merged(made.get(name), value)
    return made
