"""The best bills and how many there are: what spots leave to choose, put together."""
