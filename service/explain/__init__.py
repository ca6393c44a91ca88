"""Facts into words: lines with their reasons, extras, cautions, and the whole answer document."""
