"""Send a question to the workshop; and, where the setting allows it, what the catalog could not answer."""

from fastapi import APIRouter, Request
from pydantic import ValidationError
from starlette.responses import Response

from service.documents.faults import faults_of
from service.documents.inquiry import SentInquiry
from service.documents.request import BillRequest
from service.storage.inquiries import StoredInquiry
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.keep_inquiry import Inquiries
from service.usecases.kept_once import Kept
from service.usecases.list_inquiries import group_inquiries
from service.web.counter.forms import own_form
from service.web.counter.question_form import link_of
from service.web.counter.showing import PageRoute, shown
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.queries import read_query
from service.web.question_query import QuestionQuery, of_query
from service.web.resources import AppInquiries, AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_QUESTION = "question."
_EACH = 20


@router.post("/inquiries")
async def send(request: Request, resources: AppResources, inquiries: AppInquiries) -> Response:
    form = await own_form(request)
    told = [(name.removeprefix(_QUESTION), value) for name, value in form.items() if name.startswith(_QUESTION)]
    question = read_query(QuestionQuery, told).question()
    judged = await resources.run(_judged, inquiries, question, form)
    kept = judged if isinstance(judged, Kept) else await resources.write(inquiries.store_judged, judged)
    return shown(request, "sent.html", status=201, id=kept.id, link=link_of(question))


def _judged(inquiries: Inquiries, question: BillRequest, form: dict[str, str]) -> StoredInquiry | Kept:
    note = form.get("note", "").replace("\r\n", "\n").strip()
    try:
        asked = SentInquiry.model_validate({"request": question, "contact": form.get("contact", ""), "note": note})
        return inquiries.judge(asked)
    except ValidationError as error:
        told = [ParameterFault(x.pointer.lstrip("/"), x.found, x.expected) for x in faults_of(error)]
        raise InvalidQueryError(*told) from None
    except RequestFaultsError as error:
        raise of_query(error) from error


@router.get("/inquiries")
async def listed(request: Request, resources: AppResources, inquiries: AppInquiries) -> Response:
    if not request.app.state.workshop_pages:
        raise NotFoundError("page", "/inquiries")
    return await resources.look(_listed, request, inquiries)


def _listed(request: Request, inquiries: Inquiries) -> Response:
    groups = [
        (group, [(one, link_of(BillRequest.model_validate(one["request"]))) for one in group["inquiries"]])
        for group in group_inquiries(inquiries.store, _EACH)
    ]
    return shown(request, "inquiries.html", groups=groups)
