"""The impact of changes, held to a slow reckoning."""
