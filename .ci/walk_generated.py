"""A partner's walk by the client that openapi-python-client makes: `python walk_generated.py ADDRESS KEY`."""

import sys
from typing import TypeVar

from generated_client import AuthenticatedClient
from generated_client.api.bills import find_bills, list_chassis_layouts, recall_bill
from generated_client.api.catalog import list_changes, list_chassis
from generated_client.api.order_checks import check_order
from generated_client.api.webhooks import delete_webhook, get_webhook, make_webhook, ping_webhook
from generated_client.models import (
    ChangesSince,
    ChassisLayouts,
    ChassisPage,
    DetailedRequest,
    FoundAnswer,
    NewWebhook,
    NewWebhookEventsItem,
    OrderCheck,
    OrderLineAsked,
    OrderRequest,
    RecalledBill,
    WebhookTold,
)

T = TypeVar("T")


def told(kind: type[T], answer: object) -> T:
    """The answer, where it is of this kind."""
    if not isinstance(answer, kind):
        raise TypeError(f"expected {kind.__name__}, found {answer!r}")
    return answer


def main() -> None:
    """Car, layouts, bills, key, order check, changes, webhook."""
    client = AuthenticatedClient(sys.argv[1], sys.argv[2])
    car = told(ChassisPage, list_chassis.sync(client=client, limit=1)).results[0]
    layouts = told(ChassisLayouts, list_chassis_layouts.sync(car.id, client=client)).layouts
    layout = next(one.layout for one in layouts if one.total_valid)
    asked = DetailedRequest(chassis=car.id, layout=layout)
    bill = told(FoundAnswer, find_bills.sync(client=client, body=asked)).bills[0]
    again = told(RecalledBill, recall_bill.sync(bill.key, client=client))
    bought = [OrderLineAsked(sku=line.sku, qty=line.qty) for line in again.bill.lines if line.source == "buy"]
    check = told(OrderCheck, check_order.sync(client=client, body=OrderRequest(key=bill.key, lines=bought)))
    changes = told(ChangesSince, list_changes.sync(client=client, since=1))
    events = [NewWebhookEventsItem.REVISION_PUBLISHED]
    made = told(
        WebhookTold, make_webhook.sync(client=client, body=NewWebhook(url="http://127.0.0.1:9/", events=events))
    )
    told(WebhookTold, ping_webhook.sync(made.id, client=client))
    messages = told(WebhookTold, get_webhook.sync(made.id, client=client)).messages
    told(WebhookTold, delete_webhook.sync(made.id, client=client))
    if (again.bill.price, check.verdict, changes.since, len(messages or [])) != (bill.price, "complete", 1, 1):
        raise AssertionError((again.bill.price, bill.price, check.verdict, changes.since, messages))
    print(f"walked: {bill.key}")


if __name__ == "__main__":
    main()
