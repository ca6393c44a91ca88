"""A deployment on trial: the typed client, and plain requests where the wire itself is looked at."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import httpx

from service.client import Client
from service.documents.contract import CaseFile


@dataclass(frozen=True)
class Site:
    """`cases` are those that are run: they lend the promises of the API a question that has bills."""

    client: Client
    http: httpx.Client
    cases: CaseFile = field(default_factory=lambda: CaseFile(cases=[]))

    def question(self) -> dict[str, Any] | None:
        """A question that is promised to have bills; None where no case has one."""
        for case in self.cases.cases:
            if case.promises.has_bill:
                return case.request.model_dump(exclude_unset=True)
        return None

    def get(self, path: str, params: Mapping[str, str] | None = None, **headers: str) -> httpx.Response:
        """A plain GET; words of `headers` stand with underscores."""
        return self.http.get(path, params=params, headers=_names(headers))

    def post(self, path: str, content: bytes, **headers: str) -> httpx.Response:
        """A plain POST of JSON."""
        return self.http.post(path, content=content, headers={"Content-Type": "application/json", **_names(headers)})


def _names(headers: Mapping[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in headers.items()}
