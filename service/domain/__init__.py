"""The words of the trade as frozen values: ports, parts, vehicles, layouts, requests, chains, bills, findings."""
