"""What the OpenAPI document says of keys: which operations ask for one, and of which roles."""

from typing import Any

from service.access.roles import RIGHTS, Right
from service.web.operations import problems
from service.web.rights import right_of_operation

_KEY = "bearerKey"
_CODES = {"401": ("key-required", "unknown-key"), "403": ("not-allowed",)}


def describe_keys(document: dict[str, Any]) -> None:
    """Tell of each operation the roles that may do it, and how it refuses who may not."""
    document["components"]["securitySchemes"] = {
        _KEY: {
            "type": "http",
            "scheme": "bearer",
            "description": "A key of this service (`Authorization: Bearer KEY`). Whoever runs it may open questions "
            "and the desk to those who show none.",
        }
    }
    for operations in document["paths"].values():
        for operation in operations.values():
            _describe_operation(operation)


def _describe_operation(operation: dict[str, Any]) -> None:
    right = right_of_operation(operation["operationId"])
    if right is Right.NONE:
        operation["security"] = []
        return
    roles = [role.value for role, rights in RIGHTS.items() if right in rights]
    is_open = right in (Right.ASK, Right.DESK)
    operation["security"] = [{_KEY: roles}, *([{}] if is_open else [])]
    told = problems(*(code for codes in _CODES.values() for code in codes))
    operation["responses"] |= {status: told[int(status)] for status in _CODES}
