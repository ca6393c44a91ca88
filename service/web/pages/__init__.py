"""Pages for people: HTML by templates that escape whatever they are given, with one stylesheet and no script."""
