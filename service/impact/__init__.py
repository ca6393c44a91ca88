"""What one state of a catalog does to the questions that are asked of it, against another state: pure reckoning."""
