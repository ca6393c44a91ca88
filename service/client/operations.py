"""Every operation of the API: a function that makes its call.

Made from the OpenAPI document; tests/support/client_source.py says how.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Literal

from . import schemas as s
from .calls import Call, Listed, answer, answer_lines, as_lines, given, location, segment


def find_bills_in_brief(body: s.BillRequest, *, accept_language: str | None = None) -> Call[s.BriefAnswer]:
    """What does this car need?

    Every valid bill is counted; the best are given with their reasons. Nothing fits: 200, with none.
    """
    return Call(
        "POST",
        "/v1/bills",
        answer(s.BriefAnswer),
        body={**body, "detail": "brief"},
        headers=given({"Accept-Language": accept_language}),
    )


def find_bills(
    body: s.BillRequest, *, accept_language: str | None = None, detail: Literal["reasons", "full"] = "reasons"
) -> Call[s.FoundAnswer]:
    """What does this car need?

    Every valid bill is counted; the best are given with their reasons. Nothing fits: 200, with none.
    """
    return Call(
        "POST",
        "/v1/bills",
        answer(s.FoundAnswer),
        body={**body, "detail": detail},
        headers=given({"Accept-Language": accept_language}),
    )


def find_bills_by_query_in_brief(
    *,
    chassis: str,
    layout: str,
    revision: int | None = None,
    fuel: str | None = None,
    power_kw: float | None = None,
    pump_l_h: float | None = None,
    pump: str | Sequence[str] | None = None,
    pump_v: str | None = None,
    regulator: str | Sequence[str] | None = None,
    injectors: str | None = None,
    feed_hose_m: float | None = None,
    return_hose_m: float | None = None,
    boost_kpa: float | None = None,
    addons: str | Sequence[str] | None = None,
    clearances: str | Sequence[str] | None = None,
    gauge: str | None = None,
    finish: str | None = None,
    exclude: str | Sequence[str] | None = None,
    in_stock_only: bool | None = None,
    allow_unsold: bool | None = None,
    max_price: int | None = None,
    have: str | Sequence[str] | None = None,
    own_rail: str | Sequence[str] | None = None,
    limit: int | None = None,
    group_variants: bool | None = None,
    order_by: Literal["price", "pieces", "drop", "lead", "margin", "power"] | None = None,
    accept_language: str | None = None,
) -> Call[s.BriefAnswer]:
    """The same question as a query.

    As POST /v1/bills, with the question in the query, so that the answer can be cached.
    """
    return Call(
        "GET",
        "/v1/bills",
        answer(s.BriefAnswer),
        params=given(
            {
                "revision": revision,
                "fuel": fuel,
                "power_kw": power_kw,
                "pump_l_h": pump_l_h,
                "pump": pump,
                "pump_v": pump_v,
                "regulator": regulator,
                "injectors": injectors,
                "feed_hose_m": feed_hose_m,
                "return_hose_m": return_hose_m,
                "boost_kpa": boost_kpa,
                "addons": addons,
                "clearances": clearances,
                "gauge": gauge,
                "finish": finish,
                "exclude": exclude,
                "in_stock_only": in_stock_only,
                "allow_unsold": allow_unsold,
                "max_price": max_price,
                "have": have,
                "own_rail": own_rail,
                "limit": limit,
                "group_variants": group_variants,
                "order_by": order_by,
                "chassis": chassis,
                "layout": layout,
                "detail": "brief",
            }
        ),
        headers=given({"Accept-Language": accept_language}),
    )


def find_bills_by_query(
    *,
    chassis: str,
    layout: str,
    revision: int | None = None,
    fuel: str | None = None,
    power_kw: float | None = None,
    pump_l_h: float | None = None,
    pump: str | Sequence[str] | None = None,
    pump_v: str | None = None,
    regulator: str | Sequence[str] | None = None,
    injectors: str | None = None,
    feed_hose_m: float | None = None,
    return_hose_m: float | None = None,
    boost_kpa: float | None = None,
    addons: str | Sequence[str] | None = None,
    clearances: str | Sequence[str] | None = None,
    gauge: str | None = None,
    finish: str | None = None,
    exclude: str | Sequence[str] | None = None,
    in_stock_only: bool | None = None,
    allow_unsold: bool | None = None,
    max_price: int | None = None,
    have: str | Sequence[str] | None = None,
    own_rail: str | Sequence[str] | None = None,
    limit: int | None = None,
    group_variants: bool | None = None,
    order_by: Literal["price", "pieces", "drop", "lead", "margin", "power"] | None = None,
    accept_language: str | None = None,
    detail: Literal["reasons", "full"] = "reasons",
) -> Call[s.FoundAnswer]:
    """The same question as a query.

    As POST /v1/bills, with the question in the query, so that the answer can be cached.
    """
    return Call(
        "GET",
        "/v1/bills",
        answer(s.FoundAnswer),
        params=given(
            {
                "revision": revision,
                "fuel": fuel,
                "power_kw": power_kw,
                "pump_l_h": pump_l_h,
                "pump": pump,
                "pump_v": pump_v,
                "regulator": regulator,
                "injectors": injectors,
                "feed_hose_m": feed_hose_m,
                "return_hose_m": return_hose_m,
                "boost_kpa": boost_kpa,
                "addons": addons,
                "clearances": clearances,
                "gauge": gauge,
                "finish": finish,
                "exclude": exclude,
                "in_stock_only": in_stock_only,
                "allow_unsold": allow_unsold,
                "max_price": max_price,
                "have": have,
                "own_rail": own_rail,
                "limit": limit,
                "group_variants": group_variants,
                "order_by": order_by,
                "chassis": chassis,
                "layout": layout,
                "detail": detail,
            }
        ),
        headers=given({"Accept-Language": accept_language}),
    )


def recall_bill(key: str, *, accept_language: str | None = None) -> Call[s.RecalledBill]:
    """A bill again, by its key.

    In its own revision, from any worker, after a restart; `current` tells what the newest makes of it.
    """
    return Call(
        "GET", f"/v1/bills/{segment(key)}", answer(s.RecalledBill), headers=given({"Accept-Language": accept_language})
    )


def get_sheet(key: str, *, units: Literal["metric", "inch"] | None = None) -> Call[s.Sheet]:
    """How the parts of a bill go together.

    The assembly sheet of a bill: cautions, tools and consumables, a plan of the rail, then the steps in working
    order, each with its part, spot, method, torque or turns, what to look for, how to tell that it went wrong
    and what then; as a page for text/html, and for application/pdf where the extra `pdf` is installed. Page and
    PDF tell as well what the newest revision makes of the bill. What the makers of vehicle and parts say comes
    first, and local codes decide.
    """
    return Call("GET", f"/v1/bills/{segment(key)}/sheet", answer(s.Sheet), params=given({"units": units}))


def link_bill(key: str) -> Call[s.ShortLink]:
    """A short link to a bill.

    The same bill has the same code, for 3,650 days unless the service is set otherwise; it may be read aloud,
    as no two of its signs look alike.
    """
    return Call("POST", f"/v1/bills/{segment(key)}/link", answer(s.ShortLink, 200, 201), repeatable=False)


def follow_short_link(code: str) -> Call[str]:
    """To the assembly sheet of the bill behind a short link.

    Capitals do not matter, and o, i and l are read as 0 and 1.
    """
    return Call("GET", f"/b/{segment(code)}", location)


def explain_part(body: s.ExplainRequest, *, accept_language: str | None = None) -> Call[s.Explanation]:
    """Why is this part, or is it not, in the bills?

    For each spot (or the one that is asked about): whether the part stands there in any valid bill, with what
    is left of each limit. Where not: every rule that stops the chain of it that comes furthest, with what is
    missing, and the smallest change of one wish that would let it in, which was tried.
    """
    return Call(
        "POST", "/v1/explain", answer(s.Explanation), body=body, headers=given({"Accept-Language": accept_language})
    )


def read_question(body: s.QuestionText) -> Call[s.ReadQuestion]:
    """What does this customer ask for?

    Reads a sentence by the names and aliases of the catalog and the words of the trade. What is understood
    quotes the words that it came from; what is missing, said twice or could mean two things is asked back with
    its choices. A car that is not in the catalog is told apart, with what can be said of it now, for POST
    /v1/inquiries/cars. `request` is taken by POST /v1/bills once chassis and layout are understood. Nothing is
    kept.
    """
    return Call("POST", "/v1/questions/read", answer(s.ReadQuestion), body=body)


def read_order(body: s.OrderText) -> Call[s.ReadOrder]:
    """Which parts does this order mean, and how many of each?

    Reads the rows of an e-mail or a sheet by the SKUs, names and aliases of the catalog. A line is sure only
    where one part and one quantity can be meant; whatever else it might be is asked back with its candidates.
    Rows that are no parts are given back unread. Nothing is kept.
    """
    return Call("POST", "/v1/orders/read", answer(s.ReadOrder), body=body)


def check_order(
    body: s.OrderRequest, *, idempotency_key: str | None = None, accept_language: str | None = None
) -> Call[s.OrderCheck]:
    """Does this order make a whole assembly?

    Judges an order by the valid bill that is nearest to it, says what to add, remove and swap, what is in
    stock, and keeps all that. No bill is valid: 201 as well, with that verdict. With the `key` of a bill in
    place of car and wishes, the order is compared with that very bill. Where layouts tie, the reasons ask which
    is meant.
    """
    return Call(
        "POST",
        "/v1/order-checks",
        answer(s.OrderCheck, 200, 201),
        body=body,
        headers=given({"Idempotency-Key": idempotency_key, "Accept-Language": accept_language}),
        repeatable=idempotency_key is not None,
    )


def check_orders(lines: Iterable[s.OrderRequest]) -> Call[list[s.BatchLine]]:
    """Many orders at once, one a line.

    Up to 500 orders, each a JSON object on a line of its own; blank lines do not count. Each is judged and kept
    as if it had come alone, and answered by one line, in order, as soon as it is judged. A line that is refused
    has its own problem and spoils no other. No order is known again: a batch that is sent twice is checked and
    kept twice.
    """
    return Call(
        "POST",
        "/v1/order-checks/batch",
        answer_lines(s.BatchLine),
        content=as_lines(lines),
        media_type="application/x-ndjson",
        repeatable=False,
    )


def recall_order_check(order_check_id: str) -> Call[s.RecalledOrderCheck]:
    """A kept check again, and how the newest catalog judges the order.

    Word for word as it was answered, from any worker, after a restart; `current` is added. It is kept for 90
    days unless the service is set otherwise.
    """
    return Call("GET", f"/v1/order-checks/{segment(order_check_id)}", answer(s.RecalledOrderCheck))


def send_inquiry(body: s.SentInquiry, *, idempotency_key: str | None = None) -> Call[s.Inquiry]:
    """Send a question to the workshop.

    For a question without a valid bill, or without the right one. The question is answered again here, and kept
    with what conflicts and what was missing, a contact line and a note. Contact and note are for the workshop
    alone: the API never gives them out.
    """
    return Call(
        "POST",
        "/v1/inquiries",
        answer(s.Inquiry, 200, 201),
        body=body,
        headers=given({"Idempotency-Key": idempotency_key}),
        repeatable=idempotency_key is not None,
    )


def answer_inquiry(inquiry_id: str, body: s.InquiryChange, *, if_match: str) -> Call[s.Inquiry]:
    """Answer an inquiry, or close it: JSON Merge Patch, RFC 7396.

    A reply makes it answered, unless another status is told. Whoever has the id reads the reply with the
    inquiry. `If-Match` is the ETag that it was read with; 412 where somebody answered meanwhile.
    """
    return Call(
        "PATCH",
        f"/v1/inquiries/{segment(inquiry_id)}",
        answer(s.Inquiry),
        body=body,
        media_type="application/merge-patch+json",
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def recall_inquiry(inquiry_id: str) -> Call[s.Inquiry]:
    """A kept inquiry again.

    As it was judged, with what the workshop answered, until the workshop deletes it, for 365 days at most
    unless the service is set otherwise; without contact and note.
    """
    return Call("GET", f"/v1/inquiries/{segment(inquiry_id)}", answer(s.Inquiry))


def send_unknown_car(body: s.SentUnknownCar, *, idempotency_key: str | None = None) -> Call[s.UnknownCarAnswer]:
    """Ask about a car that is not in the catalog.

    All that is known of the car goes to the workshop as one inquiry, and is answered with what can be said now:
    the rails of engines with as many cylinders and banks, what it takes to keep the rail that is there, and
    what has to be measured. Contact and note are for the workshop alone: the API never gives them out.
    """
    return Call(
        "POST",
        "/v1/inquiries/cars",
        answer(s.UnknownCarAnswer, 200, 201),
        body=body,
        headers=given({"Idempotency-Key": idempotency_key}),
        repeatable=idempotency_key is not None,
    )


def list_chassis_layouts(
    chassis_id: str,
    *,
    revision: int | None = None,
    fuel: str | None = None,
    power_kw: float | None = None,
    pump_l_h: float | None = None,
    pump: str | Sequence[str] | None = None,
    pump_v: str | None = None,
    regulator: str | Sequence[str] | None = None,
    injectors: str | None = None,
    feed_hose_m: float | None = None,
    return_hose_m: float | None = None,
    boost_kpa: float | None = None,
    addons: str | Sequence[str] | None = None,
    clearances: str | Sequence[str] | None = None,
    gauge: str | None = None,
    finish: str | None = None,
    exclude: str | Sequence[str] | None = None,
    in_stock_only: bool | None = None,
    allow_unsold: bool | None = None,
    max_price: int | None = None,
    have: str | Sequence[str] | None = None,
    own_rail: str | Sequence[str] | None = None,
    limit: int | None = None,
    group_variants: bool | None = None,
    order_by: Literal["price", "pieces", "drop", "lead", "margin", "power"] | None = None,
    accept_language: str | None = None,
) -> Call[s.ChassisLayouts]:
    """What each layout carries and costs for a car, or what rules it out.

    Each layout is asked for with the wishes and facts of the query, which are those of GET /v1/bills. `power`
    is what its best bill carries, in the order asked for. `limit` makes no difference here.
    """
    return Call(
        "GET",
        f"/v1/chassis/{segment(chassis_id)}/layouts",
        answer(s.ChassisLayouts),
        params=given(
            {
                "revision": revision,
                "fuel": fuel,
                "power_kw": power_kw,
                "pump_l_h": pump_l_h,
                "pump": pump,
                "pump_v": pump_v,
                "regulator": regulator,
                "injectors": injectors,
                "feed_hose_m": feed_hose_m,
                "return_hose_m": return_hose_m,
                "boost_kpa": boost_kpa,
                "addons": addons,
                "clearances": clearances,
                "gauge": gauge,
                "finish": finish,
                "exclude": exclude,
                "in_stock_only": in_stock_only,
                "allow_unsold": allow_unsold,
                "max_price": max_price,
                "have": have,
                "own_rail": own_rail,
                "limit": limit,
                "group_variants": group_variants,
                "order_by": order_by,
            }
        ),
        headers=given({"Accept-Language": accept_language}),
    )


def join_ports(body: s.JointQuestion, *, accept_language: str | None = None) -> Call[s.JointAnswer]:
    """Can these two meet?

    Each side is a part of the catalog, with one of its ports or with all of them, or a bare port. Yes: by which
    ports and how the joint is made up. No: what stands between them, and the shortest chain of fittings (lines
    only where fittings do not reach) that joins them. Only ports are compared.
    """
    return Call(
        "POST", "/v1/joints", answer(s.JointAnswer), body=body, headers=given({"Accept-Language": accept_language})
    )


def list_revisions(*, limit: int | None = None, cursor: str | None = None) -> Listed[s.RevisionPage, s.RevisionTold]:
    """The published revisions of the catalog, the newest first."""
    return Listed(
        "GET",
        "/v1/revisions",
        answer(s.RevisionPage),
        params=given({"limit": limit, "cursor": cursor}),
        elements="results",
    )


def list_changes(*, since: int) -> Listed[s.ChangesSince, s.RevisionChanges]:
    """What changed since a revision, by revision.

    Items, cars, layouts, add-ons and fuels that were added, retired, removed or changed, with the fields that
    differ; of a few revisions at once, `next` goes on.
    """
    return Listed("GET", "/v1/changes", answer(s.ChangesSince), params=given({"since": since}), elements="revisions")


def get_impact(
    from_: str, to: str, *, limit: int | None = None, cursor: str | None = None
) -> Listed[s.ImpactAnswer, s.ImpactQuestion]:
    """What one revision does to the standing questions of another.

    Every standing question is asked of both, in the background. Its outcome is told, and for promises that are
    broken and bills that are lost or gained the changes without which that would not be so.
    """
    return Listed(
        "GET",
        f"/v1/revisions/{segment(from_)}/impact/{segment(to)}",
        answer(s.ImpactAnswer),
        params=given({"limit": limit, "cursor": cursor}),
        pending=True,
        elements="questions",
    )


def list_next_parts(*, revision: int | None = None) -> Call[list[s.NextPart]]:
    """Which part should the maker make next?

    Every plug and fitting over the port standards that, once it is in the catalog, gives standing questions
    without a bill one: what unlocks most first. It is worked out in the background for a revision.
    """
    return Call("GET", "/v1/next-parts", answer(list[s.NextPart]), params=given({"revision": revision}), pending=True)


def begin_sweep(body: s.BegunSweep) -> Call[s.Sweep]:
    """Try a catalog on all standing questions, in the background.

    The impact of one revision, or of a draft, on another by processes on all cores. What was found is kept: a
    sweep that is interrupted goes on when somebody looks at it. One between the same catalogs that is not at
    its end is given again.
    """
    return Call("POST", "/v1/sweeps", answer(s.Sweep, 202), body=body, repeatable=False)


def get_sweep(sweep_id: str) -> Call[s.Sweep]:
    """How far a sweep is."""
    return Call("GET", f"/v1/sweeps/{segment(sweep_id)}", answer(s.Sweep))


def cancel_sweep(sweep_id: str) -> Call[s.Sweep]:
    """Cancel a sweep; one that is at its end is deleted."""
    return Call("DELETE", f"/v1/sweeps/{segment(sweep_id)}", answer(s.Sweep), repeatable=False)


def get_sweep_impact(
    sweep_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Listed[s.ImpactAnswer, s.ImpactQuestion]:
    """What a sweep that is done has found, by page."""
    return Listed(
        "GET",
        f"/v1/sweeps/{segment(sweep_id)}/impact",
        answer(s.ImpactAnswer),
        params=given({"limit": limit, "cursor": cursor}),
        elements="questions",
    )


def list_webhooks() -> Call[s.WebhookList]:
    """The webhooks of the account."""
    return Call("GET", "/v1/webhooks", answer(s.WebhookList))


def make_webhook(body: s.NewWebhook) -> Call[s.WebhookTold]:
    """Have news sent to an address.

    Each message is a POST of JSON, signed as Standard Webhooks has it: `webhook-id`, `webhook-timestamp` and
    `webhook-signature` (v1, HMAC-SHA256). It is sent at least once, again with growing pauses for some days
    until the answer is 2xx. An id that came before is the same message. Of an account 20 are kept.
    """
    return Call("POST", "/v1/webhooks", answer(s.WebhookTold, 201), body=body, repeatable=False)


def get_webhook(
    webhook_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Listed[s.WebhookTold, s.MessageTold]:
    """A webhook, with what became of its messages, newest first, by page."""
    return Listed(
        "GET",
        f"/v1/webhooks/{segment(webhook_id)}",
        answer(s.WebhookTold),
        params=given({"limit": limit, "cursor": cursor}),
        elements="messages",
    )


def change_webhook(webhook_id: str, body: s.WebhookChange) -> Call[s.WebhookTold]:
    """Change a webhook: its address, its events, whether it is active; JSON Merge Patch, RFC 7396.

    While `active` is false nothing is sent, and what happens meanwhile is not kept for it.
    """
    return Call(
        "PATCH",
        f"/v1/webhooks/{segment(webhook_id)}",
        answer(s.WebhookTold),
        body=body,
        media_type="application/merge-patch+json",
        repeatable=False,
    )


def delete_webhook(webhook_id: str) -> Call[s.WebhookTold]:
    """Delete a webhook, with what waits for it."""
    return Call("DELETE", f"/v1/webhooks/{segment(webhook_id)}", answer(s.WebhookTold), repeatable=False)


def rotate_webhook_secret(webhook_id: str) -> Call[s.WebhookTold]:
    """Replace the secret of a webhook.

    For a day what is sent has two signatures, split by a space as Standard Webhooks has it: by the new secret
    and by the one before. So a receiver that checks each of them misses nothing.
    """
    return Call("POST", f"/v1/webhooks/{segment(webhook_id)}/secret", answer(s.WebhookTold), repeatable=False)


def ping_webhook(webhook_id: str) -> Call[s.WebhookTold]:
    """Have a message sent that only tries a webhook."""
    return Call("POST", f"/v1/webhooks/{segment(webhook_id)}/ping", answer(s.WebhookTold), repeatable=False)


def begin_draft(body: s.BegunDraft) -> Call[s.Draft]:
    """Begin a draft: a named working copy of a revision."""
    return Call("POST", "/v1/drafts", answer(s.Draft, 201), body=body, repeatable=False)


def list_drafts(*, limit: int | None = None, cursor: str | None = None) -> Listed[s.DraftPage, s.DraftHead]:
    """The drafts, the newest first."""
    return Listed(
        "GET", "/v1/drafts", answer(s.DraftPage), params=given({"limit": limit, "cursor": cursor}), elements="results"
    )


def get_draft(draft_id: str) -> Call[s.Draft]:
    """A draft: how much it changes, and what does not hold in it."""
    return Call("GET", f"/v1/drafts/{segment(draft_id)}", answer(s.Draft))


def delete_draft(draft_id: str, *, author: str | None = None) -> Call[s.DraftTrail]:
    """Delete a draft with its edits; what was done to it stays in its trail."""
    return Call(
        "DELETE",
        f"/v1/drafts/{segment(draft_id)}",
        answer(s.DraftTrail),
        params=given({"author": author}),
        repeatable=False,
    )


def list_draft_changes(
    draft_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Listed[s.DraftChanges, s.DraftChange]:
    """What a draft has otherwise than its base, by page."""
    return Listed(
        "GET",
        f"/v1/drafts/{segment(draft_id)}/changes",
        answer(s.DraftChanges),
        params=given({"limit": limit, "cursor": cursor}),
        elements="results",
    )


def list_draft_trail(
    draft_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Listed[s.DraftTrail, s.TrailEntry]:
    """Who did what to a draft, when and why, oldest first; also of a deleted one."""
    return Listed(
        "GET",
        f"/v1/drafts/{segment(draft_id)}/trail",
        answer(s.DraftTrail),
        params=given({"limit": limit, "cursor": cursor}),
        elements="results",
    )


def rebase_draft(draft_id: str, body: s.DraftMove) -> Call[s.Draft]:
    """Move a draft to the newest revision, object by object.

    What the draft changes stays, what others published comes in. Where both changed one object, and not alike,
    nothing is moved unless `keep` says whose state stays.
    """
    return Call("POST", f"/v1/drafts/{segment(draft_id)}/rebase", answer(s.Draft), body=body, repeatable=False)


def get_draft_impact(
    draft_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Listed[s.ImpactAnswer, s.ImpactQuestion]:
    """What a draft does to the standing questions of its base.

    As the impact of one revision on another, in the background; `to` is the draft's id.
    """
    return Listed(
        "GET",
        f"/v1/drafts/{segment(draft_id)}/impact",
        answer(s.ImpactAnswer),
        params=given({"limit": limit, "cursor": cursor}),
        pending=True,
        elements="questions",
    )


def publish_draft(draft_id: str, body: s.Publication) -> Call[s.Published]:
    """Publish a draft as the next revision: whole, or not at all.

    Without `accept` the impact is worked out first: 202 with `Retry-After` until it is there, and nothing is
    published yet; send it again then. Where promises are broken or bills lost, 409.
    """
    return Call(
        "POST",
        f"/v1/drafts/{segment(draft_id)}/publish",
        answer(s.Published, 201),
        body=body,
        repeatable=False,
        pending=True,
    )


def restore_revision(number: str, body: s.Publication) -> Call[s.Published]:
    """Publish an old revision anew, as the next one.

    Without `accept` the impact is worked out first: 202 with `Retry-After` until it is there, and nothing is
    published yet; send it again then. Where promises are broken or bills lost, 409.
    """
    return Call(
        "POST",
        f"/v1/revisions/{segment(number)}/restore",
        answer(s.Published, 201),
        body=body,
        repeatable=False,
        pending=True,
    )


def bring_draft_tables(
    draft_id: str,
    content: bytes,
    media_type: Literal[
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "application/zip", "text/csv"
    ],
    *,
    author: str | None = None,
    reason: str | None = None,
    table: str | None = None,
    dry_run: bool | None = None,
    replace: bool | None = None,
) -> Call[s.TablesTaken]:
    """Bring tables into a draft: what they have otherwise than its base becomes its edits.

    The body is a workbook (XLSX), a zip of CSV files named after the tables, or one CSV file, in the form in
    which `portwright catalog export` writes them: at most 4 MB, 64 MB when it is unpacked, 200,000 rows;
    `portwright draft edit` takes more. A table that is absent changes nothing; an object without a row in the
    table of its section is removed, and so is an entry of a list without one in the table of that list. The
    order of rows tells nothing where they have a number. All is taken or nothing. What the draft has otherwise
    than its base already stays unless the tables change the same object: then 409, or `replace`. Each fault has
    the pointer `/SHEET/ROW/COLUMN`.
    """
    return Call(
        "POST",
        f"/v1/drafts/{segment(draft_id)}/tables",
        answer(s.TablesTaken),
        params=given({"author": author, "reason": reason, "table": table, "dry_run": dry_run, "replace": replace}),
        content=content,
        media_type=media_type,
        repeatable=False,
    )


def get_draft_object(draft_id: str, section: str, key: str) -> Call[s.DraftObject]:
    """An object of the catalog as it stands in a draft."""
    return Call("GET", f"/v1/drafts/{segment(draft_id)}/{segment(section)}/{segment(key)}", answer(s.DraftObject))


def put_draft_object(
    draft_id: str,
    section: str,
    key: str,
    body: s.Item
    | s.Chassis
    | s.Layout
    | s.Addon
    | s.Fuel
    | s.Material
    | s.PortStandard
    | s.CatalogCase
    | s.TorqueJoint
    | s.PastHandTightJoint
    | s.FlangeToFaceJoint
    | s.TurnsEngagedJoint
    | s.PushToClickJoint,
    *,
    author: str | None = None,
    reason: str | None = None,
    if_match: str | None = None,
    if_none_match: Literal["*"] | None = None,
) -> Call[s.EditedObject]:
    """Put an object in the place of what stands in a draft, or a new one.

    What the catalog as a whole would not hold together with is kept and told: `faults`.
    """
    return Call(
        "PUT",
        f"/v1/drafts/{segment(draft_id)}/{segment(section)}/{segment(key)}",
        answer(s.EditedObject, 200, 201),
        params=given({"author": author, "reason": reason}),
        body=body,
        headers=given({"If-Match": if_match, "If-None-Match": if_none_match}),
        repeatable=False,
    )


def patch_draft_object(
    draft_id: str,
    section: str,
    key: str,
    body: Mapping[str, Any],
    *,
    if_match: str,
    author: str | None = None,
    reason: str | None = None,
) -> Call[s.EditedObject]:
    """Change fields of an object in a draft: JSON Merge Patch, RFC 7396."""
    return Call(
        "PATCH",
        f"/v1/drafts/{segment(draft_id)}/{segment(section)}/{segment(key)}",
        answer(s.EditedObject),
        params=given({"author": author, "reason": reason}),
        body=body,
        media_type="application/merge-patch+json",
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def remove_draft_object(
    draft_id: str, section: str, key: str, *, if_match: str, author: str | None = None, reason: str | None = None
) -> Call[s.EditedObject]:
    """Remove an object from the catalog of a draft."""
    return Call(
        "DELETE",
        f"/v1/drafts/{segment(draft_id)}/{segment(section)}/{segment(key)}",
        answer(s.EditedObject),
        params=given({"author": author, "reason": reason}),
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def get_draft_maker(draft_id: str) -> Call[s.DraftMaker]:
    """The maker of the catalog as a draft has it."""
    return Call("GET", f"/v1/drafts/{segment(draft_id)}/maker", answer(s.DraftMaker))


def put_draft_maker(
    draft_id: str, body: s.Maker, *, if_match: str, author: str | None = None, reason: str | None = None
) -> Call[s.EditedMaker]:
    """Put another maker in the place of what a draft has."""
    return Call(
        "PUT",
        f"/v1/drafts/{segment(draft_id)}/maker",
        answer(s.EditedMaker),
        params=given({"author": author, "reason": reason}),
        body=body,
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def patch_draft_maker(
    draft_id: str, body: Mapping[str, Any], *, if_match: str, author: str | None = None, reason: str | None = None
) -> Call[s.EditedMaker]:
    """Change fields of the maker in a draft: JSON Merge Patch, RFC 7396."""
    return Call(
        "PATCH",
        f"/v1/drafts/{segment(draft_id)}/maker",
        answer(s.EditedMaker),
        params=given({"author": author, "reason": reason}),
        body=body,
        media_type="application/merge-patch+json",
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def get_draft_policies(draft_id: str) -> Call[s.DraftPolicies]:
    """The policies of the catalog as a draft has it."""
    return Call("GET", f"/v1/drafts/{segment(draft_id)}/policies", answer(s.DraftPolicies))


def put_draft_policies(
    draft_id: str, body: s.Policies, *, if_match: str, author: str | None = None, reason: str | None = None
) -> Call[s.EditedPolicies]:
    """Put another policies in the place of what a draft has."""
    return Call(
        "PUT",
        f"/v1/drafts/{segment(draft_id)}/policies",
        answer(s.EditedPolicies),
        params=given({"author": author, "reason": reason}),
        body=body,
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def patch_draft_policies(
    draft_id: str, body: Mapping[str, Any], *, if_match: str, author: str | None = None, reason: str | None = None
) -> Call[s.EditedPolicies]:
    """Change fields of the policies in a draft: JSON Merge Patch, RFC 7396."""
    return Call(
        "PATCH",
        f"/v1/drafts/{segment(draft_id)}/policies",
        answer(s.EditedPolicies),
        params=given({"author": author, "reason": reason}),
        body=body,
        media_type="application/merge-patch+json",
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def get_draft_fuel_order(draft_id: str) -> Call[s.DraftFuelOrder]:
    """The order of fuels of the catalog as a draft has it."""
    return Call("GET", f"/v1/drafts/{segment(draft_id)}/fuel_order", answer(s.DraftFuelOrder))


def put_draft_fuel_order(
    draft_id: str, body: s.FuelOrder, *, if_match: str, author: str | None = None, reason: str | None = None
) -> Call[s.EditedFuelOrder]:
    """Put another order of fuels in the place of what a draft has."""
    return Call(
        "PUT",
        f"/v1/drafts/{segment(draft_id)}/fuel_order",
        answer(s.EditedFuelOrder),
        params=given({"author": author, "reason": reason}),
        body=body,
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def patch_draft_fuel_order(
    draft_id: str, body: Mapping[str, Any], *, if_match: str, author: str | None = None, reason: str | None = None
) -> Call[s.EditedFuelOrder]:
    """Change fields of the order of fuels in a draft: JSON Merge Patch, RFC 7396."""
    return Call(
        "PATCH",
        f"/v1/drafts/{segment(draft_id)}/fuel_order",
        answer(s.EditedFuelOrder),
        params=given({"author": author, "reason": reason}),
        body=body,
        media_type="application/merge-patch+json",
        headers=given({"If-Match": if_match}),
        repeatable=False,
    )


def get_drawing(key: str) -> Call[s.BillDrawing]:
    """A bill's rails to draw, and the pressure along its paths.

    All that a drawing of the bill shows. Each path has its stations as fuel meets them, what each loses (their
    sum is the path's `drop_kpa` in the bill) and the gauge pressure behind each. What the regulator holds is
    held in the rail where it stands there; behind the return, the rail has what the return loses besides; at
    the tank, what the feed leaves. What is not rated is null.
    """
    return Call("GET", f"/v1/bills/{segment(key)}/drawing", answer(s.BillDrawing))


def get_drop_curves(
    chassis_id: str, *, revision: int | None = None, fuel: str | None = None, power_kw: float | None = None
) -> Call[s.DropCurves]:
    """Drop against power, the layouts of a car side by side.

    For each layout that has a bill at the car's stock power its cheapest bill, at rising demand: of its paths
    the one that is nearest to its limit of drop. Each curve ends at what its bill carries: `power`.
    """
    return Call(
        "GET",
        f"/v1/chassis/{segment(chassis_id)}/drop-curves",
        answer(s.DropCurves),
        params=given({"revision": revision, "fuel": fuel, "power_kw": power_kw}),
    )


def list_item_uses(
    sku: str, *, revision: int | None = None, limit: int | None = None, cursor: str | None = None
) -> Listed[s.ItemUses, s.Use]:
    """What could this part be used for?

    Every car and layout with a valid bill that has the part, and the spots where it stands there: at the car's
    stock power, on the catalog's first fuel, with a gauge and without. Bills are searched, not only ports
    compared. A page may end early where it took the work of one question; `next` goes on.
    """
    return Listed(
        "GET",
        f"/v1/items/{segment(sku)}/uses",
        answer(s.ItemUses),
        params=given({"revision": revision, "limit": limit, "cursor": cursor}),
        elements="results",
    )


def list_items(
    *,
    revision: int | None = None,
    limit: int | None = None,
    cursor: str | None = None,
    q: str | None = None,
    sku: str | Sequence[str] | None = None,
    status: Literal["active", "retired"] | None = None,
    sold: bool | None = None,
    kind: Literal[
        "rail",
        "fitting",
        "plug",
        "gauge",
        "line",
        "regulator",
        "seal",
        "fastener",
        "spacer",
        "clip",
        "bracket",
        "consumable",
    ]
    | None = None,
    mates: str | None = None,
    fits: str | None = None,
) -> Listed[s.ItemPage, s.Item]:
    """The items of a revision, by page."""
    return Listed(
        "GET",
        "/v1/items",
        answer(s.ItemPage),
        params=given(
            {
                "revision": revision,
                "limit": limit,
                "cursor": cursor,
                "q": q,
                "sku": sku,
                "status": status,
                "sold": sold,
                "kind": kind,
                "mates": mates,
                "fits": fits,
            }
        ),
        elements="results",
    )


def get_items(sku: str, *, revision: int | None = None) -> Call[s.ItemDetail]:
    """One item by its sku."""
    return Call("GET", f"/v1/items/{segment(sku)}", answer(s.ItemDetail), params=given({"revision": revision}))


def list_chassis(
    *, revision: int | None = None, limit: int | None = None, cursor: str | None = None, q: str | None = None
) -> Listed[s.ChassisPage, s.Chassis]:
    """The chassis of a revision, by page."""
    return Listed(
        "GET",
        "/v1/chassis",
        answer(s.ChassisPage),
        params=given({"revision": revision, "limit": limit, "cursor": cursor, "q": q}),
        elements="results",
    )


def get_chassis(chassis_id: str, *, revision: int | None = None) -> Call[s.ChassisDetail]:
    """One chassis by its id."""
    return Call(
        "GET", f"/v1/chassis/{segment(chassis_id)}", answer(s.ChassisDetail), params=given({"revision": revision})
    )


def list_layouts(
    *, revision: int | None = None, limit: int | None = None, cursor: str | None = None
) -> Listed[s.LayoutPage, s.Layout]:
    """The layouts of a revision, by page."""
    return Listed(
        "GET",
        "/v1/layouts",
        answer(s.LayoutPage),
        params=given({"revision": revision, "limit": limit, "cursor": cursor}),
        elements="results",
    )


def get_layouts(layout_id: str, *, revision: int | None = None) -> Call[s.LayoutDetail]:
    """One layout by its id."""
    return Call(
        "GET", f"/v1/layouts/{segment(layout_id)}", answer(s.LayoutDetail), params=given({"revision": revision})
    )


def list_addons(
    *, revision: int | None = None, limit: int | None = None, cursor: str | None = None
) -> Listed[s.AddonPage, s.Addon]:
    """The addons of a revision, by page."""
    return Listed(
        "GET",
        "/v1/addons",
        answer(s.AddonPage),
        params=given({"revision": revision, "limit": limit, "cursor": cursor}),
        elements="results",
    )


def get_addons(addon_id: str, *, revision: int | None = None) -> Call[s.AddonDetail]:
    """One add-on by its id."""
    return Call("GET", f"/v1/addons/{segment(addon_id)}", answer(s.AddonDetail), params=given({"revision": revision}))


def list_fuels(
    *, revision: int | None = None, limit: int | None = None, cursor: str | None = None
) -> Listed[s.FuelPage, s.Fuel]:
    """The fuels of a revision, by page."""
    return Listed(
        "GET",
        "/v1/fuels",
        answer(s.FuelPage),
        params=given({"revision": revision, "limit": limit, "cursor": cursor}),
        elements="results",
    )


def get_fuels(fuel_id: str, *, revision: int | None = None) -> Call[s.FuelDetail]:
    """One fuel by its id."""
    return Call("GET", f"/v1/fuels/{segment(fuel_id)}", answer(s.FuelDetail), params=given({"revision": revision}))


def list_materials(
    *, revision: int | None = None, limit: int | None = None, cursor: str | None = None
) -> Listed[s.MaterialPage, s.Material]:
    """The materials of a revision, by page."""
    return Listed(
        "GET",
        "/v1/materials",
        answer(s.MaterialPage),
        params=given({"revision": revision, "limit": limit, "cursor": cursor}),
        elements="results",
    )


def get_materials(material_id: str, *, revision: int | None = None) -> Call[s.MaterialDetail]:
    """One material by its id."""
    return Call(
        "GET", f"/v1/materials/{segment(material_id)}", answer(s.MaterialDetail), params=given({"revision": revision})
    )


def list_port_standards(
    *, revision: int | None = None, limit: int | None = None, cursor: str | None = None
) -> Listed[s.PortStandardPage, s.PortStandard]:
    """The port standards of a revision, by page."""
    return Listed(
        "GET",
        "/v1/port-standards",
        answer(s.PortStandardPage),
        params=given({"revision": revision, "limit": limit, "cursor": cursor}),
        elements="results",
    )


def get_port_standards(port_standard_id: str, *, revision: int | None = None) -> Call[s.PortStandardDetail]:
    """One port standard by its id."""
    return Call(
        "GET",
        f"/v1/port-standards/{segment(port_standard_id)}",
        answer(s.PortStandardDetail),
        params=given({"revision": revision}),
    )


def list_contract_cases(*, revision: int | None = None) -> Call[s.CaseFile]:
    """What a partner can count on, as questions with promises.

    The standing cases of a revision, then those of the partners, in the format of a partner's own file. A
    promise that tells a `key` is of the revision that its request names; all others hold of the newest until a
    catalog says otherwise. Of partners' cases those of the caller's account are listed; all of them to who
    edits.
    """
    return Call("GET", "/v1/contract/cases", answer(s.CaseFile), params=given({"revision": revision}))


def keep_contract_case(body: s.PartnerCase) -> Call[s.KeptCase]:
    """Have the service keep a partner's case.

    The case is checked against the newest revision, or the one that its request names, and asked; an impact
    then names it with its account where a catalog would break it. Of an account 100 cases are kept, in all
    1,000, each of at most 16,000 bytes as JSON.
    """
    return Call("POST", "/v1/contract/cases", answer(s.KeptCase, 200, 201), body=body, repeatable=False)


def get_contract_case(account: str, case_id: str) -> Call[s.StandingCase]:
    """A partner's case."""
    return Call("GET", f"/v1/contract/cases/{segment(account)}/{segment(case_id)}", answer(s.StandingCase))


def delete_contract_case(account: str, case_id: str) -> Call[s.StandingCase]:
    """Delete a partner's case."""
    return Call(
        "DELETE", f"/v1/contract/cases/{segment(account)}/{segment(case_id)}", answer(s.StandingCase), repeatable=False
    )


def get_catalog_schema() -> Call[dict[str, Any]]:
    """The JSON Schema of the catalog document."""
    return Call("GET", "/v1/schema/catalog", answer(dict[str, Any]))


def get_problem(code: str) -> Call[s.ProblemPage]:
    """What a type of problem means and what to do."""
    return Call("GET", f"/v1/problems/{segment(code)}", answer(s.ProblemPage))


def get_liveness() -> Call[s.Live]:
    """Does the process answer?"""
    return Call("GET", "/v1/health/live", answer(s.Live))


def get_readiness() -> Call[s.Ready]:
    """Can it answer questions?

    What a question would find: 503 while the database does not answer in time, is not the one of the start any
    more, or holds no catalog; and from when the service is told to stop.
    """
    return Call("GET", "/v1/health/ready", answer(s.Ready))


def get_health() -> Call[s.Ready]:
    """Live and ready?"""
    return Call("GET", "/v1/health", answer(s.Ready))
