"""One module a verb: keep and open revisions, find and recall bills, explain parts, check orders, join, browse."""
