"""Send a question to the workshop, or a car that is not in the catalog."""

import hashlib
import json
import re
import secrets
from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, Request
from pydantic import ValidationError
from starlette.responses import Response

from service.documents.faults import faults_of
from service.documents.inquiry import Inquiry, SentInquiry
from service.documents.request import BillRequest
from service.documents.unknown_car import SentUnknownCar, UnknownCar
from service.domain.units import KPA_PER_PSI, KW_PER_HP
from service.storage.inquiries import StoredInquiry
from service.usecases.errors import RequestFaultsError
from service.usecases.keep_inquiry import Inquiries
from service.usecases.kept_once import Kept
from service.usecases.library import Library
from service.usecases.unknown_car import judged, rails_like, said_of
from service.web.counter.forms import own_form
from service.web.counter.numbers import both_in, number_in
from service.web.counter.question_form import link_of
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.visits import visit_of
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.pages.faults import told
from service.web.pages.pictures import Pictures
from service.web.queries import read_query
from service.web.question_query import QuestionQuery, of_query
from service.web.resources import AppInquiries, AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_QUESTION = "question."
_TOKEN_BYTES = 18
_LEAST_DIGITS = 5
_ADDRESS = re.compile(r"[^\s@]+@[^\s@]+\.[^\s@.]{2,}")
_TEXTS = ("car", "engine", "fuel", "ends", "room", "rail")
_WHOLE = ("cylinders", "banks")
_CUSTOMARY = {"power_kw": KW_PER_HP, "pressure_kpa": KPA_PER_PSI}
"""The fields that are one number, each with how much of its own unit the customary one is."""


@router.post("/inquiries")
async def send(request: Request, resources: AppResources, inquiries: AppInquiries) -> Response:
    form = await own_form(request)
    asked = [(name.removeprefix(_QUESTION), value) for name, value in form.items() if name.startswith(_QUESTION)]
    question = read_query(QuestionQuery, asked).question()
    contact = form.get("contact", "")
    if not _may_be_contact(contact):
        fault = ParameterFault("contact", repr(contact[:40]), _RIGHT_CONTACT)
        return _again(request, "send.html", form, [fault], question=dict(asked), link=link_of(question))
    found = await resources.run(_judged, inquiries, question, form)
    kept = found if isinstance(found, Kept) else await resources.write(inquiries.store_judged, found)
    return gone_to(f"/inquiries/{kept.id}/sent")


_RIGHT_CONTACT = f"an e-mail address, or a telephone number of {_LEAST_DIGITS} digits at least"


def _may_be_contact(text: str) -> bool:
    """Whether somebody can be reached so: by an e-mail address, or by a telephone number."""
    return _ADDRESS.search(text) is not None or sum(sign.isdecimal() for sign in text) >= _LEAST_DIGITS


def _again(
    request: Request, template: str, form: Mapping[str, str], faults: list[ParameterFault], **values: Any
) -> Response:
    """The form as it was filled in, with what is to be mended."""
    once = form.get("once") or secrets.token_urlsafe(_TOKEN_BYTES)
    return shown(
        request,
        template,
        status=422 if faults else 200,
        given=form,
        once=once,
        faults=faults,
        told=told(faults),
        **values,
    )


def _key_of(form: Mapping[str, str]) -> str | None:
    """The key of a form that was sent: the same for the same page with the same entries, so that nothing is kept twice;
    None where the page gave it no token."""
    if not form.get("once"):
        return None
    entries = sorted((name, value) for name, value in form.items() if name != "form_token")
    return f"page-{hashlib.sha256(json.dumps(entries).encode()).hexdigest()}"


def _judged(inquiries: Inquiries, question: BillRequest, form: Mapping[str, str]) -> StoredInquiry | Kept:
    try:
        asked = SentInquiry.model_validate(
            {"request": question, "contact": form.get("contact", ""), "note": _note(form)}
        )
        return inquiries.judge(asked, _key_of(form))
    except ValidationError as error:
        raise _invalid(error) from None
    except RequestFaultsError as error:
        raise of_query(error) from error


def _note(form: Mapping[str, str]) -> str:
    return form.get("note", "").replace("\r\n", "\n").strip()


def _invalid(error: ValidationError) -> InvalidQueryError:
    return InvalidQueryError(*(ParameterFault(x.pointer.lstrip("/"), x.found, x.expected) for x in faults_of(error)))


@router.get("/inquiries/car")
async def car(request: Request) -> Response:
    return _again(request, "unknown_car.html", request.query_params, [])


@router.post("/inquiries/car")
async def send_car(request: Request, resources: AppResources, inquiries: AppInquiries) -> Response:
    form = await own_form(request)
    fields, faults = _facts(form, visit_of(request).units)
    if not _may_be_contact(form.get("contact", "")):
        faults.append(ParameterFault("contact", repr(form.get("contact", "")[:40]), _RIGHT_CONTACT))
    if faults:
        return _again(request, "unknown_car.html", form, faults)
    try:
        asked = SentUnknownCar.model_validate({"car": fields, "contact": form.get("contact", ""), "note": _note(form)})
    except ValidationError as error:
        wrong = [
            ParameterFault(fault.parameter.removeprefix("car/"), fault.found, fault.expected)
            for fault in _invalid(error).faults
        ]
        return _again(request, "unknown_car.html", form, wrong)
    key = _key_of(form) or f"page-{secrets.token_hex()}"
    made = await resources.run(judged, resources.library, asked, key)
    kept = await resources.write(inquiries.store_judged, made)
    return gone_to(f"/inquiries/{kept.id}/sent")


def _facts(form: Mapping[str, str], units: str) -> tuple[dict[str, object], list[ParameterFault]]:
    """What is told of a car; what is no number, or could be two, as faults."""
    fields: dict[str, object] = {name: form[name].strip() for name in _TEXTS if form.get(name, "").strip()}
    faults = []
    for name in (*_WHOLE, *_CUSTOMARY):
        text = form.get(name, "").strip()
        if not text:
            continue
        value, both = number_in(text), both_in(text)
        if value is None or (name in _WHOLE and value != int(value)):
            expected = "a number" if both is None else f"{both[0]}, or {both[1]}: write the one that is meant"
            faults.append(ParameterFault(name, repr(text[:40]), expected))
        elif name in _WHOLE:
            fields[name] = int(value)
        else:
            fields[name] = round(value * _CUSTOMARY[name], 2) if units == "inch" else value
    return fields, faults


@router.get("/inquiries/{id}/sent")
async def sent(request: Request, resources: AppResources, inquiries: AppInquiries, id: str) -> Response:  # noqa: A002 a path's own name
    return await resources.look(_sent, request, resources.library, inquiries, id)


def _sent(request: Request, library: Library, inquiries: Inquiries, id_: str) -> Response:
    document: Inquiry = json.loads(inquiries.recall(id_).document)
    edition = library.edition()
    asked = document["request"]
    is_known = "chassis" in asked
    car = None if is_known else UnknownCar.model_validate(asked)
    return shown(
        request,
        "sent.html",
        id=document["id"],
        link=link_of(BillRequest.model_validate(asked)) if is_known else None,
        rails=[] if car is None else rails_like(edition, car),
        said=None if car is None else said_of(edition, car),
        pictures=Pictures(edition),
    )
