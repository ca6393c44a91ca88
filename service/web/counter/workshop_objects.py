"""Edit a draft: its objects by section, one in a form, a new one from a like one; retire, remove, put back."""

from collections.abc import Mapping
from json import loads
from typing import Annotated, Any
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Path, Request
from markupsafe import Markup
from starlette.responses import Response

from service.documents.fuel_order import FUEL_ORDER
from service.documents.packed import ONCE
from service.usecases.draft_contents import Contents, contents_of
from service.usecases.drafts import Drafts, named
from service.usecases.errors import ConflictError, NotFoundError
from service.usecases.preconditions import ANY, Precondition
from service.web.counter.forms import own_form
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.workshop_desk import PATH, AppForesight, Foresight, keep_who, who_works
from service.web.counter.workshop_editing import (
    Page,
    Place,
    Saved,
    checked_page,
    page_like,
    page_of,
    page_sent,
    place_in,
    save,
    shown_of,
)
from service.web.handing import go_elsewhere
from service.web.pages.workshop_pictures import picture_of
from service.web.pages.workshop_words import ONE_OF, SECTION_WORDS, Names, change_told, counted, name_in
from service.web.resources import AppDrafts, AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_MOST_LISTED = 60
_LONGEST_WORDS = 120
_MOST_TOLD = 8

DraftId = Annotated[str, Path(alias="id")]
Section = Annotated[str, Path(alias="section")]
Key = Annotated[str, Path(alias="key")]


@router.get(f"{PATH}/{{id}}/list/{{section}}")
async def objects(
    request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId, section: Section
) -> Response:
    return await resources.look(_objects, request, drafts, id_, section)


def _objects(request: Request, drafts: Drafts, id_: str, section: str) -> Response:
    contents = contents_of(drafts, id_)
    section, _ = named(section, "new")
    words = request.query_params.get("q", "").strip()[:_LONGEST_WORDS]
    found = [(key, name_in(text, key), text) for key, text in contents.texts[section].items()]
    wanted = words.casefold().split()
    like = [one for one in found if all(word in f"{one[0]} {one[1]}".casefold() for word in wanted)]
    listed = [
        (key, name, _picture(section, text, contents), contents.edit_of(section, key))
        for key, name, text in like[:_MOST_LISTED]
    ]
    return shown(
        request,
        "workshop_list.html",
        draft=contents.draft,
        section=section,
        section_words=SECTION_WORDS[section],
        one=ONE_OF[section],
        words=words,
        listed=listed,
        total=len(like),
        who=who_works(request) or contents.draft.author or "",
        **(_order(drafts, contents) if section == "fuels" else {"first_fuel": None}),
    )


def _order(drafts: Drafts, contents: Contents) -> dict[str, Any]:
    """Which fuel is the first, and the state of the order that another one is put first in."""
    tag = drafts.find(contents.draft.id, FUEL_ORDER, "").tag
    return {"first_fuel": next(iter(contents.texts["fuels"]), None), "order_tag": tag}


@router.post(f"{PATH}/{{id}}/first-fuel")
async def put_first(request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId) -> Response:
    form = await own_form(request)
    return await resources.write(_put_first, request, drafts, id_, form)


def _put_first(request: Request, drafts: Drafts, id_: str, form: Mapping[str, str]) -> Response:
    """Put a fuel before the others, which keep their order."""
    author, first = form.get("author", "").strip(), form.get("first", "")
    fuels = contents_of(drafts, id_).texts["fuels"]
    order = {"fuels": [first, *(fuel for fuel in fuels if fuel != first)]}
    meant = Precondition((form.get("tag", "") or ANY,))
    drafts.put(id_, (FUEL_ORDER, ""), order, meant, (author or None, None))
    return keep_who(gone_to(f"{PATH}/{id_}/list/fuels"), author, request)


def _picture(section: str, text: str, contents: Contents) -> Markup | None:
    return picture_of(loads(text), contents.catalog) if section == "items" else None


@router.get(f"{PATH}/{{id}}/new/{{section}}")
async def begin_new(
    request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId, section: Section
) -> Response:
    def begun() -> Response:
        place = place_in(contents_of(drafts, id_), section, None)
        like = request.query_params.get("like", "")[:_LONGEST_WORDS]
        return _shown(request, place, page_like(place, like))

    return await resources.look(begun)


@router.post(f"{PATH}/{{id}}/new/{{section}}")
async def make_new(
    request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId, section: Section
) -> Response:
    form = await own_form(request)
    return await resources.write(_sent, request, drafts, (id_, section, None), form)


