"""One module a verb: keep and open revisions, find bills, recall a bill, browse the catalog."""
