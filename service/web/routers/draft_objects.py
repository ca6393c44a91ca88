"""What stands in a draft, object by object: read, put, patched, removed, each under the state that it is meant for.

Without keys: for loopback alone.
"""

from collections.abc import Callable
from json import loads
from typing import Annotated, Any, get_args
from urllib.parse import quote

from fastapi import APIRouter, Depends, Path
from pydantic_core import to_json
from starlette.responses import Response

from service.documents import catalog, draft
from service.documents.fuel_order import FUEL_ORDER, FuelOrder
from service.documents.packed import ONCE
from service.usecases.drafts import Drafts, Edited, named
from service.usecases.preconditions import Precondition
from service.web import draft_examples
from service.web.bodies import value_of
from service.web.operations import OF_BODY, OF_ID, answers, edited, query, ref
from service.web.preconditions import parameters, precondition_of
from service.web.queries import EditQuery, NothingAsked, parameters_of, query_of
from service.web.representations import JSON, MERGE_PATCH, NEVER, OWN
from service.web.resources import AppDrafts, AppResources, Resources
from service.web.routers.drafts import PREFIX, DraftId

router = APIRouter(prefix=f"{PREFIX}/{{id}}", tags=["drafts"])

SectionOf = Annotated[
    str,
    Path(
        alias="section",
        description=f"a section of the catalog: {', '.join(get_args(draft.SectionName))}",
        examples=["items"],
    ),
]
KeyOf = Annotated[
    str,
    Path(
        alias="key",
        description="the sku of an item, the id of anything else; slashes in it may stand as they are or as %2F",
        examples=[draft_examples.item()["sku"]],
    ),
]
Given = Annotated[EditQuery, Depends(query_of(EditQuery))]
Meant = Annotated[Precondition, Depends(precondition_of)]
AnyJson = Annotated[Any, Depends(value_of(JSON))]
AnyPatch = Annotated[Any, Depends(value_of(MERGE_PATCH, JSON))]

_IN_WORDS = {FUEL_ORDER: "order of fuels"}
_EDITING = ("unknown-id", "draft-published", "edited-meanwhile", "precondition-required")
_METHODS = ("Torque", "PastHandTight", "FlangeToFace", "TurnsEngaged", "PushToClick")
_MODELS = ("Item", "Chassis", "Layout", "Addon", "Fuel", "Material", "PortStandard", "CatalogCase")
_OBJECTS = [ref(name) for name in (*_MODELS, *(f"{method}Joint" for method in _METHODS))]


def _body(media_type: str, schema: Any, example: Any) -> dict[str, Any]:
    return {"requestBody": {"required": True, "content": {media_type: {"schema": schema, "example": example}}}}


def _edit_parameters(*, may_be_new: bool) -> dict[str, Any]:
    return query([*parameters_of(EditQuery), *parameters(may_be_new=may_be_new)])


@router.get(
    "/{section}/{key:path}",
    operation_id="getDraftObject",
    summary="An object of the catalog as it stands in a draft",
    response_model=draft.DraftObject,
    responses=answers("The object.", draft_examples.draft_object(), *OF_ID, revision=False),
)
async def get_object(
    resources: AppResources, drafts: AppDrafts, id_: DraftId, section: SectionOf, key: KeyOf, _: NothingAsked
) -> Response:
    return await resources.look(_shown, drafts, id_, named(section, key))


@router.put(
    "/{section}/{key:path}",
    operation_id="putDraftObject",
    summary="Put an object in the place of what stands in a draft, or a new one",
    description="What the catalog as a whole would not hold together with is kept and told: `faults`.",
    response_model=draft.EditedObject,
    responses=edited(
        "The object, and what does not hold in the draft.",
        draft.EditedObject,
        draft_examples.edited_object(),
        *_EDITING,
        *OF_BODY,
        may_be_new=True,
    ),
    openapi_extra=_body(JSON, {"anyOf": _OBJECTS}, draft_examples.item()) | _edit_parameters(may_be_new=True),
)
async def put_object(
    resources: AppResources,
    drafts: AppDrafts,
    id_: DraftId,
    section: SectionOf,
    key: KeyOf,
    given: Given,
    meant: Meant,
    value: AnyJson,
) -> Response:
    return await _edited(resources, drafts, drafts.put, id_, named(section, key), value, meant, _by(given))


@router.patch(
    "/{section}/{key:path}",
    operation_id="patchDraftObject",
    summary="Change fields of an object in a draft: JSON Merge Patch, RFC 7396",
    response_model=draft.EditedObject,
    responses=edited(
        "The object, and what does not hold in the draft.",
        draft.EditedObject,
        draft_examples.edited_object(),
        *_EDITING,
        *OF_BODY,
        may_be_new=False,
    ),
    openapi_extra=_body(MERGE_PATCH, {"type": "object"}, draft_examples.patch()) | _edit_parameters(may_be_new=False),
)
async def patch_object(
    resources: AppResources,
    drafts: AppDrafts,
    id_: DraftId,
    section: SectionOf,
    key: KeyOf,
    given: Given,
    meant: Meant,
    value: AnyPatch,
) -> Response:
    return await _edited(resources, drafts, drafts.patch, id_, named(section, key), value, meant, _by(given))


