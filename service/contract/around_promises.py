"""What the API promises around its questions: the language of answers, its document, the sandbox, webhooks."""

import re
from collections.abc import Iterator
from inspect import getmembers, isfunction
from itertools import product
from string import ascii_lowercase
from typing import Any

import httpx

from service.client import operations as calls
from service.contract import operations, sections
from service.contract.outcomes import Broken
from service.contract.problems import faults_of_problem
from service.contract.site import NotTriedError, Site, given
from service.contract.wire_promises import object_of
from service.documents.question_parameters import query_of

_AT_ONCE = 90
"""So many languages stand in one header."""
_OF_THE_CLIENT_ALONE = "InBrief"
_TOLD_ALIKE = ("revision", "total_valid", "currency")


def _foreign(site: Site) -> Iterator[httpx.Response]:
    """The question by query as each language but English is wished for, many at a time."""
    tags = [one + other for one, other in product(ascii_lowercase, repeat=2) if one + other != "en"]
    for begin in range(0, len(tags), _AT_ONCE):
        wished = ",".join(tags[begin : begin + _AT_ONCE])
        yield site.get("/v1/bills", query_of(site.question()), Accept_Language=wished)


def languages_are_told(site: Site) -> Iterator[Broken]:
    """Answers say what language they are in and that they hang on the one wished for; bills are the same in each."""
    english = site.get("/v1/bills", query_of(site.question()), Accept_Language="en")
    plain = object_of(english)
    if english.headers.get("content-language") != "en":
        got = english.headers.get("content-language", "none")
        yield Broken("an answer in English does not say so", "Content-Language", "en", got)
    if "accept-language" not in english.headers.get("vary", "").lower():
        got = english.headers.get("vary", "none")
        yield Broken("an answer does not say that it hangs on the language wished for", "Vary", "Accept-Language", got)
    other = next((one for one in _foreign(site) if object_of(one).get("safety") != plain.get("safety")), None)
    if other is None:
        if any(item.second_name for item in site.ask(operations.page(sections.ITEMS, limit=200)).results):
            what = "the catalog has names in a second language, but answers are in English whatever is wished for"
            yield Broken(what, "Accept-Language", "answers in the second language", "English")
            return
        raise NotTriedError("the catalog is in English alone")
    told = object_of(other)
    spoken = other.headers.get("content-language", "none")
    if spoken.partition(",")[0] in ("en", "none"):
        yield Broken("an answer in another language does not say so", "Content-Language", "its language first", spoken)
    if other.headers.get("etag") == english.headers.get("etag"):
        yield Broken("two languages have the same ETag", "ETag", "another tag", other.headers.get("etag", "none"))
    for one, same in zip(plain.get("bills", []), told.get("bills", []), strict=False):
        if (one["key"], one["price"]) != (same["key"], same["price"]):
            yield Broken("in another language there are other bills", "#/bills", one["key"], same["key"])
            return
    if any(plain.get(name) != told.get(name) for name in _TOLD_ALIKE):
        yield Broken("in another language there are other figures", "#/total_valid", str(plain.get("total_valid")))


def the_document_is_whole(site: Site) -> Iterator[Broken]:
    """The OpenAPI document has every operation that the client of this version calls."""
    served: dict[str, Any] = object_of(site.get("/openapi.json")).get("paths", {})
    ids = {one.get("operationId") for path in served.values() for one in path.values() if isinstance(one, dict)}
    called = {_id(name) for name, one in getmembers(calls, isfunction) if one.__module__ == calls.__name__}
    missing = sorted(name for name in called - ids if not name.endswith(_OF_THE_CLIENT_ALONE))
    if missing:
        yield Broken(f"the OpenAPI document lacks {', '.join(missing[:5])}", "#/paths", f"{len(called)} operations")


def _id(name: str) -> str:
    return re.sub(r"_(\w)", lambda letter: letter[1].upper(), name)


def the_sandbox_stays(site: Site) -> Iterator[Broken]:
    """The sandbox answers from revision 1 of its own catalog, whatever is published, and keeps nothing."""
    page = site.get("/sandbox/v1/items", {"limit": "1"})
    told, header = object_of(page).get("revision"), page.headers.get("x-catalog-revision")
    if not page.is_success:
        yield Broken("the sandbox does not answer", "", "200", str(page.status_code))
    elif (told, header) != (1, "1"):
        yield Broken("the sandbox is of another revision than 1", "#/revision", "1", f"{told}, header {header}")
    kept = given(site.post("/sandbox/v1/order-checks", b"{}"))
    if kept.status_code != httpx.codes.NOT_FOUND:
        yield Broken("the sandbox takes what is to be kept", "", "404", str(kept.status_code))


def webhooks_keep_their_secret(site: Site) -> Iterator[Broken]:
    """Webhooks are told to who may have them, without the secret that signs; to others they are refused."""
    told = given(site.get("/v1/webhooks"))
    if told.is_success:
        if any("secret" in one for one in object_of(told).get("results", object_of(told).get("webhooks", []))):
            yield Broken("the list of webhooks tells their secrets", "#/results/secret", "none", "a secret")
        return
    status = told.status_code if told.status_code == httpx.codes.FORBIDDEN else int(httpx.codes.UNAUTHORIZED)
    yield from faults_of_problem("a list of webhooks without the right", told, status)
