"""What the API promises whatever the catalog: each promise tries it and yields every way in which it is broken."""

from collections.abc import Callable, Iterator

from service.contract import (
    bill_promises,
    key_promises,
    list_promises,
    order_promises,
    part_promises,
    wire_promises,
)
from service.contract.outcomes import Broken
from service.contract.site import Site

PROMISES: dict[str, Callable[[Site], Iterator[Broken]]] = {
    "errors are problem documents": wire_promises.errors_are_problems,
    "methods are told, HEAD is GET without content": wire_promises.methods_are_told,
    "requests are conditional": wire_promises.requests_are_conditional,
    "entity tags go by the revision": wire_promises.tags_go_by_revision,
    "caches are told what may be kept": wire_promises.caches_are_told,
    "compressed answers are the same": wire_promises.compressions_are_alike,
    "idempotency keys are kept": wire_promises.keys_are_kept,
    "pages add up": list_promises.pages_add_up,
    "ids lead to what lists show, others come with suggestions": list_promises.ids_lead_to_what_lists_show,
    "filters filter": list_promises.filters_filter,
    "every standing case is told": list_promises.cases_are_all_told,
    "revision and currency are the same everywhere": bill_promises.answers_agree,
    "reasons and facts are told": bill_promises.reasons_are_told,
    "wishes count, by query and body": bill_promises.wishes_count,
    "brief, reasons and full tell the same bills": bill_promises.details_agree,
    "parts are as the items say": bill_promises.parts_are_as_the_items_say,
    "repairs and alternatives help": bill_promises.changes_help,
    "layouts tell what their bills do": bill_promises.layouts_agree,
    "bills are recalled by their keys": key_promises.bills_are_recalled,
    "sheets are those of their bills": key_promises.sheets_are_of_their_bills,
    "drawings are those of their bills": key_promises.drawings_are_of_their_bills,
    "short links lead to their bills": key_promises.links_lead_to_their_bills,
    "explanations are true": part_promises.explanations_are_true,
    "joints are true": part_promises.joints_are_true,
    "parts are used where there are bills": part_promises.uses_are_bills,
    "orders are read, or asked back": order_promises.orders_are_read,
    "orders are compared with the bill of a key": order_promises.orders_are_held_against_a_key,
    "changes of an order lead to its bill": order_promises.changes_lead_to_the_bill,
    "stock is told by sets": order_promises.stock_is_told_by_sets,
    "layouts that tie are asked back": order_promises.ties_are_asked_back,
}
"""By name, in the order in which they are tried."""
