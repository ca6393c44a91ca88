"""Short links: made for a bill, and followed to its assembly sheet."""

from typing import Annotated

from fastapi import APIRouter, Path
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.short_link import ShortLink
from service.storage.keeping import USUAL
from service.usecases.short_link import ShortLinks
from service.web import examples
from service.web.operations import OF_ID, created, redirected
from service.web.queries import NothingAsked
from service.web.representations import JSON, LASTING, NEVER
from service.web.resources import AppResources, AppShortLinks

PREFIX = "/b"

router = APIRouter(tags=["bills"])


@router.post(
    "/v1/bills/{key}/link",
    status_code=201,
    operation_id="linkBill",
    summary="A short link to a bill",
    description=f"The same bill has the same code, for {USUAL.short_links_days:,} days unless the service is set "
    "otherwise; it may be read aloud, as no two of its signs look alike.",
    response_model=ShortLink,
    responses=created(
        "The link, new.",
        "The link that the bill has already.",
        ShortLink,
        examples.short_link(),
        *OF_ID,
        revision=False,
    ),
)
async def link(
    resources: AppResources,
    links: AppShortLinks,
    key: Annotated[str, Path(description="the key of a bill", examples=[examples.recalled()["bill"]["key"]])],
    _: NothingAsked,
) -> Response:
    await resources.run(links.prove, key)
    return await resources.write(_linked, links, key)


def _linked(links: ShortLinks, key: str) -> Response:
    code, is_new = links.keep(key)
    told: ShortLink = {"code": code, "path": f"{PREFIX}/{code}"}
    headers = {"Location": told["path"], "Cache-Control": NEVER}
    return Response(to_json(told), 201 if is_new else 200, headers, JSON)


@router.get(
    f"{PREFIX}/{{code}}",
    status_code=302,
    operation_id="followShortLink",
    summary="To the assembly sheet of the bill behind a short link",
    description="Capitals do not matter, and o, i and l are read as 0 and 1.",
    response_class=Response,
    responses=redirected("The path of the sheet.", *OF_ID),
)
async def follow(
    resources: AppResources,
    links: AppShortLinks,
    code: Annotated[str, Path(description="the code of a short link", examples=[examples.short_link()["code"]])],
    _: NothingAsked,
) -> Response:
    key = await resources.look(links.key_of, code)
    headers = {"Location": f"/v1/bills/{key}/sheet", "Cache-Control": LASTING}
    return Response(status_code=302, headers=headers)
