"""The documents that cross the edge: the catalog as it arrives, requests, answers, and what is wrong with them."""
