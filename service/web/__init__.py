"""The edge over HTTP: read a request strictly, call one use case, present what it gives."""
