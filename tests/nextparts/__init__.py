"""Which part next, held to trying every part."""