@router.get(f"{PATH}/{{id}}/edit/{{section}}/{{key:path}}")
async def edit(
    request: Request,
    resources: AppResources,
    drafts: AppDrafts,
    foresight: AppForesight,
    id_: DraftId,
    section: Section,
    key: Key,
) -> Response:
    go_elsewhere()
    contents = await resources.look(contents_of, drafts, id_)
    place = place_in(contents, section, key)
    effect = await _effect(foresight, place)

    def found() -> Response:
        return _shown(request, place, page_of(drafts, place), **effect)

    return await resources.look(found)


@router.post(f"{PATH}/{{id}}/edit/{{section}}/{{key:path}}")
async def send_edit(
    request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId, section: Section, key: Key
) -> Response:
    form = await own_form(request)
    return await resources.write(_sent, request, drafts, (id_, section, key), form)


def _sent(request: Request, drafts: Drafts, of: tuple[str, str, str | None], form: Mapping[str, str]) -> Response:
    """Save what was sent, or show it again: with a row more, checked, or with what is in the way."""
    id_, section, key = of
    place = place_in(contents_of(drafts, id_), section, key)
    page = page_sent(place, form)
    act = form.get("do", "")
    if act == "save":
        came = save(drafts, place, page)
        if isinstance(came, Saved):
            path = object_path(id_, place.section, came.key)
            return keep_who(gone_to(f"{path}?saved=yes"), page.author, request)
        return keep_who(_shown(request, place, came, status=409 if came.merged else 422), page.author, request)
    return _shown(request, place, checked_page(place, page) if act == "check" else page)


@router.post(f"{PATH}/{{id}}/do/{{section}}/{{key:path}}")
async def do(
    request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId, section: Section, key: Key
) -> Response:
    form = await own_form(request)
    return await resources.write(_done, request, drafts, (id_, section, key), form)


def _done(request: Request, drafts: Drafts, of: tuple[str, str, str], form: Mapping[str, str]) -> Response:
    """Retire or remove an object, or have it again as the base has it."""
    id_, section, key = of
    contents = contents_of(drafts, id_)
    place = place_in(contents, section, key)
    named_, by = (
        (place.section, key if place.section not in ONCE else ""),
        (form.get("author", "").strip() or None, None),
    )
    tag = form.get("tag", "")
    meant = Precondition((tag or ANY,))
    act = form.get("do", "")
    in_base = contents.base.get(place.section, {}).get(named_[1])
    if act == "retire" and place.section == "items":
        successor = form.get("successor", "").strip() or None
        drafts.patch(id_, named_, {"status": "retired", "superseded_by": successor}, meant, by)
    elif act == "remove" and place.section not in ONCE:
        drafts.remove(id_, named_, meant, by)
    elif act == "back" and in_base is not None:
        drafts.put(id_, named_, loads(in_base), meant if place.text is not None else Precondition(is_new=True), by)
    elif act == "back":
        drafts.remove(id_, named_, meant, by)
    else:
        raise NotFoundError("thing to do", act)
    is_left = act == "retire" or (act == "back" and in_base is not None)
    to = f"{object_path(id_, place.section, key)}?saved=yes" if is_left else f"{PATH}/{id_}"
    return keep_who(gone_to(to), by[0] or "", request)


def object_path(id_: str, section: str, key: str) -> str:
    """The address of the page of an object in a draft."""
    return f"{PATH}/{id_}/edit/{section}/{quote(key)}"


def _shown(request: Request, place: Place, page: Page, *, status: int = 200, **effect: Any) -> Response:
    contents = place.contents
    key = place.key or ""
    edit_ = contents.edit_of(place.section, key)
    names = Names(contents.base, contents.texts)
    told = change_told(place.section, key, contents.base, contents.texts, names) if edit_ else None
    new = f"{PATH}/{contents.draft.id}/new/{place.section}"
    return shown(
        request,
        "workshop_edit.html",
        status=status,
        draft=contents.draft,
        action=new if place.key is None else object_path(contents.draft.id, place.section, key),
        copy=f"{new}?{urlencode({'like': key})}",
        who=page.author or who_works(request) or contents.draft.author or "",
        saved=request.query_params.get("saved", "") if not page.was_sent else "",
        is_removed=place.key is not None and place.text is None,
        edit=edit_,
        told=told,
        most=_MOST_TOLD,
        **({"effect": None, "is_alone": True, "is_whole": True, "effect_fault": None, "counted": []} | effect),
        **shown_of(place, page),
    )


async def _effect(foresight: Foresight, place: Place) -> dict[str, Any]:
    """What the edit of an object does, as far as it is worked out."""
    contents, key = place.contents, place.key or ""
    if contents.edit_of(place.section, key) is None:
        return {}
    try:
        effect = await foresight.of_edit(contents, place.section, key)
    except ConflictError as error:
        return {"effect_fault": error.told}
    if effect is None:
        return {}
    told, is_alone, is_whole = effect
    return {"effect": told, "is_alone": is_alone, "is_whole": is_whole, "counted": counted(told["counts"])}
