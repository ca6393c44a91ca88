"""The standing cases: questions with what their answers promise. The catalog's own, and those that partners keep here.

A partner keeps cases in the account of its key; where nobody is asked for one, an account is but a name.
"""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Path, Request
from starlette.responses import Response

from service.documents.contract_kinds import CASES, AnyCase, CaseFile, KeptCase, StandingCase
from service.usecases.contract_cases import contract_cases, with_partners
from service.usecases.partner_cases import MOST_BYTES, MOST_CASES, MOST_OF_ACCOUNT, PartnerCases
from service.web import examples
from service.web.bodies import body_by_kind
from service.web.operations import OF_BODY, OF_ID, answers, created, edited, json_body, query
from service.web.queries import NothingAsked, RevisionAsked, RevisionQuery, parameters_of
from service.web.representations import JSON, NEVER, OWN, REVISION, represent
from service.web.resources import AppPartnerCases, AppResources, Resources, seen_cases

PREFIX = "/v1/contract/cases"

router = APIRouter(prefix=PREFIX, tags=["descriptions"])

AccountOf = Annotated[
    str, Path(alias="account", description="the account of a case", examples=[examples.partner_case()["account"]])
]
CaseId = Annotated[
    str,
    Path(
        alias="id",
        description="the id of a case; slashes in it may stand as they are or as %2F",
        examples=[examples.partner_case()["id"]],
    ),
]


@router.get(
    "",
    operation_id="listContractCases",
    summary="What a partner can count on, as questions with promises",
    description=(
        "The standing cases of a revision, then those of the partners, in the format of a partner's own file. A promise"
        " that tells a `key` is of the revision that its request names; all others hold of the newest until a catalog"
        " says otherwise. Of partners' cases those of the caller's account are listed; all of them to who edits."
    ),
    response_model=CaseFile,
    responses=answers("The cases.", examples.contract_cases(), *OF_ID),
    openapi_extra=query(parameters_of(RevisionQuery)),
)
async def list_cases(request: Request, resources: AppResources, given: RevisionAsked) -> Response:
    return await resources.run(_represented, resources, seen_cases(request), given)


def _represented(resources: Resources, partners: PartnerCases | None, given: RevisionQuery) -> Response:
    edition = resources.library.edition(given.revision)
    kept = () if partners is None else partners.listed()
    content = with_partners(contract_cases(edition), kept).model_dump_json(exclude_defaults=True).encode()
    return represent(content, caching=OWN, revision=edition.number)


@router.post(
    "",
    status_code=201,
    operation_id="keepContractCase",
    summary="Have the service keep a partner's case",
    description="The case is checked against the newest revision, or the one that its request names, and asked; an"
    " impact then names it with its account where a catalog would break it. Of an account"
    f" {MOST_OF_ACCOUNT} cases are kept, in all {MOST_CASES:,}, each of at most {MOST_BYTES:,} bytes as JSON.",
    response_model=KeptCase,
    responses=created(
        "The case, kept.",
        "The case, which was kept before.",
        KeptCase,
        examples.kept_case(),
        *OF_BODY,
        *("case-exists", "no-room"),
    ),
    openapi_extra=json_body("PartnerCase", examples.partner_case()),
)
async def keep_case(
    resources: AppResources,
    partners: AppPartnerCases,
    _: NothingAsked,
    case: Annotated[Any, Depends(body_by_kind("kind", CASES, "bills"))],
) -> Response:
    checked = await resources.run(partners.check, case)
    is_new = await resources.write(partners.keep, checked)
    headers = {
        REVISION: str(checked.told.revision),
        "Location": f"{PREFIX}/{checked.row.account}/{checked.row.id}",
        "Cache-Control": NEVER,
    }
    return Response(checked.told.model_dump_json(exclude_defaults=True), 201 if is_new else 200, headers, JSON)


@router.get(
    "/{account}/{id:path}",
    operation_id="getContractCase",
    summary="A partner's case",
    response_model=StandingCase,
    responses=answers("The case.", examples.partner_case(), *OF_ID, revision=False),
)
async def get_case(
    resources: AppResources, partners: AppPartnerCases, account: AccountOf, id_: CaseId, _: NothingAsked
) -> Response:
    case = await resources.look(partners.find, account, id_)
    return represent(_written(case), caching=OWN)


@router.delete(
    "/{account}/{id:path}",
    operation_id="deleteContractCase",
    summary="Delete a partner's case",
    response_model=StandingCase,
    responses=edited(
        "The case as it was.", StandingCase, examples.partner_case(), *OF_ID, may_be_new=False, is_left=False
    ),
)
async def delete_case(
    resources: AppResources, partners: AppPartnerCases, account: AccountOf, id_: CaseId, _: NothingAsked
) -> Response:
    case = await resources.look(partners.find, account, id_)
    await resources.write(partners.delete, account, id_)
    return represent(_written(case), caching=NEVER)


def _written(case: AnyCase) -> bytes:
    return case.model_dump_json(exclude_defaults=True).encode()
