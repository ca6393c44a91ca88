"""Endpoints for news: an account has messages sent to them, signed, when something happened."""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.webhook import NewWebhook, WebhookChange, WebhookList, WebhookTold
from service.usecases.webhooks import MOST_OF_ACCOUNT
from service.web import examples
from service.web.bodies import body_of
from service.web.cursors import Cursor
from service.web.operations import OF_BODY, OF_ID, answers, edited, json_body, made, patch_body, query
from service.web.paging import onward, start_of
from service.web.queries import ListAsked, ListQuery, NothingAsked, parameters_of
from service.web.representations import JSON, MERGE_PATCH, NEVER, OWN, represent
from service.web.resources import AppResources, AppWebhooks

PREFIX = "/v1/webhooks"

router = APIRouter(prefix=PREFIX, tags=["webhooks"])


WebhookId = Annotated[str, Path(alias="id", description="the id of a webhook", examples=[examples.webhook()["id"]])]


@router.post(
    "",
    status_code=201,
    operation_id="makeWebhook",
    summary="Have news sent to an address",
    description="Each message is a POST of JSON, signed as Standard Webhooks has it: `webhook-id`, `webhook-timestamp`"
    " and `webhook-signature` (v1, HMAC-SHA256). It is sent at least once, again with growing pauses for some days"
    " until the answer is 2xx. An id that came before is the same message. Of an account"
    f" {MOST_OF_ACCOUNT} are kept.",
    response_model=WebhookTold,
    responses=made(
        "The webhook, with its secret, which is told this once.", examples.made_webhook(), *OF_BODY, "no-room"
    ),
    openapi_extra=json_body("NewWebhook", examples.new_webhook()),
)
async def make(
    resources: AppResources,
    webhooks: AppWebhooks,
    _: NothingAsked,
    asked: Annotated[NewWebhook, Depends(body_of(NewWebhook))],
) -> Response:
    told = await resources.write(webhooks.make, asked)
    headers = {"Location": f"{PREFIX}/{told['id']}", "Cache-Control": NEVER}
    return Response(to_json(told), 201, headers, JSON)


@router.get(
    "",
    operation_id="listWebhooks",
    summary="The webhooks of the account",
    response_model=WebhookList,
    responses=answers(
        "The webhooks.", {"results": [examples.webhook()]}, "invalid-request", "no-catalog", revision=False
    ),
)
async def list_(resources: AppResources, webhooks: AppWebhooks, _: NothingAsked) -> Response:
    return represent({"results": await resources.look(webhooks.all)}, caching=OWN)


@router.get(
    "/{id}",
    operation_id="getWebhook",
    summary="A webhook, with what became of its messages, newest first, by page",
    response_model=WebhookTold,
    responses=answers("The webhook.", examples.webhook_with_messages(), *OF_ID, revision=False, paged=True),
    openapi_extra=query(parameters_of(ListQuery)),
)
async def get(
    request: Request, resources: AppResources, webhooks: AppWebhooks, id_: WebhookId, given: ListAsked
) -> Response:
    section = f"webhook/{id_}"
    before = start_of(given, section).offset or None
    told, more = await resources.look(webhooks.page, id_, given.limit, before)
    way = onward(request, given, section, None if more is None else Cursor(1, more))
    return represent(to_json({**told, **way.field}), caching=OWN, more=way.header)


@router.patch(
    "/{id}",
    operation_id="changeWebhook",
    summary="Change a webhook: its address, its events, whether it is active; JSON Merge Patch, RFC 7396",
    description="While `active` is false nothing is sent, and what happens meanwhile is not kept for it.",
    response_model=WebhookTold,
    responses=edited(
        "The webhook as it is now.",
        WebhookTold,
        examples.webhook(),
        *OF_BODY,
        "unknown-id",
        may_be_new=False,
        is_left=False,
    ),
    openapi_extra=patch_body("WebhookChange", examples.webhook_change()),
)
async def change(
    resources: AppResources,
    webhooks: AppWebhooks,
    id_: WebhookId,
    _: NothingAsked,
    asked: Annotated[WebhookChange, Depends(body_of(WebhookChange, MERGE_PATCH, JSON))],
) -> Response:
    told = await resources.write(webhooks.change, id_, asked)
    return represent(to_json(told), caching=NEVER)


@router.post(
    "/{id}/secret",
    operation_id="rotateWebhookSecret",
    summary="Replace the secret of a webhook",
    description="For a day what is sent has two signatures, split by a space as Standard Webhooks has it: by the new"
    " secret and by the one before. So a receiver that checks each of them misses nothing.",
    response_model=WebhookTold,
    responses=answers(
        "The webhook, with its new secret, which is told this once.",
        examples.rotated_webhook(),
        *OF_ID,
        revision=False,
        conditional=False,
    ),
)
async def rotate(resources: AppResources, webhooks: AppWebhooks, id_: WebhookId, _: NothingAsked) -> Response:
    return represent(to_json(await resources.write(webhooks.rotate, id_)), caching=NEVER)


@router.delete(
    "/{id}",
    operation_id="deleteWebhook",
    summary="Delete a webhook, with what waits for it",
    response_model=WebhookTold,
    responses=edited(
        "The webhook as it was.", WebhookTold, examples.webhook(), *OF_ID, may_be_new=False, is_left=False
    ),
)
async def delete(resources: AppResources, webhooks: AppWebhooks, id_: WebhookId, _: NothingAsked) -> Response:
    return represent(to_json(await resources.write(webhooks.delete, id_)), caching=NEVER)


@router.post(
    "/{id}/ping",
    operation_id="pingWebhook",
    summary="Have a message sent that only tries a webhook",
    response_model=WebhookTold,
    responses=answers(
        "The webhook; a `ping` waits for it.", examples.webhook(), *OF_ID, revision=False, conditional=False
    ),
)
async def ping(resources: AppResources, webhooks: AppWebhooks, id_: WebhookId, _: NothingAsked) -> Response:
    return represent(to_json(await resources.write(webhooks.ping, id_)), caching=NEVER)