@router.delete(
    "/{section}/{key:path}",
    operation_id="removeDraftObject",
    summary="Remove an object from the catalog of a draft",
    response_model=draft.EditedObject,
    responses=edited(
        "It is removed; what does not hold in the draft.",
        draft.EditedObject,
        draft_examples.removed_object(),
        *_EDITING,
        *("invalid-request", "no-catalog"),
        may_be_new=False,
        is_left=False,
    ),
    openapi_extra=_edit_parameters(may_be_new=False),
)
async def remove_object(
    resources: AppResources, drafts: AppDrafts, id_: DraftId, section: SectionOf, key: KeyOf, given: Given, meant: Meant
) -> Response:
    return await _edited(resources, drafts, drafts.remove, id_, named(section, key), meant, _by(given))


def _once(section: str, schema: type[Any], shown: type[Any], after: type[Any]) -> None:
    """The operations of what a catalog has once."""
    path, name, words = f"/{section}", section.title().replace("_", ""), _IN_WORDS.get(section, section)
    told = draft_examples.edited_once(section)
    description = "It, and what does not hold in the draft."

    @router.get(
        path,
        operation_id=f"getDraft{name}",
        summary=f"The {words} of the catalog as a draft has it",
        response_model=shown,
        responses=answers("It.", draft_examples.draft_once(section), *OF_ID, revision=False),
    )
    async def get_once(resources: AppResources, drafts: AppDrafts, id_: DraftId, _: NothingAsked) -> Response:
        return await resources.look(_shown, drafts, id_, (section, ""))

    @router.put(
        path,
        operation_id=f"putDraft{name}",
        summary=f"Put another {words} in the place of what a draft has",
        response_model=after,
        responses=edited(description, after, told, *_EDITING, *OF_BODY, may_be_new=False),
        openapi_extra=_body(JSON, ref(schema.__name__), told["result"]) | _edit_parameters(may_be_new=False),
    )
    async def put_once(
        resources: AppResources, drafts: AppDrafts, id_: DraftId, given: Given, meant: Meant, value: AnyJson
    ) -> Response:
        return await _edited(resources, drafts, drafts.put, id_, (section, ""), value, meant, _by(given))

    @router.patch(
        path,
        operation_id=f"patchDraft{name}",
        summary=f"Change fields of the {words} in a draft: JSON Merge Patch, RFC 7396",
        response_model=after,
        responses=edited(description, after, told, *_EDITING, *OF_BODY, may_be_new=False),
        openapi_extra=_body(MERGE_PATCH, {"type": "object"}, {}) | _edit_parameters(may_be_new=False),
    )
    async def patch_once(
        resources: AppResources, drafts: AppDrafts, id_: DraftId, given: Given, meant: Meant, value: AnyPatch
    ) -> Response:
        return await _edited(resources, drafts, drafts.patch, id_, (section, ""), value, meant, _by(given))


_once("maker", catalog.Maker, draft.DraftMaker, draft.EditedMaker)
_once("policies", catalog.Policies, draft.DraftPolicies, draft.EditedPolicies)
_once(FUEL_ORDER, FuelOrder, draft.DraftFuelOrder, draft.EditedFuelOrder)


async def _edited(resources: Resources, drafts: Drafts, edit: Callable[..., Edited], id_: str, *args: Any) -> Response:
    """Do an edit and answer with what it left."""
    done = await resources.write(edit, id_, *args)
    beside = await resources.look(_beside, drafts, done)
    headers = {"Cache-Control": NEVER}
    if done.tag is not None:
        headers["ETag"] = done.tag
    if done.is_new:
        where = (id_, done.section, *([quote(done.key, safe="")] if done.key else []))
        headers["Location"] = "/".join((PREFIX, *where))
    return Response(to_json(_told(drafts, done) | beside), 201 if done.is_new else 200, headers, JSON)


def _shown(drafts: Drafts, id_: str, of: tuple[str, str]) -> Response:
    found = drafts.find(id_, *of)
    headers = {"ETag": found.tag or "", "Cache-Control": OWN}
    return Response(to_json(_told(drafts, found) | _money(drafts, found)), headers=headers, media_type=JSON)


def _beside(drafts: Drafts, done: Edited) -> dict[str, Any]:
    return {**drafts.faults(done.draft.id), **_money(drafts, done)}


def _money(drafts: Drafts, found: Edited) -> dict[str, Any]:
    """The money of an object of a section; maker, policies and the order of fuels have no prices."""
    return {} if found.section in (*ONCE, FUEL_ORDER) else {**drafts.money(found.draft.id)}


def _told(drafts: Drafts, found: Edited) -> dict[str, Any]:
    document = found.standing.document
    return {**drafts.object_head(found), "result": None if document is None else loads(document)}


def _by(given: EditQuery) -> tuple[str | None, str | None]:
    return given.author, given.reason
