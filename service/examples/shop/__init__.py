"""A shop's page in two forms: one asks the API from the browser, the other from the shop's own server."""
