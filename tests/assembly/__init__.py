"""How bills are put together."""
