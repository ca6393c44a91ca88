"""How callers use the service; nothing of the program needs them."""
