"""Who may what: roles, the rights that they have, and the keys by which callers are known."""
