"""Examples of drafts for the OpenAPI document: a part of the example catalog that becomes dearer."""

from typing import Any

from service.documents.fuel_order import FUEL_ORDER
from service.documents.money import money_of
from service.documents.packed import canonical
from service.storage.drafts import Standing
from service.usecases.preconditions import tag_of
from service.web import examples

ID = "5f0c2b9e7a1d4e6f8a3b5c7d9e0f1a2b"
AUTHOR, REASON = "Ottilie Brandt", "The mill asks more for bar stock."
_BEGUN, _CHANGED = "2026-03-01T12:00:00Z", "2026-03-01T12:05:00Z"


def begun() -> dict[str, Any]:
    """A draft to begin."""
    return {"name": "spring prices", "author": AUTHOR}


def head(version: int = 1) -> dict[str, Any]:
    """That draft, with one edit."""
    return {
        "id": ID,
        **begun(),
        "base": 1,
        "version": version,
        "begun": _BEGUN,
        "changed": _CHANGED,
        "published": None,
    }


def draft() -> dict[str, Any]:
    """That draft with what is known of it."""
    return head() | {"edits": {"added": 0, "changed": 1, "removed": 0}, **_no_faults()}


def new_draft() -> dict[str, Any]:
    """That draft when it is begun."""
    edits = {"added": 0, "changed": 0, "removed": 0}
    return head(0) | {"changed": _BEGUN, "edits": edits, **_no_faults()}


def page() -> dict[str, Any]:
    """The list of drafts."""
    return {"results": [head()]}


def item() -> dict[str, Any]:
    """The part, dearer."""
    return dict(examples.dearer())


def once(section: str) -> dict[str, Any]:
    """What the example catalog has once: its maker, its policies."""
    if section == FUEL_ORDER:
        return {"fuels": [fuel.id for fuel in examples.edition().catalog.fuels]}
    told: dict[str, Any] = getattr(examples.edition().catalog, section).model_dump(exclude_defaults=True)
    return told


def draft_object() -> dict[str, Any]:
    """The part as it stands in the draft."""
    return _head("items", item()["sku"]) | money_of(examples.edition().revision) | {"result": item()}


def draft_once(section: str) -> dict[str, Any]:
    """What the catalog has once, as it stands in the draft: as in its base."""
    return _head(section, "") | {"what": None, "author": None, "changed": None, "result": once(section)}


def edited_object() -> dict[str, Any]:
    """The part after its edit."""
    return draft_object() | _no_faults()


def edited_once(section: str) -> dict[str, Any]:
    """What the catalog has once, after an edit."""
    return draft_once(section) | _no_faults()


def removed_object() -> dict[str, Any]:
    """The part after it was removed."""
    return edited_object() | {"etag": None, "what": "removed", "result": None}


def changes() -> dict[str, Any]:
    """What that draft changes."""
    told = {"section": "items", "key": item()["sku"], "what": "changed", "fields": ["price"], "etag": _tag()}
    return {"draft": ID, "base": 1, "results": [told | {"author": AUTHOR, "changed": _CHANGED}]}


def _deed(**told: Any) -> dict[str, Any]:
    nothing: dict[str, Any] = {"reason": None, "section": None, "key": None, "fields": [], "revision": None}
    return nothing | {"done": _CHANGED, "author": AUTHOR} | told


def discarded() -> dict[str, Any]:
    """The last of that draft's trail once it is deleted."""
    return {"draft": ID, "results": [_deed(what="discarded", version=1)]}


def trail() -> dict[str, Any]:
    """What was done to that draft."""
    begun_ = _deed(done=_BEGUN, what="begun", version=0, revision=1)
    edit = _deed(what="changed", version=1, section="items", key=item()["sku"], fields=["price"])
    return {"draft": ID, "results": [begun_, edit]}


def move() -> dict[str, Any]:
    """How that draft moves to the newest revision."""
    return {"author": AUTHOR, "keep": "draft"}


def publication() -> dict[str, Any]:
    """Who publishes it, and why."""
    return {"author": AUTHOR, "reason": REASON}


def published() -> dict[str, Any]:
    """The revision that it becomes."""
    digest = examples.edition().catalog.digest()
    when = {"revision": 2, "published": "2026-03-01T12:10:00Z", "digest": digest}
    return when | publication() | {"accept": None, "draft": ID}


def restored() -> dict[str, Any]:
    """An old revision published anew."""
    return published() | {"revision": 3, "draft": None}


def patch() -> dict[str, Any]:
    """The edit, as a merge patch."""
    return {"price": item()["price"]}


def tables_taken() -> dict[str, Any]:
    """What became of a table of the parts, in which that one is dearer."""
    objects = len(examples.documents("items"))
    counts = {"same": objects - 1, "added": 0, "changed": 1, "removed": 0, "kept": 0}
    edit = {"section": "items", "key": item()["sku"], "what": "changed", "fields": ["price"]}
    return {
        "draft": ID,
        "base": 1,
        "version": 1,
        "dry_run": False,
        "sections": [{"section": "items", "objects": objects} | counts],
        "untouched": [name for name in examples.edition().catalog.texts if name != "items"],
        "edits": [edit],
        "more_edits": 0,
        **_no_faults(),
    }


def impact() -> dict[str, Any]:
    """What that draft does to the standing questions of its base; its bills have no keys before it is published."""
    told = examples.impact()
    questions = [one | {"after": one["after"] | {"key": None}} for one in told["questions"]]
    return told | {"to": ID, "questions": questions}


def _head(section: str, key: str) -> dict[str, Any]:
    told = {"draft": ID, "section": section, "key": key, "etag": _tag(), "what": "changed"}
    return told | {"author": AUTHOR, "changed": _CHANGED}


def _tag() -> str | None:
    sku = item()["sku"]
    return tag_of(Standing(canonical(next(one for one in examples.edition().catalog.items if one.sku == sku)), 1))


def _no_faults() -> dict[str, Any]:
    return {"faults": [], "more_faults": 0}
