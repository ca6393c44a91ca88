"""What is ordered: the body of POST /v1/order-checks."""

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator, model_validator
from pydantic_core import InitErrorDetails, PydanticCustomError, PydanticKnownError, ValidationError

from service.documents.fields import Document, Id, whole
from service.documents.request import AskedRevision, Narrowing, PartCount

MAX_LINES = 200
LONGEST_KEY = 40_000
BESIDE_A_KEY = frozenset({"key", "lines", "sets"})


class OrderLine(Document):
    """So many units of a SKU."""

    sku: Id
    qty: PartCount


class OrderCar(Document):
    """The car that an order is for, or the very bill that it is to be."""

    key: Annotated[
        str | None,
        Field(
            min_length=1,
            max_length=LONGEST_KEY,
            description="of a bill: the order is compared with that very bill in its own revision; it takes the place"
            " of chassis, layout, wishes and revision",
        ),
    ] = None
    chassis: Annotated[Id | None, Field(description="needed, unless there is a key", validate_default=True)] = None
    layout: Annotated[Id | None, Field(description="default: the one nearest to the order")] = None

    @field_validator("chassis")
    @classmethod
    def _is_needed(cls, chassis: str | None, info: ValidationInfo) -> str | None:
        if chassis is None and info.data.get("key", "") is None:  # a key with a fault of its own is not there
            raise PydanticKnownError("missing")
        return chassis


class OrderRequest(Narrowing, OrderCar):
    """An order, the car that it is for, and the wishes that a right order would meet; or the key of a bill."""

    lines: Annotated[
        list[OrderLine],
        Field(min_length=1, max_length=MAX_LINES, description="what is ordered; the same SKU twice adds up"),
    ]
    sets: Annotated[
        int, Field(ge=1, le=1_000, description="for how many such cars the order is"), BeforeValidator(whole)
    ] = 1
    revision: AskedRevision = None

    @model_validator(mode="before")
    @classmethod
    def _has_nothing_beside_a_key(cls, value: Any) -> Any:
        if isinstance(value, dict) and value.get("key") is not None:
            others = cls.model_fields.keys() - BESIDE_A_KEY
            told = [name for name, given in value.items() if name in others and given is not None]
            if told:
                raise ValidationError.from_exception_data(cls.__name__, [_beside(name, value[name]) for name in told])
        return value


def _beside(name: str, found: object) -> InitErrorDetails:
    expected = "nothing beside a key, which holds car, layout and wishes: either the key or these"
    return InitErrorDetails(type=PydanticCustomError("beside_a_key", expected), loc=(name,), input=found)
