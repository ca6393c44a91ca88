"""The catalog that ships: it loads, it covers the trade, and its facts are the published ones."""
