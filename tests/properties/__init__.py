"""Laws that must hold for every catalog and every request."""
