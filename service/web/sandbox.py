"""The sandbox: the operations that only ask, over a catalog that never changes, beside the API and untouched by it."""

from fastapi import APIRouter
from fastapi.routing import APIRoute
from starlette.datastructures import State

from service.usecases.sandbox import sandbox_library
from service.web.asked_questions import AskedQuestions
from service.web.conduct import Crowd
from service.web.lanes import Lanes
from service.web.resources import SANDBOX, Resources
from service.web.routers import bills, chassis_layouts, drawings, explain, item_uses, joints, questions
from service.web.routers.sections import SECTIONS, section_router


def sandbox_router() -> APIRouter:
    """The operations that ask, each behind `/sandbox`; those of the API describe them."""
    router = APIRouter(prefix=SANDBOX)
    before_ids = (bills, explain, questions, chassis_layouts, joints, drawings, item_uses)  # whose ids may hold slashes
    for asking in (*(one.router for one in before_ids), *map(section_router, SECTIONS)):
        for route in asking.routes:
            if isinstance(route, APIRoute):
                router.add_api_route(
                    route.path,
                    route.endpoint,
                    methods=sorted(route.methods or ()),
                    operation_id=route.operation_id,
                    response_model=None,
                    include_in_schema=False,
                )
    return router


def sandbox_state(lanes: Lanes, crowd: Crowd) -> State:
    """What the sandbox answers from; its questions are not counted among those that people ask."""
    return State({"resources": Resources(sandbox_library(), lanes, crowd), "asked_questions": AskedQuestions(None)})
